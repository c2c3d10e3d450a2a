//! Calibration: built-in yields, times and appetites, drawn towards what the household has seen.
//!
//! Shrinkage: the estimate is the mean of `k` imagined observations at the built-in value and the real ones. One odd
//! week moves it by `1 / (k + 1)` of its distance, ten like weeks by `10 / (k + 10)`. Only what somebody measured or
//! reported counts; what is presumed or expected teaches nothing. docs/calibration.md gives model and reasons.

use std::collections::BTreeMap;

use larderwright_model::{
    Account, Component, ComponentId, EaterId, Event, Fact, Law, Measured, Reported, SittingId, WayId, Yield,
};
use larderwright_quantity::{Permille, Rounding, Seconds, mul_div};

/// Imagined observations behind a built-in yield.
pub const YIELD_PRIOR: i64 = 4;
/// Imagined observations behind a built-in time.
pub const TIME_PRIOR: i64 = 4;
/// Imagined observations behind a stated or computed appetite.
pub const APPETITE_PRIOR: i64 = 8;
/// Only so many observations are looked at, the latest: kitchens and children change.
pub const MEMORY: usize = 20;
/// An observation counts as at least half and at most twice what was expected: beyond that it is a slip of the pen.
const SLIP: (i64, i64) = (500, 2000);
/// How narrow or wide a yield's spread may become, per thousand of the built-in one.
const SPREAD: (i64, i64) = (400, 1500);

/// Ratios of what was seen to what was expected, per thousand, the latest last.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Evidence {
    /// The ratios.
    pub ratios: Vec<i64>,
}

impl Evidence {
    fn add(&mut self, seen: i64, expected: i64) {
        if seen > 0 && expected > 0 {
            let ratio = mul_div(seen, 1000, expected, Rounding::Nearest);
            self.ratios.push(ratio.clamp(SLIP.0, SLIP.1));
            if self.ratios.len() > MEMORY {
                self.ratios.remove(0);
            }
        }
    }

    fn count(&self) -> i64 {
        i64::try_from(self.ratios.len()).expect("a memory is short")
    }

    /// The estimate, per thousand of the built-in value, with `prior` imagined observations there.
    #[must_use]
    pub fn estimate(&self, prior: i64) -> i64 {
        let sum: i64 = self.ratios.iter().sum();
        mul_div(prior * 1000 + sum, 1, prior + self.count(), Rounding::Nearest)
    }

    /// How the observations scatter around the estimate, pooled with `prior` of a given variance, in squares of a
    /// thousandth.
    fn variance(&self, prior: i64, built_in: i64) -> i64 {
        let mean = self.estimate(prior);
        let squares: i64 = self
            .ratios
            .iter()
            .map(|ratio| (ratio - mean) * (ratio - mean))
            .sum();
        (prior * built_in + squares) / (prior + self.count())
    }
}

/// What the household's events teach.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Lessons {
    /// Output against the yield law, by component and way.
    pub yields: BTreeMap<(ComponentId, WayId), Evidence>,
    /// Real against planned minutes, by component.
    pub times: BTreeMap<ComponentId, Evidence>,
    /// Eaten against planned, by eater.
    pub appetites: BTreeMap<EaterId, Evidence>,
}

