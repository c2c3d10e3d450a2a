//! What every sheet looks up: names, days and amounts of one household's week.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::{Date, DateTime};
use larderwright_model::{
    Allergen, Batch, BatchId, BoxId, Component, Cover, Food, FoodId, Item, Lot, LotId, Occasion, Plate,
    Portion, PortionSource, Presence, Profile, Session, SessionId, Sitting, SittingId, Snapshot, Way,
    WeekPlan,
};
use larderwright_quantity::{
    Mass, Money, System, Temperature, Volume, fmt_money, temperature_text, volume_text,
};

use crate::amount;
pub(crate) use crate::words::day;
use crate::words::{clock_in, mass_in, portion_in};

/// A snapshot and the plan made from it, open side by side.
#[derive(Clone, Copy)]
pub(crate) struct Book<'a> {
    pub(crate) snapshot: &'a Snapshot,
    pub(crate) plan: &'a WeekPlan,
}

/// Allergens of an item or a plate.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Allergens {
    /// With the stronger presence.
    pub(crate) known: BTreeMap<Allergen, Presence>,
    /// Foods of which nobody knows, by name.
    pub(crate) unknown: BTreeSet<String>,
    /// Foods whose label differs by brand, by name.
    pub(crate) labels: BTreeSet<String>,
}

impl Allergens {
    fn add(&mut self, food: &Food) {
        if food.read_label {
            self.labels.insert(food.name.clone());
        }
        let Some(allergens) = &food.allergens else {
            self.unknown.insert(food.name.clone());
            return;
        };
        for (&allergen, &presence) in allergens {
            let slot = self.known.entry(allergen).or_insert(presence);
            *slot = (*slot).max(presence);
        }
    }

    /// Adds what another part of the plate holds.
    pub(crate) fn merge(&mut self, other: Self) {
        for (allergen, presence) in other.known {
            let slot = self.known.entry(allergen).or_insert(presence);
            *slot = (*slot).max(presence);
        }
        self.unknown.extend(other.unknown);
        self.labels.extend(other.labels);
    }

    /// The words of all allergens of that presence.
    pub(crate) fn words(&self, presence: Presence) -> Vec<String> {
        let of = self.known.iter().filter(|(_, found)| **found == presence);
        of.map(|(allergen, _)| allergen_word(*allergen)).collect()
    }
}

impl<'a> Book<'a> {
    pub(crate) fn new(snapshot: &'a Snapshot, plan: &'a WeekPlan) -> Self {
        Self { snapshot, plan }
    }

    pub(crate) fn system(self) -> System {
        self.snapshot.household.system
    }

