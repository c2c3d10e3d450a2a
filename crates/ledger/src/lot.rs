//! A lot's state: the fold of every event that touches it. Sums only, so that the order of arrival does not matter.

use std::collections::BTreeMap;

use jiff::civil::DateTime;
use larderwright_model::{Account, Event, Fact, LotCard, LotId, Place};
use larderwright_quantity::{Mass, Rounding, mul_div};

/// A mass with its worth in thousandths of the smallest unit of money.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Held {
    /// How much.
    pub mass: Mass,
    /// What it is worth.
    pub worth: i64,
}

impl Held {
    /// The worth of a part, in proportion; all of it for all of the mass or more.
    #[must_use]
    pub fn worth_of(self, part: Mass) -> i64 {
        if part >= self.mass {
            self.worth
        } else {
            mul_div(self.worth, part.mg(), self.mass.mg().max(1), Rounding::Nearest)
        }
    }
}

/// What is known of a lot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LotState {
    /// Which lot.
    pub lot: LotId,
    /// Its label as last written; `None` while the event that made it has not arrived.
    pub card: Option<LotCard>,
    /// What is in the house, by place; only what is more than nothing.
    pub held: BTreeMap<Place, Held>,
    /// What went to or came from every other account: positive where more came to the account than left it.
    pub outside: BTreeMap<Account, Held>,
    /// What was taken beyond what was there: it was there all the same, nobody knows from where.
    pub overdrawn: Mass,
    /// What was found in one place though it was last put in another.
    pub strayed: Mass,
    /// Everything that ever came into the house as this lot.
    pub packed: Mass,
    /// When it was first opened.
    pub opened: Option<DateTime>,
    /// When it was taken out of the freezer.
    pub thawed: Option<DateTime>,
    /// How often it was warmed.
    pub reheats: u32,
    /// Minutes out of the cold.
    pub out_minutes: i64,
    /// How many events touch it.
    pub events: u32,
}

impl LotState {
    /// What is in the house.
    #[must_use]
    pub fn mass(&self) -> Mass {
        self.held.values().map(|held| held.mass).sum()
    }

    /// The worth of what is in the house.
    #[must_use]
    pub fn worth(&self) -> i64 {
        self.held.values().map(|held| held.worth).sum()
    }

    /// Whether anything of it is left.
    #[must_use]
    pub fn is_open(&self) -> bool {
        !self.held.is_empty()
    }

    /// Where most of it is.
    #[must_use]
    pub fn place(&self) -> Option<Place> {
        self.held
            .iter()
            .max_by_key(|(_, held)| held.mass)
            .map(|(place, _)| *place)
    }

    /// The last moment to eat it, as the label says.
    #[must_use]
    pub fn use_by(&self) -> Option<DateTime> {
        self.card.as_ref().and_then(LotCard::use_by)
    }
}

/// Folds the events that touch a lot; they have to be those that count, in the order of their clocks.
#[must_use]
pub fn lot_state<'a>(lot: &LotId, events: impl IntoIterator<Item = &'a Event>) -> LotState {
    let mut fold = Fold::new(lot);
    for event in events {
        fold.add(event);
    }
    fold.end()
}

struct Fold {
    state: LotState,
    places: BTreeMap<Place, (i64, i64)>,
}

impl Fold {
    fn new(lot: &LotId) -> Self {
        let state = LotState {
            lot: lot.clone(),
            card: None,
            held: BTreeMap::new(),
            outside: BTreeMap::new(),
            overdrawn: Mass::ZERO,
            strayed: Mass::ZERO,
            packed: Mass::ZERO,
            opened: None,
            thawed: None,
            reheats: 0,
            out_minutes: 0,
            events: 0,
        };
        Self {
            state,
            places: BTreeMap::new(),
        }
    }

    fn add(&mut self, event: &Event) {
        let state = &mut self.state;
        let mut touched = false;
        if let Some(card) = event.cards.iter().rfind(|card| card.lot == state.lot) {
            state.card = Some(card.clone());
            touched = true;
        }
        for step in event.moves.iter().filter(|step| step.lot == state.lot) {
            touched = true;
            let (mass, worth) = (step.mass.mg(), step.worth);
            if matches!(step.to, Account::Place(_)) && !matches!(step.from, Account::Place(_)) {
                state.packed += step.mass;
            }
            for (account, sign) in [(&step.from, -1), (&step.to, 1)] {
                if let Account::Place(place) = account {
                    let slot = self.places.entry(*place).or_default();
                    slot.0 += sign * mass;
                    slot.1 += sign * worth;
                } else {
                    let slot = state.outside.entry(account.clone()).or_default();
                    slot.mass += Mass::from_mg(sign * mass);
                    slot.worth += sign * worth;
                }
            }
        }
        let told = match &event.fact {
            Fact::Opened { lot } | Fact::Reheated { lot } | Fact::LeftOut { lot, .. } => *lot == state.lot,
            fact => touched && *fact == Fact::Thawed,
        };
        if told {
            self.remember(event);
        }
        if touched || told {
            self.state.events += 1;
        }
    }

