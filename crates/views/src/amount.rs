//! How much of a food, as a cook says it: counts, whole cans, spoons; else mass in scale steps.

use larderwright_model::{Department, Food};
use larderwright_quantity::{
    Mass, Rounding, System, Unit, Volume, count_text, cups_text, mass_text, mul_div, spoon_text, volume_text,
};

/// Nobody fills a cup more often than this: what is more is weighed.
const CUPS_MAX: i64 = 8;

/// The words for a mass as purchased.
pub(crate) fn purchased(food: &Food, mass: Mass, system: System) -> String {
    let unit = food.unit.as_ref().map(|unit| unit.mass);
    counted(food, unit, mass, system)
        .or_else(|| canned(food, mass))
        .unwrap_or_else(|| loose(food, mass, system))
}

/// The words for an edible mass.
pub(crate) fn edible(food: &Food, mass: Mass, system: System) -> String {
    counted(food, food.unit_edible(), mass, system).unwrap_or_else(|| loose(food, mass, system))
}

/// Nobody counts further than two dozen: beyond it the scale comes first.
const COUNT_FIRST_MAX: i64 = 24_000;

/// `4 onions (440 g)`; from four upwards whole ones only. Less than an eighth is not counted.
fn counted(food: &Food, one: Option<Mass>, mass: Mass, system: System) -> Option<String> {
    let unit = food.unit.as_ref()?;
    let one = one.filter(|one| one.is_positive())?;
    let exact = mul_div(mass.mg(), 1000, one.mg(), Rounding::Nearest);
    if exact < 125 {
        return None;
    }
    let count = if exact < 4000 {
        exact
    } else {
        mul_div(exact, 1, 1000, Rounding::Nearest) * 1000
    };
    let words = count_text(count, &unit.singular, &unit.plural);
    let weight = mass_text(mass, system);
    Some(match count {
        _ if weight.starts_with("0\u{a0}") => words,
        ..=COUNT_FIRST_MAX => format!("{words} ({weight})"),
        _ => format!("{weight} (about {words})"),
    })
}

/// `3 × 400 g can`, when it is whole cans of one size.
fn canned(food: &Food, mass: Mass) -> Option<String> {
    if food.department != Department::Cans {
        return None;
    }
    let whole = |pack: &&larderwright_model::Pack| {
        pack.size.mass.is_positive() && mass.is_positive() && mass.mg() % pack.size.mass.mg() == 0
    };
    let pack = food.packs.iter().rev().find(whole)?;
    let count = mass.mg() / pack.size.mass.mg();
    Some(format!("{count}\u{a0}× {}", pack.size.label))
}

fn loose(food: &Food, mass: Mass, system: System) -> String {
    let volume = food
        .density
        .as_ref()
        .map(|density| density.value.volume_of(mass, Rounding::Nearest));
    match volume {
        Some(volume) if food.is_tap() => volume_text(volume, system),
        Some(volume) => spooned(food, mass, volume, system)
            .or_else(|| cupped(food, mass, volume, system))
            .unwrap_or_else(|| weighed(mass, system)),
        None => weighed(mass, system),
    }
}

/// Below what a kitchen scale shows, a pinch; below a quarter of an ounce, grams for everybody.
fn weighed(mass: Mass, system: System) -> String {
    if mass < Mass::from_mg(500) {
        "a pinch".into()
    } else if mass < Mass::from_g(7) {
        mass_text(mass, System::Metric)
    } else {
        mass_text(mass, system)
    }
}

fn measured_by_volume(food: &Food) -> bool {
    matches!(
        food.department,
        Department::Spices | Department::OilsSauces | Department::Baking | Department::Dry
    )
}

/// Up to three tablespoons of what is usually spooned: `1½ tsp`, with grams from five grams up.
fn spooned(food: &Food, mass: Mass, volume: Volume, system: System) -> Option<String> {
    let table = match system {
        System::Metric => Unit::TbspMetric,
        System::UsCustomary => Unit::TbspUs,
    };
    if !measured_by_volume(food) || volume > table.to_volume(3, 1)? {
        return None;
    }
    let words = spoon_text(volume, system);
    if mass < Mass::from_g(5) || system == System::UsCustomary {
        return Some(words);
    }
    Some(format!("{words} ({})", mass_text(mass, system)))
}

/// In the United States cups follow as a second figure.
fn cupped(food: &Food, mass: Mass, volume: Volume, system: System) -> Option<String> {
    let pours = measured_by_volume(food) || food.department == Department::Dairy;
    let countable = Unit::CupUs.to_volume(1, 4)?..=Unit::CupUs.to_volume(CUPS_MAX, 1)?;
    if system == System::Metric || !pours || !countable.contains(&volume) {
        return None;
    }
    Some(format!("{} ({})", mass_text(mass, system), cups_text(volume)))
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    fn check(food: &str, mg: i64, system: System, expected: &str) {
        let snapshot = sample::snapshot();
        let food = snapshot
            .foods
            .get(&food.into())
            .expect("the sample knows the food");
        assert_eq!(
            purchased(food, Mass::from_mg(mg), system).replace('\u{a0}', " "),
            expected
        );
    }

    #[test]
    fn counted_foods_are_counts_with_grams() {
        check("carrot", 480_000, System::Metric, "6 carrots (480 g)");
        check("carrot", 40_000, System::Metric, "½ carrot (40 g)");
        check("carrot", 2_400_000, System::Metric, "2.4 kg (about 30 carrots)");
    }

    #[test]
    fn a_scrap_of_a_counted_food_is_weighed() {
        check("carrot", 5_000, System::Metric, "5 g");
    }

    #[test]
    fn cans_are_whole() {
        check("tomato-canned-chopped", 800_000, System::Metric, "2 × 400 g can");
    }

    #[test]
    fn spoons_measure_small_dry_masses() {
        check("salt", 6_000, System::Metric, "1 tsp (6 g)");
        check("salt", 3_000, System::Metric, "½ tsp");
        check("salt", 200, System::Metric, "a pinch");
    }

    #[test]
    fn cups_stand_second_and_only_in_us_units() {
        check(
            "rice-white-long-dry",
            370_000,
            System::UsCustomary,
            "13 oz (2 cups)",
        );
        check("rice-white-long-dry", 370_000, System::Metric, "370 g");
    }

    #[test]
    fn water_is_measured() {
        check("water", 1_500_000, System::Metric, "1.5 l");
    }
}
