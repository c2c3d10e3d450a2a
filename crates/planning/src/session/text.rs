//! Texts of the lines that the program adds to a run: preflight, preheat, cooling, boxing, clear-down.

use larderwright_model::{CoolingMethod, Place};

pub(super) const PREFLIGHT: (&str, &str) = (
    "Get ready",
    "Wash hands. Clear the sink. Set out boxes, labels, a pen and clean cloths. Read the sheet once.",
);
pub(super) const PREHEAT: (&str, &str) = (
    "Heat the oven",
    "Turn the oven on. Put the racks where the trays will go.",
);
pub(super) const CLEAN_DOWN: (&str, &str) = (
    "Clean down",
    "Hot soapy wash of board and knife, or the blender. Rinse. Fresh cloth. Wash hands.",
);
pub(super) const CLEAR_DOWN: (&str, &str) = (
    "Clear down",
    "Wash up. Wipe boards and worktops with hot soapy water. Change the cloth. Check that every box is labelled and away.",
);

/// How to cool a component.
pub(super) fn cool(method: CoolingMethod, name: &str) -> (String, String) {
    let title = format!("Cool {}", short(name));
    let text = match method {
        CoolingMethod::None => "Leave it as it is.",
        CoolingMethod::Shallow => {
            "Spread it shallow in its open boxes, apart from each other, until it stops steaming. Lids stay off."
        }
        CoolingMethod::Trays => {
            "Spread it thin on trays, no thicker than a finger, for 20 minutes. Then into its boxes, lids ajar."
        }
        CoolingMethod::ColdWater => {
            "Put it in plenty of cold water. Change the water once it feels warm. Drain."
        }
        CoolingMethod::FreezerFirst => {
            "Into its open boxes. Once it stops steaming, stand them in the freezer for an hour: apart, and touching nothing frozen."
        }
        CoolingMethod::IceBath => "Stand the pot in ice water and stir until it is barely warm.",
    };
    (title, text.to_string())
}

/// How much ice a bath takes, as a sentence; cold water does the first part.
pub(super) fn ice(grams: i64) -> String {
    let tenths = (grams + 99) / 100;
    format!(
        "Cold water first, changed once; then about {}.{} kg of ice.",
        tenths / 10,
        tenths % 10
    )
}

/// How to box a component.
pub(super) fn pack_out(name: &str, places: &[Place]) -> (String, String) {
    let to = match (places.contains(&Place::Fridge), places.contains(&Place::Freezer)) {
        (true, true) => "Put the fridge boxes apart on the top shelf and lay the freezer boxes flat",
        (false, true) => "Lay the boxes flat in the freezer",
        _ => "Stand the boxes apart on the top shelf of the fridge",
    };
    (
        format!("Box {}", short(name)),
        format!("Close the boxes, write the labels. {to}."),
    )
}

/// At most two words of a name, in lower case, for a title read from afar.
fn short(name: &str) -> String {
    let words: Vec<&str> = name.split_whitespace().collect();
    let from = words.len().saturating_sub(2);
    words[from..].join(" ").to_lowercase()
}
