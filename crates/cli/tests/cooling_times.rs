//! How long cooling physics takes. Ignored among the other tests, because a busy machine makes any time long:
//! `cargo xtask bench cooling` runs it.

use std::hint::black_box;

use larderwright_quantity::{Length, Temperature};
use larderwright_safety::cooling::{COLD, Composition, Container, Cooling, Place, WARM};

/// Two hundred different containers: five sorts in six places at depths from 1 to 8 cm, wide layers and boxes.
fn containers() -> Vec<Cooling> {
    let air = |place| match place {
        Place::Counter => 20,
        Place::Fridge | Place::FanFridge | Place::IceBath => 3,
        Place::Freezer | Place::FanFreezer => -18,
    };
    let each = (0..200).map(|n: usize| {
        let (container, place) = (Container::ALL[n % 5], Place::ALL[n % 6]);
        let step = i64::try_from(n / 30).unwrap_or(0);
        Cooling {
            properties: Composition::of_water(600 + 50 * step).properties(Temperature::from_c(30)),
            depth: Length::from_mm(10 + 10 * step),
            sides: n
                .is_multiple_of(2)
                .then_some((Length::from_mm(200), Length::from_mm(140))),
            container,
            place,
            air: Temperature::from_c(air(place)),
            start: Temperature::from_f(135),
        }
    });
    each.collect()
}

#[test]
#[ignore = "a busy machine makes any time long"]
fn two_hundred_containers_take_less_than_fifty_milliseconds() {
    let containers = containers();
    let evaluate = || {
        for cooling in &containers {
            black_box(black_box(cooling).times_to(WARM));
            black_box(black_box(cooling).times_to(COLD));
        }
    };
    evaluate();
    let mut taken: Vec<u128> = (0..11).map(|_| microseconds(evaluate)).collect();
    taken.sort_unstable();
    println!(
        "containers {}, each to 21.1 and 5 °C by the quick, the likely and the slow coefficient",
        containers.len()
    );
    println!("median     {} µs, slowest of eleven {} µs", taken[5], taken[10]);
    assert!(taken[5] < 50_000, "{} µs", taken[5]);
}

#[expect(
    clippy::disallowed_methods,
    reason = "a timing test reads the clock and stores nothing"
)]
fn microseconds(work: impl Fn()) -> u128 {
    let start = std::time::Instant::now();
    work();
    start.elapsed().as_micros()
}
