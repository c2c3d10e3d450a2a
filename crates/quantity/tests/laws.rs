//! The laws of whole-number arithmetic in the kitchen: directions of rounding, round trips, safe sides.

use larderwright_quantity::{
    Amount, Density, Mass, Permille, Rounding, Seconds, System, Temperature, Unit, Volume, cups_text,
    kitchen_fraction, mass_text, mul_div, parse_amount, parse_amount_for, spoon_text, volume_text,
};
use proptest::prelude::*;

/// A tonne either way: far more than a kitchen holds.
const TONNE_MG: i64 = 1_000_000_000;

fn exact_is_between(value: i64, num: i64, den: i64, low: i64, high: i64) -> bool {
    let product = i128::from(value) * i128::from(num);
    let den = i128::from(den);
    i128::from(low) * den <= product && product <= i128::from(high) * den
}

fn grown(amount: Amount) -> i64 {
    match amount {
        Amount::Mass(mass) => mass.mg(),
        Amount::Volume(volume) => volume.ul(),
        Amount::Count(thousandths) => thousandths,
    }
}

proptest! {
    #[test]
    fn down_exact_up_stand_in_this_order(
        value in -TONNE_MG..TONNE_MG, num in -100_000_i64..100_000, den in 1_i64..100_000,
    ) {
        let down = mul_div(value, num, den, Rounding::Down);
        let up = mul_div(value, num, den, Rounding::Up);
        prop_assert!(exact_is_between(value, num, den, down, up));
        prop_assert!((0..=1).contains(&(up - down)));
    }

    #[test]
    fn nearest_is_within_a_half_and_mirrors_its_negative(
        value in -TONNE_MG..TONNE_MG, num in 0_i64..100_000, den in 1_i64..100_000,
    ) {
        let nearest = mul_div(value, num, den, Rounding::Nearest);
        let off = i128::from(value) * i128::from(num) - i128::from(nearest) * i128::from(den);
        prop_assert!(off.abs() * 2 <= i128::from(den));
        prop_assert_eq!(mul_div(-value, num, den, Rounding::Nearest), -nearest);
    }

    #[test]
    fn halves_go_away_from_zero(odd in 0_i64..1_000_000) {
        let halves = 2 * odd + 1;
        prop_assert_eq!(mul_div(halves, 1, 2, Rounding::Nearest), odd + 1);
        prop_assert_eq!(mul_div(-halves, 1, 2, Rounding::Nearest), -odd - 1);
    }

    #[test]
    fn round_to_stays_on_the_named_side(mg in -TONNE_MG..TONNE_MG, step in 1_i64..1_000_000) {
        let (mass, step) = (Mass::from_mg(mg), Mass::from_mg(step));
        let down = mass.round_to(step, Rounding::Down);
        let up = mass.round_to(step, Rounding::Up);
        prop_assert!(down <= mass && mass <= up);
        prop_assert!(mass - down < step && up - mass < step);
        for rounded in [down, up, mass.round_to(step, Rounding::Nearest)] {
            prop_assert_eq!(rounded.mg() % step.mg(), 0);
            prop_assert!(rounded == down || rounded == up);
        }
    }

    #[test]
    fn so_many_packs_cover_it_and_one_fewer_does_not(mg in 1..TONNE_MG, pack in 1_i64..10_000_000) {
        let (mass, pack) = (Mass::from_mg(mg), Mass::from_mg(pack));
        let packs = mass.div_ceil_by(pack);
        prop_assert!(pack.times(packs) >= mass);
        prop_assert!(pack.times(packs - 1) < mass);
    }

    #[test]
    fn bought_for_an_edible_part_is_enough(mg in 0..TONNE_MG, permille in 1_i64..=3000) {
        let (edible, yields) = (Mass::from_mg(mg), Permille::from_permille(permille));
        let bought = yields.undo(edible, Rounding::Up);
        prop_assert!(yields.of(bought, Rounding::Down) >= edible);
        let one_less = bought - Mass::from_mg(1);
        prop_assert!(bought == Mass::ZERO || yields.of(one_less, Rounding::Down) < edible);
    }

    #[test]
    fn counted_on_from_a_purchase_is_never_more_than_there_is(mg in 0..TONNE_MG, permille in 1_i64..=3000) {
        let (bought, yields) = (Mass::from_mg(mg), Permille::from_permille(permille));
        let edible = yields.of(bought, Rounding::Down);
        prop_assert!(yields.undo(edible, Rounding::Down) <= bought);
    }

    #[test]
    fn fahrenheit_comes_back_unharmed(fahrenheit in -100_i64..1000) {
        prop_assert_eq!(Temperature::from_f(fahrenheit).f(Rounding::Nearest), fahrenheit);
    }

    #[test]
    fn fahrenheit_is_a_tenth_of_a_celsius_degree_off_at_most(fahrenheit in -100_i64..1000) {
        let ninths = (fahrenheit - 32) * 50;
        let off = ninths - Temperature::from_f(fahrenheit).deci_c() * 9;
        prop_assert!(off.abs() * 2 <= 9);
    }

    #[test]
    fn a_volume_weighed_and_measured_again_is_the_same(ul in 0..TONNE_MG, density in 1000_i64..2000) {
        let (volume, density) = (Volume::from_ul(ul), Density::from_g_per_l(density));
        let back = density.volume_of(density.mass_of(volume, Rounding::Nearest), Rounding::Nearest);
        prop_assert_eq!(back, volume);
    }

    #[test]
    fn hotter_is_never_a_lower_gas_mark(deci_c in 900_i64..2600, more in 0_i64..300) {
        let (cooler, hotter) = (Temperature::from_deci_c(deci_c), Temperature::from_deci_c(deci_c + more));
        if let (Some(low), Some(high)) = (cooler.gas_mark(), hotter.gas_mark()) {
            prop_assert!(low <= high);
        }
    }

    #[test]
    fn a_kitchen_fraction_is_an_eighth_off_at_most(num in -100_000_i64..100_000, den in 1_i64..1000) {
        let shown = kitchen_fraction(num, den);
        let (part, of) = shown.part();
        // The widest gap, from ¾ to 1, is a quarter, so half of it is the most.
        let off = (shown.whole() * of + part) * den - num * of;
        prop_assert!(off.abs() * 8 <= den * of);
    }

    #[test]
    fn a_kitchen_fraction_is_read_back_as_itself(num in 0_i64..100_000, den in 1_i64..1000) {
        let shown = kitchen_fraction(num, den);
        let (part, of) = shown.part();
        let thousandths = mul_div(shown.whole() * of + part, 1000, of, Rounding::Nearest);
        prop_assert_eq!(parse_amount(&shown.to_string()), Ok(Amount::Count(thousandths)));
    }

    #[test]
    fn a_mass_is_read_back_within_its_display_step(mg in 0_i64..100_000_000) {
        let mass = Mass::from_mg(mg);
        let metric = parse_amount(&mass_text(mass, System::Metric)).expect("a mass is read back");
        let step = match mg {
            0..9_750 => 500,
            9_750..97_500 => 1000,
            97_500..995_000 => 5000,
            _ => 10_000,
        };
        prop_assert!((grown(metric) - mg).abs() * 2 <= step);
        let us = parse_amount(&mass_text(mass, System::UsCustomary)).expect("a mass is read back");
        // A whole ounce is the coarsest step; a pound and an ounce are rounded once each on reading.
        prop_assert!((grown(us) - mg).abs() * 2 <= 28_350 + 4);
    }

    #[test]
    fn a_volume_is_read_back_within_its_display_step(ul in 0_i64..100_000_000) {
        let volume = Volume::from_ul(ul);
        let metric = parse_amount(&volume_text(volume, System::Metric)).expect("a volume is read back");
        let step = match ul {
            0..100_000 => 1000,
            100_000..995_000 => 5000,
            _ => 100_000,
        };
        prop_assert!((grown(metric) - ul).abs() * 2 <= step);
        let us = parse_amount(&volume_text(volume, System::UsCustomary)).expect("a volume is read back");
        let step = if ul < 946_000 { 29_574 } else { 94_636 };
        prop_assert!((grown(us) - ul).abs() * 2 <= step + 4);
    }

    #[test]
    fn spoons_are_read_back_nearly_the_same(ul in 400_i64..100_000) {
        for system in [System::Metric, System::UsCustomary] {
            let text = spoon_text(Volume::from_ul(ul), system);
            let back = grown(parse_amount_for(&text, system).expect("spoons are read back"));
            let (teaspoon, tablespoon) = (5_000, 15_000);
            // Half of an eighth or a quarter teaspoon, or half of a quarter tablespoon.
            let most = match ul {
                0..900 => teaspoon / 16,
                900..14_000 => teaspoon / 8,
                _ => tablespoon / 8,
            };
            prop_assert!((back - ul).abs() <= most + 2, "{} for {}", text, ul);
        }
    }

    #[test]
    fn cups_are_read_back_within_an_eighth(ul in 60_000_i64..5_000_000) {
        let text = cups_text(Volume::from_ul(ul));
        let back = grown(parse_amount(&text).expect("cups are read back"));
        prop_assert!((back - ul).abs() <= 236_589 / 8 + 2, "{} for {}", text, ul);
    }

    #[test]
    fn a_unit_is_scaled_without_drift(units in 1_i64..10_000, den in 1_i64..100) {
        for unit in Unit::ALL {
            let (whole, part) = (unit.to_volume(units, 1), unit.to_volume(units, den));
            if let (Some(whole), Some(part)) = (whole, part) {
                prop_assert!((part.times(den) - whole).abs() <= Volume::from_ul(den / 2 + 1), "{:?}", unit);
            }
        }
    }

    #[test]
    fn any_text_is_answered_without_a_panic(text in "[0-9 ./,½⅓\u{a0}⁄a-z-]{0,24}") {
        if let Err(error) = parse_amount(&text) {
            prop_assert!(error.help().ends_with('.'));
            prop_assert!(!error.to_string().ends_with('.'));
        }
    }

    #[test]
    fn minutes_are_whole_hours_and_rest(secs in -1_000_000_i64..1_000_000) {
        let duration = Seconds::from_secs(secs);
        let (down, up) = (duration.mins(Rounding::Down), duration.mins(Rounding::Up));
        prop_assert!(Seconds::from_mins(down) <= duration && duration <= Seconds::from_mins(up));
    }

    #[test]
    fn a_sum_is_the_same_in_any_order(mut parts in prop::collection::vec(-TONNE_MG..TONNE_MG, 0..20)) {
        let forwards: Mass = parts.iter().copied().map(Mass::from_mg).sum();
        parts.sort_unstable();
        let sorted: Mass = parts.iter().copied().map(Mass::from_mg).sum();
        prop_assert_eq!(forwards, sorted);
    }
}
