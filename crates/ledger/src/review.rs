//! The look back: what a week cost, what was thrown away and why, how long it took.

use std::collections::BTreeMap;

use jiff::civil::Date;
use larderwright_model::{Account, Event, Fact, Goods, LotId, Reported, SessionId, ShopId, WasteReason};
use larderwright_quantity::{Mass, Money, Rounding, mul_div};

use crate::lot::Held;

/// What was thrown away of one thing for one reason.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waste {
    /// What.
    pub goods: Goods,
    /// Why.
    pub reason: WasteReason,
    /// How much, and its worth.
    pub held: Held,
}

/// Minutes in the kitchen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hours {
    /// Which session.
    pub session: SessionId,
    /// As planned.
    pub planned: i64,
    /// As it was; `None` when nobody said.
    pub real: Option<i64>,
}

/// The look back on a week.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Review {
    /// Monday of the week.
    pub monday: Date,
    /// Plates eaten.
    pub covers: u32,
    /// Of these, plates that nobody reported.
    pub covers_presumed: u32,
    /// What was paid at the shop: receipts where there are any, else the prices of what was bought.
    pub spent: Money,
    /// Whether every trip has a receipt or known prices; otherwise a part is an estimate.
    pub spent_known: bool,
    /// The worth of what was eaten.
    pub eaten: Held,
    /// What was thrown away, dearest first.
    pub waste: Vec<Waste>,
    /// What nobody can explain: positive when it vanished.
    pub unaccounted: Held,
    /// Given away.
    pub given: Held,
    /// Hours by session.
    pub hours: Vec<Hours>,
}

impl Review {
    /// The look back on events of one week; they have to be those that count, in the order of their clocks.
    /// `goods` says what a lot is.
    #[must_use]
    pub fn of(monday: Date, events: &[&Event], goods: &dyn Fn(&LotId) -> Option<Goods>) -> Self {
        let bill = Bill::of(events);
        let mut review = Self {
            monday,
            covers: 0,
            covers_presumed: 0,
            spent: bill.total(),
            spent_known: bill.known(),
            eaten: Held::default(),
            waste: Vec::new(),
            unaccounted: Held::default(),
            given: Held::default(),
            hours: Vec::new(),
        };
        let mut waste: BTreeMap<(Goods, WasteReason), Held> = BTreeMap::new();
        for event in events {
            review.count(event);
            for step in &event.moves {
                for (account, sign) in [(&step.from, -1), (&step.to, 1)] {
                    let slot = match account {
                        Account::Eaten => &mut review.eaten,
                        Account::Unaccounted => &mut review.unaccounted,
                        Account::Given => &mut review.given,
                        Account::Bin => {
                            let Some(goods) = goods(&step.lot) else { continue };
                            waste.entry((goods, reason(&event.fact))).or_default()
                        }
                        _ => continue,
                    };
                    slot.mass += Mass::from_mg(sign * step.mass.mg());
                    slot.worth += sign * step.worth;
                }
            }
        }
        review.waste = waste
            .into_iter()
            .map(|((goods, reason), held)| Waste { goods, reason, held })
            .collect();
        review
            .waste
            .sort_by_key(|waste| std::cmp::Reverse((waste.held.worth, waste.held.mass)));
        review
    }

    fn count(&mut self, event: &Event) {
        match &event.fact {
            Fact::Served(fact) => {
                self.covers += fact.covers;
                if fact.reported == Reported::Presumed {
                    self.covers_presumed += fact.covers;
                }
            }
            Fact::SessionEnded {
                session,
                minutes,
                minutes_planned,
            } => {
                self.hours.retain(|hours| hours.session != *session);
                self.hours.push(Hours {
                    session: session.clone(),
                    planned: *minutes_planned,
                    real: Some(*minutes),
                });
            }
            _ => {}
        }
    }

    /// What one plate cost, in the smallest unit of money; `None` when nobody ate.
    #[must_use]
    pub fn per_cover(&self) -> Option<Money> {
        let covers = i64::from(self.covers);
        (covers > 0)
            .then(|| Money::from_minor(mul_div(self.eaten.worth, 1, covers * 1000, Rounding::Nearest)))
    }

    /// Everything thrown away.
    #[must_use]
    pub fn wasted(&self) -> Held {
        self.waste.iter().fold(Held::default(), |sum, waste| Held {
            mass: sum.mass + waste.held.mass,
            worth: sum.worth + waste.held.worth,
        })
    }
}

/// Why a fact throws food away.
fn reason(fact: &Fact) -> WasteReason {
    match fact {
        Fact::Discarded { reason } => *reason,
        Fact::Returned { .. } => WasteReason::PlateScrapings,
        _ => WasteReason::Mishap,
    }
}

/// What was paid, by trip.
struct Bill {
    /// Sum of what was bought, and whether every price is known.
    bought: BTreeMap<Option<ShopId>, (i64, bool)>,
    receipts: BTreeMap<Option<ShopId>, Money>,
}

impl Bill {
    fn of(events: &[&Event]) -> Self {
        let mut bill = Self {
            bought: BTreeMap::new(),
            receipts: BTreeMap::new(),
        };
        for event in events {
            match &event.fact {
                Fact::Bought { trip, price, .. } => {
                    let slot = bill.bought.entry(trip.clone()).or_insert((0, true));
                    slot.0 += event.moves.iter().map(|step| step.worth).sum::<i64>();
                    slot.1 &= price.is_some();
                }
                Fact::Receipt { trip, total } => {
                    bill.receipts.insert(trip.clone(), *total);
                }
                _ => {}
            }
        }
        bill
    }

    fn total(&self) -> Money {
        let receipts: i64 = self.receipts.values().map(|total| total.minor()).sum();
        let others = self
            .bought
            .iter()
            .filter(|(trip, _)| !self.receipts.contains_key(trip));
        let bought: i64 = others
            .map(|(_, (worth, _))| mul_div(*worth, 1, 1000, Rounding::Nearest))
            .sum();
        Money::from_minor(receipts + bought)
    }

    fn known(&self) -> bool {
        self.bought
            .iter()
            .all(|(trip, (_, known))| *known || self.receipts.contains_key(trip))
    }
}
