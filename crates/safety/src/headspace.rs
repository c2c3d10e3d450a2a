//! Room left above food that freezes, because water grows as it does.
//!
//! Source: NCHFP, Headspace to allow between packed food and closure (So Easy to Preserve, 5th edition 2006), read at
//! nchfp.uga.edu/how/freeze/headspace.html. Its jars stand upright.

use larderwright_quantity::{Length, Rounding, Volume, mul_div};

/// What is packed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pack {
    /// In juice, sugar, syrup or water; crushed or puréed.
    Liquid,
    /// Without sugar or liquid.
    Dry,
    /// Juice.
    Juice,
}

/// The opening.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Top {
    /// Wide: boxes, bags, wide-mouth jars.
    Wide,
    /// Narrow: jars with a neck.
    Narrow,
}

/// Up to here a container counts as a pint.
const PINT: Volume = Volume::from_ul(473_200);
/// Boxes no deeper than this take the figure of a pint: food lies shallow in them whatever they hold (derived).
const SHALLOW: Length = Length::from_inches(4);

/// The room to leave.
#[must_use]
pub fn headspace(pack: Pack, top: Top, volume: Volume) -> Length {
    let pint = volume <= PINT;
    let quarter_inches = match (pack, top, pint) {
        (Pack::Dry, _, _) | (Pack::Liquid | Pack::Juice, Top::Wide, true) => 2,
        (Pack::Liquid | Pack::Juice, Top::Wide, false) => 4,
        (Pack::Liquid, Top::Narrow, true) => 3,
        (Pack::Liquid | Pack::Juice, Top::Narrow, false) | (Pack::Juice, Top::Narrow, true) => 6,
    };
    Length::from_um(quarter_inches * 6_350)
}

/// How much of a wide box may be filled before it freezes: its headspace left free, and never more than 90 %, because
/// water grows by a tenth (9 %, from memory).
#[must_use]
pub fn usable(pack: Pack, volume: Volume, depth: Length) -> Volume {
    let counted = if depth <= SHALLOW {
        PINT.min(volume)
    } else {
        volume
    };
    let free = headspace(pack, Top::Wide, counted);
    let deep = depth.saturating_sub(free);
    let by_room = mul_div(volume.ul(), deep.um(), depth.um().max(1), Rounding::Down);
    Volume::from_ul(by_room.min(volume.scale(9, 10, Rounding::Down).ul()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shallow_box_leaves_half_an_inch() {
        let pint = usable(Pack::Liquid, Volume::from_ul(473_000), Length::from_inches(2));
        assert_eq!(pint, Volume::from_ul(354_750));
    }

    #[test]
    fn a_deep_jar_is_never_filled_beyond_nine_tenths() {
        let jar = usable(Pack::Dry, Volume::from_ul(1_000_000), Length::from_inches(20));
        assert_eq!(jar, Volume::from_ul(900_000));
    }
}
