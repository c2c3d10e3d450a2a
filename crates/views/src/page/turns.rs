//! Turns that an evening takes: somebody eats out, more people come, something was not thawed, stood warm, or the power
//! was cut. Each says what happens to the food and what guidance says, before anything is accepted.

use jiff::Span;
use jiff::civil::DateTime;
use larderwright_model::{Allergen, Place, PortionSource, Presence, Sitting, SittingId, Snapshot, WeekPlan};
use larderwright_quantity::{Mass, Rounding, Seconds, duration_text, mul_div};
use larderwright_safety::advice::{self, AdviceRow, Topic};
use larderwright_safety::limits::{LimitKind, LimitRow, limit};

use crate::book::{Book, allergen_word, capital, listed};
use crate::page::Told;
use crate::page::larder::Standing;
use crate::words::Words;

/// A turn as it would be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Turn {
    /// What would be so.
    pub title: String,
    /// What happens to each food.
    pub rows: Vec<(String, String)>,
    /// What guidance says, with its source.
    pub told: Vec<Told>,
}

/// A lot that can be chosen, with whether the sitting takes from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// Its identifier.
    pub lot: String,
    /// What, how much, where.
    pub words: String,
    /// The sitting takes from it.
    pub tonight: bool,
    /// It is frozen.
    pub frozen: bool,
}

/// A sitting with what is in the house.
#[derive(Clone, Copy, Debug)]
pub struct Evening<'a> {
    /// What the plan depends on.
    pub snapshot: &'a Snapshot,
    /// The plan.
    pub plan: &'a WeekPlan,
    /// Which sitting.
    pub sitting: &'a Sitting,
    /// What is in the house.
    pub standing: &'a [Standing],
    /// What time it is.
    pub now: DateTime,
}

/// Minutes in a day, and grams in a pound: thawing is told per kilogram or per pound.
const MG_PER_LB: i64 = 453_592;

