//! What a week asks for, in terms that a cook can weigh: money, minutes at the sittings and in the sessions, what is left
//! over and spoils, sameness.

use larderwright_quantity::{Rounding, mul_div};

use super::cost::{self, FINE, Part};
use super::problem::{Problem, Thing};
use super::search::State;
use super::serving::{self, Source};
use super::variety::variety;

/// What a week asks for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Account {
    /// Everything together, in points: about a minute of the cook or ten cents each.
    pub points: i64,
    /// Whole packs bought, in hundredths of the currency.
    pub money: i64,
    /// Seconds of putting plates together and of opening, washing and cutting at the sittings.
    pub table_seconds: i64,
    /// Seconds of hands in the sessions.
    pub session_seconds: i64,
    /// What is left of packs and batches that do not keep, in hundredths of the currency.
    pub waste: i64,
    /// Points for what comes again: meals, parts of the world, items that tire.
    pub sameness: i64,
    /// Components cooked, over all sessions.
    pub batches: i64,
}

impl Account {
    /// How much more another week asks for.
    #[must_use]
    pub fn to(self, other: Self) -> Self {
        Self {
            points: other.points - self.points,
            money: other.money - self.money,
            table_seconds: other.table_seconds - self.table_seconds,
            session_seconds: other.session_seconds - self.session_seconds,
            waste: other.waste - self.waste,
            sameness: other.sameness - self.sameness,
            batches: other.batches - self.batches,
        }
    }
}

/// The account of a week.
pub(super) fn account(problem: &Problem<'_>, state: &State) -> Account {
    let mut account = Account::default();
    let mut drawn: std::collections::BTreeMap<(usize, usize), i64> = std::collections::BTreeMap::new();
    for slot in &problem.slots {
        account.table_seconds += slot.candidates[state.meals[slot.index]].assemble;
    }
    serving::walk(problem, state, &mut |helping| {
        let candidate = &helping.slot.candidates[state.meals[helping.slot.index]];
        let option = &candidate.elements[helping.element].options[helping.option];
        account.sameness += helping.weariness;
        match (&option.thing, helping.source) {
            (Thing::Made(comp), Source::Session(session, _)) => {
                *drawn.entry((*comp, session)).or_default() +=
                    cost::portions(helping.slot, helping.covers, option.portion);
            }
            (Thing::Bought(_), Source::Shop) => {
                account.table_seconds += 15 * (2 + i64::from(helping.covers.count_ones()));
            }
            _ => {}
        }
    });
    account.sameness += variety(problem, state);
    let all = cost::told(problem, state, &mut |part| match part {
        Part::Batch(comp_ix, session, x) => {
            let comp = &problem.comps[comp_ix];
            account.batches += 1;
            account.session_seconds += comp.hands.ms_at(x) / 1000;
            let out = comp.way.yields.likely.of(x, Rounding::Down).mg();
            let left = out - drawn.get(&(comp_ix, session)).copied().unwrap_or(0);
            account.waste += mul_div(comp.cents_per_kg, left.max(0), 1_000_000, Rounding::Nearest);
        }
        Part::Bought(bought) => {
            let ware = &problem.basket.wares()[bought.ware];
            if let (Some((pack, count)), true) = (ware.cover(bought.mass), bought.mass > 0) {
                let (size, price) = ware.packs[pack];
                account.money += price * count;
                if !ware.lasting {
                    let left = size * count - bought.mass;
                    account.waste += mul_div(price * count, left, (size * count).max(1), Rounding::Nearest);
                }
            }
        }
    });
    account.points = all.parts() / FINE;
    account
}
