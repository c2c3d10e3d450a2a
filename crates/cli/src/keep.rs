//! The command that says until when food is to be eaten, by which rule, and what to mind.

mod list;
pub(crate) mod read;

use clap::Args;
use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use larderwright_model::{Caution, Keep, Profile};
use larderwright_quantity::{Seconds, Temperature};
use larderwright_safety::advice::{AdviceRow, Topic, for_class};
use larderwright_safety::keeping::{self, KeepClass, KeepRow, by_the_clock, end_of_day, rule};
use larderwright_safety::standing::{Stood, stood_out};
use larderwright_safety::{cautions, limits};
use serde_json::{Value, json};

use crate::args::Format;
use crate::failure::Failure;

/// What is kept, and what happened to it.
#[derive(Debug, Args)]
pub(crate) struct KeepArgs {
    /// The keeping class, as in `rice-cooked`; `--list` shows all.
    #[arg(long, value_name = "CLASS", value_parser = read::class, required_unless_present_any = ["list", "rules", "about"])]
    pub(crate) item: Option<KeepClass>,
    /// When it was cooked, opened or bought, local time: `2026-11-22T18:00`.
    #[arg(long, visible_alias = "made", value_name = "WHEN", value_parser = read::moment, required_unless_present_any = ["list", "rules", "about"])]
    pub(crate) cooked: Option<read::Moment>,
    /// When it went into the fridge: `19:00`, or with its date.
    #[arg(long, value_name = "WHEN", value_parser = read::clock_or_moment)]
    pub(crate) chilled: Option<read::Moment>,
    /// When it went into the freezer.
    #[arg(long, value_name = "WHEN", value_parser = read::clock_or_moment)]
    pub(crate) frozen: Option<read::Moment>,
    /// When it left the freezer for the fridge.
    #[arg(long, value_name = "WHEN", requires = "frozen", value_parser = read::clock_or_moment)]
    pub(crate) thawed: Option<read::Moment>,
    /// The date printed on the pack.
    #[arg(long, value_name = "DATE", value_parser = read::moment)]
    pub(crate) printed: Option<read::Moment>,
    /// How long it stood out of the fridge besides, in minutes.
    #[arg(long, value_name = "MINUTES", value_parser = clap::value_parser!(i64).range(0..=100_000))]
    pub(crate) out: Option<i64>,
    /// How warm the air was, in °C.
    #[arg(long, value_name = "DEGREES", default_value = "22", value_parser = read::degrees)]
    pub(crate) air_c: Temperature,
    /// Who eats it: pregnant, breastfeeding, infant, immune-compromised, older-than-65; may be said several times.
    #[arg(long = "for", value_name = "STATE", value_parser = read::state)]
    pub(crate) eaters: Vec<Caution>,
    /// The time zone, as in `Europe/Vienna`, where clocks may change while the food is kept.
    #[arg(long, value_parser = read::zone)]
    pub(crate) zone: Option<TimeZone>,
    /// Whose guidance: us-home, us-food-service, uk, ca, au, eu.
    #[arg(long, value_parser = read::profile)]
    pub(crate) profile: Option<Profile>,
    /// List every class with its figures and sources.
    #[arg(long)]
    pub(crate) list: bool,
    /// List limits, curves and advice with their sources.
    #[arg(long)]
    pub(crate) rules: bool,
    /// What guidance says of a topic: thawing, power-cut, slow-cooker, reheating and more.
    #[arg(long, value_name = "TOPIC", value_parser = read::topic)]
    pub(crate) about: Option<Topic>,
}

/// Answers the question.
///
/// # Errors
/// Times that contradict each other; food that guidance throws away.
pub(crate) fn run(args: &KeepArgs, format: Format) -> Result<String, Failure> {
    if args.list || args.rules || args.about.is_some() {
        return Ok(list::answer(args, format));
    }
    let (Some(class), Some(cooked)) = (args.item, args.cooked) else {
        return Err(Failure::usage(
            "what is kept and since when is missing",
            "Name it with `--item` and `--cooked`.",
        ));
    };
    let profile = args.profile.unwrap_or(Profile::UsHome);
    let story = Story::told(args, cooked)?;
    let answer = judge(args, rule(profile, class), &story);
    if answer.discard.is_some() {
        return Err(answer.refusal());
    }
    Ok(match format {
        Format::Text => answer.text(),
        Format::Json => format!("{:#}\n", answer.json()),
    })
}

