//! First eigenvalues and amplitudes of slab, cylinder and sphere, as textbooks of heat conduction tabulate them
//! (from memory; the rows at Bi 0.2 and 0.861 were read), in ten-thousandths.

use larderwright_safety::cooling::{Shape, first_term};

use crate::near;

fn check(biot_milli: i64, shape: Shape, lambda: i64, amplitude: i64) {
    let term = first_term(shape, biot_milli * 1000);
    // To the half of the last digit printed, and one more for rounding.
    near(term.lambda_micro, lambda * 100, 150);
    near(term.amplitude_micro, amplitude * 100, 150);
}

macro_rules! rows {
    ($($name:ident: $biot:expr, [$sl:expr, $sa:expr], [$cl:expr, $ca:expr], [$bl:expr, $ba:expr];)*) => {
        $(
            #[test]
            fn $name() {
                check($biot, Shape::Slab, $sl, $sa);
                check($biot, Shape::Cylinder, $cl, $ca);
                check($biot, Shape::Sphere, $bl, $ba);
            }
        )*
    };
}

rows! {
    row_of_biot_a_tenth: 100, [3111, 10161], [4417, 10246], [5423, 10298];
    row_of_biot_a_fifth: 200, [4328, 10311], [6170, 10483], [7593, 10592];
    row_of_biot_a_half: 500, [6533, 10701], [9408, 11143], [11656, 11441];
    row_of_biot_one: 1000, [8603, 11191], [12558, 12071], [15708, 12732];
    row_of_biot_two: 2000, [10769, 11785], [15994, 13384], [20288, 14793];
    row_of_biot_five: 5000, [13138, 12402], [19898, 15029], [25704, 17870];
    row_of_biot_ten: 10_000, [14289, 12620], [21795, 15677], [28363, 19249];
    row_of_biot_thirty: 30_000, [15202, 12717], [23261, 15973], [30372, 19898];
    row_of_biot_one_hundred: 100_000, [15552, 12731], [23809, 16015], [31102, 19990];
}

/// As the surface coefficient grows without end: pi/2 and 4/pi, 2.4048 and 1.6020, pi and 2.
#[test]
fn the_last_row_is_that_of_a_surface_held_cold() {
    check(100_000_000, Shape::Slab, 15708, 12732);
    check(100_000_000, Shape::Cylinder, 24048, 16020);
    check(100_000_000, Shape::Sphere, 31416, 20000);
}