impl<'a> Evening<'a> {
    fn book(self) -> Book<'a> {
        Book::new(self.snapshot, self.plan)
    }

    fn words(self) -> Words {
        Words::of(&self.snapshot.household)
    }

    fn name(self) -> String {
        self.book().sitting_name(&self.sitting.id)
    }

    fn takes(self, lot: &str) -> bool {
        self.book().drawn(&lot.into(), &self.sitting.id).is_positive()
    }

    /// Sittings after this one that take from a lot.
    fn later(self, lot: &str) -> Vec<String> {
        let book = self.book();
        let after = |sitting: &&Sitting| sitting.at > self.sitting.at;
        let draws = |id: &SittingId| book.drawn(&lot.into(), id).is_positive();
        let later = self.snapshot.sittings.iter().filter(after);
        later
            .filter(|sitting| draws(&sitting.id))
            .map(|sitting| book.sitting_name(&sitting.id))
            .collect()
    }

    fn label(self, lot: &Standing) -> String {
        format!("{}, {}", lot.name, self.words().mass(lot.mass))
    }

    fn chosen(self, lots: &[String]) -> Vec<&'a Standing> {
        self.standing
            .iter()
            .filter(|lot| lots.contains(&lot.id))
            .collect()
    }

    /// What the sitting takes that is not there as planned, and what to do about it.
    #[must_use]
    pub fn missing(self) -> Vec<(String, String)> {
        let book = self.book();
        let mut rows = Vec::new();
        for (source, mass) in crate::menu::taken(book, self.sitting) {
            let PortionSource::Lot(id) = source else {
                continue;
            };
            if book.lot(&id).is_some_and(|lot| lot.stored > self.now) {
                continue;
            }
            let there = self.standing.iter().find(|lot| lot.id == id.as_str());
            let words = match there {
                None => "not in the house any more: choose something else, or plan the rest anew".to_owned(),
                Some(lot) if lot.place == Place::Freezer => {
                    "still in the freezer: see “Forgot to pull” below".to_owned()
                }
                Some(lot) if lot.mass < mass => {
                    format!(
                        "{} there, {} wanted",
                        self.words().mass(lot.mass),
                        self.words().mass(mass)
                    )
                }
                Some(_) => continue,
            };
            rows.push((book.lot_name(&id), words));
        }
        rows
    }

    /// Cooked lots that can be chosen, those of this sitting first.
    #[must_use]
    pub fn choices(self) -> Vec<Choice> {
        let cooked = self.standing.iter().filter(|lot| lot.cooked);
        let mut choices: Vec<Choice> = cooked
            .map(|lot| Choice {
                lot: lot.id.clone(),
                words: format!("{} · {}", self.label(lot), lot.place.word()),
                tonight: self.takes(&lot.id),
                frozen: lot.place == Place::Freezer,
            })
            .collect();
        choices.sort_by_key(|choice| (!choice.tonight, choice.words.clone()));
        choices
    }

    /// Nobody eats here.
    #[must_use]
    pub fn out(self) -> Turn {
        let tomorrow = self.now.saturating_add(Span::new().days(1));
        let row = |lot: &Standing| {
            let until = lot
                .use_by
                .map_or_else(String::new, |at| format!(", use by {}", self.words().until(at)));
            let later = self.later(&lot.id);
            let then = match (later.is_empty(), lot.use_by) {
                _ if lot.place == Place::Freezer => "stays frozen".to_owned(),
                (false, _) => format!(
                    "stays in the {}{until}; next eaten {}",
                    lot.place.word(),
                    listed(&later)
                ),
                (true, Some(at)) if at <= tomorrow => {
                    format!(
                        "stays in the {}{until}: plan the rest anew, or freeze it today",
                        lot.place.word()
                    )
                }
                (true, _) => format!(
                    "stays in the {}{until}; nobody plans to eat it yet",
                    lot.place.word()
                ),
            };
            (self.label(lot), then)
        };
        let tonight = self.standing.iter().filter(|lot| self.takes(&lot.id));
        let rows: Vec<(String, String)> = tonight.map(row).collect();
        let told = if rows.is_empty() {
            let what =
                "Nothing cooked was meant for it; what was bought for it stays where it is.".to_owned();
            vec![Told {
                what,
                ..Told::default()
            }]
        } else {
            Vec::new()
        };
        Turn {
            title: format!("Nobody eats here on {}", self.name()),
            rows,
            told,
        }
    }

    /// Somebody ate these lots.
    #[must_use]
    pub fn gone(self, lots: &[String]) -> Turn {
        let row = |lot: &Standing| {
            let mut short = self.later(&lot.id);
            if self.takes(&lot.id) && self.sitting.at >= self.now {
                short.insert(0, self.name());
            }
            let then = match short.len() {
                0 => "gone; nobody was to eat it".to_owned(),
                _ => format!("gone; short: {}. Plan the rest anew", listed(&short)),
            };
            (self.label(lot), then)
        };
        Turn {
            title: "Somebody ate it".into(),
            rows: self.chosen(lots).into_iter().map(row).collect(),
            told: Vec::new(),
        }
    }

    /// What on the plates of this sitting holds these allergens, for guests who named them.
    #[must_use]
    pub fn guests(self, allergens: &[Allergen]) -> Vec<(String, String)> {
        let book = self.book();
        let portions = || book.plates(&self.sitting.id).flat_map(|plate| &plate.portions);
        let named = |portion: &larderwright_model::Portion| match &portion.source {
            PortionSource::Lot(lot) => book.lot_name(lot),
            PortionSource::Food(food) => book.food_name(food),
        };
        let row = |allergen: Allergen| {
            let (mut has, mut read) = (Vec::new(), Vec::new());
            for portion in portions() {
                let found = book.portion_allergens(portion);
                match found.known.get(&allergen) {
                    Some(Presence::Contains) => has.push(named(portion)),
                    Some(Presence::MayContain) => read.push(named(portion)),
                    _ if !found.unknown.is_empty() || !found.labels.is_empty() => read.push(named(portion)),
                    _ => {}
                }
            }
            for names in [&mut has, &mut read] {
                names.sort();
                names.dedup();
            }
            let words = match (has.is_empty(), read.is_empty()) {
                (false, _) => format!("is in {}: leave it off their plate", listed(&has)),
                (true, false) => format!("read the labels of {}", listed(&read)),
                (true, true) => "not in what the plan knows to be on the plates".to_owned(),
            };
            (capital(&allergen_word(allergen)), words)
        };
        allergens.iter().copied().map(row).collect()
    }

    /// Somebody eats later than the others.
    #[must_use]
    pub fn late(self, eater: &str, at: DateTime) -> Turn {
        let profile = self.plan.profile;
        let out = limit(profile, LimitKind::OutOfFridge);
        let latest = self.sitting.at.saturating_add(Span::new().minutes(out.value));
        let core = larderwright_safety::limits(profile).reheat_core;
        let words = self.words();
        let wait = if at <= latest {
            format!(
                "may wait covered on the table until {}, or in the fridge",
                words.clock(latest)
            )
        } else {
            format!(
                "into a box and the fridge by {}, better at once",
                words.clock(latest)
            )
        };
        let rows = vec![
            (format!("{eater}’s plate"), wait),
            (
                words.clock(at),
                format!(
                    "warm only this plate, stir once, steaming all through; guidance says {} in the middle",
                    self.book().temperature(core)
                ),
            ),
            ("The others".into(), "no change".into()),
        ];
        Turn {
            title: format!("{eater} eats at {}", words.clock(at)),
            rows,
            told: std::iter::once(told_limit("Longest out of the fridge", out, self.book()))
                .chain(advice::about(profile, Topic::Reheating).into_iter().map(told))
                .collect(),
        }
    }

    /// Lots of this sitting that are still in the freezer, with the ways to thaw them and their minutes.
    #[must_use]
    pub fn frozen(self) -> Turn {
        let wanted = |lot: &&Standing| lot.place == Place::Freezer && self.takes(&lot.id);
        let row = |lot: &Standing| (self.label(lot), self.thaw_words(lot.mass));
        Turn {
            title: format!("Still frozen for {}", self.name()),
            rows: self.standing.iter().filter(wanted).map(row).collect(),
            told: advice::about(self.plan.profile, Topic::Thawing)
                .into_iter()
                .map(told)
                .chain(std::iter::once(Told {
                    what: "from frozen, in a closed pan with a splash of water or covered in the oven: about half as long again as thawed"
                        .into(),
                    why: String::new(),
                    source: "common practice, no source".into(),
                }))
                .collect(),
        }
    }

    /// Minutes by the figures of the guidance for so much food.
    fn thaw_words(self, mass: Mass) -> String {
        let water = mul_div(
            advice::figure("thaw/water"),
            mass.mg() / 1000,
            MG_PER_LB / 1000,
            Rounding::Up,
        );
        let fridge = mul_div(advice::figure("thaw/fridge"), mass.mg(), 1_000_000, Rounding::Up);
        format!(
            "in cold water about {}, in the fridge about {}; in the microwave, or from frozen, at once",
            duration_text(Seconds::from_mins(water)),
            duration_text(Seconds::from_mins(fridge))
        )
    }

    /// These lots have stood out since a time.
    #[must_use]
    pub fn warm(self, lots: &[String], since: DateTime) -> Turn {
        let profile = self.plan.profile;
        let (out, hot) = (
            limit(profile, LimitKind::OutOfFridge),
            limit(profile, LimitKind::OutOfFridgeHot),
        );
        let minutes = self.minutes_since(since);
        let row = |lot: &Standing| {
            let then = if minutes > out.value {
                format!("{minutes} min: longer than the guidance allows. Throw it away")
            } else if minutes > hot.value {
                format!(
                    "{minutes} of {} min; on a day warmer than {} the guidance allows only {}",
                    out.value,
                    self.book()
                        .temperature(larderwright_safety::limits(profile).hot_day),
                    hot.value
                )
            } else {
                format!(
                    "{minutes} of {} min: into the fridge at once; the minutes are kept",
                    out.value
                )
            };
            (self.label(lot), then)
        };
        Turn {
            title: format!("Out of the cold since {}", self.words().clock(since)),
            rows: self.chosen(lots).into_iter().map(row).collect(),
            told: vec![
                told_limit("Longest out of the fridge", out, self.book()),
                told_limit("On a hot day", hot, self.book()),
            ],
        }
    }

    /// Minutes from then to now.
    #[must_use]
    pub fn minutes_since(self, since: DateTime) -> i64 {
        self.now.duration_since(since).as_mins().max(0)
    }

    /// Whether so many minutes are more than the guidance allows out of the cold.
    #[must_use]
    pub fn too_long(self, minutes: i64) -> bool {
        minutes > limit(self.plan.profile, LimitKind::OutOfFridge).value
    }

    /// The power has been off since a time.
    #[must_use]
    pub fn power(self, since: DateTime) -> Turn {
        let hours = Seconds::from_mins(self.minutes_since(since));
        let kept = advice::figure("power-cut/fridge");
        let fridge_until = since.saturating_add(Span::new().hours(kept));
        let half = since.saturating_add(Span::new().hours(advice::figure("power-cut/freezer-half")));
        let full = since.saturating_add(Span::new().hours(advice::figure("power-cut/freezer-full")));
        let words = self.words();
        let count = |place: Place| {
            let there: Vec<&str> = self
                .standing
                .iter()
                .filter(|lot| lot.place == place && lot.cooked)
                .map(|lot| lot.name.as_str())
                .collect();
            if there.is_empty() {
                "nothing cooked in it".to_owned()
            } else {
                listed(&there)
            }
        };
        let fridge = if self.now <= fridge_until {
            format!(
                "shut, it keeps the cold until about {}: {}",
                words.when(fridge_until),
                count(Place::Fridge)
            )
        } else {
            format!(
                "longer than a shut fridge keeps the cold; the guidance throws perishable food away: {}",
                count(Place::Fridge)
            )
        };
        let freezer = format!(
            "shut, until about {} when half full, {} when full; what still has ice crystals may be frozen again: {}",
            words.when(half),
            words.when(full),
            count(Place::Freezer)
        );
        Turn {
            title: format!("No power for {}", duration_text(hours)),
            rows: vec![("Fridge".into(), fridge), ("Freezer".into(), freezer)],
            told: advice::about(self.plan.profile, Topic::PowerCut)
                .into_iter()
                .map(told)
                .collect(),
        }
    }

    /// Cooked lots in the fridge, once the guidance would throw them away after a power cut.
    #[must_use]
    pub fn spoiled(self, since: DateTime) -> Vec<String> {
        if self.minutes_since(since) <= advice::figure("power-cut/fridge") * 60 {
            return Vec::new();
        }
        let lots = self
            .standing
            .iter()
            .filter(|lot| lot.cooked && lot.place == Place::Fridge);
        lots.map(|lot| lot.id.clone()).collect()
    }
}

