//! The command that looks a food up, and shows it with the source of every figure.

use std::fmt::Debug;

use clap::Args;
use larderwright_model::{Allergen, Presence, Profile};
use larderwright_reference::convert::resolve;
use larderwright_reference::diet::{DietFlag, flag, observance_cautions};
use larderwright_reference::food::{FoodRow, Pack, food};
use larderwright_reference::keeping::{KeepingLookup, NO_FIGURE};
use larderwright_reference::search::{Found, find};
use larderwright_reference::{Nutrient, NutrientUnit};
use serde_json::{Value, json};

use crate::args::Format;
use crate::convert::number;
use crate::failure::Failure;

/// Which food to show.
#[derive(Debug, Args)]
pub(crate) struct FoodArgs {
    /// A name, British or American, or an identifier; slips of the pen are forgiven.
    #[arg(required = true)]
    pub(crate) name: Vec<String>,
    /// List what fits, even when one food fits best.
    #[arg(long)]
    pub(crate) list: bool,
    /// How many to list.
    #[arg(long, default_value_t = 12, value_parser = clap::value_parser!(u8).range(1..=200))]
    pub(crate) limit: u8,
}

/// Shows the food, or lists those that may be meant.
///
/// # Errors
/// When none has a name like it.
pub(crate) fn run(args: &FoodArgs, format: Format) -> Result<String, Failure> {
    let name = args.name.join(" ");
    if !args.list
        && let Ok(resolved) = resolve(&name, false)
    {
        return Ok(match format {
            Format::Text => text(resolved.food),
            Format::Json => format!("{:#}\n", to_json(resolved.food)),
        });
    }
    let found = find(&name, args.limit.into());
    if found.is_empty() {
        let message = format!("there is no food like `{name}`");
        return Err(Failure::Negative {
            help: "Use another name for it, or fewer words.".to_owned(),
            value: json!({ "status": "none", "matches": [], "message": message }),
            message,
        });
    }
    Ok(match format {
        Format::Text => list_text(&name, &found),
        Format::Json => {
            let matches: Vec<Value> = found.iter().map(match_json).collect();
            format!("{:#}\n", json!({ "status": "several", "matches": matches }))
        }
    })
}

fn match_json(found: &Found) -> Value {
    json!({
        "id": found.food.id,
        "name": found.food.name,
        "name_us": us_name(found.food),
        "matched": found.name,
        "fit": found.fit.word(),
    })
}

fn list_text(name: &str, found: &[Found]) -> String {
    let widest = found.iter().map(|found| found.food.id.len()).max().unwrap_or(0);
    let lines = found.iter().map(|found| {
        let id = found.food.id;
        format!("  {id:widest$}  {}\n", names(found.food))
    });
    format!(
        "foods like `{name}`; name one by its identifier\n{}",
        lines.collect::<String>()
    )
}

fn us_name(row: &FoodRow) -> &'static str {
    if row.name_us.is_empty() {
        row.name
    } else {
        row.name_us
    }
}

fn names(row: &FoodRow) -> String {
    match row.name_us {
        "" => row.name.to_owned(),
        us => format!("{} (US: {us})", row.name),
    }
}

/// `OilsSauces` as `oils sauces`, `VitaminB6` as `vitamin B6`.
fn word(variant: impl Debug) -> String {
    let mut parts: Vec<String> = Vec::new();
    for letter in format!("{variant:?}").chars() {
        match parts.last_mut() {
            Some(part) if !letter.is_uppercase() => part.push(letter),
            _ => parts.push(letter.to_string()),
        }
    }
    let is_name = |part: &String| part.chars().skip(1).all(|letter| letter.is_ascii_digit());
    let small = parts.iter().map(|part| {
        if is_name(part) {
            part.clone()
        } else {
            part.to_lowercase()
        }
    });
    small.collect::<Vec<_>>().join(" ")
}

