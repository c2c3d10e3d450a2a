//! The kitchen: what is finite while cooking and while storing.

use larderwright_model::{BoxId, BoxKind, Kitchen, Oven};
use larderwright_quantity::{Length, System, Temperature, Volume};

use super::{measure, refuse_twins};
use crate::reader::{Fields, Value};

pub(crate) const KITCHEN_KEYS: &[&str] = &[
    "oven",
    "burners",
    "burner_watts",
    "microwaves",
    "toaster",
    "boards",
    "blender",
    "pressure_cooker",
    "pots",
    "trays",
    "box",
    "fridge_litres",
    "freezer_litres",
];
pub(crate) const OVEN_KEYS: &[&str] = &["racks", "lowest", "highest", "fan", "preheat_minutes"];
pub(crate) const BOX_KEYS: &[&str] = &["id", "name", "holds", "depth", "count", "material", "freezes"];

/// What reaches the pot from a large household burner; common practice, no source.
const BURNER_WATTS_USUAL: i64 = 1500;
/// From cold to a roasting heat; common practice, no source.
const PREHEAT_MINUTES_USUAL: i64 = 15;

pub(super) fn read(fields: &Fields<'_>, system: System) -> Kitchen {
    let Some(fields) = fields.need_table("kitchen") else {
        return bare();
    };
    fields.only(KITCHEN_KEYS);
    let pots = fields.list("pots");
    let mut pots: Vec<_> = pots
        .iter()
        .filter_map(|value| measure::pot(value, system))
        .collect();
    pots.sort_by_key(|pot| pot.volume);
    let trays = fields.list("trays");
    let litres = |key: &str| {
        fields
            .whole_if(key, 0..=2000)
            .map(|litres| Volume::from_ml(litres * 1000))
    };
    fields.need("fridge_litres");
    Kitchen {
        oven: fields.table("oven").map(|oven| self::oven(&oven)),
        burners: fields.count_or("burners", 0),
        burner_watts: fields
            .whole_if("burner_watts", 200..=10_000)
            .unwrap_or(BURNER_WATTS_USUAL),
        microwaves: fields.count_or("microwaves", 0),
        toaster: fields.flag("toaster"),
        boards: fields.count_or("boards", 1),
        blender: fields.flag("blender"),
        pressure_cooker: fields
            .get("pressure_cooker")
            .and_then(|value| measure::volume(&value, system)),
        pots,
        trays: trays.iter().filter_map(measure::tray).collect(),
        boxes: boxes(&fields, system),
        fridge: litres("fridge_litres").unwrap_or_default(),
        freezer: litres("freezer_litres").unwrap_or_default(),
    }
}

fn bare() -> Kitchen {
    Kitchen {
        oven: None,
        burners: 0,
        burner_watts: BURNER_WATTS_USUAL,
        microwaves: 0,
        toaster: false,
        boards: 0,
        blender: false,
        pressure_cooker: None,
        pots: Vec::new(),
        trays: Vec::new(),
        boxes: Vec::new(),
        fridge: Volume::default(),
        freezer: Volume::default(),
    }
}

fn oven(fields: &Fields<'_>) -> Oven {
    fields.only(OVEN_KEYS);
    let setting = |key: &str| fields.need(key).and_then(|value| measure::temperature(&value));
    let (lowest, highest) = (setting("lowest"), setting("highest"));
    if let (Some(lowest), Some(highest)) = (lowest, highest)
        && lowest >= highest
    {
        fields.problem_at("lowest", "is not below highest", "Swap the two.");
    }
    let racks = fields.need("racks").and_then(|value| value.whole(&(1..=10)));
    Oven {
        racks: racks.and_then(|racks| u32::try_from(racks).ok()).unwrap_or(1),
        min: lowest.unwrap_or(Temperature::from_c(50)),
        max: highest.unwrap_or(Temperature::from_c(250)),
        fan: fields.flag("fan"),
        preheat_min: fields
            .whole_if("preheat_minutes", 0..=120)
            .unwrap_or(PREHEAT_MINUTES_USUAL),
    }
}

fn boxes(fields: &Fields<'_>, system: System) -> Vec<BoxKind> {
    let groups = fields.need_tables("box");
    let mut boxes: Vec<BoxKind> = groups.iter().map(|group| box_kind(group, system)).collect();
    refuse_twins(&groups, boxes.iter().map(|kind| kind.id.as_str()));
    boxes.sort_by_key(|kind| kind.volume);
    boxes
}

fn box_kind(fields: &Fields<'_>, system: System) -> BoxKind {
    fields.only(BOX_KEYS);
    let volume = fields
        .need("holds")
        .and_then(|value| measure::volume(&value, system));
    let depth = fields.need("depth").as_ref().and_then(measure::length);
    let count = fields
        .need("count")
        .as_ref()
        .and_then(|value: &Value<'_>| value.whole(&(1..=1000)));
    BoxKind {
        id: BoxId::new(&fields.id("id")),
        name: fields.text("name"),
        volume: volume.unwrap_or_default(),
        depth: depth.unwrap_or(Length::ZERO),
        count: count.and_then(|count| u32::try_from(count).ok()).unwrap_or(1),
        material: fields.text_or_empty("material"),
        freezes: fields.flag("freezes"),
    }
}
