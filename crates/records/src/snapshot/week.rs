//! The week, as a usual pattern and with dates.

use std::collections::BTreeSet;

use jiff::civil::{DateTime, Time, Weekday};
use larderwright_model::{
    BoxId, ComponentId, CookId, DayRef, EaterId, FoodId, Keep, LotId, Occasion, Packed, Place, Session,
    SessionId, SessionPattern, Shop, ShopId, ShopPattern, Sitting, SittingId, SittingPattern, StoredLot,
    Where,
};
use larderwright_quantity::Mass;

use crate::wire::{record, variants};

variants! {
    /// A day of the planned week, or of the week before.
    DayRefRecord = DayRef { In(day: Weekday), Before(day: Weekday) }
}

variants! {
    /// Where a sitting takes place.
    WhereRecord = Where { Home, Packed(how: Packed) }
}

record! {
    /// How food is carried and kept until it is eaten.
    PackedRecord = Packed { hours: i64, ice_pack: bool, fridge: bool, microwave: bool }
}

record! {
    /// A sitting of the usual week.
    SittingPatternRecord = SittingPattern {
        day: DayRef,
        occasion: Occasion,
        at: Time,
        minutes: i64,
        eaters: Vec<EaterId>,
        guests: u32,
        place: Where,
    }
}

record! {
    /// A session of the usual week.
    SessionPatternRecord = SessionPattern { day: DayRef, from: Time, to: Time, cooks: Vec<CookId> }
}

record! {
    /// A trip to the shop in the usual week.
    ShopPatternRecord = ShopPattern { day: DayRef, at: Time }
}

record! {
    /// One eating occasion, dated.
    SittingRecord = Sitting {
        id: SittingId,
        at: DateTime,
        occasion: Occasion,
        minutes: i64,
        eaters: Vec<EaterId>,
        guests: u32,
        place: Where,
    }
}

record! {
    /// One block of cooking time, dated.
    SessionRecord = Session { id: SessionId, from: DateTime, to: DateTime, cooks: Vec<CookId> }
}

record! {
    /// One trip to the shop, dated.
    ShopRecord = Shop { id: ShopId, at: DateTime }
}

record! {
    /// A lot of a component that is in the house when the plan is made.
    StoredLotRecord = StoredLot {
        id: LotId,
        component: ComponentId,
        /// What went into it, for diets and allergies.
        foods: BTreeSet<FoodId>,
        #[serde(rename = "mg")]
        mass: Mass,
        place: Place,
        /// When cooking ended.
        made: DateTime,
        /// When it came to where it is.
        stored: DateTime,
        keep: Keep,
        boxes: Vec<(BoxId, u32)>,
        reheated: bool,
    }
}
