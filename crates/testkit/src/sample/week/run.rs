//! The run of the sample session.

use jiff::civil::date;
use larderwright_model::{Act, ActKind, Lead, OvenSetting, Run, Standing};
use larderwright_quantity::Temperature;

use super::{SESSION, batch_id, sunday};

/// The run, its lines by start.
pub(super) fn run() -> Run {
    let mut acts = acts();
    acts.sort_by(|one, other| (one.start, &one.id).cmp(&(other.start, &other.id)));
    Run {
        session: SESSION.into(),
        acts,
        leads: vec![Lead {
            batch: batch_id("chickpeas").as_str().into(),
            step: "soak".into(),
            title: "Soak chickpeas".into(),
            text: "Cover with plenty of cold water.".into(),
            at: date(2026, 11, 28).at(20, 0, 0, 0),
            latest: date(2026, 11, 29).at(1, 0, 0, 0),
        }],
        oven: vec![OvenSetting {
            from: sunday(13, 35),
            to: sunday(14, 10),
            temperature: Temperature::from_c(220),
        }],
        finish: sunday(15, 25),
        bound: sunday(15, 10),
        decided_by: "the chickpeas".into(),
        standing: Standing::Likely,
    }
}

struct Line {
    kind: ActKind,
    title: &'static str,
    text: &'static str,
    cue: &'static str,
    of: &'static str,
    step: &'static str,
    from: (i8, i8),
    to: (i8, i8),
    who: &'static [&'static str],
    at: &'static [&'static str],
}

const BOTH: &[&str] = &["ana", "ben"];
const ANA: &[&str] = &["ana"];
const BEN: &[&str] = &["ben"];

fn acts() -> Vec<Act> {
    let all = [preparing(), cooking(), ending()].concat();
    all.iter().enumerate().map(|(at, line)| act(at, line)).collect()
}

fn act(at: usize, line: &Line) -> Act {
    let own: Vec<&str> = if line.of.is_empty() {
        Vec::new()
    } else {
        line.of.split(' ').collect()
    };
    let hot = line.kind == ActKind::Preheat || line.step == "roast";
    Act {
        id: format!("act-{at:02}").as_str().into(),
        kind: line.kind.clone(),
        title: line.title.into(),
        text: line.text.into(),
        cue: line.cue.into(),
        batches: own
            .into_iter()
            .map(|component| batch_id(component).as_str().into())
            .collect(),
        step: (!line.step.is_empty()).then(|| line.step.into()),
        load: 1,
        start: sunday(line.from.0, line.from.1),
        end: sunday(line.to.0, line.to.1),
        who: line.who.iter().map(|&cook| cook.into()).collect(),
        stations: line.at.iter().map(|&station| station.into()).collect(),
        oven: hot.then(|| Temperature::from_c(220)),
    }
}

impl Clone for Line {
    fn clone(&self) -> Self {
        Self {
            kind: self.kind.clone(),
            ..*self
        }
    }
}

fn step(of: &'static str, step: &'static str, title: &'static str, text: &'static str) -> Line {
    let (from, to) = ((13, 0), (13, 0));
    Line {
        kind: ActKind::Step,
        title,
        text,
        cue: "",
        of,
        step,
        from,
        to,
        who: &[],
        at: &[],
    }
}

fn task(kind: ActKind, title: &'static str, text: &'static str) -> Line {
    Line {
        kind,
        ..step("", "", title, text)
    }
}

fn preparing() -> Vec<Line> {
    vec![
        Line {
            from: (13, 0),
            to: (13, 8),
            who: BOTH,
            ..task(
                ActKind::Preflight,
                "Set up",
                "Boxes and labels out. Sink clear. Wash hands.",
            )
        },
        Line {
            from: (13, 8),
            to: (13, 10),
            who: BEN,
            at: &["sink"],
            ..step("chickpeas", "drain-soak", "Drain chickpeas", "Drain and rinse.")
        },
        Line {
            from: (13, 8),
            to: (13, 28),
            who: ANA,
            at: &["board 1"],
            ..step(
                "roast-carrots",
                "peel",
                "Peel carrots",
                "Peel. Cut into batons as thick as a finger.",
            )
        },
        Line {
            from: (13, 20),
            to: (13, 35),
            at: &["oven"],
            ..task(ActKind::Preheat, "Heat the oven", "")
        },
        Line {
            from: (13, 28),
            to: (13, 33),
            who: ANA,
            at: &["counter"],
            ..step(
                "roast-carrots",
                "spread",
                "Spread on trays",
                "Toss with oil and salt. One layer.",
            )
        },
        Line {
            from: (13, 38),
            to: (13, 41),
            who: BEN,
            at: &["sink"],
            ..step(
                "white-rice",
                "rinse",
                "Rinse rice",
                "Rinse the rice until the water runs clear.",
            )
        },
    ]
}

// long: a table of rows, one below the other
fn cooking() -> Vec<Line> {
    vec![
        Line {
            cue: "crushes between two fingers",
            from: (13, 10),
            to: (14, 40),
            at: &["burner 1", "pot 5 l"],
            ..step(
                "chickpeas",
                "simmer",
                "Simmer chickpeas",
                "Cover with fresh water. Set the lid ajar.",
            )
        },
        Line {
            kind: ActKind::Visit { of: "act-06".into() },
            from: (13, 45),
            to: (13, 46),
            who: BEN,
            at: &["burner 1"],
            ..step("chickpeas", "simmer", "Skim", "Skim the foam.")
        },
        Line {
            cue: "a knife meets no resistance",
            from: (13, 35),
            to: (14, 10),
            at: &["rack 1", "rack 2"],
            ..step(
                "roast-carrots",
                "roast",
                "Roast carrots",
                "Roast until the edges brown.",
            )
        },
        Line {
            from: (13, 46),
            to: (14, 15),
            at: &["burner 2", "pot 3 l"],
            ..step(
                "white-rice",
                "simmer",
                "Simmer rice",
                "Bring to the boil with the water. Lid on, low.",
            )
        },
        Line {
            cue: "runs off the spoon",
            from: (14, 0),
            to: (14, 8),
            who: ANA,
            at: &["counter"],
            ..step(
                "tahini-sauce",
                "whisk",
                "Whisk sauce",
                "Whisk tahini with lemon juice, salt and water.",
            )
        },
        Line {
            from: (14, 40),
            to: (14, 43),
            who: BEN,
            at: &["sink"],
            ..step(
                "chickpeas",
                "drain",
                "Drain and salt",
                "Drain. Toss with the salt while hot.",
            )
        },
    ]
}

fn ending() -> Vec<Line> {
    let hot = "chickpeas roast-carrots white-rice";
    vec![
        Line {
            of: hot,
            from: (14, 43),
            to: (15, 2),
            at: &["counter"],
            ..task(ActKind::Cool, "Let it steam off", "Shallow, lids off.")
        },
        Line {
            of: "chickpeas roast-carrots tahini-sauce white-rice",
            from: (15, 2),
            to: (15, 10),
            who: BOTH,
            at: &["counter"],
            ..task(ActKind::PackOut, "Pack out", "Box, wipe, label.")
        },
        Line {
            from: (15, 10),
            to: (15, 25),
            who: BOTH,
            at: &["sink"],
            ..task(ActKind::ClearDown, "Clear down", "Wash up and wipe down.")
        },
    ]
}