    pub(crate) fn food(self, id: &FoodId) -> Option<&'a Food> {
        self.snapshot.foods.get(id)
    }

    pub(crate) fn food_name(self, id: &FoodId) -> String {
        self.food(id)
            .map_or_else(|| id.to_string(), |food| capital(&food.name))
    }

    pub(crate) fn batch(self, id: &BatchId) -> Option<&'a Batch> {
        self.plan.batches.iter().find(|batch| batch.id == *id)
    }

    pub(crate) fn lot(self, id: &LotId) -> Option<&'a Lot> {
        self.plan.lots.iter().find(|lot| lot.id == *id)
    }

    pub(crate) fn way(self, batch: &Batch) -> Option<(&'a Component, &'a Way)> {
        let component = self.snapshot.components.get(&batch.component)?;
        Some((component, component.way(&batch.way)?))
    }

    pub(crate) fn component_name(self, batch: &BatchId) -> String {
        let component = self
            .batch(batch)
            .and_then(|batch| self.snapshot.components.get(&batch.component));
        component.map_or_else(|| batch.to_string(), |component| component.name.clone())
    }

    pub(crate) fn item_name(self, item: &Item) -> String {
        match item {
            Item::Food(id) => self.food_name(id),
            Item::Component(id) => {
                let component = self.snapshot.components.get(id);
                component.map_or_else(|| id.to_string(), |component| component.name.clone())
            }
        }
    }

    pub(crate) fn lot_name(self, id: &LotId) -> String {
        match (self.lot(id), self.snapshot.lot(id)) {
            (Some(lot), _) => self.component_name(&lot.origin),
            (None, Some(before)) => self.item_name(&Item::Component(before.component.clone())),
            (None, None) => id.to_string(),
        }
    }

    pub(crate) fn cover_name(self, cover: &Cover) -> String {
        match cover {
            Cover::Guest(number) => format!("guest {number}"),
            Cover::Eater(id) => {
                let eater = self.snapshot.household.eater(id);
                eater.map_or_else(|| id.to_string(), |eater| eater.name.clone())
            }
        }
    }

    /// The names of those who cook, `Ana and Ben`.
    pub(crate) fn cooks(self, cooks: &[larderwright_model::CookId]) -> String {
        let name = |id: &larderwright_model::CookId| {
            let cook = self.snapshot.household.cooks.iter().find(|cook| cook.id == *id);
            cook.map_or_else(|| id.to_string(), |cook| cook.name.clone())
        };
        listed(&cooks.iter().map(name).collect::<Vec<_>>())
    }

    /// `Tue 1 Dec dinner`.
    pub(crate) fn sitting_name(self, id: &SittingId) -> String {
        self.snapshot.sitting(id).map_or_else(
            || id.to_string(),
            |sitting| format!("{} {}", day(sitting.at.date()), occasion(sitting)),
        )
    }

    /// Names of sittings in order; two lunches of a day have one name.
    pub(crate) fn sitting_names(self, ids: &[SittingId]) -> Vec<String> {
        let mut names: Vec<String> = ids.iter().map(|id| self.sitting_name(id)).collect();
        names.dedup();
        names
    }

    pub(crate) fn meal_name(self, sitting: &SittingId) -> String {
        let choice = self
            .plan
            .menu
            .choices
            .iter()
            .find(|choice| choice.sitting == *sitting);
        choice.map_or_else(String::new, |choice| {
            let meal = self.snapshot.meals.get(&choice.meal);
            meal.map_or_else(|| choice.meal.to_string(), |meal| meal.name.clone())
        })
    }

    pub(crate) fn plates(self, sitting: &'a SittingId) -> impl Iterator<Item = &'a Plate> {
        self.plan
            .plates
            .iter()
            .filter(move |plate| plate.sitting == *sitting)
    }

    pub(crate) fn batches(self, session: &'a SessionId) -> impl Iterator<Item = &'a Batch> {
        self.plan
            .batches
            .iter()
            .filter(move |batch| batch.session == *session)
    }

    pub(crate) fn lots(self, batch: &'a BatchId) -> impl Iterator<Item = &'a Lot> {
        self.plan.lots.iter().filter(move |lot| lot.origin == *batch)
    }

    /// Sessions in which something is cooked.
    pub(crate) fn sessions(self) -> impl Iterator<Item = &'a Session> {
        let cooked = move |session: &&Session| self.batches(&session.id).next().is_some();
        self.snapshot.sessions.iter().filter(cooked)
    }

    /// What the portions drawn from a lot at a sitting weigh.
    pub(crate) fn drawn(self, lot: &LotId, sitting: &SittingId) -> Mass {
        let plates = self.plan.plates.iter().filter(|plate| plate.sitting == *sitting);
        let portions = plates.flat_map(|plate| &plate.portions);
        portions
            .filter(|portion| matches!(&portion.source, PortionSource::Lot(id) if id == lot))
            .map(|portion| portion.mass)
            .sum()
    }

    /// Allergens of what went into a batch.
    pub(crate) fn batch_allergens(self, batch: &BatchId) -> Allergens {
        let inputs = self.batch(batch).into_iter().flat_map(|batch| &batch.inputs);
        self.food_allergens(inputs.map(|input| &input.food))
    }

    fn food_allergens<'f>(self, foods: impl IntoIterator<Item = &'f FoodId>) -> Allergens {
        let mut allergens = Allergens::default();
        for food in foods.into_iter().filter_map(|id| self.food(id)) {
            allergens.add(food);
        }
        allergens
    }

    /// Allergens of one portion.
    pub(crate) fn portion_allergens(self, portion: &Portion) -> Allergens {
        match &portion.source {
            PortionSource::Lot(id) => {
                let before = self.snapshot.lot(id).into_iter().flat_map(|lot| &lot.foods);
                self.lot(id).map_or_else(
                    || self.food_allergens(before),
                    |lot| self.batch_allergens(&lot.origin),
                )
            }
            PortionSource::Food(id) => self.food_allergens([id]),
        }
    }

    /// `2 × square box`; several kinds with commas.
    pub(crate) fn boxes(self, lot: &Lot) -> String {
        self.box_words(&lot.boxes)
    }

    pub(crate) fn box_words(self, boxes: &[(BoxId, u32)]) -> String {
        let one = |(id, count): &(BoxId, u32)| {
            let kind = self
                .snapshot
                .household
                .kitchen
                .boxes
                .iter()
                .find(|kind| kind.id == *id);
            let name = kind.map_or_else(|| id.to_string(), |kind| kind.name.clone());
            format!("{count}\u{a0}× {name}")
        };
        boxes.iter().map(one).collect::<Vec<_>>().join(", ")
    }

    /// Pounds and ounces stay together on a line.
    pub(crate) fn mass(self, mass: Mass) -> String {
        mass_in(mass, self.system())
    }

    /// What lies on a plate.
    pub(crate) fn portion(self, mass: Mass) -> String {
        portion_in(mass, self.system())
    }

    pub(crate) fn volume(self, volume: Volume) -> String {
        volume_text(volume, self.system())
    }

    /// As purchased, in the words of the kitchen: counts, cans, spoons or grams.
    pub(crate) fn purchased(self, food: &FoodId, mass: Mass) -> String {
        self.food(food).map_or_else(
            || self.mass(mass),
            |food| amount::purchased(food, mass, self.system()),
        )
    }

    /// The edible portion in the words of the kitchen.
    pub(crate) fn edible(self, food: &FoodId, mass: Mass) -> String {
        self.food(food).map_or_else(
            || self.mass(mass),
            |food| amount::edible(food, mass, self.system()),
        )
    }

    pub(crate) fn money(self, money: Money) -> String {
        fmt_money(money, &self.snapshot.household.currency)
    }

    /// In the household's degrees, the other ones in brackets.
    pub(crate) fn temperature(self, temperature: Temperature) -> String {
        let other = match self.system() {
            System::Metric => System::UsCustomary,
            System::UsCustomary => System::Metric,
        };
        let first = temperature_text(temperature, self.system());
        format!("{first} ({})", temperature_text(temperature, other))
    }

    /// The time of day: `14:05`, or `2:05 pm` where that is the habit.
    pub(crate) fn clock(self, at: DateTime) -> String {
        clock_in(at, self.snapshot.household.region)
    }

    /// Day and time: `Sun 29 Nov 14:05`.
    pub(crate) fn when(self, at: DateTime) -> String {
        format!("{} {}", day(at.date()), self.clock(at))
    }

    /// What every title block says.
    pub(crate) fn fields(self) -> Vec<(String, String)> {
        vec![
            ("Household".into(), self.snapshot.household.name.clone()),
            ("Week".into(), week(self.plan.monday)),
        ]
    }

    /// The sentence at the foot of every sheet that repeats guidance.
    pub(crate) fn guidance(self) -> String {
        format!(
            "Ask your local food-safety authority; this sheet repeats published guidance ({}).",
            profile(self.plan.profile)
        )
    }
}

