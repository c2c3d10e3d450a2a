//! A whole week on the command line: planned, bought, cooked, eaten, changed, closed, copied and brought back.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// A household's folder of its own, with a clock to rehearse by.
struct Kitchen {
    folder: PathBuf,
}

impl Kitchen {
    fn fresh(name: &str) -> Self {
        let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
        if folder.exists() {
            fs::remove_dir_all(&folder).expect("an earlier run's folder can be removed");
        }
        fs::create_dir_all(&folder).expect("a folder can be made");
        Self { folder }
    }

    /// Says something at a time; words in quotes stay together.
    fn run(&self, clock: &str, line: &str) -> (Option<i32>, String, String) {
        let output = Command::new(env!("CARGO_BIN_EXE_larderwright"))
            .current_dir(&self.folder)
            .args(words(line))
            .args(["--clock", clock])
            .output()
            .expect("the program can be started");
        let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).replace('\u{a0}', " ");
        (output.status.code(), text(&output.stdout), text(&output.stderr))
    }

    /// The same, which has to succeed.
    fn say(&self, clock: &str, line: &str) -> String {
        let (code, printed, said) = self.run(clock, &format!("{line} --data home"));
        assert_eq!(code, Some(0), "{line}: {said}{printed}");
        printed
    }

    fn json(&self, clock: &str, line: &str) -> Value {
        serde_json::from_str(&self.say(clock, &format!("{line} --format json"))).expect("it is JSON")
    }
}

fn words(line: &str) -> Vec<String> {
    let quoted = line.split('"').enumerate();
    quoted
        .flat_map(|(at, part)| -> Vec<String> {
            if at % 2 == 1 {
                vec![part.to_owned()]
            } else {
                part.split_whitespace().map(str::to_owned).collect()
            }
        })
        .collect()
}

/// The demo household's week, planned on the Friday before.
fn planned(name: &str) -> Kitchen {
    let kitchen = Kitchen::fresh(name);
    let (code, printed, said) =
        kitchen.run("2026-11-27T18:00", "demo --out home --week 2026-W49 --work 6000");
    assert_eq!(code, Some(0), "{said}{printed}");
    kitchen
}

fn lots(answer: &Value) -> Vec<Value> {
    answer["lots"]
        .as_array()
        .expect("there is a list of lots")
        .clone()
}

/// The cooked lots in the fridge, by name.
fn cooked(kitchen: &Kitchen, clock: &str) -> Vec<Value> {
    let stock = lots(&kitchen.json(clock, "stock"));
    let fresh = |lot: &&Value| {
        lot["place"] == "fridge" && lot["lot"].as_str().is_some_and(|id| id.contains("@2026-11-29/"))
    };
    stock.iter().filter(fresh).cloned().collect()
}

fn shop_and_cook(kitchen: &Kitchen) {
    let bought = kitchen.say("2026-11-28T12:00", "bought --all");
    assert!(bought.starts_with("bought "), "{bought}");
    kitchen.say("2026-11-28T12:05", "receipt 250.40");
    kitchen.say(
        "2026-11-28T12:06",
        "bought carrot 1 --pack \"1 kg\" --price 1.80 --printed 2026-12-08",
    );
    let cooked = kitchen.say("2026-11-29T15:20", "session-done --minutes 150");
    assert!(cooked.contains("use by Thu 3 Dec"), "{cooked}");
    assert!(cooked.contains("150 minutes, planned"), "{cooked}");
}

#[test]
fn a_week_is_told_in_plain_verbs_and_closed_with_its_review() {
    let kitchen = planned("told");
    shop_and_cook(&kitchen);
    let tonight = kitchen.say("2026-11-30T17:45", "tonight");
    assert!(
        tonight.contains("Mon 30 Nov, dinner") && tonight.contains("PUT TOGETHER"),
        "{tonight}"
    );
    kitchen.say("2026-11-30T19:45", "served mon-dinner --part 90%");
    kitchen.say("2026-11-30T19:46", "left-over mon-dinner \"8 oz\"");
    kitchen.say("2026-11-30T19:47", "returned mon-dinner 40g");
    kitchen.say("2026-12-01T20:00", "skipped tue-dinner --at 19:00");
    let lot = cooked(&kitchen, "2026-12-01T20:01")[0]["lot"].clone();
    let lot = lot.as_str().expect("a lot has a name");
    let out = kitchen.say("2026-12-01T20:02", &format!("left-out {lot} 200"));
    assert!(out.contains("note: ") && out.contains("authority"), "{out}");
    kitchen.say("2026-12-01T20:03", &format!("discarded {lot} --reason left-out"));
    kitchen.say("2026-12-01T20:04", "opened milk");
    kitchen.say("2026-12-01T20:05", "stocktake \"eggs, large\" 7");
    kitchen.say("2026-12-01T20:06", "gave apple \"200 g\" --to Marta");
    kitchen.say("2026-12-01T20:07", "ticked cumin-ground low");
    let (_, history, _) = kitchen.run("2026-12-01T20:08", "history 3 --data home");
    assert!(history.contains("ticked Cumin, ground: running low"), "{history}");
    assert!(kitchen.say("2026-12-01T20:08", "undo").contains("taken back"));
    let prices = kitchen.json("2026-12-01T20:09", "prices");
    assert_eq!(prices["prices"][0]["price_minor"], 180);
    let review = kitchen.json("2026-12-07T09:00", "close --week 2026-W49");
    // The receipt, the carrots bought beside it, and what other trips are thought to have cost.
    assert!(review["spent_minor"].as_i64() >= Some(25_220), "{review}");
    assert_eq!(review["hours"][0]["real"], 150);
    assert!(review["covers"].as_i64() > review["covers_presumed"].as_i64());
    assert!(review["waste"].as_array().is_some_and(|waste| !waste.is_empty()));
    assert!(
        kitchen
            .say("2026-12-07T09:01", "doctor")
            .contains("as it should be")
    );
}

