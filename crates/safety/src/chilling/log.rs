//! Judging a cooling log: two taps by default, temperatures when somebody measured, and what the guidance says to
//! do when a limit is missed.
//!
//! A reading is judged as it was written down: between two readings nothing is guessed in the food's favour.

use jiff::civil::DateTime;
use larderwright_model::Profile;
use larderwright_quantity::{Rounding, Seconds, Temperature};

use super::{Curve, demanded};
use crate::keeping::KeepRow;
use crate::limits::limits;

/// One line of the log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Entry {
    /// It came off the heat.
    OffHeat(DateTime),
    /// It went into the fridge or freezer.
    IntoCold(DateTime),
    /// Somebody measured its middle.
    Measured(DateTime, Temperature),
    /// It was heated through again and the clock starts anew.
    HeatedAgain(DateTime),
}

impl Entry {
    fn at(self) -> DateTime {
        match self {
            Self::OffHeat(at) | Self::IntoCold(at) | Self::Measured(at, _) | Self::HeatedAgain(at) => at,
        }
    }
}

/// Which limit a finding is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum LogRule {
    /// The guidance's time for getting it into the cold.
    IntoCold,
    /// The longest time out of the fridge.
    Out,
    /// A stage of a curve, counted from nought.
    Stage(usize),
    /// Time and temperature of warming for hot holding.
    Reheat,
}

/// What the guidance says to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Correction {
    /// Nothing: the limit was kept.
    Nothing,
    /// Measure again, or move on: the limit is still ahead.
    Wait,
    /// Nobody can tell; without a reading in time the food counts as late.
    NotShown,
    /// Eat it soon and chill faster next time: advised, not a limit.
    Advice,
    /// Heat all of it to 165 °F (74 °C) and start again, or throw it away.
    ReheatOrDiscard,
    /// Throw it away.
    Discard,
}

impl Correction {
    /// Whether there is something to do.
    #[must_use]
    pub fn acts(self) -> bool {
        !matches!(self, Self::Nothing | Self::Wait)
    }

    /// What to tell the cook: lower case, no final stop.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Nothing => "within the limit",
            Self::Wait => "measure again before the limit",
            Self::NotShown => "no reading shows it in time: treat it as late",
            Self::Advice => "later than advised: chill it in shallower boxes, eat it soon",
            Self::ReheatOrDiscard => {
                "heat all of it to 165 °F (74 °C) at once and start cooling again, or throw it away"
            }
            Self::Discard => "throw it away",
        }
    }
}

/// What a log shows about one limit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LogFinding {
    /// The limit.
    pub rule: LogRule,
    /// How long it took, as far as the log goes.
    pub took: Seconds,
    /// How long it may take.
    pub allowed: Seconds,
    /// What to do.
    pub correction: Correction,
    /// Document and section.
    pub source: String,
}

impl LogFinding {
    /// What to tell the cook: lower case, no final stop, the source in brackets.
    #[must_use]
    pub fn words(&self) -> String {
        let about = match self.rule {
            LogRule::IntoCold => "into the cold".to_owned(),
            LogRule::Out => "out of the cold".to_owned(),
            LogRule::Stage(number) => format!("stage {} of the curve", number + 1),
            LogRule::Reheat => "warming".to_owned(),
        };
        format!(
            "{about} {} of {}: {} [{}]",
            span(self.took),
            span(self.allowed),
            self.correction.words(),
            self.source
        )
    }
}

/// Minutes, rounded up, as a cook reads them.
fn span(time: Seconds) -> String {
    let minutes = time.mins(Rounding::Up);
    if minutes < 60 {
        format!("{minutes} min")
    } else {
        format!("{} h {:02} min", minutes / 60, minutes % 60)
    }
}

