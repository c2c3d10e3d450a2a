//! USDA ARS, pmp.errc.ars.usda.gov ModelID 2021166: *Bacillus cereus* in cooked rice while it cools, h0 4.1, from 2.00, at
//! most 8.03 log10; twelve hours of temperatures and counts. The rate of the model here is a fit of ours to the
//! page's column of rates; the column of counts is what is compared.

use larderwright_quantity::{Seconds, Temperature};
use larderwright_safety::cooling::growth::CEREUS_RICE;

use crate::near;

/// Hundredths of a degree and of a log10, hour by hour.
const PUBLISHED: [(i64, i64); 13] = [
    (5459, 200),
    (4599, 200),
    (3894, 206),
    (3292, 233),
    (2786, 281),
    (2343, 322),
    (1989, 349),
    (1671, 365),
    (1414, 373),
    (1194, 377),
    (1013, 378),
    (848, 378),
    (721, 378),
];

fn counts() -> Vec<i64> {
    let profile: Vec<(Seconds, Temperature)> = PUBLISHED
        .iter()
        .zip(0..)
        .map(|((centi, _), hour)| {
            (
                Seconds::from_hours(hour),
                Temperature::from_deci_c((centi + 5) / 10),
            )
        })
        .collect();
    CEREUS_RICE.grow(2000, &profile)
}

#[test]
fn every_hour_is_within_a_tenth_of_the_page() {
    for (count, (_, published)) in counts().into_iter().zip(PUBLISHED) {
        near(count, published * 10, 100);
    }
}

#[test]
fn twelve_hours_end_at_three_point_seven_eight() {
    let last = counts().last().copied().expect("thirteen rows");
    near(last, 3780, 100);
}

/// The page's rates in log10 per hour: 0.93 at 38.94, 0.56 at 27.86, 0.11 at 16.71 °C.
#[test]
fn rates_are_those_of_the_page() {
    for (deci, centi_log) in [(389, 93), (279, 56), (167, 11)] {
        let natural = CEREUS_RICE.rate_micro(Temperature::from_deci_c(deci));
        // A log10 is 2.302585 natural units.
        near(natural * 1000 / 2_302_585, centi_log * 10, 12);
    }
}
