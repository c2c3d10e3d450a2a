//! The kitchen and who works in it.

use std::collections::BTreeSet;

use larderwright_model::{BoxId, BoxKind, Cook, CookId, Kitchen, Oven, Pot, Skill, Tray};
use larderwright_quantity::{Length, Temperature, Volume};

use crate::wire::record;

record! {
    /// A kitchen.
    KitchenRecord = Kitchen {
        oven: Option<Oven>,
        burners: u32,
        burner_watts: i64,
        microwaves: u32,
        toaster: bool,
        boards: u32,
        blender: bool,
        #[serde(rename = "pressure_cooker_ul")]
        pressure_cooker: Option<Volume>,
        pots: Vec<Pot>,
        trays: Vec<Tray>,
        boxes: Vec<BoxKind>,
        #[serde(rename = "fridge_ul")]
        fridge: Volume,
        #[serde(rename = "freezer_ul")]
        freezer: Volume,
    }
}

record! {
    /// An oven.
    OvenRecord = Oven {
        racks: u32,
        #[serde(rename = "min_deci_c")]
        min: Temperature,
        #[serde(rename = "max_deci_c")]
        max: Temperature,
        fan: bool,
        preheat_min: i64,
    }
}

record! {
    /// Pots of one size.
    PotRecord = Pot {
        #[serde(rename = "ul")]
        volume: Volume,
        count: u32,
    }
}

record! {
    /// Trays of one size.
    TrayRecord = Tray { area_cm2: i64, count: u32 }
}

record! {
    /// Storage boxes of one kind.
    BoxKindRecord = BoxKind {
        id: BoxId,
        name: String,
        #[serde(rename = "ul")]
        volume: Volume,
        #[serde(rename = "depth_um")]
        depth: Length,
        count: u32,
        material: String,
        freezes: bool,
    }
}

record! {
    /// Someone who cooks, and what they may do.
    CookRecord = Cook { id: CookId, name: String, may: BTreeSet<Skill> }
}
