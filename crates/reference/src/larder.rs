//! The built-in larder: components and meals as texts, which the recipe reader turns into types.
//!
//! The texts are the same format that a household's own recipes use, so there is one reader and one
//! set of checks.

macro_rules! texts {
    ($folder:literal: $($id:literal),* $(,)?) => {
        &[$(($id, include_str!(concat!("../data/larder/", $folder, "/", $id, ".toml")))),*]
    };
}

/// Components by identifier.
pub const COMPONENTS: &[(&str, &str)] = texts![
    "components":
    "beef-ragu",
    "black-beans",
    "braised-cabbage",
    "braised-pork",
    "brown-rice",
    "bulgur",
    "chickpeas",
    "coriander-sauce",
    "crunchy-slaw",
    "green-beans",
    "hard-cooked-eggs",
    "herb-yogurt-sauce",
    "leek-potato-soup",
    "mustard-dressing",
    "overnight-oats",
    "pickled-red-onions",
    "red-lentil-dal",
    "roast-carrots",
    "roast-cauliflower",
    "roast-chicken-thighs",
    "short-pasta",
    "tahini-sauce",
    "tomato-sauce",
    "white-bean-patties",
];

/// Meals by identifier.
pub const MEALS: &[(&str, &str)] = texts![
    "meals":
    "bean-salad-plate",
    "bulgur-salad-box",
    "cabbage-plate",
    "carrot-chickpea-plate",
    "egg-sandwich-box",
    "filled-pitta",
    "filled-tortillas",
    "fried-grain-pan",
    "fruit-and-seeds",
    "italian-supper",
    "levantine-bowl",
    "mexican-bean-bowl",
    "oat-pot",
    "pan-fish-plate",
    "pantry-lunch",
    "pasta-box",
    "rice-dal-box",
    "slaw-wrap",
    "soup-supper",
    "spiced-pulse-plate",
    "sticks-and-dip",
    "toast-breakfast",
    "yogurt-bowl",
];

#[cfg(test)]
mod tests {
    use super::*;

    /// The names of the files in a folder of the larder.
    fn on_disk(folder: &str) -> Vec<String> {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("data/larder")
            .join(folder);
        let entries = std::fs::read_dir(path).expect("the larder is part of the source");
        let mut names: Vec<String> = entries
            .map(|entry| {
                entry
                    .expect("the folder can be read")
                    .file_name()
                    .to_string_lossy()
                    .replace(".toml", "")
            })
            .collect();
        names.sort();
        names
    }

    #[test]
    fn every_recipe_file_is_listed() {
        let listed = |list: &[(&str, &str)]| list.iter().map(|(id, _)| (*id).to_string()).collect::<Vec<_>>();
        assert_eq!(listed(COMPONENTS), on_disk("components"));
        assert_eq!(listed(MEALS), on_disk("meals"));
    }
}
