//! The kitchen: what is finite while cooking and while storing.

use std::collections::BTreeSet;

use larderwright_quantity::{Length, Mass, Temperature, Volume};

use crate::component::{Equipment, Skill};
use crate::id::{BoxId, CookId};

/// Someone who cooks, and what they may do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cook {
    /// Identifier.
    pub id: CookId,
    /// Name.
    pub name: String,
    /// Skills; everyone has `Any`.
    pub may: BTreeSet<Skill>,
}

impl Cook {
    /// Whether this cook may do work of that skill.
    #[must_use]
    pub fn can(&self, skill: Skill) -> bool {
        skill == Skill::Any || self.may.contains(&skill)
    }
}

/// An oven.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Oven {
    /// How many racks hold a tray at once.
    pub racks: u32,
    /// Lowest setting.
    pub min: Temperature,
    /// Highest setting.
    pub max: Temperature,
    /// Whether a fan circulates the air.
    pub fan: bool,
    /// Minutes from cold to a usual roasting heat.
    pub preheat_min: i64,
}

/// Pots of one size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pot {
    /// Volume to the brim.
    pub volume: Volume,
    /// How many.
    pub count: u32,
}

/// Trays of one size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tray {
    /// Area in square centimetres.
    pub area_cm2: i64,
    /// How many.
    pub count: u32,
}

/// Storage boxes of one kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BoxKind {
    /// Identifier.
    pub id: BoxId,
    /// Name the household gives it.
    pub name: String,
    /// Volume to the brim.
    pub volume: Volume,
    /// Inner depth.
    pub depth: Length,
    /// How many the household owns.
    pub count: u32,
    /// Glass, steel, plastic: only for wording and heat.
    pub material: String,
    /// Whether it may go into the freezer.
    pub freezes: bool,
}

/// A kitchen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Kitchen {
    /// The oven, if there is one.
    pub oven: Option<Oven>,
    /// Burners.
    pub burners: u32,
    /// Power of a large burner into the pot, in watts.
    pub burner_watts: i64,
    /// Microwave ovens.
    pub microwaves: u32,
    /// Whether there is a toaster.
    pub toaster: bool,
    /// Chopping boards.
    pub boards: u32,
    /// Whether there is a blender.
    pub blender: bool,
    /// Pressure cooker volume, if there is one.
    pub pressure_cooker: Option<Volume>,
    /// Pots, smallest first.
    pub pots: Vec<Pot>,
    /// Trays.
    pub trays: Vec<Tray>,
    /// Storage boxes, smallest first.
    pub boxes: Vec<BoxKind>,
    /// Room in the fridge after the everyday things, as box volume.
    pub fridge: Volume,
    /// Room in the freezer after the everyday things, as box volume; zero when there is none.
    pub freezer: Volume,
}

impl Kitchen {
    /// Whether the kitchen has at least one of the equipment.
    #[must_use]
    pub fn has(&self, equipment: Equipment) -> bool {
        match equipment {
            Equipment::Burner => self.burners > 0,
            Equipment::Oven | Equipment::Rack => self.oven.is_some_and(|oven| oven.racks > 0),
            Equipment::Microwave => self.microwaves > 0,
            Equipment::Pot => self.pots.iter().any(|pot| pot.count > 0),
            Equipment::Tray => self.trays.iter().any(|tray| tray.count > 0),
            Equipment::PressureCooker => self.pressure_cooker.is_some(),
            Equipment::Board => self.boards > 0,
            Equipment::Blender => self.blender,
        }
    }

    /// What boxes hold when they are full to the brim; kinds that the kitchen does not own hold nothing.
    #[must_use]
    pub fn brim(&self, boxes: &[(BoxId, u32)]) -> Volume {
        let volume = |(id, count): &(BoxId, u32)| {
            let kind = self.boxes.iter().find(|kind| kind.id == *id)?;
            Some(kind.volume.times(i64::from(*count)))
        };
        boxes.iter().filter_map(volume).sum()
    }

    /// How many trays the kitchen owns.
    #[must_use]
    pub fn tray_count(&self) -> u32 {
        self.trays.iter().map(|tray| tray.count).sum()
    }

    /// The largest pot.
    #[must_use]
    pub fn largest_pot(&self) -> Option<Volume> {
        self.pots
            .iter()
            .filter(|pot| pot.count > 0)
            .map(|pot| pot.volume)
            .max()
    }
}

/// The area of the tray for which recipes state a load: 46 x 33 cm.
pub const RECIPE_TRAY_CM2: i64 = 46 * 33;

impl Tray {
    /// A recipe's load per tray, scaled to this tray's area, rounded down.
    #[must_use]
    pub fn scaled_load(&self, load: Mass) -> Mass {
        load.scale(
            self.area_cm2,
            RECIPE_TRAY_CM2,
            larderwright_quantity::Rounding::Down,
        )
    }
}
