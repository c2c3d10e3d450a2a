//! What happened, as it is written: the kind's word with what is known of it.

use jiff::civil::{Date, DateTime};
use larderwright_model::{
    BatchId, ComponentId, CookedFact, EaterId, Fact, FoodId, LotId, MealId, Measured, Reading, Reported,
    ServedFact, SessionId, ShopId, SittingId, StockState, WasteReason, WayId,
};
use larderwright_quantity::{Mass, Money, Permille, Temperature};

use crate::wire::{record, variants};

variants! {
    /// What happened, beside the masses that moved.
    FactRecord = Fact {
        Bought {
            /// On which trip of the plan.
            trip: Option<ShopId>,
            /// How many packs.
            count: i64,
            /// What they cost together, in the smallest unit of money.
            #[serde(rename = "price_minor")]
            price: Option<Money>,
            reported: Reported,
        },
        Receipt {
            trip: Option<ShopId>,
            #[serde(rename = "total_minor")]
            total: Money,
        },
        Opened { lot: LotId },
        Counted,
        Ticked {
            food: FoodId,
            /// Nothing here when none is left.
            state: Option<StockState>,
        },
        Cooked(cooked: CookedFact),
        Cooled { batch: BatchId, readings: Vec<Reading> },
        Stored { batch: BatchId },
        Moved,
        Thawed,
        Served(served: ServedFact),
        LeftOver { sitting: Option<SittingId> },
        Returned { sitting: SittingId },
        Discarded { reason: WasteReason },
        GivenAway { to: String },
        Reheated { lot: LotId },
        LeftOut { lot: LotId, minutes: i64 },
        Checked,
        SessionEnded { session: SessionId, minutes: i64, minutes_planned: i64 },
        Closed { monday: Date },
        Undone,
    }
}

record! {
    /// What a batch was.
    CookedFactRecord = CookedFact {
        batch: BatchId,
        component: ComponentId,
        way: WayId,
        session: Option<SessionId>,
        /// Size: edible portion of the driver.
        #[serde(rename = "x_mg")]
        x: Mass,
        /// The yield the recipe leads one to expect.
        #[serde(rename = "expected_mg")]
        expected: Mass,
        /// What came out.
        #[serde(rename = "output_mg")]
        output: Mass,
        measured: Measured,
        minutes: Option<i64>,
        minutes_planned: Option<i64>,
        reported: Reported,
    }
}

variants! {
    /// How the output became known; how full the boxes are in thousandths.
    MeasuredRecord = Measured { Weighed, Filled(permille: Permille), Expected }
}

record! {
    /// One look at the thermometer, or only at the clock.
    ReadingRecord = Reading {
        at: DateTime,
        #[serde(rename = "deci_c")]
        temperature: Option<Temperature>,
    }
}

record! {
    /// What a sitting was.
    ServedFactRecord = ServedFact {
        sitting: SittingId,
        meal: Option<MealId>,
        /// Who of the household ate.
        eaters: Vec<EaterId>,
        /// How many plates, guests included.
        covers: u32,
        /// The mass the plan meant to be eaten.
        #[serde(rename = "planned_mg")]
        planned: Mass,
        reported: Reported,
    }
}

macro_rules! kinds {
    ($($word:literal => $variant:pat),* $(,)?) => {
        /// The words of every kind of event.
        pub const KINDS: &[&str] = &[$($word),*];

        /// The word of a fact's kind: the same that stands in the record.
        #[must_use]
        pub fn kind_word(fact: &Fact) -> &'static str {
            match fact {
                $($variant => $word),*
            }
        }
    };
}

kinds! {
    "bought" => Fact::Bought { .. },
    "receipt" => Fact::Receipt { .. },
    "opened" => Fact::Opened { .. },
    "counted" => Fact::Counted,
    "ticked" => Fact::Ticked { .. },
    "cooked" => Fact::Cooked(_),
    "cooled" => Fact::Cooled { .. },
    "stored" => Fact::Stored { .. },
    "moved" => Fact::Moved,
    "thawed" => Fact::Thawed,
    "served" => Fact::Served(_),
    "left-over" => Fact::LeftOver { .. },
    "returned" => Fact::Returned { .. },
    "discarded" => Fact::Discarded { .. },
    "given-away" => Fact::GivenAway { .. },
    "reheated" => Fact::Reheated { .. },
    "left-out" => Fact::LeftOut { .. },
    "checked" => Fact::Checked,
    "session-ended" => Fact::SessionEnded { .. },
    "closed" => Fact::Closed { .. },
    "undone" => Fact::Undone,
}

#[cfg(test)]
mod tests {
    use serde_json::Value;

    use super::*;
    use crate::wire::Wire;

    #[test]
    fn the_word_of_a_kind_is_the_one_in_the_record() {
        let facts = [
            Fact::LeftOver { sitting: None },
            Fact::GivenAway {
                to: "next door".into(),
            },
            Fact::Undone,
        ];
        for fact in facts {
            let written = serde_json::to_value(fact.to_record()).expect("a record is JSON");
            let word = match &written {
                Value::String(word) => word,
                other => other
                    .as_object()
                    .and_then(|map| map.keys().next())
                    .expect("a tagged fact"),
            };
            assert_eq!(word, kind_word(&fact));
        }
    }

    #[test]
    fn no_kind_is_listed_twice() {
        let mut words = KINDS.to_vec();
        words.sort_unstable();
        words.dedup();
        assert_eq!(words.len(), KINDS.len());
    }
}
