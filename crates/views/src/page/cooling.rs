//! How each batch gets cold: one sentence of advice, and behind it the curve of its middle by physics.
//!
//! The curve explains and promises nothing: it is the likely one, from 57 °C (135 °F) on, with the mark that the
//! guidance's own time is about.

use larderwright_model::{Batch, CoolingMethod, Fate, Lot, SessionId, Snapshot, WeekPlan};
use larderwright_quantity::{Length, Rounding, Seconds, System, Temperature, duration_text};
use larderwright_safety::KeepClass;
use larderwright_safety::cooling::actions::{Action, Cold, Hot, within};

use crate::book::Book;

/// A point of the curve stands for so long.
const EVERY: Seconds = Seconds::from_mins(10);
/// The curve is followed for six hours.
const POINTS: usize = 36;
/// Pixels for a point and for ten degrees: 36 points and 60 degrees make 360 by 120.
const STEP_X: i64 = 10;
const BOTTOM_Y: i64 = 120;
/// 70 °F.
const WARM: Temperature = Temperature::from_deci_c(211);

/// How a batch gets cold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BatchCooling {
    /// What.
    pub name: String,
    /// What to do, and how long its middle takes.
    pub advice: String,
    /// Its curve; `None` where physics has nothing to say.
    pub curve: Option<CoolingCurve>,
}

/// A curve, ready to be drawn 360 wide and 120 high.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CoolingCurve {
    /// `10,6 20,14`: the points from left to right.
    pub points: String,
    /// How high 21 °C (70 °F) stands.
    pub warm_y: i64,
    /// Where the time allowed for that stands.
    pub within_x: i64,
    /// The curve in words, an hour each.
    pub words: String,
}

/// How the batches of a session get cold, in the order of the plan; those that were never hot are left out.
#[must_use]
pub fn cooling(snapshot: &Snapshot, plan: &WeekPlan, session: &SessionId) -> Vec<BatchCooling> {
    let book = Book::new(snapshot, plan);
    book.batches(session)
        .filter_map(|batch| one(book, batch))
        .collect()
}

fn one(book: Book<'_>, batch: &Batch) -> Option<BatchCooling> {
    let hot = |lot: &&Lot| lot.cooling != CoolingMethod::None && lot.fate != Fate::Cupboard;
    let lot = book.lots(&batch.id).filter(hot).max_by_key(|lot| lot.depth)?;
    let component = book.snapshot.components.get(&batch.component)?;
    let class = KeepClass::parse(component.keep.as_str())?;
    let food = Hot::of(class, component.bulk.value);
    let cold = if lot.fate == Fate::Freezer {
        Cold::Freezer
    } else {
        Cold::Fridge
    };
    let action = match lot.cooling {
        CoolingMethod::Shallow => Some(Action::OpenBoxes),
        CoolingMethod::Trays => Some(Action::Trays),
        CoolingMethod::IceBath => Some(Action::IceBath),
        CoolingMethod::FreezerFirst => Some(Action::FreezerFirst),
        CoolingMethod::None | CoolingMethod::ColdWater => None,
    };
    let took = action
        .filter(|action| *action != Action::IceBath)
        .and_then(|action| food.through(action, lot.depth, cold));
    let time = took.map_or_else(String::new, |took| {
        format!(
            " Its middle is likely to have {} after {}.",
            book.temperature(WARM),
            duration_text(Seconds::from_mins(took.mins(Rounding::Up)))
        )
    });
    Some(BatchCooling {
        name: component.name.clone(),
        advice: format!("{}{time}", advice(lot, book.system())),
        curve: action.map(|action| curve(book, (&food, action), (lot.depth, cold))),
    })
}

