//! Households made up from a seed: one to six eaters, diets, allergies, kitchens, sessions, profiles. They are well
//! formed, and may still wish for what cannot be: a planner has to say so.

mod kitchen;
mod people;
mod week;

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{
    FoodId, Household, Priority, Profile, Region, Snapshot, StandingItem, StockItem, StockState, Wishes,
};
use larderwright_quantity::{Currency, Mass, System};

use crate::splitmix::SplitMix;

/// A household for a seed; the same one for the same seed.
#[must_use]
pub fn household(seed: u64) -> Household {
    let mut random = SplitMix::new(seed);
    let random = &mut random;
    let region = random.pick(&[Region::Us, Region::Uk, Region::Eu]);
    let eaters = people::eaters(random);
    let cooks = people::cooks(random);
    let sittings = week::sittings(random, &eaters);
    let sessions = week::sessions(random, &cooks);
    Household {
        name: format!("Made-up household {seed}"),
        region,
        profile: random.pick(&Profile::ALL),
        system: if region == Region::Us {
            System::UsCustomary
        } else {
            System::Metric
        },
        currency: currency(region),
        zone: zone(region).into(),
        altitude_m: random.pick(&[0, 200, 1600]),
        kitchen: kitchen::kitchen(random),
        shops: week::shops(random, &sessions),
        foods: Vec::new(),
        stock: stock(random),
        pars: Vec::new(),
        standing: standing(random),
        prices: Vec::new(),
        wishes: wishes(random),
        eaters,
        cooks,
        sittings,
        sessions,
    }
}

/// The snapshot of such a household for the sample week.
#[must_use]
pub fn snapshot(seed: u64) -> Snapshot {
    Snapshot {
        seed,
        ..crate::snapshot_of(household(seed))
    }
}

fn currency(region: Region) -> Currency {
    let code = match region {
        Region::Us => "USD",
        Region::Uk => "GBP",
        Region::Eu => "EUR",
    };
    Currency::parse(code).expect("usual currency codes are well formed")
}

fn zone(region: Region) -> &'static str {
    match region {
        Region::Us => "America/Chicago",
        Region::Uk => "Europe/London",
        Region::Eu => "Europe/Vienna",
    }
}

fn stock(random: &mut SplitMix) -> Vec<StockItem> {
    let mut stock = Vec::new();
    for food in [
        "salt",
        "olive-oil",
        "rice-brown-long-dry",
        "chickpea-dry",
        "cumin-ground",
        "tahini",
    ] {
        if random.chance(50) {
            let state = match random.range(1, 3) {
                1 => StockState::Have,
                2 => StockState::Low,
                _ => StockState::Amount(Mass::from_g(random.range(1, 100) * 5)),
            };
            stock.push(StockItem {
                food: FoodId::new(food),
                state,
            });
        }
    }
    stock
}

fn standing(random: &mut SplitMix) -> Vec<StandingItem> {
    let mut standing = Vec::new();
    for (food, grams) in [("milk-whole", 1030), ("banana", 600)] {
        if random.chance(40) {
            standing.push(StandingItem {
                food: FoodId::new(food),
                mass: Mass::from_g(grams),
            });
        }
    }
    standing
}

fn wishes(random: &mut SplitMix) -> Wishes {
    let ranked = [
        vec![],
        vec![Priority::Cheaper],
        vec![Priority::Quicker, Priority::LessWaste],
        vec![Priority::LessWaste, Priority::Cheaper, Priority::Quicker],
    ];
    let at = usize::try_from(random.range(0, 3)).expect("a place in a list is not negative");
    Wishes {
        fixed: BTreeMap::new(),
        off_meals: BTreeSet::new(),
        off_components: BTreeSet::new(),
        components_max: usize::try_from(random.range(3, 9)).expect("a small count"),
        priorities: ranked[at].clone(),
        budget: None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_seed_makes_the_same_household() {
        assert_eq!(household(42), household(42));
        assert_ne!(household(42), household(43));
    }

    #[test]
    fn made_up_households_name_only_what_is_known() {
        for seed in 0..40 {
            let snapshot = snapshot(seed);
            assert!((1..=6).contains(&snapshot.household.eaters.len()));
            assert!(
                !snapshot.sittings.is_empty() && !snapshot.sessions.is_empty() && !snapshot.shops.is_empty()
            );
        }
    }

    #[test]
    fn somebody_shops_before_the_first_session() {
        for seed in 0..40 {
            let snapshot = snapshot(seed);
            assert!(snapshot.shops[0].at <= snapshot.sessions[0].from, "seed {seed}");
        }
    }

    #[test]
    fn every_profile_and_an_allergy_come_up() {
        let households: Vec<Household> = (0..60).map(household).collect();
        let profiles: BTreeSet<Profile> = households.iter().map(|household| household.profile).collect();
        assert_eq!(profiles.len(), Profile::ALL.len());
        assert!(
            households
                .iter()
                .flat_map(|household| &household.eaters)
                .any(|eater| !eater.allergies.is_empty())
        );
    }
}
