//! Made-up kitchens.

use larderwright_model::{BoxKind, Kitchen, Oven, Pot, Tray};
use larderwright_quantity::{Length, Temperature, Volume};

use crate::splitmix::SplitMix;

pub(super) fn kitchen(random: &mut SplitMix) -> Kitchen {
    let count =
        |random: &mut SplitMix, low, high| u32::try_from(random.range(low, high)).expect("a small count");
    let boxes = [("small", 500, 45), ("middle", 1000, 60), ("large", 2000, 80)];
    let boxes = boxes.map(|(id, ml, mm)| BoxKind {
        id: id.into(),
        name: format!("{id} box"),
        volume: Volume::from_ml(ml),
        depth: Length::from_mm(mm),
        count: count(random, 6, 20),
        material: random.pick(&["glass", "plastic", "steel"]).into(),
        freezes: random.chance(80),
    });
    let pot = |ml, count| Pot {
        volume: Volume::from_ml(ml),
        count,
    };
    let freezer = if random.chance(75) { random.range(5, 40) } else { 0 };
    Kitchen {
        oven: random.chance(85).then(|| oven(random)),
        burners: count(random, 2, 5),
        burner_watts: random.range(700, 2000),
        microwaves: count(random, 0, 1),
        toaster: random.chance(70),
        boards: count(random, 1, 3),
        blender: random.chance(70),
        pressure_cooker: random.chance(15).then(|| Volume::from_ml(6000)),
        pots: vec![
            pot(1500, count(random, 1, 2)),
            pot(3000, count(random, 1, 2)),
            pot(6000, count(random, 1, 2)),
        ],
        trays: vec![Tray {
            area_cm2: random.pick(&[1200, 46 * 33]),
            count: count(random, 1, 4),
        }],
        boxes: boxes.into(),
        fridge: Volume::from_ml(random.range(15, 60) * 1000),
        freezer: Volume::from_ml(freezer * 1000),
    }
}

fn oven(random: &mut SplitMix) -> Oven {
    Oven {
        racks: random.pick(&[1, 2, 3]),
        min: Temperature::from_c(50),
        max: Temperature::from_c(random.pick(&[220, 250, 275])),
        fan: random.chance(50),
        preheat_min: random.range(8, 20),
    }
}
