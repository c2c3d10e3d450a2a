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
    "baked-tofu",
    "beef-ragu",
    "beef-stew",
    "black-beans",
    "blanched-broccoli",
    "boiled-potatoes",
    "braised-cabbage",
    "braised-greens",
    "braised-pork",
    "brown-rice",
    "buckwheat",
    "bulgur",
    "chickpeas",
    "coriander-sauce",
    "couscous",
    "crunchy-slaw",
    "flatbread-dough",
    "granola",
    "green-beans",
    "green-lentils",
    "hard-cooked-eggs",
    "herb-yogurt-sauce",
    "leek-potato-soup",
    "mustard-dressing",
    "overnight-oats",
    "peanut-sauce",
    "pearl-barley",
    "pickled-red-onions",
    "poached-salmon",
    "polenta-slab",
    "quinoa",
    "red-lentil-dal",
    "roast-carrots",
    "roast-cauliflower",
    "roast-chicken-thighs",
    "roast-peppers-courgettes",
    "roast-potatoes",
    "roast-squash",
    "short-pasta",
    "tahini-sauce",
    "tomato-salsa",
    "tomato-sauce",
    "turkey-meatballs",
    "vegetable-sticks",
    "vegetable-stock",
    "white-bean-patties",
    "white-beans",
    "white-rice",
];

/// Meals by identifier.
pub const MEALS: &[(&str, &str)] = texts![
    "meals":
    "andean-bowl",
    "apple-and-spread",
    "apple-plate",
    "bean-salad-plate",
    "beans-on-toast",
    "brazilian-plate",
    "breakfast-tortillas",
    "broken-salad",
    "broth-bowl",
    "buckwheat-mushroom-plate",
    "bulgur-salad-box",
    "cabbage-plate",
    "caribbean-plate",
    "carrot-chickpea-plate",
    "cheese-cucumber-breakfast",
    "cheese-grain-gratin",
    "cheese-pickle-box",
    "chilli-bowl",
    "chunky-soup",
    "coconut-curry",
    "cold-grain-salad",
    "cold-salmon-plate",
    "couscous-box",
    "crispbread-bite",
    "crunchy-peanut-box",
    "dal-breakfast",
    "dark-bread-box",
    "dates-and-seeds",
    "dip-box",
    "egg-rice-bowl",
    "egg-sandwich-box",
    "egg-tomato-bite",
    "eggs-in-tomato",
    "filled-pitta",
    "filled-tortillas",
    "fish-tortillas",
    "fried-grain-pan",
    "fried-potato-pan",
    "fruit-and-seeds",
    "grain-egg-breakfast",
    "granola-bowl",
    "greek-tray-plate",
    "greens-curry-box",
    "groundnut-bowl",
    "harissa-plate",
    "hot-pan-greens",
    "italian-supper",
    "korean-rice-bowl",
    "lentil-broth-bowl",
    "lentil-mustard-plate",
    "lentil-salad-box",
    "lentils-and-greens",
    "levantine-bowl",
    "meatball-box",
    "meatballs-in-tomato",
    "mexican-bean-bowl",
    "oat-pot",
    "open-bread-supper",
    "pan-fish-plate",
    "pan-trout-plate",
    "paneer-pan",
    "pantry-lunch",
    "pasta-box",
    "pasta-salad-box",
    "patty-yogurt-plate",
    "pepper-mince-plate",
    "persian-rice-plate",
    "polenta-box",
    "polenta-plate",
    "potato-egg-breakfast",
    "potato-salad-plate",
    "pulled-bun",
    "quinoa-bean-box",
    "red-rice-box",
    "rice-beans-breakfast",
    "rice-dal-box",
    "rolled-flatbread",
    "rye-fish-breakfast",
    "salmon-potato-box",
    "slaw-wrap",
    "small-plates",
    "soup-flask",
    "soup-supper",
    "soy-ginger-bowl",
    "spanish-pepper-plate",
    "spiced-chickpea-cup",
    "spiced-pulse-plate",
    "spread-banana-toast",
    "squash-bean-plate",
    "stew-box",
    "stew-plate",
    "sticks-and-dip",
    "store-cupboard-supper",
    "toast-breakfast",
    "tofu-grain-box",
    "tomato-egg-breakfast",
    "topped-flatbread",
    "tuna-bean-box",
    "tuscan-beans",
    "unrolled-cabbage",
    "warm-grain-fruit",
    "yogurt-bowl",
    "yogurt-fruit-pot",
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