fn unit(nutrient: Nutrient) -> &'static str {
    match nutrient.unit() {
        NutrientUnit::Kilocalorie => "kcal",
        NutrientUnit::Gram => "g",
        NutrientUnit::Milligram => "mg",
        NutrientUnit::Microgram => "µg",
    }
}

fn with_presence(row: &FoodRow, wanted: Presence) -> Vec<&'static str> {
    let marks = row.allergens.unwrap_or(&[]).iter();
    marks
        .filter(|mark| mark.1 == wanted)
        .map(|mark| mark.0.word())
        .collect()
}

fn to_json(row: &FoodRow) -> Value {
    let figures = Nutrient::ALL.map(|nutrient| {
        json!({
            "name": word(nutrient),
            "unit": unit(nutrient),
            "amount": row.nutrient(nutrient).map(|figure| number(figure.into(), 3)),
        })
    });
    let measures = row.measures.iter().map(|measure| {
        json!({
            "amount": number(measure.amount_thousandths, 3),
            "measure": measure.text,
            "grams": number(measure.mg, 3),
        })
    });
    json!({
        "status": "done",
        "id": row.id,
        "name": row.name,
        "name_us": us_name(row),
        "synonyms": row.synonyms,
        "department": word(row.department),
        "kinds": row.kinds.iter().map(word).collect::<Vec<_>>(),
        "allergens": allergens_json(row),
        "diet": DietFlag::ALL.into_iter().map(|wanted| (wanted.word().to_owned(), flag(row, wanted).word().into())).collect::<serde_json::Map<_, _>>(),
        "cautions": observance_cautions(row),
        "nutrients": { "per": "100 g of edible portion", "source": row.source, "figures": figures.to_vec() },
        "measures": { "of": "edible portion", "source": row.source, "figures": measures.collect::<Vec<_>>() },
        "density": row.density.map(|density| json!({ "grams_per_litre": density.g_per_l, "source": density.source })),
        "edible": { "percent": number(row.edible.permille, 1), "source": row.edible.source },
        "count": row.unit.map(|unit| json!({ "singular": unit.singular, "plural": unit.plural, "grams_as_purchased": number(unit.mg, 3), "source": unit.source })),
        "packs": row.packs.iter().map(pack_json).collect::<Vec<_>>(),
        "storage": word(row.storage),
        "keeping": row.keeping.iter().map(|keeping| {
            let days = |range: Option<(u16, u16)>| range.map(|(low, high)| [low, high]);
            json!({
                "profiles": keeping.profiles.iter().map(|profile| profile.word()).collect::<Vec<_>>(),
                "fridge_days": days(keeping.fridge_days),
                "freezer_days": days(keeping.freezer_days),
                "cupboard_days": days(keeping.cupboard_days),
                "opened_days": days(keeping.opened_days),
                "basis": keeping.basis.word(),
                "note": keeping.note,
                "source": keeping.source,
            })
        }).collect::<Vec<_>>(),
        "states": row.other_states().map(|other| json!({ "id": other.id, "name": other.name, "state": other.state })).collect::<Vec<_>>(),
        "substitutes": row.substitutes.iter().map(|other| json!({
            "id": other.food,
            "grams_per_1000_g": other.permille,
            "note": other.note,
            "source": other.source,
        })).collect::<Vec<_>>(),
        "source": row.source,
    })
}

fn allergens_json(row: &FoodRow) -> Value {
    json!({
        "known": row.allergens.is_some(),
        "contains": row.allergens.map(|_| with_presence(row, Presence::Contains)),
        "may_contain": row.allergens.map(|_| with_presence(row, Presence::MayContain)),
        "not_known": if row.allergens.is_some() { Vec::new() } else { Allergen::ALL.map(Allergen::word).to_vec() },
        "read_label": row.read_label,
        "source": "our reading of the usual composition; the label decides",
    })
}

fn pack_json(pack: &Pack) -> Value {
    json!({
        "label": pack.label,
        "regions": pack.regions.iter().map(word).collect::<Vec<_>>(),
        "grams_as_purchased": number(pack.mg, 3),
        "usd": number(pack.usd_minor, 2),
        "price_basis": if pack.price_source.is_empty() { "invented estimate" } else { "published average" },
        "price_source": pack.price_source,
        "size_source": "common practice, no source",
    })
}