/// `2026-W49, Mon 30 Nov to Sun 6 Dec`.
pub(crate) fn week(monday: Date) -> String {
    let iso = monday.iso_week_date();
    let sunday = monday.checked_add(jiff::Span::new().days(6)).unwrap_or(monday);
    format!(
        "{}-W{:02}, {} to {}",
        iso.year(),
        iso.week(),
        day(monday),
        day(sunday)
    )
}

/// The occasion as the cook says it.
pub(crate) fn occasion(sitting: &Sitting) -> &'static str {
    match sitting.occasion {
        Occasion::Breakfast => "breakfast",
        Occasion::Lunch => "lunch",
        Occasion::Dinner => "dinner",
        Occasion::Snack => "snack",
        Occasion::PackedCold | Occasion::PackedHot => "packed meal",
    }
}

/// An allergen as it is said: `tree nuts`.
pub(crate) fn allergen_word(allergen: Allergen) -> String {
    allergen.word().replace('-', " ")
}

/// Whose guidance it is.
pub(crate) fn profile(profile: Profile) -> &'static str {
    match profile {
        Profile::UsHome => "United States, home",
        Profile::UsFoodService => "United States, food service",
        Profile::Uk => "United Kingdom",
        Profile::Canada => "Canada",
        Profile::Australia => "Australia",
        Profile::Eu => "European Union",
    }
}

/// `a`, `a and b`, `a, b and c`.
pub(crate) fn listed<T: AsRef<str>>(words: &[T]) -> String {
    match words {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [most @ .., last] => {
            let most: Vec<&str> = most.iter().map(AsRef::as_ref).collect();
            format!("{} and {}", most.join(", "), last.as_ref())
        }
    }
}

/// With a capital first letter.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// `1 plate`, `3 plates`.
pub(crate) fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count}\u{a0}{}", if count == 1 { one } else { many })
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;

    #[test]
    fn days_and_weeks_are_said_in_short() {
        assert_eq!(day(date(2026, 11, 29)), "Sun\u{a0}29\u{a0}Nov");
        assert_eq!(
            week(date(2026, 11, 30)),
            "2026-W49, Mon\u{a0}30\u{a0}Nov to Sun\u{a0}6\u{a0}Dec"
        );
    }

    #[test]
    fn lists_end_in_and() {
        assert_eq!(listed::<&str>(&[]), "");
        assert_eq!(listed(&["Ana"]), "Ana");
        assert_eq!(listed(&["Ana", "Ben", "Cleo"]), "Ana, Ben and Cleo");
    }

    #[test]
    fn names_start_with_a_capital() {
        assert_eq!(capital("chickpeas, dry"), "Chickpeas, dry");
        assert_eq!(capital(""), "");
    }
}