impl Lessons {
    /// What events teach; they have to be those that count, in the order of their clocks.
    #[must_use]
    pub fn of<'a>(events: impl IntoIterator<Item = &'a Event>) -> Self {
        let mut lessons = Self::default();
        let mut sittings: BTreeMap<SittingId, Sitting> = BTreeMap::new();
        for event in events {
            match &event.fact {
                Fact::Cooked(fact) if fact.reported == Reported::Told => {
                    if fact.measured != Measured::Expected {
                        let key = (fact.component.clone(), fact.way.clone());
                        let evidence = lessons.yields.entry(key).or_default();
                        evidence.add(fact.output.mg(), fact.expected.mg());
                    }
                    if let (Some(seen), Some(planned)) = (fact.minutes, fact.minutes_planned) {
                        let evidence = lessons.times.entry(fact.component.clone()).or_default();
                        evidence.add(seen, planned);
                    }
                }
                Fact::Served(fact) if fact.reported == Reported::Told => {
                    let sitting = sittings.entry(fact.sitting.clone()).or_default();
                    sitting.planned = fact.planned.mg();
                    sitting.eaters.clone_from(&fact.eaters);
                    sitting.eaten += eaten(event);
                }
                Fact::LeftOver { sitting: Some(id) } | Fact::Returned { sitting: id } => {
                    sittings.entry(id.clone()).or_default().eaten += eaten(event);
                }
                _ => {}
            }
        }
        for sitting in sittings.values() {
            for eater in &sitting.eaters {
                let evidence = lessons.appetites.entry(eater.clone()).or_default();
                evidence.add(sitting.eaten, sitting.planned);
            }
        }
        lessons
    }

    /// How much each eater eats of what is planned, per thousand.
    #[must_use]
    pub fn habits(&self) -> BTreeMap<EaterId, Permille> {
        let habit = |evidence: &Evidence| Permille::from_permille(evidence.estimate(APPETITE_PRIOR));
        self.appetites
            .iter()
            .map(|(id, evidence)| (id.clone(), habit(evidence)))
            .collect()
    }

    /// A component with its yields and times as the household knows them, and what changed, a sentence each.
    #[must_use]
    pub fn teach(&self, component: &Component) -> (Component, Vec<String>) {
        let mut taught = component.clone();
        let mut said = Vec::new();
        for way in &mut taught.ways {
            let key = (component.id.clone(), way.id.clone());
            let Some(evidence) = self.yields.get(&key).filter(|evidence| evidence.count() > 0) else {
                continue;
            };
            let before = way.yields.likely;
            way.yields = learnt_yield(&way.yields, evidence);
            if way.yields.likely != before {
                said.push(format!(
                    "{} yields {}, not {}: {}",
                    component.name,
                    times(way.yields.likely),
                    times(before),
                    seen(evidence.count(), "batch weighed", "batches weighed")
                ));
            }
        }
        if let Some(evidence) = self
            .times
            .get(&component.id)
            .filter(|evidence| evidence.count() > 0)
        {
            let ratio = evidence.estimate(TIME_PRIOR);
            for step in taught
                .ways
                .iter_mut()
                .flat_map(|way| &mut way.steps)
                .filter(|step| !step.lead)
            {
                step.law = learnt_law(&step.law, ratio, evidence.count());
            }
            let percent = mul_div((ratio - 1000).abs(), 1, 10, Rounding::Nearest);
            if percent > 0 {
                let word = if ratio > 1000 { "longer" } else { "shorter" };
                said.push(format!(
                    "{} takes {percent} % {word}: {}",
                    component.name,
                    seen(evidence.count(), "batch timed", "batches timed")
                ));
            }
        }
        (taught, said)
    }
}

#[derive(Default)]
struct Sitting {
    planned: i64,
    eaten: i64,
    eaters: Vec<EaterId>,
}

/// What went to *eaten*, less what came back from there.
fn eaten(event: &Event) -> i64 {
    let of = |step: &larderwright_model::Move| match (&step.from, &step.to) {
        (_, Account::Eaten) => step.mass.mg(),
        (Account::Eaten, _) => -step.mass.mg(),
        _ => 0,
    };
    event.moves.iter().map(of).sum()
}

fn learnt_yield(yields: &Yield, evidence: &Evidence) -> Yield {
    let ratio = evidence.estimate(YIELD_PRIOR);
    let by = |value: i64| mul_div(value, ratio, 1000, Rounding::Nearest);
    let (low, likely, high) = (
        yields.low.permille(),
        yields.likely.permille(),
        yields.high.permille(),
    );
    let middle = by(likely);
    let narrow = narrowed(yields, evidence);
    let side = |width: i64| mul_div(by(width), narrow, 1000, Rounding::Nearest);
    Yield {
        low: Permille::from_permille(middle - side(likely - low)),
        likely: Permille::from_permille(middle),
        high: Permille::from_permille(middle + side(high - likely)),
        source: format!(
            "{}; drawn towards {} of this household",
            yields.source,
            seen(evidence.count(), "weighed batch", "weighed batches")
        ),
    }
}