fn advice(lot: &Lot, system: System) -> String {
    let deep = depth_words(lot.depth, system);
    match lot.cooling {
        CoolingMethod::Trays => {
            format!(
                "Spread it thin on trays for 20 minutes, then into boxes {deep} deep, lids ajar, apart from each other."
            )
        }
        CoolingMethod::IceBath => {
            format!(
                "Stand the pot in ice water and stir until it is barely warm, then into boxes {deep} deep."
            )
        }
        CoolingMethod::FreezerFirst => {
            format!(
                "Into open boxes {deep} deep; once it stops steaming, apart from each other and from what is frozen into the freezer for \
                 an hour, then into the fridge with their lids."
            )
        }
        CoolingMethod::ColdWater => {
            "Into plenty of cold water, changed once it feels warm; then drained and boxed.".into()
        }
        CoolingMethod::None | CoolingMethod::Shallow => {
            format!(
                "Into open boxes {deep} deep, apart from each other; into the cold once it stops steaming, lids ajar."
            )
        }
    }
}

/// Millimetres, or quarters of an inch, rounded up.
fn depth_words(depth: Length, system: System) -> String {
    if system != System::UsCustomary {
        return format!("{} mm", depth.mm(Rounding::Up));
    }
    let quarters = (depth.um() + 6_349) / 6_350;
    let part = ["", " 1/4", " 1/2", " 3/4"][usize::try_from(quarters % 4).unwrap_or(0)];
    match quarters / 4 {
        0 => format!("{} in", part.trim_start()),
        whole => format!("{whole}{part} in"),
    }
}

fn curve(book: Book<'_>, (food, action): (&Hot, Action), boxes: (Length, Cold)) -> CoolingCurve {
    let line = food.curve(action, boxes, EVERY, POINTS);
    let y = |warm: Temperature| (BOTTOM_Y - warm.deci_c() / 5).clamp(0, BOTTOM_Y);
    let numbered = (1..).zip(&line);
    let points: Vec<String> = numbered
        .map(|(at, warm)| format!("{},{}", at * STEP_X, y(*warm)))
        .collect();
    let hours = line.iter().skip(5).step_by(6).zip(1..);
    let hours: Vec<String> = hours
        .map(|(warm, hour)| format!("after {hour} h {}", book.temperature(*warm)))
        .collect();
    let most = within(book.plan.profile).mins(Rounding::Down);
    CoolingCurve {
        points: points.join(" "),
        warm_y: y(WARM),
        within_x: most * STEP_X / EVERY.mins(Rounding::Down).max(1),
        words: format!("Likely temperature in the middle: {}.", hours.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    fn parts() -> Vec<BatchCooling> {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        cooling(&snapshot, &plan, &plan.runs[0].session)
    }

    #[test]
    fn what_was_hot_has_one_sentence_and_a_curve_that_falls() {
        let parts = parts();
        assert!(!parts.is_empty());
        for part in parts {
            assert!(part.advice.ends_with('.'), "{}", part.advice);
            let Some(curve) = part.curve else { continue };
            let heights: Vec<i64> = curve
                .points
                .split(' ')
                .filter_map(|point| point.split_once(',')?.1.parse().ok())
                .collect();
            assert_eq!(heights.len(), POINTS);
            assert!(heights.windows(2).all(|pair| pair[0] <= pair[1]), "{heights:?}");
            assert_eq!(curve.words.matches("after ").count(), 6, "{}", curve.words);
        }
    }

    #[test]
    fn depths_are_said_in_the_households_units_and_never_shallower_than_they_are() {
        assert_eq!(depth_words(Length::from_mm(38), System::Metric), "38 mm");
        assert_eq!(depth_words(Length::from_mm(38), System::UsCustomary), "1 1/2 in");
        assert_eq!(depth_words(Length::from_mm(50), System::UsCustomary), "2 in");
        assert_eq!(depth_words(Length::from_mm(12), System::UsCustomary), "1/2 in");
    }

    #[test]
    fn nothing_is_called_safe() {
        for part in parts() {
            assert!(!part.advice.contains("safe"), "{}", part.advice);
        }
    }
}
