//! Instances of the menu benchmark: the demonstration household, and households made up from seeds. The generator is part of
//! the yardstick: changing it or its seeds voids earlier figures.

use std::fmt::Write;
use std::path::{Path, PathBuf};

use crate::machine::root;

/// The sizes there are.
pub(super) const SIZES: [&str; 3] = ["demo", "week", "tiny"];

/// The kitchen and shops of every household that is made up; sittings, eaters and wishes follow.
const KITCHEN: &str = r#"region = "us"
guidance = "us-home"
units = "us"
currency = "USD"
time_zone = "America/Chicago"
altitude_m = 180
shops = ["Saturday before 11:00", "Wednesday 17:15"]

[[cook]]
name = "Ada"
may = ["knife", "stove"]

[[cook]]
name = "Ben"
may = ["knife", "stove"]

[kitchen]
burners = 4
burner_watts = 1600
microwaves = 1
toaster = true
boards = 3
blender = true
pots = ["10 qt", "8 qt", "2 x 5 qt", "3 qt"]
trays = ["3 x 18 x 13 in"]
fridge_litres = 55
freezer_litres = 40
oven = { racks = 3, lowest = "170 F", highest = "500 F", fan = false, preheat_minutes = 15 }

[[kitchen.box]]
id = "large"
name = "large box"
holds = "9 cups"
depth = "2.75 in"
count = 14
material = "glass"

[[kitchen.box]]
id = "medium"
name = "medium box"
holds = "5 cups"
depth = "2.25 in"
count = 24
material = "plastic"
freezes = true

[[session]]
when = "Sunday before 1:00pm-6:00pm"
cooks = ["Ada", "Ben"]
"#;

/// Names of eaters, the first of whom cook.
const NAMES: [&str; 6] = ["Ada", "Ben", "Cleo", "Dov", "Eli", "Fay"];
/// Foods that somebody may dislike.
const DISLIKES: [&str; 6] = [
    "mushroom",
    "olive-black",
    "aubergine",
    "beetroot",
    "chilli-red",
    "cauliflower",
];
const PRIORITIES: [&str; 3] = ["cheaper", "quicker", "less-waste"];

/// Numbers from a seed (`splitmix64`, Steele, Lea and Flood 2014).
struct Draw(u64);

impl Draw {
    fn below(&mut self, bound: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        let wide = u128::from(z ^ (z >> 31)) * bound as u128;
        usize::try_from(wide >> 64).expect("below a bound")
    }
}

/// The household file of an instance, written into a folder.
///
/// # Errors
/// When it cannot be written.
pub(super) fn file(size: &str, seed: u64, folder: &Path) -> Result<PathBuf, String> {
    if size == "demo" {
        return Ok(root().join("crates/records/data/demo-household.toml"));
    }
    let path = folder.join(format!("{size}-{seed}.toml"));
    std::fs::write(&path, household(size, seed)).map_err(|fault| format!("{}: {fault}", path.display()))?;
    Ok(path)
}

fn household(size: &str, seed: u64) -> String {
    let mut draw = Draw(seed.wrapping_mul(1000) + 17);
    let eaters = if size == "tiny" { 2 } else { 6 };
    let mut text = format!("name = \"Household {size} {seed} (made up)\"\n{KITCHEN}");
    for name in NAMES.iter().take(eaters) {
        let appetite = ["small", "usual", "usual", "big"][draw.below(4)];
        line(
            &mut text,
            &format!("\n[[eater]]\nname = \"{name}\"\nappetite = \"{appetite}\""),
        );
        match draw.below(6) {
            0 => text.push_str("diet = \"vegetarian\"\n"),
            1 => line(
                &mut text,
                &format!("dislikes = [\"{}\"]", DISLIKES[draw.below(DISLIKES.len())]),
            ),
            _ => {}
        }
    }
    let mut sitting = |meal: &str, days: &str, at: &str, minutes: i64| {
        line(
            &mut text,
            &format!(
                "\n[[sitting]]\nmeal = \"{meal}\"\ndays = {days}\nat = \"{at}\"\nminutes = {minutes}\nwho = [\"all\"]"
            ),
        );
    };
    if size == "tiny" {
        sitting("dinner", "\"mon-fri\"", "6:30 pm", 30);
    } else {
        sitting("breakfast", "\"mon-sun\"", "7:30 am", 15);
        sitting("lunch", "\"mon-sun\"", "12:30 pm", 20);
        sitting("dinner", "\"mon-sun\"", "6:30 pm", 35);
    }
    if size == "week" {
        text.push_str("\n[[session]]\nwhen = \"Wednesday 6:30pm-9:00pm\"\ncooks = [\"Ben\"]\n");
    }
    let mut priorities = PRIORITIES.to_vec();
    let first = priorities.remove(draw.below(3));
    let second = priorities.remove(draw.below(2));
    let components = if size == "tiny" { 7 } else { 11 + draw.below(3) };
    line(
        &mut text,
        &format!(
            "\n[wishes]\ncomponents_max = {components}\npriorities = [\"{first}\", \"{second}\", \"{}\"]",
            priorities[0]
        ),
    );
    text
}

fn line(text: &mut String, line: &str) {
    writeln!(text, "{line}").expect("a string takes any text");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seed_makes_one_household_and_another_seed_another() {
        assert_eq!(household("week", 3), household("week", 3));
        assert_ne!(household("week", 3), household("week", 4));
        assert!(household("tiny", 0).matches("[[eater]]").count() == 2);
    }
}