/// The household's own scatter against that of the built-in triangle (variance: width squared by 24), as a factor on
/// its width, per thousand.
fn narrowed(yields: &Yield, evidence: &Evidence) -> i64 {
    let width = mul_div(
        yields.high.permille() - yields.low.permille(),
        1000,
        yields.likely.permille().max(1),
        Rounding::Nearest,
    );
    let built_in = width * width / 24;
    if built_in == 0 {
        return 1000;
    }
    let now = evidence.variance(YIELD_PRIOR, built_in);
    mul_div(now, 1_000_000, built_in, Rounding::Nearest)
        .isqrt()
        .clamp(SPREAD.0, SPREAD.1)
}

fn learnt_law(law: &Law, ratio: i64, count: i64) -> Law {
    let by = |time: Seconds| Seconds::from_secs(mul_div(time.secs(), ratio, 1000, Rounding::Up));
    Law {
        fixed: by(law.fixed),
        per_kg: by(law.per_kg),
        per_load: by(law.per_load),
        source: format!(
            "{}; drawn towards {} of this household",
            law.source,
            seen(count, "timed batch", "timed batches")
        ),
        ..law.clone()
    }
}

/// `2.22` for 2,220 per thousand.
fn times(value: Permille) -> String {
    let hundredths = mul_div(value.permille(), 1, 10, Rounding::Nearest);
    format!("{}.{:02}", hundredths / 100, hundredths % 100)
}

fn seen(count: i64, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn evidence(ratios: &[i64]) -> Evidence {
        let mut evidence = Evidence::default();
        for ratio in ratios {
            evidence.add(*ratio, 1000);
        }
        evidence
    }

    fn yields() -> Yield {
        let [low, likely, high] = [2000, 2220, 2600].map(Permille::from_permille);
        Yield {
            low,
            likely,
            high,
            source: "invented".into(),
        }
    }

    #[test]
    fn one_odd_week_changes_little_and_ten_like_weeks_change_much() {
        let one = evidence(&[800]).estimate(YIELD_PRIOR);
        let ten = evidence(&[800; 10]).estimate(YIELD_PRIOR);
        assert_eq!((one, ten), (960, 857));
        assert!(1000 - one <= 40 && 1000 - ten > 140);
    }

    #[test]
    fn a_slip_of_the_pen_counts_as_twice_at_most() {
        assert_eq!(
            evidence(&[50_000]).estimate(YIELD_PRIOR),
            evidence(&[2000]).estimate(YIELD_PRIOR)
        );
    }

    #[test]
    fn an_estimate_lies_between_the_built_in_value_and_what_was_seen() {
        for ratio in [500, 700, 999, 1001, 1400, 2000] {
            for count in 1..=MEMORY {
                let estimate = evidence(&vec![ratio; count]).estimate(YIELD_PRIOR);
                let (low, high) = (ratio.min(1000), ratio.max(1000));
                assert!((low..=high).contains(&estimate), "{ratio} {count} {estimate}");
            }
        }
    }

    #[test]
    fn like_batches_narrow_a_yield_and_unlike_ones_widen_it() {
        let like = learnt_yield(&yields(), &evidence(&[1000; 12]));
        let unlike = learnt_yield(&yields(), &evidence(&[600, 1400, 600, 1400, 600, 1400]));
        let width = |yields: &Yield| yields.high.permille() - yields.low.permille();
        assert!(width(&like) < width(&yields()) && width(&yields()) < width(&unlike));
        assert_eq!(like.likely, yields().likely);
        assert!(like.low <= like.likely && like.likely <= like.high);
    }

    #[test]
    fn only_the_latest_observations_count() {
        let mut old = vec![600; 30];
        old.extend([1000; MEMORY]);
        assert_eq!(evidence(&old).estimate(YIELD_PRIOR), 1000);
    }
}