/// The times of one lot, in order.
struct Story {
    cooked: DateTime,
    chilled: Option<DateTime>,
    frozen: Option<DateTime>,
    thawed: Option<DateTime>,
}

impl Story {
    /// A day without a time is read on the strict side: cooked at its start, frozen at its end, thawed at its start.
    fn told(args: &KeepArgs, cooked: read::Moment) -> Result<Self, Failure> {
        let cooked = cooked.early();
        let chilled = args.chilled.map(|moment| moment.after(cooked).late());
        let frozen = args
            .frozen
            .map(|moment| moment.after(chilled.unwrap_or(cooked)).late());
        let thawed = args.thawed.zip(frozen).map(|(moment, frozen)| {
            let thawed = moment.after(frozen);
            if thawed.is_day() && thawed.early().date() == frozen.date() {
                frozen
            } else {
                thawed.early()
            }
        });
        let story = Self {
            cooked,
            chilled,
            frozen,
            thawed,
        };
        let named = [
            ("--cooked", Some(story.cooked)),
            ("--chilled", story.chilled),
            ("--frozen", story.frozen),
            ("--thawed", story.thawed),
        ];
        let told: Vec<(&str, DateTime)> = named
            .into_iter()
            .filter_map(|(name, at)| at.map(|at| (name, at)))
            .collect();
        for pair in told.windows(2) {
            if pair[1].1 < pair[0].1 {
                return Err(Failure::usage(
                    format!(
                        "`{}` {} comes before `{}` {}",
                        pair[1].0, pair[1].1, pair[0].0, pair[0].1
                    ),
                    "Write both with their dates, as in `2026-11-22T18:00`.",
                ));
            }
        }
        Ok(story)
    }
}

/// What guidance says of one lot.
struct Answer {
    row: &'static KeepRow,
    keep: Keep,
    place: &'static str,
    /// Why it is thrown away.
    discard: Option<String>,
    cautions: Vec<String>,
    advice: Vec<&'static AdviceRow>,
}

fn judge(args: &KeepArgs, row: &'static KeepRow, story: &Story) -> Answer {
    let (profile, class) = (row.profile, row.class);
    let mut cautions = Vec::new();
    let mut discard = None;
    let (in_fridge, mut keep, place) = dated(args, row, story, &mut cautions);
    if story.frozen.is_some_and(|frozen| frozen > in_fridge.use_by) {
        discard = Some(format!(
            "it was frozen after its date in the fridge, {}",
            in_fridge.use_by
        ));
        keep = in_fridge.clone();
    }
    if let Some(late) = late(row, story, &mut cautions) {
        let by = end_of_time(story.cooked, limits(profile).out_of_fridge_max);
        keep = Keep {
            best_by: by,
            use_by: by,
            ..keep
        };
        discard = Some(late);
    }
    if let Some(minutes) = args.out {
        let time = Seconds::from_mins(minutes);
        if stood_out(profile, time, args.air_c) == Stood::Discard && class.perishable() {
            discard = Some(format!("it stood out {minutes} minutes, longer than the limit"));
        }
    }
    if let Some(printed) = args.printed {
        let end = end_of_day(printed.early().date(), 0);
        if end < keep.use_by {
            keep = Keep {
                best_by: keep.best_by.min(end),
                use_by: end,
                ..keep
            };
            cautions.push("the printed date comes first and rules".into());
        }
    }
    cautions.extend(borrowed(row));
    let advice = for_class(profile, class);
    cautions.extend(advice.iter().map(|row| row.text.to_owned()));
    if row.reheat_once && !class.raw() {
        cautions.push("warmed once only".into());
    }
    for state in &args.eaters {
        cautions.extend(cautions_for(*state));
    }
    cautions.push("where your local food-safety authority says less, its word holds".into());
    Answer {
        row,
        keep,
        place,
        discard,
        cautions,
        advice,
    }
}

