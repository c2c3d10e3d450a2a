//! Pack sizes as written: `us:15 oz can; uk+eu:400 g can; uk+eu:6 carton; uk:each; us+uk+eu:loose`.

use super::decimal::{parse_scaled, scale_nearest};

/// Units a pack can be labelled in: micrograms in one. An ounce is a sixteenth of a pound of 453.59237 g.
const MASSES: [(&str, i64); 4] = [
    ("g", 1_000_000),
    ("kg", 1_000_000_000),
    ("oz", 28_349_523),
    ("lb", 453_592_370),
];
/// Microlitres in one.
const VOLUMES: [(&str, i64); 8] = [
    ("ml", 1_000),
    ("cl", 10_000),
    ("l", 1_000_000),
    ("fl-oz", 29_574),
    ("pt", 473_176),
    ("qt", 946_353),
    ("gal", 3_785_412),
    ("uk-pt", 568_261),
];

/// One pack: what the shopper reads, where it is sold, what it weighs as purchased.
pub(super) struct Pack {
    pub(super) label: String,
    pub(super) regions: Vec<&'static str>,
    pub(super) mg: i64,
}

/// The weights that turn counts and volumes into mass.
pub(super) struct Sizes {
    pub(super) unit_mg: Option<i64>,
    pub(super) g_per_l: Option<i64>,
    pub(super) singular: String,
    pub(super) plural: String,
}

/// Reads a packs cell, smallest pack first.
pub(super) fn parse(cell: &str, sizes: &Sizes) -> Result<Vec<Pack>, String> {
    let mut packs = cell
        .split(';')
        .map(str::trim)
        .filter(|part| !part.is_empty())
        .map(|part| pack(part, sizes))
        .collect::<Result<Vec<Pack>, String>>()?;
    packs.sort_by(|a, b| (a.mg, &a.label).cmp(&(b.mg, &b.label)));
    Ok(packs)
}

fn pack(part: &str, sizes: &Sizes) -> Result<Pack, String> {
    let (regions, size) = part
        .split_once(':')
        .ok_or_else(|| format!("`{part}` does not say where it is sold"))?;
    let regions = regions
        .split('+')
        .map(|word| match word {
            "us" => Ok("Us"),
            "uk" => Ok("Uk"),
            "eu" => Ok("Eu"),
            other => Err(format!("`{other}` is not a region")),
        })
        .collect::<Result<Vec<_>, _>>()?;
    let (label, mg) = size_mg(size.trim(), sizes)?;
    Ok(Pack { label, regions, mg })
}

fn size_mg(size: &str, sizes: &Sizes) -> Result<(String, i64), String> {
    let unit_mg = || {
        sizes
            .unit_mg
            .ok_or_else(|| format!("`{size}` needs a counted unit, which the food does not have"))
    };
    match size {
        "each" => return Ok(("each".to_owned(), unit_mg()?)),
        "loose" => return Ok(("loose, per 100 g".to_owned(), 100_000)),
        _ => {}
    }
    let mut words = size.split(' ');
    let (amount, second) = (words.next().unwrap_or(""), words.next().unwrap_or(""));
    let amount = parse_scaled(amount, 3).ok_or_else(|| format!("`{size}` does not begin with a number"))?;
    let found = |table: &[(&str, i64)], den: i64| {
        table
            .iter()
            .find(|(unit, _)| *unit == second)
            .map(|(_, in_one)| scale_nearest(amount, *in_one, den))
    };
    let label = size.replace("fl-oz", "fl oz").replace("uk-pt", "pt");
    if let Some(mg) = found(&MASSES, 1_000_000) {
        return Ok((label, mg));
    }
    if let Some(ul) = found(&VOLUMES, 1000) {
        let g_per_l = sizes
            .g_per_l
            .ok_or_else(|| format!("`{size}` needs a measure, which the food does not have"))?;
        return Ok((label, scale_nearest(ul, g_per_l, 1000)));
    }
    let word = if amount == 1000 {
        &sizes.singular
    } else {
        &sizes.plural
    };
    let label = size.replacen(' ', &format!(" {word}, "), 1);
    Ok((label, scale_nearest(amount, unit_mg()?, 1000)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(cell: &str) -> Vec<(String, i64)> {
        let sizes = Sizes {
            unit_mg: Some(57_000),
            g_per_l: Some(1030),
            singular: "egg".to_owned(),
            plural: "eggs".to_owned(),
        };
        parse(cell, &sizes)
            .expect("the packs are readable")
            .into_iter()
            .map(|pack| (pack.label, pack.mg))
            .collect()
    }

    #[test]
    fn packs_are_read_by_mass_by_volume_and_by_count() {
        assert_eq!(check("us:15 oz can"), [("15 oz can".to_owned(), 425_243)]);
        assert_eq!(check("uk:2 l bottle"), [("2 l bottle".to_owned(), 2_060_000)]);
        assert_eq!(check("uk:6 box"), [("6 eggs, box".to_owned(), 342_000)]);
    }

    #[test]
    fn the_smallest_pack_comes_first() {
        assert_eq!(
            check("us:12 carton; uk:each"),
            [
                ("each".to_owned(), 57_000),
                ("12 eggs, carton".to_owned(), 684_000)
            ]
        );
    }

    #[test]
    fn a_pack_without_a_place_or_a_size_is_refused() {
        let none = Sizes {
            unit_mg: None,
            g_per_l: None,
            singular: String::new(),
            plural: String::new(),
        };
        for cell in [
            "400 g can",
            "mars:1 kg bag",
            "uk:each",
            "uk:1 l bottle",
            "uk:big bag",
        ] {
            assert!(parse(cell, &none).is_err(), "{cell}");
        }
    }
}
