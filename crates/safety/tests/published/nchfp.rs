//! National Center for Home Food Preservation: garlic in oil (2011, reviewed 2015) and headspace for frozen food (So
//! Easy to Preserve, 5th edition 2006).

use jiff::civil::date;
use larderwright_model::Profile;
use larderwright_quantity::{Length, Volume};
use larderwright_safety::headspace::{Pack, Top, headspace};
use larderwright_safety::{KeepClass, fridge};

/// Made on day nought at 40 °F it is thrown away after day four, under every profile; never longer.
#[test]
fn garlic_and_herbs_in_oil_never_outlive_the_fourth_day() {
    let made = date(2026, 11, 29).at(12, 0, 0, 0);
    for profile in Profile::ALL {
        for class in [KeepClass::GarlicInOil, KeepClass::HerbInOil, KeepClass::Pesto] {
            let keep = fridge(profile, class, made, made);
            assert!(
                keep.use_by.date() <= date(2026, 12, 3),
                "{} {}",
                profile.word(),
                class.word()
            );
        }
    }
}

const QUART: Volume = Volume::from_ul(946_353);
const PINT: Volume = Volume::from_ul(473_176);

fn check(pack: Pack, top: Top, volume: Volume, quarter_inches: i64) {
    assert_eq!(
        headspace(pack, top, volume),
        Length::from_um(quarter_inches * 6_350),
        "{pack:?} {top:?} {volume:?}"
    );
}

#[test]
fn headspace_of_liquid_packs() {
    check(Pack::Liquid, Top::Wide, PINT, 2);
    check(Pack::Liquid, Top::Wide, QUART, 4);
    check(Pack::Liquid, Top::Narrow, PINT, 3);
    check(Pack::Liquid, Top::Narrow, QUART, 6);
}

#[test]
fn headspace_of_dry_packs_is_half_an_inch() {
    for top in [Top::Wide, Top::Narrow] {
        for volume in [PINT, QUART] {
            check(Pack::Dry, top, volume, 2);
        }
    }
}

#[test]
fn headspace_of_juice() {
    check(Pack::Juice, Top::Wide, PINT, 2);
    check(Pack::Juice, Top::Wide, QUART, 4);
    check(Pack::Juice, Top::Narrow, PINT, 6);
    check(Pack::Juice, Top::Narrow, QUART, 6);
}
