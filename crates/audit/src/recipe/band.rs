//! Bands: what is usual for a family of components, a place on the plate, an occasion. All are common practice
//! without a source, wide enough for any kitchen and narrow enough to catch a slipped digit.

use larderwright_model::{Family, Occasion};

/// From one whole number to another, both allowed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Band {
    pub(super) low: i64,
    pub(super) high: i64,
}

impl Band {
    pub(super) fn holds(self, value: i64) -> bool {
        (self.low..=self.high).contains(&value)
    }
}

const fn band(low: i64, high: i64) -> Band {
    Band { low, high }
}

/// What is usual for the components of a family.
#[derive(Clone, Copy, Debug)]
pub(super) struct Usual {
    /// Milligrams of salt in a kilogram.
    pub(super) salt_mg: Band,
    /// Kilocalories in 100 g.
    pub(super) kcal: Band,
    /// Hundredths of the currency for 100 g.
    pub(super) minor: Band,
    /// Seconds of hands for a kilogram of the largest batch.
    pub(super) hands_s: Band,
}

pub(super) fn usual(family: Family) -> Usual {
    let (salt_g, kcal, minor, minutes) = match family {
        Family::Pulse => ((1, 11), (80, 220), (5, 160), (1, 12)),
        Family::Grain => ((2, 11), (60, 210), (2, 150), (1, 12)),
        Family::Protein => ((3, 14), (80, 330), (20, 450), (3, 45)),
        Family::Vegetable => ((2, 13), (15, 200), (10, 300), (3, 30)),
        Family::Egg => ((0, 5), (130, 170), (20, 200), (1, 10)),
        Family::Sauce => ((3, 25), (20, 560), (15, 500), (3, 60)),
        Family::Pickle => ((4, 40), (10, 150), (10, 250), (2, 30)),
        Family::Salad => ((0, 8), (10, 100), (10, 250), (5, 30)),
        Family::Dough => ((6, 16), (200, 340), (5, 120), (3, 20)),
        Family::Breakfast => ((0, 6), (60, 520), (8, 250), (1, 20)),
        Family::Stock => ((2, 12), (0, 130), (5, 150), (1, 15)),
    };
    Usual {
        salt_mg: band(salt_g.0 * 1000, salt_g.1 * 1000),
        kcal: band(kcal.0, kcal.1),
        minor: band(minor.0, minor.1),
        hands_s: band(minutes.0 * 60, minutes.1 * 60),
    }
}

/// Grams of one portion by the place on the plate.
pub(super) fn portion_g(element: &str, kind: &str) -> Band {
    match (element, kind) {
        (_, "soup" | "porridge" | "curry") => band(1, 450),
        ("base", _) => band(25, 300),
        ("protein", _) => band(15, 220),
        ("vegetable", _) => band(40, 250),
        ("sauce", _) => band(4, 180),
        ("fresh", _) => band(2, 150),
        ("topping", _) => band(1, 100),
        ("bread", _) => band(15, 160),
        ("fruit", _) => band(20, 250),
        ("dairy", _) => band(10, 250),
        _ => band(1, 300),
    }
}

/// What a plate is for.
#[derive(Clone, Copy, Debug)]
pub(super) struct PlateUsual {
    /// Grams on it.
    pub(super) grams: Band,
    /// Kilocalories on it.
    pub(super) kcal: Band,
    /// Hundredths of the currency.
    pub(super) minor: Band,
    /// Grams of protein at the least.
    pub(super) protein_g: i64,
}

/// What is usual for the largest of the occasions a meal is eaten at.
pub(super) fn plate(at: &[Occasion]) -> PlateUsual {
    let main = |occasion: &Occasion| !matches!(occasion, Occasion::Breakfast | Occasion::Snack);
    let (grams, kcal, minor, protein_g) = if at.iter().any(main) {
        (band(180, 900), band(250, 1050), band(30, 800), 10)
    } else if at.contains(&Occasion::Breakfast) {
        (band(80, 650), band(180, 750), band(15, 500), 0)
    } else {
        (band(25, 350), band(30, 500), band(8, 400), 0)
    };
    PlateUsual {
        grams,
        kcal,
        minor,
        protein_g,
    }
}