/// What taps and readings of one batch say, as lines of a log.
///
/// Two taps are usual: off the heat, into the cold. Where it is known when the batch was cooked a single tap is the
/// second one; where it is known when the boxes were put away no tap is needed for that. A reading with a temperature
/// is never a tap.
#[must_use]
pub fn lines(
    cooked: Option<DateTime>,
    readings: &[(DateTime, Option<Temperature>)],
    boxed: Option<DateTime>,
) -> Vec<Entry> {
    let mut taps: Vec<DateTime> = readings
        .iter()
        .filter(|(_, core)| core.is_none())
        .map(|(at, _)| *at)
        .collect();
    taps.sort_unstable();
    let measured = readings
        .iter()
        .filter_map(|(at, core)| core.map(|core| Entry::Measured(*at, core)));
    let mut entries: Vec<Entry> = measured.collect();
    let (off, cold) = match (cooked, taps.as_slice()) {
        (_, [first, .., last]) => (Some(*first), Some(*last)),
        (Some(cooked), [tap]) if *tap > cooked => (Some(cooked), Some(*tap)),
        (_, [tap]) => (Some(*tap), None),
        (cooked, []) => (cooked, None),
    };
    entries.extend(off.map(Entry::OffHeat));
    entries.extend(cold.or(boxed).map(Entry::IntoCold));
    entries
}

/// Judges the log of one batch at a moment; findings stand in the order of their limits.
///
/// Homes are judged by the two taps, the food service by its curve as well. At home a reading at or above the least
/// temperature of hot holding moves the start: food that is still that hot is not yet on its way down. Lines may come in any order; a log
/// without an off-heat tap starts with its first line.
#[must_use]
pub fn judge(row: &KeepRow, entries: &[Entry], now: DateTime) -> Vec<LogFinding> {
    let mut lines = entries.to_vec();
    lines.sort_by_key(|entry| entry.at());
    if let Some(again) = lines
        .iter()
        .rposition(|entry| matches!(entry, Entry::HeatedAgain(_)))
    {
        lines.drain(..again);
    }
    let Some(start) = start(&lines) else {
        return Vec::new();
    };
    let mut findings = Vec::new();
    match demanded(row.profile) {
        Some(curve) => findings.extend(by_curve(curve, &lines, start, now)),
        None => findings.extend(by_taps(row, &lines, start, now)),
    }
    findings
}

fn start(lines: &[Entry]) -> Option<DateTime> {
    let tap = lines.iter().find_map(|entry| match entry {
        Entry::OffHeat(at) | Entry::HeatedAgain(at) => Some(*at),
        _ => None,
    });
    tap.or_else(|| lines.first().map(|entry| entry.at()))
}

/// Into the cold within the class's time, and never out longer than the profile allows.
fn by_taps(row: &KeepRow, lines: &[Entry], start: DateTime, now: DateTime) -> Vec<LogFinding> {
    let limits = limits(row.profile);
    let still_hot = lines.iter().filter_map(|entry| match entry {
        Entry::Measured(at, core) if *core >= limits.hot_min => Some(*at),
        _ => None,
    });
    let start = still_hot.fold(start, DateTime::max);
    let cold = lines.iter().find_map(|entry| match entry {
        Entry::IntoCold(at) => Some(*at),
        _ => None,
    });
    let took = seconds(start, cold.unwrap_or(now));
    let advised = row.chill_within;
    let most = limits.out_of_fridge_max.max(advised);
    let correction = match cold {
        _ if took > most => Correction::Discard,
        _ if took > advised => Correction::Advice,
        Some(_) => Correction::Nothing,
        None => Correction::Wait,
    };
    let (rule, allowed) = if took > most {
        (LogRule::Out, most)
    } else {
        (LogRule::IntoCold, advised)
    };
    vec![LogFinding {
        rule,
        took,
        allowed,
        correction,
        source: row.source.clone(),
    }]
}

