//! Heat in a kitchen: ice for a pot, the load of a fridge, water on a hob, and where water boils.

use larderwright_quantity::{Mass, Rounding, Seconds, Temperature};
use larderwright_safety::cooling::kinetics::{SEA_LEVEL_PA, boils_at, equal_hold, faster_milli, pressure_at};
use larderwright_safety::cooling::{FRIDGE_SPARE_W, Warm, fridge_works, ice_needed};

use crate::{c, near};

fn load(grams: i64, joules: i64, from: i64, to: i64) -> Warm {
    Warm {
        mass: Mass::from_g(grams),
        specific_heat_j: joules,
        from: c(from),
        to: c(to),
    }
}

/// Worked out by hand: 3 kg (3.7 kJ/(kg K)) from 60 to 10 °C take 1.57 kg of ice that melts and warms to 5 °C.
#[test]
fn a_pot_of_three_kilograms_takes_a_kilogram_and_a_half_of_ice() {
    near(
        ice_needed(load(3000, 3700, 600, 100), c(50)).g(Rounding::Nearest),
        1570,
        10,
    );
}

/// Worked out by hand: 6 kg (3.6 kJ/(kg K)) from 60 to 5 °C are 1188 kJ, 3.3 h of 100 W; from 21 °C only 346 kJ.
#[test]
fn hot_food_keeps_a_fridge_busy_for_hours() {
    let hot = load(6000, 3600, 600, 50);
    near(hot.heat_j(), 1_188_000, 1000);
    near(fridge_works(&[hot], FRIDGE_SPARE_W).secs(), 11_880, 120);
    near(load(6000, 3600, 210, 50).heat_j(), 346_000, 1000);
}

/// A quart of water (2.08 lb) from 60 to 212 °F: 317 Btu in theory; a gas burner used 992, induction 430, which is an
/// efficiency of 0.32 and 0.74.
#[test]
fn a_quart_of_water_on_the_hob() {
    let joules = load(946, 4186, 1000, 156).heat_j();
    near(joules / 1055, 317, 2);
    near(joules * 100 / (992 * 1055), 32, 1);
    near(joules * 100 / (430 * 1055), 74, 1);
}

/// High-altitude advice: 208.4 °F at 2000 ft, 202.9 at 5000, 197.4 at 8000.
#[test]
fn water_boils_cooler_in_the_mountains() {
    for (metres, tenths_f) in [(610, 2084), (1524, 2029), (2438, 1974)] {
        let boils = boils_at(pressure_at(metres)).deci_c() * 9 / 5 + 320;
        near(boils, tenths_f, 5);
    }
}

/// 15 psi in a pressure cooker: 250 °F (121.1 °C) at sea level, 118.3 °C at 5000 ft.
#[test]
fn fifteen_pounds_of_pressure() {
    const FIFTEEN_PSI: i64 = 103_421;
    near(boils_at(SEA_LEVEL_PA + FIFTEEN_PSI).deci_c(), 1211, 3);
    near(boils_at(pressure_at(1524) + FIFTEEN_PSI).deci_c(), 1183, 3);
}

/// Advisory committee on *E. coli* (read at eurohaccp.blogspot.com): 70 °C 2 min, 65 °C 14 min and 60 °C 93 min are equal;
/// z is 6.0 °C.
#[test]
fn equal_cooks_of_the_advisory_committee() {
    let reference = (Temperature::from_c(70), Seconds::from_mins(2));
    for (degrees, minutes) in [(65, 14), (60, 93)] {
        let hold = equal_hold(reference, 60, Temperature::from_c(degrees)).expect("hours at most");
        near(hold.secs(), minutes * 60, minutes * 3);
    }
}

/// Frozen spinach (Dermesonluoglu 2015, J. Food Eng. 148:13): vitamin C 132 kJ/mol, sensory 61, texture 43; green
/// vegetables 98-112 (Giannakourou and Taoukis 2003). From -18 to -12 °C, worked out by hand.
#[test]
fn a_warm_freezer_loses_quality_several_times_as_fast() {
    let faster = |energy| faster_milli(energy, (c(-180), c(-120)));
    near(faster(132_000), 4_180, 20);
    near(faster(61_000), 1_940, 20);
    near(faster(112_000), 3_370, 50);
    near(faster(43_000), 1_590, 30);
}