/// The date in the fridge, the date where it is now, and where that is.
fn dated(
    args: &KeepArgs,
    row: &'static KeepRow,
    story: &Story,
    cautions: &mut Vec<String>,
) -> (Keep, Keep, &'static str) {
    let (profile, class) = (row.profile, row.class);
    let stored = story.chilled.or(story.frozen).unwrap_or(story.cooked);
    let in_fridge = clocked(
        args,
        row,
        story,
        keeping::fridge(profile, class, story.cooked, stored),
    );
    let (keep, place) = match (story.frozen, story.thawed) {
        (None, _) => (in_fridge.clone(), "fridge"),
        (Some(frozen), None) => match keeping::frozen(profile, class, frozen) {
            Some(keep) => (keep, "freezer"),
            None => {
                cautions.push(format!(
                    "guidance does not freeze {}: the fridge's date stands",
                    class.word()
                ));
                (in_fridge.clone(), "fridge")
            }
        },
        (Some(frozen), Some(pulled)) => (
            clocked(
                args,
                row,
                story,
                keeping::thawed(profile, class, story.cooked, frozen, pulled),
            ),
            "fridge",
        ),
    };
    if place == "freezer" {
        cautions.push(
            "dates in the freezer are of quality; after the pull the rest of its fridge count goes on".into(),
        );
    }
    (in_fridge, keep, place)
}

/// Says so where the profile has no figure of its own.
fn borrowed(row: &KeepRow) -> Option<String> {
    if !row.general {
        return None;
    }
    let and = if row.fridge_days.is_some() && row.source.contains("both hold") {
        " together with the United States figure"
    } else {
        ""
    };
    Some(format!(
        "{} has no figure for {}: its rule for left-overs is used{and}",
        row.profile.word(),
        row.class.word()
    ))
}

/// Where clocks may change, hours are hours that pass; frozen time is none.
fn clocked(args: &KeepArgs, row: &KeepRow, story: &Story, keep: Keep) -> Keep {
    match (&args.zone, story.frozen) {
        (Some(zone), None) => by_the_clock(row, keep, story.cooked, zone),
        _ => keep,
    }
}

/// Why it is thrown away, when it came into the cold too late; less lateness is a caution.
fn late(row: &KeepRow, story: &Story, cautions: &mut Vec<String>) -> Option<String> {
    let cold = story.chilled?;
    if row.class.raw() || !row.class.perishable() {
        return None;
    }
    let took = Seconds::from_secs(cold.duration_since(story.cooked).as_secs());
    let most = limits(row.profile).out_of_fridge_max.max(row.chill_within);
    let minutes = |seconds: Seconds| seconds.mins(larderwright_quantity::Rounding::Up);
    if took > most {
        return Some(format!(
            "it came into the cold after {} minutes; guidance allows {}",
            minutes(took),
            minutes(most)
        ));
    }
    if took > row.chill_within {
        cautions.push(format!(
            "it came into the cold after {} minutes; guidance asks for {}",
            minutes(took),
            minutes(row.chill_within)
        ));
    }
    None
}

fn end_of_time(from: DateTime, time: Seconds) -> DateTime {
    from.saturating_add(jiff::SignedDuration::from_secs(time.secs()))
}

fn cautions_for(state: Caution) -> impl Iterator<Item = String> {
    cautions(state)
        .into_iter()
        .map(move |row| format!("{}: {}", read::state_word(state), row.text))
}

impl Answer {
    fn json(&self) -> Value {
        json!({
            "item": self.row.class.word(),
            "profile": self.row.profile.word(),
            "verdict": if self.discard.is_some() { "discard" } else { "keep" },
            "reason": self.discard,
            "place": self.place,
            "best_by": self.keep.best_by.to_string(),
            "use_by": self.keep.use_by.to_string(),
            "rule": self.keep.rule.as_str(),
            "source": self.keep.source,
            "flag": self.row.flag.word(),
            "general_rule": self.row.general,
            "cautions": self.cautions,
            "advice": self.advice.iter().map(|row| list::advice_json(row)).collect::<Vec<_>>(),
        })
    }

    fn text(&self) -> String {
        let mut lines = vec![
            format!("{} in the {}", self.row.class.word(), self.place),
            format!("  best by {}", spoken(self.keep.best_by)),
            format!("  use by  {}", spoken(self.keep.use_by)),
            format!("  rule    {} [{}]", self.keep.rule, self.keep.source),
        ];
        lines.extend(self.cautions.iter().map(|caution| format!("  - {caution}")));
        lines.push(String::new());
        lines.join("\n")
    }

    fn refusal(&self) -> Failure {
        let reason = self.discard.clone().unwrap_or_default();
        Failure::Negative {
            message: format!("throw it away: {reason}"),
            help: format!("Rule {} [{}].", self.keep.rule, self.keep.source),
            value: self.json(),
        }
    }
}

fn spoken(at: DateTime) -> String {
    at.strftime("%a %Y-%m-%d %H:%M").to_string()
}

#[cfg(test)]
mod tests {
    use clap::Parser;

