//! Thermal properties by Choi and Okos (1986) as ASHRAE prints them: water as published, and cooked foods with the
//! compositions of USDA SR28, worked out independently.

use larderwright_safety::cooling::Composition;

use crate::{c, near};

const WATER: Composition = Composition {
    water: 100_000,
    protein: 0,
    fat: 0,
    carbohydrate: 0,
    fibre: 0,
    ash: 0,
};

/// Water at 20 °C: 0.6037 W/(m K), 995.7 kg/m³, and between the two published constants of its specific heat.
#[test]
fn water_at_twenty_degrees() {
    let water = WATER.properties(c(200));
    near(water.conductivity_uw, 603_700, 600);
    near(water.density_g, 995_700, 1000);
    assert!((4047..=4260).contains(&water.specific_heat_j), "{water:?}");
}

/// SR28 16015: 65.74 % water, at 30 °C 0.514 W/(m K), 1110 kg/m³, 3326 J/(kg K) with the lower
/// constant of water, 1.39e-7 m²/s.
#[test]
fn black_beans_at_thirty_degrees() {
    let beans = Composition {
        water: 65_740,
        protein: 8_860,
        fat: 540,
        carbohydrate: 15_010,
        fibre: 8_700,
        ash: 1_150,
    };
    let found = beans.properties(c(300));
    near(found.conductivity_uw, 514_000, 5_000);
    near(found.density_g, 1_110_000, 11_000);
    near(found.specific_heat_j, 3326, 66);
    near(found.solid().diffusivity_um2(), 139_000, 4_170);
}

/// White rice, long grain, cooked (SR28 20045): 0.531 W/(m K), 1121 kg/m³, 3346 J/(kg K), 1.42e-7 m²/s.
#[test]
fn white_rice_at_thirty_degrees() {
    let rice = Composition {
        water: 68_440,
        protein: 2_690,
        fat: 280,
        carbohydrate: 27_770,
        fibre: 400,
        ash: 410,
    };
    let found = rice.properties(c(300));
    near(found.conductivity_uw, 531_000, 5_000);
    near(found.density_g, 1_121_000, 11_000);
    near(found.specific_heat_j, 3346, 67);
}

/// Of cooked broccoli only the water is told: 89.25 %; 0.588 W/(m K), 3878 J/(kg K), 1.48e-7 m²/s.
#[test]
fn broccoli_by_its_water_alone() {
    let found = Composition::of_water(892).properties(c(300));
    near(found.conductivity_uw, 588_000, 9_000);
    near(found.specific_heat_j, 3878, 78);
    near(found.solid().diffusivity_um2(), 148_000, 4_440);
}