    fn remember(&mut self, event: &Event) {
        let state = &mut self.state;
        let at = event.moment.at;
        match &event.fact {
            Fact::Opened { .. } => state.opened = Some(state.opened.map_or(at, |known| known.min(at))),
            Fact::Thawed => state.thawed = Some(state.thawed.map_or(at, |known| known.max(at))),
            Fact::Reheated { .. } => state.reheats += 1,
            Fact::LeftOut { minutes, .. } => state.out_minutes += minutes,
            _ => {}
        }
    }

    /// A place cannot hold less than nothing: what was taken too much came from another place of the same lot, and
    /// failing that from nobody knows where.
    fn end(mut self) -> LotState {
        let mut missing = 0;
        for slot in self.places.values_mut().filter(|slot| slot.0 < 0) {
            missing -= slot.0;
            *slot = (0, 0);
        }
        for slot in self.places.values_mut().filter(|slot| slot.0 > 0) {
            let found = missing.min(slot.0);
            let held = Held {
                mass: Mass::from_mg(slot.0),
                worth: slot.1,
            };
            slot.1 -= held.worth_of(Mass::from_mg(found));
            slot.0 -= found;
            missing -= found;
            self.state.strayed += Mass::from_mg(found);
        }
        self.state.overdrawn = Mass::from_mg(missing);
        let held = self.places.into_iter().filter(|(_, slot)| slot.0 > 0);
        self.state.held = held
            .map(|(place, (mass, worth))| {
                let mass = Mass::from_mg(mass);
                (
                    place,
                    Held {
                        mass,
                        worth: worth.max(0),
                    },
                )
            })
            .collect();
        self.state.outside.retain(|_, held| *held != Held::default());
        self.state
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample::{card, event, moved};

    const FRIDGE: Account = Account::Place(Place::Fridge);
    const FREEZER: Account = Account::Place(Place::Freezer);

    fn check(moves: &[(Account, Account, i64)]) -> LotState {
        let lot = LotId::new("chickpeas@a/1");
        let mut events = vec![Event {
            cards: vec![card("chickpeas@a/1")],
            ..event("0", 0, None)
        }];
        for (at, (from, to, grams)) in (1i64..).zip(moves) {
            let step = moved("chickpeas@a/1", from.clone(), to.clone(), *grams);
            events.push(Event {
                moves: vec![step],
                ..event(&at.to_string(), at, None)
            });
        }
        lot_state(&lot, &events)
    }

    #[test]
    fn what_is_eaten_is_no_longer_there() {
        let state = check(&[(Account::Shop, FRIDGE, 500), (FRIDGE, Account::Eaten, 200)]);
        assert_eq!(state.mass(), Mass::from_g(300));
        assert_eq!(state.packed, Mass::from_g(500));
        assert_eq!(state.outside[&Account::Eaten].mass, Mass::from_g(200));
        assert_eq!(state.overdrawn, Mass::ZERO);
    }

    #[test]
    fn more_eaten_than_was_there_came_from_nobody_knows_where() {
        let state = check(&[(Account::Shop, FRIDGE, 500), (FRIDGE, Account::Eaten, 700)]);
        assert!(!state.is_open());
        assert_eq!(state.overdrawn, Mass::from_g(200));
    }

    #[test]
    fn a_lot_eaten_from_the_fridge_though_it_was_frozen_was_thawed_unnoticed() {
        let state = check(&[(Account::Shop, FREEZER, 500), (FRIDGE, Account::Eaten, 200)]);
        assert_eq!(state.mass(), Mass::from_g(300));
        assert_eq!((state.strayed, state.overdrawn), (Mass::from_g(200), Mass::ZERO));
    }

    #[test]
    fn every_milligram_is_somewhere() {
        let state = check(&[
            (Account::Shop, FRIDGE, 500),
            (FRIDGE, FREEZER, 300),
            (FRIDGE, Account::Bin, 50),
            (FREEZER, Account::Given, 100),
        ]);
        let outside: i64 = state.outside.values().map(|held| held.mass.mg()).sum();
        assert_eq!(state.mass().mg() + outside, 0);
    }

    #[test]
    fn worth_goes_along_in_proportion() {
        let held = Held {
            mass: Mass::from_g(3),
            worth: 100,
        };
        assert_eq!(held.worth_of(Mass::from_g(1)), 33);
        assert_eq!(held.worth_of(Mass::from_g(3)), 100);
    }
}