    use super::*;
    use crate::args::{Command, CommandLine};

    fn asked(line: &str) -> Result<Value, Failure> {
        let line = format!("larderwright keep {line}");
        let parsed = CommandLine::try_parse_from(line.split(' '))
            .unwrap_or_else(|error| panic!("`{line}` is understood: {error}"));
        let Command::Keep(args) = parsed.command else {
            panic!("`keep` is the command of `{line}`");
        };
        assert_eq!(run(&args, Format::Text).is_ok(), run(&args, Format::Json).is_ok());
        run(&args, Format::Json).map(|text| serde_json::from_str(&text).expect("the answer is JSON"))
    }

    fn check(line: &str, best_by: &str, use_by: &str) {
        let value = asked(line).unwrap_or_else(|failure| panic!("{line}: {}", failure.text()));
        assert_eq!(value["best_by"], best_by, "{line}");
        assert_eq!(value["use_by"], use_by, "{line}");
        assert!(value["source"].as_str().is_some_and(|source| !source.is_empty()));
        assert!(value["cautions"].as_array().is_some_and(|list| !list.is_empty()));
    }

    #[test]
    fn days_end_at_midnight_and_hours_on_the_minute() {
        check(
            "--item pulse-cooked --cooked 2026-11-22T18:00 --chilled 19:00 --profile us-home",
            "2026-11-25T23:59:00",
            "2026-11-26T23:59:00",
        );
        check(
            "--item rice-cooked --cooked 2026-11-22T18:00 --chilled 19:00 --profile uk",
            "2026-11-23T18:00:00",
            "2026-11-23T18:00:00",
        );
    }

    #[test]
    fn freezing_pauses_the_count_between_whole_days() {
        check(
            "--item soup --cooked 2026-10-01 --frozen 2026-10-03 --thawed 2026-10-10 --profile us-food-service",
            "2026-10-14T23:59:00",
            "2026-10-14T23:59:00",
        );
    }

    #[test]
    fn the_printed_date_rules_when_it_comes_first() {
        check(
            "--item opened-pack --cooked 2026-11-22T08:00 --printed 2026-11-24",
            "2026-11-24T23:59:00",
            "2026-11-24T23:59:00",
        );
    }

    #[test]
    fn twenty_four_hours_are_twenty_four_when_clocks_go_back() {
        check(
            "--item rice-cooked --cooked 2026-10-24T18:00 --profile uk --zone Europe/London",
            "2026-10-25T17:00:00",
            "2026-10-25T17:00:00",
        );
        check(
            "--item rice-cooked --cooked 2026-03-28T18:00 --profile uk --zone Europe/London",
            "2026-03-29T18:00:00",
            "2026-03-29T18:00:00",
        );
    }

    #[test]
    fn what_stood_warm_too_long_is_refused() {
        for line in [
            "--item soup --cooked 2026-11-22T18:00 --chilled 20:01",
            "--item egg-hard-cooked --cooked 2026-11-22T18:00 --out 121",
            "--item soup --cooked 2026-11-22T18:00 --out 61 --air-c 33",
            "--item rice-cooked --cooked 2026-11-20T18:00 --frozen 2026-11-22T18:00 --profile uk",
        ] {
            let failure = asked(line).expect_err(line);
            assert_eq!(failure.exit_code(), 1.into(), "{line}");
            assert_eq!(failure.json()["verdict"], "discard", "{line}");
        }
    }

    #[test]
    fn british_rice_chilled_late_is_a_caution() {
        let value = asked("--item rice-cooked --cooked 2026-11-22T18:00 --chilled 19:30 --profile uk")
            .expect("it is kept");
        let cautions = value["cautions"].to_string();
        assert!(cautions.contains("after 90 minutes"), "{cautions}");
    }

    #[test]
    fn eaters_at_risk_are_told_of() {
        let value = asked("--item mixed-salad --cooked 2026-11-22T18:00 --for pregnant --for infant")
            .expect("it is kept");
        let cautions = value["cautions"].to_string();
        assert!(
            cautions.contains("pregnant: ") && cautions.contains("infant: "),
            "{cautions}"
        );
    }

    #[test]
    fn times_in_the_wrong_order_are_wrong_use() {
        let failure = asked("--item soup --cooked 2026-11-22T18:00 --chilled 2026-11-22T17:00")
            .expect_err("it was chilled before it was cooked");
        assert_eq!(failure.exit_code(), 2.into());
    }
}
