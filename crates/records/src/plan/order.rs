//! What to buy and what is taken from home.

use larderwright_model::{
    Allergen, BatchId, Department, FoodId, Order, OrderLine, PriceBasis, Purpose, ShopId, SittingId, StockUse,
};
use larderwright_quantity::{Mass, Money};

use crate::wire::{record, variants};

record! {
    /// What to buy, by shop, department and food, and what is taken from home.
    OrderRecord = Order { lines: Vec<OrderLine>, from_stock: Vec<StockUse> }
}

record! {
    /// One line of the order sheet.
    OrderLineRecord = OrderLine {
        shop: ShopId,
        department: Department,
        food: FoodId,
        pack: String,
        #[serde(rename = "pack_mg")]
        pack_mass: Mass,
        count: i64,
        /// Price of the line, in hundredths of the currency.
        #[serde(rename = "price_minor")]
        price: Money,
        basis: PriceBasis,
        #[serde(rename = "for")]
        purposes: Vec<Purpose>,
        #[serde(rename = "used_mg")]
        used: Mass,
        read_label: Vec<Allergen>,
    }
}

record! {
    /// What the plan trusts to be at home.
    StockUseRecord = StockUse {
        food: FoodId,
        #[serde(rename = "mg")]
        mass: Mass,
    }
}

variants! {
    /// Why something is bought.
    PurposeRecord = Purpose { Batch(id: BatchId), Sitting(id: SittingId), Par, Standing }
}

variants! {
    /// Where a price comes from.
    PriceBasisRecord = PriceBasis { Household, Published(source: String), Estimate }
}