#[test]
fn the_rest_of_a_week_is_planned_beside_the_old_plan_and_chosen() {
    let kitchen = planned("rest");
    shop_and_cook(&kitchen);
    kitchen.say("2026-12-01T12:00", "change thu-dinner --guests 2");
    let draft = kitchen.json("2026-12-01T12:01", "plan --rest --draft --work 6000");
    assert_eq!(draft["status"], "draft");
    let hash = draft["plan"].as_str().expect("a plan has a hash");
    let plans = kitchen.json("2026-12-01T12:02", "plans --week 2026-W49");
    assert_eq!(plans["plans"].as_array().map(Vec::len), Some(2));
    let other = kitchen.json("2026-12-01T12:02", "plan --rest --draft --work 7000");
    kitchen.say("2026-12-01T12:03", &format!("choose {}", &hash[..12]));
    let menu = kitchen.say("2026-12-01T12:04", "sheet menu");
    assert!(menu.contains("guest 2"), "{menu}");
    let plans = kitchen.json("2026-12-01T12:04", "plans");
    assert_eq!(plans["plans"][1]["state"], "running", "{plans}");
    let other = other["plan"].as_str().expect("a plan has a hash");
    if other != hash {
        let (code, _, said) = kitchen.run("2026-12-01T12:05", &format!("choose {other} --data home"));
        assert_eq!(code, Some(1), "{said}");
        assert!(said.contains("changed meanwhile"), "{said}");
    }
}

#[test]
fn everything_goes_out_and_comes_back_in() {
    let kitchen = planned("copies");
    shop_and_cook(&kitchen);
    let clock = "2026-11-30T10:00";
    let stock = kitchen.say(clock, "stock");
    kitchen.say(clock, "backup copy.db");
    kitchen.say(clock, "export texts");
    let (code, _, said) = kitchen.run(clock, "import texts --data other");
    assert_eq!(code, Some(0), "{said}");
    let (_, imported, _) = kitchen.run(clock, "stock --data other");
    assert_eq!(imported, stock);
    kitchen.say(clock, "discarded carrot");
    assert_ne!(kitchen.say(clock, "stock"), stock);
    let restored = kitchen.say(clock, "restore copy.db");
    assert!(restored.contains("what was there before is kept"), "{restored}");
    assert_eq!(kitchen.say(clock, "stock"), stock);
    let (code, _, said) = kitchen.run(clock, "import texts --data home");
    assert_eq!(
        code,
        Some(2),
        "an export is read into an empty store only: {said}"
    );
}

#[test]
fn what_leads_nowhere_is_refused_with_help_and_changes_nothing() {
    let kitchen = planned("nowhere");
    let clock = "2026-11-28T12:00";
    let before = kitchen.say(clock, "history");
    for (line, help) in [
        ("cooked lasagne", "The plan has"),
        ("served yule-dinner", "sittings"),
        ("bought moonrock", "food"),
        ("discarded crunchy-slaw", "food"),
        ("skipped mon-dinner --at 2026-12-03T18:00", "has not come yet"),
        ("choose 0000", "plans"),
        ("change thu-dinner --away nobody", "There are"),
        ("change thu-dinner", "Say what is"),
        ("close --week 2026-W30", "planned"),
        ("restore nothing.db", ""),
        ("sheet run --week 2026-W30", "plans"),
    ] {
        let (code, printed, said) = kitchen.run(clock, &format!("{line} --data home"));
        assert!(
            matches!(code, Some(2 | 3)) && printed.is_empty(),
            "{line}: {code:?} {printed}"
        );
        assert!(!said.is_empty() && said.contains(help), "{line}: {said}");
    }
    assert_eq!(kitchen.say(clock, "history"), before);
    let nowhere = Path::new("nowhere");
    let (code, _, said) = kitchen.run(clock, "stock --data nowhere");
    assert_eq!(code, Some(2), "{said}");
    assert!(!kitchen.folder.join(nowhere).exists(), "asking makes nothing");
}

#[test]
fn the_household_s_file_is_kept_with_its_mistakes_told() {
    let kitchen = planned("file");
    let clock = "2026-11-28T12:00";
    let file = kitchen.say(clock, "household");
    fs::write(kitchen.folder.join("home.toml"), file.replacen("name", "nmae", 1)).expect("it can be written");
    let (code, _, said) = kitchen.run(clock, "household home.toml --data home");
    assert_eq!(code, Some(2));
    assert!(said.contains("line ") && said.contains("nmae"), "{said}");
    assert_eq!(kitchen.say(clock, "household"), file);
    let longer = format!("{file}\n# a remark\n");
    fs::write(kitchen.folder.join("home.toml"), &longer).expect("it can be written");
    assert!(kitchen.say(clock, "household home.toml").contains("version 2"));
    assert_eq!(kitchen.say(clock, "household"), longer);
}