/// Each stage of a curve by the readings.
fn by_curve(curve: &Curve, lines: &[Entry], start: DateTime, now: DateTime) -> Vec<LogFinding> {
    let readings: Vec<(DateTime, Temperature)> = lines
        .iter()
        .filter_map(|entry| match entry {
            Entry::Measured(at, core) => Some((*at, *core)),
            _ => None,
        })
        .collect();
    // The clock starts with the last reading that is still above the curve, or with the heat.
    let clock = readings
        .iter()
        .take_while(|(_, core)| *core >= curve.from)
        .last()
        .map_or(start, |(at, _)| *at);
    let mut findings = Vec::new();
    for (number, stage) in curve.stages.iter().enumerate() {
        let reached = readings
            .iter()
            .find(|(at, core)| *at >= clock && *core <= stage.to)
            .map(|(at, _)| seconds(clock, *at));
        let warm_at_limit = readings
            .iter()
            .any(|(at, core)| seconds(clock, *at) >= stage.within && *core > stage.to);
        let late = if number + 1 < curve.stages.len() {
            Correction::ReheatOrDiscard
        } else {
            Correction::Discard
        };
        let correction = match reached {
            Some(took) if took <= stage.within => Correction::Nothing,
            _ if warm_at_limit => late,
            Some(_) => Correction::NotShown,
            None if seconds(clock, now) > stage.within => Correction::NotShown,
            None => Correction::Wait,
        };
        findings.push(LogFinding {
            rule: LogRule::Stage(number),
            took: reached.unwrap_or_else(|| seconds(clock, now)),
            allowed: stage.within,
            correction,
            source: curve.source.to_owned(),
        });
    }
    findings
}

/// A warming for hot holding: how long from the fridge, how hot in the middle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reheated {
    /// From the fridge until the core was measured.
    pub took: Seconds,
    /// The middle, at its coldest place.
    pub core: Temperature,
}

/// Judges a warming for hot holding in the food service: 165 °F within 2 h.
///
/// Other profiles state no time, so that only the temperature is judged.
///
/// Source: FDA Food Code 3-403.11(A) and (D), read in 16 Del. Admin. Code 3-403.11.
#[must_use]
pub fn judge_reheat(profile: Profile, warming: Reheated) -> Correction {
    let timed = profile == Profile::UsFoodService;
    let most = Seconds::from_mins(crate::advice::figure("reheat/service"));
    let late = timed && warming.took > most;
    match (late, warming.core >= limits(profile).reheat_core) {
        (true, _) => Correction::Discard,
        (false, true) => Correction::Nothing,
        (false, false) => Correction::ReheatOrDiscard,
    }
}

