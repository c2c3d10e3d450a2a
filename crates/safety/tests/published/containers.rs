//! Times to 21.1 and 5 °C from 57.2 °C, hottest place, by an independent finite-volume solution of 200 cells
//! (worked out apart from this code): k 0.53, rho c 3.74e6. Hours in hundredths.

use larderwright_quantity::{Mass, Seconds, Temperature};
use larderwright_safety::cooling::{Block, COLD, Face, Layer, Phase, Pot, WARM};

use crate::{COOKED, about, c, hundredths_of_hours, mm};

fn check((tenths_mm, air): (i64, i64), [above, below]: [i64; 2], [warm, cold]: [i64; 2]) {
    let block = Block {
        material: COOKED,
        depth: larderwright_quantity::Length::from_um(tenths_mm * 100),
        sides: None,
        surfaces_deci_w: [above, below, 0],
        start: Temperature::from_f(135),
        around: c(air),
    };
    about(block.time_to(WARM), hundredths_of_hours(warm), 15);
    about(block.time_to(COLD), hundredths_of_hours(cold), 15);
}

#[test]
fn open_in_a_home_fridge_of_three_degrees() {
    check((250, 30), [100, 50], [211, 622]);
    check((510, 30), [100, 50], [472, 1370]);
    check((760, 30), [100, 50], [761, 2190]);
}

#[test]
fn lidded_in_a_home_fridge() {
    check((250, 30), [50, 40], [333, 990]);
}

#[test]
fn in_a_fridge_with_a_fan() {
    check((250, 30), [200, 150], [98, 286]);
    check((380, 30), [200, 150], [163, 467]);
    check((510, 30), [200, 150], [236, 671]);
}

#[test]
fn in_a_home_freezer() {
    check((250, -180), [100, 50], [128, 227]);
    check((380, -180), [100, 50], [206, 362]);
    check((510, -180), [100, 50], [291, 508]);
}

#[test]
fn in_a_walk_in_freezer() {
    check((510, -180), [200, 150], [149, 254]);
    check((760, -180), [200, 150], [258, 432]);
}

#[test]
fn in_a_walk_in_fridge() {
    check((510, 20), [200, 150], [229, 595]);
    check((760, 20), [200, 150], [392, 1000]);
}

/// A sealed flat bag in ice water, h 300 on both sides.
#[test]
fn in_a_flat_bag_in_ice_water() {
    check((510, 0), [3000, 3000], [73, 158]);
    check((760, 0), [3000, 3000], [155, 336]);
    check((1020, 0), [3000, 3000], [274, 592]);
}

/// A pan in ice water, h 300 below, under air of 3 °C.
#[test]
fn in_a_pan_over_ice() {
    for (tenths_mm, warm, cold) in [(250, 50, 117), (510, 161, 382), (760, 306, 736)] {
        let layer = Layer {
            material: COOKED,
            depth: larderwright_quantity::Length::from_um(tenths_mm * 100),
            start: Temperature::from_f(135),
        };
        let face = |deci_w, around| Face {
            deci_w,
            around: c(around),
        };
        let phase = Phase {
            above: face(100, 30),
            below: face(3000, 0),
            lasting: None,
        };
        about(layer.time_to(&[phase], WARM), hundredths_of_hours(warm), 20);
        about(layer.time_to(&[phase], COLD), hundredths_of_hours(cold), 20);
    }
}

/// A box of 16 by 11 cm, all faces in air of 3 °C.
#[test]
fn a_small_box_by_all_its_faces() {
    let rows = [
        (50, 50, 430, 1170),
        (50, 80, 304, 797),
        (50, 150, 201, 507),
        (50, 250, 150, 370),
        (25, 50, 257, 707),
        (25, 80, 174, 470),
        (25, 150, 105, 282),
        (25, 250, 72, 191),
    ];
    for (depth, deci_w, warm, cold) in rows {
        let block = Block {
            material: COOKED,
            depth: mm(depth),
            sides: Some((mm(160), mm(110))),
            surfaces_deci_w: [deci_w; 3],
            start: Temperature::from_f(135),
            around: c(30),
        };
        about(block.time_to(WARM), hundredths_of_hours(warm), 20);
        about(block.time_to(COLD), hundredths_of_hours(cold), 20);
    }
}

/// A stirred pot of 3 kg, 0.12 m² wetted, 3900 J/(kg K), in ice water: 6 and 16 min at U 250, 11 and 26 at 150; on a
/// counter of 22 °C never.
#[test]
fn a_stirred_pot() {
    let pot = |through_deci_w, around| Pot {
        mass: Mass::from_g(3000),
        specific_heat_j: 3900,
        area_cm2: 1200,
        through_deci_w,
        start: Temperature::from_f(135),
        around: c(around),
    };
    let minutes = Seconds::from_mins;
    about(pot(2500, 0).time_to(COLD), minutes(16), 62);
    about(pot(2500, 0).time_to(WARM), minutes(6), 90);
    about(pot(1500, 0).time_to(COLD), minutes(26), 40);
    about(pot(1500, 0).time_to(WARM), minutes(11), 60);
    assert_eq!(pot(100, 220).time_to(WARM), None);
}

/// Newton's curve that just comes to 70 °F in two hours in air of 3 °C is at 41 °F after 6.02 h; in air of 41 °F never.
#[test]
fn the_second_stage_binds_in_a_fridge_of_three_degrees() {
    // 54.2 K fall to 18.1 K in two hours: 0.5484 per hour, as 10 kg of 3600 J/(kg K) that lose 5.484 W/K.
    let pot = |around| Pot {
        mass: Mass::from_g(10_000),
        specific_heat_j: 3600,
        area_cm2: 100,
        through_deci_w: 5484,
        start: Temperature::from_f(135),
        around: c(around),
    };
    about(pot(30).time_to(WARM), Seconds::from_hours(2), 3);
    about(pot(30).time_to(COLD), hundredths_of_hours(602), 4);
    assert_eq!(pot(50).time_to(COLD), None);
}
