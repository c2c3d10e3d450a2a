//! *Clostridium perfringens* (one-step dynamic analysis, Food Control, abstract) and *Listeria* (FDA/FSIS/CDC risk
//! assessment 2003, appendix 8 table 1).

use larderwright_quantity::{Seconds, Temperature};
use larderwright_safety::cooling::growth::{PERFRINGENS_CHICKEN, listeria_at_5_micro, relative_milli};

use crate::{c, near};

/// Cardinal temperatures 8.8, 46.4 and 51.5 °C, best rate 6.06 per hour; at 30 °C 2.43, at 15 and 40 °C 0.215 and 4.92,
/// worked out by hand.
#[test]
fn rates_of_perfringens_at_its_cardinal_temperatures() {
    let rate = |deci| PERFRINGENS_CHICKEN.rate_micro(c(deci));
    assert_eq!(rate(88), 0);
    assert_eq!(rate(515), 0);
    near(rate(464), 6_060_000, 1000);
    near(rate(300), 2_430_000, 20_000);
    near(rate(150), 215_000, 3_000);
    near(rate(400), 4_920_000, 30_000);
}

/// Without lag, straight lines: the slowest curve the Food Code allows (57 to 21 °C in 2 h, to 5 °C in 4 more) lets it grow
/// by 3.0 log10, half an hour and an hour by 0.76, four hours to 21 °C by 5.9.
#[test]
fn no_lag_bounds_of_three_curves() {
    let free = |profile: &[(i64, i64)]| {
        let points: Vec<(Seconds, Temperature)> = profile
            .iter()
            .map(|(minutes, deci)| (Seconds::from_mins(*minutes), c(*deci)))
            .collect();
        let microbe = larderwright_safety::cooling::growth::Microbe {
            most_milli: 100_000,
            ..PERFRINGENS_CHICKEN
        };
        microbe.grow(0, &points).last().copied().expect("points")
    };
    near(free(&[(0, 572), (120, 211), (360, 50)]), 3000, 150);
    near(free(&[(0, 572), (30, 211), (90, 50)]), 760, 40);
    near(free(&[(0, 572), (240, 211), (480, 50)]), 5900, 300);
}

/// The quick curve has a quarter of the chance of the slowest one allowed: 0.76 of 3.0 log10.
#[test]
fn a_quick_curve_leaves_a_quarter_of_the_chance() {
    let points = |rows: [(i64, i64); 3]| rows.map(|(minutes, deci)| (Seconds::from_mins(minutes), c(deci)));
    let quick = points([(0, 572), (30, 211), (90, 50)]);
    let slowest = points([(0, 572), (120, 211), (360, 50)]);
    near(
        relative_milli(&PERFRINGENS_CHICKEN, &quick, &slowest).expect("it grows"),
        253,
        15,
    );
}

/// Growth in log10, days, °C, and the growth at 5 °C that the table gives for it.
#[test]
fn listeria_brought_to_five_degrees() {
    let rows = [
        (2100, 28, 4, 107),
        (5400, 21, 8, 116),
        (2000, 21, 4, 136),
        (4600, 14, 8, 149),
        (4000, 7, 10, 175),
        (500, 20, 4, 35),
        (3000, 14, 8, 97),
    ];
    for (milli, days, degrees, published) in rows {
        let found = listeria_at_5_micro(milli, days, Temperature::from_c(degrees));
        near(found, published * 1000, 1000);
    }
}