fn text(row: &FoodRow) -> String {
    let mut lines = vec![format!("{} [{}]", names(row), row.id)];
    if !row.synonyms.is_empty() {
        lines.push(format!("also: {}", row.synonyms.join(", ")));
    }
    lines.push(format!(
        "department: {}; kept: {}",
        word(row.department),
        word(row.storage)
    ));
    lines.extend(allergen_lines(row));
    let flags = DietFlag::ALL.map(|wanted| format!("{}: {}", wanted.word(), flag(row, wanted).word()));
    lines.push(format!("diet: {}", flags.join("; ")));
    lines.extend(
        observance_cautions(row)
            .iter()
            .map(|caution| format!("caution: {caution}")),
    );
    lines.extend(amount_lines(row));
    lines.extend(pack_lines(row));
    lines.extend(keeping_lines(row));
    for other in row.substitutes {
        let name = food(other.food).map_or(other.food, |row| row.name);
        let note = if other.note.is_empty() {
            String::new()
        } else {
            format!("; {}", other.note)
        };
        lines.push(format!(
            "instead of 1000 g: {} g of {name}{note} [{}]",
            other.permille, other.source
        ));
    }
    lines.push(format!("per 100 g of edible portion [{}]", source(row.source)));
    lines.extend(Nutrient::ALL.map(|nutrient| {
        let figure = row
            .nutrient(nutrient)
            .map(|figure| number(figure.into(), 3).to_string());
        let figure = figure.map_or_else(
            || "not known".to_owned(),
            |figure| format!("{figure} {}", unit(nutrient)),
        );
        format!("  {:16} {figure}", word(nutrient))
    }));
    lines.push(String::new());
    lines.join("\n")
}

fn source(text: &str) -> &str {
    if text.is_empty() { "no source" } else { text }
}

fn allergen_lines(row: &FoodRow) -> Vec<String> {
    let list = |presence: Presence| match with_presence(row, presence).join(", ") {
        none if none.is_empty() => "none of those the law names".to_owned(),
        some => some,
    };
    let mut lines = if row.allergens.is_some() {
        vec![
            format!("contains: {}", list(Presence::Contains)),
            format!("may contain: {}", list(Presence::MayContain)),
        ]
    } else {
        vec!["allergens: not known; nobody has told, so it counts as not cleared".to_owned()]
    };
    if row.read_label {
        lines.push("labels differ by brand: someone with an allergy has to read each one".to_owned());
    }
    lines
}

fn amount_lines(row: &FoodRow) -> Vec<String> {
    let percent = number(row.edible.permille, 1);
    let mut lines = vec![format!(
        "eaten: {percent} % of what is bought [{}]",
        row.edible.source
    )];
    if let Some(unit) = row.unit {
        let grams = number(unit.mg, 3);
        lines.push(format!(
            "1 {}: {grams} g as purchased [{}]",
            unit.singular, unit.source
        ));
    }
    lines.push(match row.density {
        Some(density) => format!("1 l: {} g [{}]", density.g_per_l, density.source),
        None => "1 l: not known".to_owned(),
    });
    for measure in row.measures {
        let (amount, grams) = (number(measure.amount_thousandths, 3), number(measure.mg, 3));
        lines.push(format!(
            "{amount} {}: {grams} g of edible portion [{}]",
            measure.text,
            source(row.source)
        ));
    }
    lines
}

fn pack_lines(row: &FoodRow) -> Vec<String> {
    let line = |pack: &Pack| {
        let regions: Vec<String> = pack
            .regions
            .iter()
            .map(|region| format!("{region:?}").to_uppercase())
            .collect();
        let (dollars, cents) = (pack.usd_minor / 100, pack.usd_minor % 100);
        let basis = match pack.price_source {
            "" => "invented estimate",
            source => source,
        };
        format!(
            "pack, {}: {}, USD {dollars}.{cents:02} [size: common practice, no source; price: {basis}]",
            regions.join(" "),
            pack.label
        )
    };
    row.packs.iter().map(line).collect()
}

