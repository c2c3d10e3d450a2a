//! What happens to lots on their shelves: opened, moved, counted, thrown away, ticked; and what touches none.

use jiff::Span;
use larderwright_model::{
    Account, Fact, FoodId, Keep, Move, Place, Reported, RuleId, SessionId, ShopId, StockState, WasteReason,
};
use larderwright_quantity::{Mass, Money};

use super::{Kitchen, Random};

pub(super) fn bought(random: &mut Random) -> Fact {
    Fact::Bought {
        trip: random.chance(60).then(|| ShopId::new("2026-11-28/1")),
        count: random.range(1, 6),
        price: random
            .chance(70)
            .then(|| Money::from_minor(random.range(49, 1_999))),
        reported: *random.pick(&[Reported::Told, Reported::Presumed]),
    }
}

impl Kitchen {
    /// One of the lots that are thought to be there.
    pub(super) fn shelf(&mut self) -> Option<usize> {
        self.shelves.retain(|shelf| shelf.mg > 0);
        let count = self.shelves.len() as u64;
        (count > 0).then(|| self.random.below(count) as usize)
    }

    /// Takes some of a lot to an account; now and then more than was there, or from the wrong place.
    pub(super) fn take(&mut self, at: usize, to: Account) -> Move {
        let percent = self.random.range(5, 100);
        let odd = self.random.chance(3);
        let wrong = self.random.chance(3);
        let more = self.random.range(1, 90_000);
        let shelf = &mut self.shelves[at];
        let held = shelf.mg.max(1);
        let mg = (held * percent / 100).max(1) + if odd { more } else { 0 };
        let worth = (shelf.worth * mg / held).min(shelf.worth);
        shelf.mg -= mg;
        shelf.worth -= worth;
        Move {
            lot: shelf.card.lot.clone(),
            from: Account::Place(if wrong { Place::Fridge } else { shelf.place }),
            to,
            mass: Mass::from_mg(mg),
            worth,
        }
    }

    pub(super) fn opens(&mut self) {
        let Some(at) = self.shelf() else { return };
        let now = self.at();
        let until = |days: i64| now.saturating_add(Span::new().days(days));
        let shelf = &mut self.shelves[at];
        shelf.card.keep = Some(Keep {
            best_by: until(2),
            use_by: until(4),
            rule: RuleId::new("made-up"),
            source: "invented".into(),
        });
        let card = shelf.card.clone();
        let lot = card.lot.clone();
        let fact = match self.random.below(4) {
            0 | 1 => Fact::Opened { lot },
            2 => Fact::Reheated { lot },
            _ => Fact::LeftOut {
                lot,
                minutes: self.random.range(1, 240),
            },
        };
        self.tell(fact, vec![card], Vec::new());
    }

    pub(super) fn moves(&mut self) {
        let Some(at) = self.shelf() else { return };
        let shelf = &mut self.shelves[at];
        let (from, to) = match shelf.place {
            Place::Freezer => (Place::Freezer, Place::Fridge),
            other => (other, Place::Freezer),
        };
        let step = Move {
            lot: shelf.card.lot.clone(),
            from: Account::Place(from),
            to: Account::Place(to),
            mass: Mass::from_mg(shelf.mg),
            worth: shelf.worth,
        };
        shelf.place = to;
        let fact = if to == Place::Fridge && self.random.chance(70) {
            Fact::Thawed
        } else {
            Fact::Moved
        };
        self.tell(fact, Vec::new(), vec![step]);
    }

    pub(super) fn counts(&mut self) {
        let mut steps = Vec::new();
        for _ in 0..self.random.range(1, 4) {
            let Some(at) = self.shelf() else { break };
            if self.random.chance(70) {
                steps.push(self.take(at, Account::Unaccounted));
            } else {
                steps.push(self.found(at));
            }
        }
        let fact = if self.random.chance(50) {
            Fact::Checked
        } else {
            Fact::Counted
        };
        self.tell(fact, Vec::new(), steps);
    }

    fn found(&mut self, at: usize) -> Move {
        let mg = self.random.range(1, 50_000);
        let shelf = &mut self.shelves[at];
        shelf.mg += mg;
        Move {
            lot: shelf.card.lot.clone(),
            from: Account::Unaccounted,
            to: Account::Place(shelf.place),
            mass: Mass::from_mg(mg),
            worth: 0,
        }
    }

    pub(super) fn throws_away(&mut self) {
        let Some(at) = self.shelf() else { return };
        let (fact, to) = if self.random.chance(75) {
            let (_, reason) = *self.random.pick(&WasteReason::WORDS);
            (Fact::Discarded { reason }, Account::Bin)
        } else {
            let to = "next door".into();
            (Fact::GivenAway { to }, Account::Given)
        };
        let step = self.take(at, to);
        self.tell(fact, Vec::new(), vec![step]);
    }

    pub(super) fn ticks(&mut self) {
        let food = FoodId::new(self.random.word(&["olive-oil", "cumin-ground", "salt"]));
        let state = match self.random.below(4) {
            0 => None,
            1 => Some(StockState::Have),
            2 => Some(StockState::Low),
            _ => Some(StockState::Amount(Mass::from_mg(self.random.range(0, 400_000)))),
        };
        self.tell(Fact::Ticked { food, state }, Vec::new(), Vec::new());
    }

    /// What is told without any mass.
    pub(super) fn notes(&mut self) {
        let fact = match self.random.below(3) {
            0 => Fact::Receipt {
                trip: Some(ShopId::new("2026-11-28/1")),
                total: Money::from_minor(self.random.range(0, 12_345)),
            },
            1 => Fact::SessionEnded {
                session: SessionId::new("2026-11-29/1"),
                minutes: self.random.range(60, 300),
                minutes_planned: 180,
            },
            _ => Fact::Closed {
                monday: self.at().date(),
            },
        };
        self.tell(fact, Vec::new(), Vec::new());
    }
}