fn seconds(from: DateTime, to: DateTime) -> Seconds {
    Seconds::from_secs(to.duration_since(from).as_secs())
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;

    use super::*;
    use crate::keeping::{KeepClass, rule};

    fn at(minutes: i64) -> DateTime {
        let start = date(2026, 11, 29).at(12, 0, 0, 0);
        start
            .checked_add(jiff::Span::new().minutes(minutes))
            .expect("inside the calendar")
    }

    fn check(profile: Profile, class: KeepClass, entries: &[Entry], now: i64) -> Vec<Correction> {
        let findings = judge(rule(profile, class), entries, at(now));
        findings.into_iter().map(|finding| finding.correction).collect()
    }

    #[test]
    fn two_taps_in_time_are_enough_for_a_home() {
        let taps = [Entry::OffHeat(at(0)), Entry::IntoCold(at(110))];
        assert_eq!(
            check(Profile::UsHome, KeepClass::Soup, &taps, 600),
            [Correction::Nothing]
        );
    }

    #[test]
    fn a_pot_left_out_for_hours_is_thrown_away_by_every_home() {
        let taps = [Entry::OffHeat(at(0)), Entry::IntoCold(at(241))];
        for profile in [Profile::UsHome, Profile::Uk, Profile::Canada, Profile::Eu] {
            assert_eq!(
                check(profile, KeepClass::RiceCooked, &taps, 600),
                [Correction::Discard],
                "{}",
                profile.word()
            );
        }
    }

    #[test]
    fn british_rice_after_ninety_minutes_is_late_but_not_lost() {
        let taps = [Entry::OffHeat(at(0)), Entry::IntoCold(at(90))];
        assert_eq!(
            check(Profile::Uk, KeepClass::RiceCooked, &taps, 600),
            [Correction::Advice]
        );
    }

    #[test]
    fn a_missing_tap_counts_until_now() {
        let taps = [Entry::OffHeat(at(0))];
        assert_eq!(
            check(Profile::UsHome, KeepClass::Soup, &taps, 60),
            [Correction::Wait]
        );
        assert_eq!(
            check(Profile::UsHome, KeepClass::Soup, &taps, 121),
            [Correction::Discard]
        );
    }

    #[test]
    fn heating_again_starts_the_clock_anew() {
        let warm = Temperature::from_f(80);
        let log = [
            Entry::OffHeat(at(0)),
            Entry::Measured(at(0), Temperature::from_f(135)),
            Entry::Measured(at(120), warm),
        ];
        let service = |log: &[Entry], now| check(Profile::UsFoodService, KeepClass::Soup, log, now);
        assert_eq!(service(&log, 121)[0], Correction::ReheatOrDiscard);
        let mut again = log.to_vec();
        again.push(Entry::HeatedAgain(at(140)));
        again.push(Entry::Measured(at(141), Temperature::from_f(165)));
        assert_eq!(service(&again, 150), [Correction::Wait, Correction::Wait]);
    }

    #[test]
    fn a_reading_too_late_shows_nothing() {
        let log = [
            Entry::Measured(at(0), Temperature::from_f(135)),
            Entry::Measured(at(200), Temperature::from_f(60)),
        ];
        let found = check(Profile::UsFoodService, KeepClass::Soup, &log, 400);
        assert_eq!(found[0], Correction::NotShown);
    }

    #[test]
    fn an_empty_log_says_nothing() {
        assert_eq!(check(Profile::UsHome, KeepClass::Soup, &[], 0), []);
    }

    #[test]
    fn taps_are_read_in_the_order_a_cook_makes_them() {
        let two = lines(None, &[(at(100), None), (at(0), None)], None);
        assert_eq!(two, [Entry::OffHeat(at(0)), Entry::IntoCold(at(100))]);
        let one = lines(Some(at(0)), &[(at(30), None)], None);
        assert_eq!(one, [Entry::OffHeat(at(0)), Entry::IntoCold(at(30))]);
        assert_eq!(lines(None, &[(at(5), None)], None), [Entry::OffHeat(at(5))]);
        let hot = Temperature::from_c(50);
        let boxed = lines(Some(at(0)), &[(at(20), Some(hot))], Some(at(40)));
        assert_eq!(
            boxed,
            [
                Entry::Measured(at(20), hot),
                Entry::OffHeat(at(0)),
                Entry::IntoCold(at(40))
            ]
        );
    }

    #[test]
    fn food_measured_hot_at_home_is_not_yet_on_its_way_down() {
        let hot = Entry::Measured(at(60), Temperature::from_f(150));
        let taps = [Entry::OffHeat(at(0)), hot, Entry::IntoCold(at(170))];
        assert_eq!(
            check(Profile::UsHome, KeepClass::Soup, &taps, 600),
            [Correction::Nothing]
        );
        let lukewarm = Entry::Measured(at(60), Temperature::from_f(120));
        let taps = [Entry::OffHeat(at(0)), lukewarm, Entry::IntoCold(at(170))];
        assert_eq!(
            check(Profile::UsHome, KeepClass::Soup, &taps, 600),
            [Correction::Discard]
        );
    }

    #[test]
    fn a_finding_says_how_long_and_what_to_do_with_its_source() {
        let taps = [Entry::OffHeat(at(0)), Entry::IntoCold(at(241))];
        let findings = judge(rule(Profile::UsHome, KeepClass::Soup), &taps, at(600));
        let words = findings[0].words();
        assert!(
            words.starts_with("out of the cold 4 h 01 min of 2 h 00 min: throw it away ["),
            "{words}"
        );
    }
}
