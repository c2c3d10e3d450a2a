//! The menu: a meal for every sitting and an option for every cover.

use larderwright_model::{
    ComponentId, Cover, CoverChoice, EaterId, ElementId, Fate, Finish, FoodId, Item, LotId, MealId, Menu,
    MenuChoice, Pick, Scales, SessionId, SittingId, Supply,
};
use larderwright_quantity::Mass;

use crate::wire::{record, variants};

record! {
    /// The menu of a week, in the order of the sittings.
    MenuRecord = Menu { choices: Vec<MenuChoice> }
}

record! {
    /// The meal at one sitting.
    MenuChoiceRecord = MenuChoice { sitting: SittingId, meal: MealId, covers: Vec<CoverChoice> }
}

record! {
    /// One cover's plate as chosen.
    CoverChoiceRecord = CoverChoice { cover: Cover, picks: Vec<Pick> }
}

record! {
    /// One option on one cover's plate.
    PickRecord = Pick {
        element: ElementId,
        item: Item,
        #[serde(rename = "portion_mg")]
        portion: Mass,
        scales: Scales,
        finish: Finish,
        supply: Supply,
    }
}

variants! {
    /// One person served; guests are counted from one.
    CoverRecord = Cover { Eater(id: EaterId), Guest(number: u32) }
}

variants! {
    /// Where an item on a plate comes from.
    SupplyRecord = Supply { Made { session: SessionId, fate: Fate }, Stored { lot: LotId }, Bought }
}

variants! {
    /// A component from a lot, or a food as bought.
    ItemRecord = Item { Component(id: ComponentId), Food(id: FoodId) }
}