fn told(row: &AdviceRow) -> Told {
    Told {
        what: capital(row.text),
        why: String::new(),
        source: row.source.to_owned(),
    }
}

fn told_limit(name: &str, row: &LimitRow, book: Book<'_>) -> Told {
    let value = match row.kind.unit() {
        "min" => duration_text(Seconds::from_mins(row.value)),
        _ => book.temperature(larderwright_quantity::Temperature::from_deci_c(row.value)),
    };
    Told {
        what: format!("{name}: {value}"),
        why: String::new(),
        source: row.source.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    struct House {
        snapshot: Snapshot,
        plan: WeekPlan,
        standing: Vec<Standing>,
    }

    /// The sample week with every planned lot in its place.
    fn house() -> House {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let standing = plan.lots.iter().map(|lot| Standing {
            id: lot.id.to_string(),
            name: lot.origin.to_string(),
            cooked: true,
            made: Some(lot.made),
            place: lot.place,
            mass: lot.mass,
            boxes: Vec::new(),
            use_by: Some(lot.keep.use_by),
            source: String::new(),
            marks: Vec::new(),
        });
        House {
            standing: standing.collect(),
            snapshot,
            plan,
        }
    }

    fn evening(house: &House) -> Evening<'_> {
        let sitting = &house.snapshot.sittings[0];
        Evening {
            snapshot: &house.snapshot,
            plan: &house.plan,
            sitting,
            standing: &house.standing,
            now: sitting.at,
        }
    }

    #[test]
    fn every_lot_of_the_sitting_is_spoken_of_when_nobody_eats() {
        let house = house();
        let evening = evening(&house);
        let tonight = evening.choices().iter().filter(|choice| choice.tonight).count();
        assert!(tonight > 0);
        assert_eq!(evening.out().rows.len(), tonight);
    }

    #[test]
    fn what_stood_longer_than_the_guidance_allows_is_thrown_away() {
        let house = house();
        let evening = evening(&house);
        let most = limit(house.plan.profile, LimitKind::OutOfFridge).value;
        let lots = [house.standing[0].id.clone()];
        let since = |minutes| evening.now.saturating_sub(Span::new().minutes(minutes));
        let words = |minutes| evening.warm(&lots, since(minutes)).rows[0].1.clone();
        assert!(!words(most).contains("Throw") && words(most + 1).contains("Throw it away"));
        assert!(!evening.too_long(most) && evening.too_long(most + 1));
    }

    #[test]
    fn a_power_cut_spoils_nothing_while_a_shut_fridge_keeps_the_cold() {
        let house = house();
        let evening = evening(&house);
        let since = |minutes| evening.now.saturating_sub(Span::new().minutes(minutes));
        let kept = advice::figure("power-cut/fridge") * 60;
        assert!(evening.spoiled(since(kept)).is_empty());
        assert!(!evening.spoiled(since(kept + 1)).is_empty());
    }

    #[test]
    fn everything_that_is_told_has_a_source_and_nothing_is_called_safe() {
        let house = house();
        let evening = evening(&house);
        let since = evening.now.saturating_sub(Span::new().hours(1));
        for turn in [
            evening.late("Ana", evening.now),
            evening.frozen(),
            evening.warm(&[], since),
            evening.power(since),
        ] {
            assert!(!turn.told.is_empty());
            for each in &turn.told {
                assert!(!each.source.is_empty(), "{}", each.what);
            }
            let words = format!("{turn:?}").to_lowercase();
            assert!(
                !words.contains("is safe") && !words.contains("safe to eat"),
                "{words}"
            );
        }
    }

    #[test]
    fn guests_are_told_what_holds_what_they_may_not_eat() {
        let house = house();
        let rows = evening(&house).guests(&Allergen::ALL);
        assert_eq!(rows.len(), Allergen::ALL.len());
    }
}