fn keeping_lines(row: &FoodRow) -> Vec<String> {
    let mut lines = Vec::new();
    for keeping in row.keeping {
        let profiles: Vec<&str> = keeping.profiles.iter().map(|profile| profile.word()).collect();
        for (place, days) in [
            ("fridge", keeping.fridge_days),
            ("freezer", keeping.freezer_days),
            ("cupboard", keeping.cupboard_days),
            ("opened, in the fridge", keeping.opened_days),
        ] {
            if let Some((low, high)) = days {
                let span = match high {
                    1 => "1 day".to_owned(),
                    _ if low == high => format!("{high} days"),
                    _ => format!("{low} to {high} days"),
                };
                lines.push(format!(
                    "keeps, {place}, {}: {span} ({}) [{}]",
                    profiles.join(" "),
                    keeping.note,
                    keeping.source
                ));
            }
        }
    }
    let silent: Vec<&str> = Profile::ALL
        .into_iter()
        .filter(|profile| matches!(row.keeping_under(*profile), KeepingLookup::NoFigure { .. }))
        .map(Profile::word)
        .collect();
    if !silent.is_empty() {
        lines.push(format!("keeps, {}: {NO_FIGURE}", silent.join(" ")));
    }
    lines.push("where local food-safety authorities say less, theirs holds".to_owned());
    let states: Vec<&str> = row.other_states().map(|other| other.id).collect();
    if !states.is_empty() {
        lines.push(format!("other states: {}", states.join(", ")));
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(name: &str, list: bool) -> Result<Value, Failure> {
        let args = FoodArgs {
            name: vec![name.to_owned()],
            list,
            limit: 5,
        };
        assert_eq!(run(&args, Format::Text).is_ok(), run(&args, Format::Json).is_ok());
        run(&args, Format::Json).map(|text| serde_json::from_str(&text).expect("the answer is JSON"))
    }

    #[test]
    fn one_food_is_shown_by_any_of_its_names() {
        for name in ["zucchini", "Courgettes", "courgette", "zuchini"] {
            assert_eq!(check(name, false).expect(name)["id"], "courgette");
        }
    }

    #[test]
    fn several_foods_are_listed() {
        let value = check("chickpeas", false).expect("chickpeas are in the table");
        assert_eq!(value["status"], "several");
        assert_eq!(value["matches"].as_array().map(Vec::len), Some(5));
        assert_eq!(check("onion", true).expect("onions")["status"], "several");
    }

    #[test]
    fn nothing_like_it_is_a_negative_answer() {
        for name in ["xylophone", "qqqq", "12345"] {
            assert_eq!(check(name, false).expect_err(name).exit_code(), 1.into());
        }
    }

    #[test]
    fn every_figure_of_every_food_is_shown_with_a_source() {
        for row in larderwright_reference::all() {
            for line in text(row)
                .lines()
                .filter(|line| line.contains(" g ") && !line.starts_with("  "))
            {
                assert!(line.contains('[') && !line.contains("[]"), "{}: {line}", row.id);
            }
        }
    }

    #[test]
    fn unknown_allergens_are_told_as_unknown() {
        let unknown = larderwright_reference::all()
            .iter()
            .find(|row| row.allergens.is_none());
        if let Some(row) = unknown {
            assert!(text(row).contains("allergens: not known"), "{}", row.id);
            assert_eq!(to_json(row)["allergens"]["contains"], Value::Null);
        }
        let feta = food("feta").expect("feta is in the table");
        assert!(text(feta).contains("contains: milk"));
    }

    #[test]
    fn names_of_variants_read_as_words() {
        assert_eq!(word(Nutrient::VitaminB6), "vitamin B6");
        assert_eq!(word(larderwright_model::Department::OilsSauces), "oils sauces");
    }
}
