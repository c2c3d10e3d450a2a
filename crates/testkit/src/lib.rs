//! What tests of several crates share: a week written by hand, the demo's snapshot, and households made up from a
//! seed. Not shipped.

pub mod random;
pub mod sample;
mod splitmix;

use jiff::civil::{Date, DateTime};
use larderwright_app::{Options, build_snapshot};
use larderwright_model::{Household, Snapshot};
use larderwright_records::household::{DEMO_HOUSEHOLD, parse_household};

pub use splitmix::SplitMix;

/// The demo household.
///
/// # Panics
/// Never, as long as its file is well formed, which a test shows.
#[must_use]
pub fn demo_household() -> Household {
    parse_household(DEMO_HOUSEHOLD).expect("the demo household's file is well formed")
}

/// The demo household's snapshot for the sample week, with work budgets for tests.
///
/// # Panics
/// Never, as long as the demo household's file is well formed, which a test shows.
#[must_use]
pub fn demo_snapshot() -> Snapshot {
    snapshot_of(demo_household())
}

/// A snapshot of any household for the sample week, with work budgets for tests.
///
/// # Panics
/// When the household names a food, component or meal that is not known.
#[must_use]
pub fn snapshot_of(household: Household) -> Snapshot {
    let options = Options {
        seed: 1,
        menu_work: 4_000,
        session_work: 80,
        ..Options::default()
    };
    build_snapshot(household, sample::MONDAY, planned_at(sample::MONDAY), options)
        .expect("households for tests name only what is known")
}

/// The Wednesday evening before a week.
fn planned_at(monday: Date) -> DateTime {
    let wednesday = monday
        .checked_sub(jiff::Span::new().days(5))
        .expect("test weeks lie inside the calendar");
    wednesday.at(20, 0, 0, 0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_demo_has_a_snapshot() {
        let snapshot = demo_snapshot();
        assert!(snapshot.household.eaters.len() >= 5);
        assert!(snapshot.now < snapshot.sessions[0].from);
        assert!(snapshot.shops.iter().all(|shop| snapshot.now < shop.at));
    }
}
