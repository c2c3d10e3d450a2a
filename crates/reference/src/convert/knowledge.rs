//! Choosing the fact of the table that answers: the measure, the density, the piece or the pack.

use larderwright_model::Region;
use larderwright_quantity::{Mass, Rounding, Unit};

use super::allowance::{self, Allowance};
use super::measure::{self, Counted, Poured, counted, decimal, measure_unit, poured};
use super::missing::Missing;
use super::rate::Rate;
use super::{Basis, Container, Piece, Spread, Step};
use crate::food::{FoodRow, Pack};
use crate::search::words;

/// Milligrams of edible portion per small unit, with what they rest on.
pub(super) struct Rates {
    pub(super) spread: Spread<Rate>,
    pub(super) steps: Vec<Step>,
    pub(super) notes: Vec<String>,
}

/// What is left of a weight as purchased.
pub(super) fn trim_rates(food: &FoodRow) -> Rates {
    let rate = Rate::new(food.edible.permille.into(), 1000);
    let rate = rate.expect("every food of the table has an edible portion");
    let (allowance, step) = trim(food);
    Rates {
        spread: allowance.about(rate, &[]),
        steps: vec![step],
        notes: allowance.note().into_iter().collect(),
    }
}

fn trim(food: &FoodRow) -> (Allowance, Step) {
    let is_drained = is_drained(food);
    let fact = format!("{} % is left", percent(food.edible.permille));
    let step = Step {
        basis: if is_drained {
            Basis::DrainedWeight
        } else {
            Basis::EdiblePortion
        },
        fact: if is_drained {
            format!("{fact} when drained")
        } else {
            format!("{fact} after trimming")
        },
        source: food.edible.source.to_owned(),
    };
    (
        if is_drained {
            allowance::DRAINED
        } else {
            allowance::PRINTED
        },
        step,
    )
}

fn is_drained(food: &FoodRow) -> bool {
    food.edible.permille < 1000 && (food.edible.source.contains("drained") || food.state == "canned")
}

fn percent(permille: i64) -> String {
    decimal(permille * 100)
}

/// Milligrams per microlitre.
pub(super) fn volume_rates(food: &'static FoodRow, unit: Unit, forms: &[String]) -> Result<Rates, Missing> {
    let all = poured(food);
    let fits = |poured: &Poured| forms.iter().all(|form| poured.forms.contains(form));
    let cut_known = forms.is_empty() || all.iter().any(fits);
    let fitting: Vec<&Poured> = all.iter().filter(|poured| !cut_known || fits(poured)).collect();
    let same: Vec<&Poured> = fitting
        .iter()
        .copied()
        .filter(|poured| poured.unit == measure_unit(unit))
        .collect();
    let density = food
        .density
        .map(|density| (density, Rate::new(density.g_per_l.into(), 1000)));
    let density = density.and_then(|(density, rate)| Some((density, rate?)));
    let nearest = |from: &[&Poured]| match density {
        Some((_, rate)) => from
            .iter()
            .min_by_key(|poured| poured.rate.apart(rate))
            .map(|found| (*found).clone()),
        None => from.first().map(|found| (*found).clone()),
    };
    let mut notes = Vec::new();
    if !cut_known {
        notes.push(format!(
            "The source has no measure of it {}; another one stands in.",
            forms.join(" ")
        ));
    }
    let others = |from: &[&Poured]| from.iter().map(|poured| poured.rate).collect::<Vec<_>>();
    let (allowance, rate, step, range) = if let Some(found) = nearest(&same) {
        (
            allowance::MEASURE,
            found.rate,
            measured(food, Basis::Measure, &found),
            others(&same),
        )
    } else if let Some(found) = nearest(&fitting).filter(|_| !forms.is_empty() && cut_known) {
        (
            allowance::DENSITY,
            found.rate,
            measured(food, Basis::Density, &found),
            others(&fitting),
        )
    } else if let Some((density, rate)) = density {
        let step = Step {
            basis: Basis::Density,
            fact: format!("1 l = {} g", density.g_per_l),
            source: density.source.to_owned(),
        };
        (allowance::DENSITY, rate, step, others(&fitting))
    } else {
        return Err(Missing::Density { food: food.name });
    };
    if range.len() > 1 {
        notes.push(
            "How it is cut or filled is not said, so the range spans the measures of the source.".to_owned(),
        );
    }
    notes.extend(allowance.note());
    Ok(Rates {
        spread: allowance.about(rate, &range),
        steps: vec![step],
        notes,
    })
}

fn measured(food: &FoodRow, basis: Basis, found: &Poured) -> Step {
    Step {
        basis,
        fact: measure::fact(&found.measure),
        source: measure::source(food),
    }
}

/// Milligrams per thousandth of a piece.
pub(super) fn piece_rates(food: &'static FoodRow, wanted: &Piece) -> Result<Rates, Missing> {
    let all = counted(food);
    let same: Vec<&Counted> = all
        .iter()
        .filter(|counted| counted.piece.noun == wanted.noun)
        .collect();
    let sized = |size: Option<&str>| {
        same.iter()
            .find(|counted| counted.piece.size.as_deref() == size)
            .copied()
    };
    if let Some(size) = wanted.size.as_deref() {
        let found = sized(Some(size)).or_else(|| sized(Some("large")).filter(|_| size == "big"));
        let found = found.ok_or_else(|| no_piece(food, wanted, &all))?;
        return Ok(counted_rates(food, found, &allowance::SIZED, &[]));
    }
    let usual: Vec<Rate> = same
        .iter()
        .filter(|counted| {
            matches!(
                counted.piece.size.as_deref(),
                None | Some("small" | "medium" | "large")
            )
        })
        .map(|counted| counted.rate)
        .collect();
    let allowance = if usual.len() > 1 || wanted.noun.is_some() {
        allowance::SIZED
    } else {
        allowance::UNSIZED
    };
    if let Some(rates) = unit_rates(food, wanted, &usual, &allowance) {
        return Ok(rates);
    }
    let found = sized(None).or_else(|| sized(Some("medium")));
    // One measure of a part is that part; of the whole it might be any odd piece.
    let found = found.or_else(|| same.first().copied().filter(|_| same.len() == 1));
    match found {
        Some(found) => Ok(counted_rates(food, found, &allowance, &usual)),
        None if wanted.noun.is_none() && !pieces_known(food, &all).is_empty() => Err(Missing::Noun {
            food: food.name,
            known: pieces_known(food, &all),
        }),
        None => Err(no_piece(food, wanted, &all)),
    }
}

/// Whether the table weighs such a part of the food.
pub(super) fn piece_is_known(food: &'static FoodRow, wanted: &Piece) -> bool {
    piece_rates(food, wanted).is_ok()
}

/// By the unit the food is counted in, when that is what was said.
fn unit_rates(food: &FoodRow, wanted: &Piece, usual: &[Rate], allowance: &Allowance) -> Option<Rates> {
    let unit = food.unit?;
    let own = measure::own_nouns(food);
    let noun: Vec<String> = words(unit.singular)
        .into_iter()
        .filter(|word| !own.contains(word))
        .collect();
    let is_it = match (&wanted.noun, noun.as_slice()) {
        (None, []) => true,
        (Some(wanted), [noun]) => wanted == noun,
        _ => false,
    };
    if !is_it {
        return None;
    }
    let rate = Rate::new(i128::from(unit.mg) * i128::from(food.edible.permille), 1_000_000)?;
    // The table keeps whole milligrams as purchased; the measure it was worked out from is exact.
    let published = usual
        .iter()
        .copied()
        .find(|published| published.apart(rate) < 1_000);
    let rate = published.unwrap_or(rate);
    let mut notes = piece_notes(usual, allowance);
    if let [other] = usual
        && *other != rate
    {
        let grams = decimal(other.mass_of(1000, Rounding::Nearest).mg());
        notes.insert(
            0,
            format!("The source weighs one at {grams} g of edible portion; the range spans both."),
        );
    }
    let mut steps = vec![Step {
        basis: Basis::Count,
        fact: format!("1 {} = {} g as purchased", unit.singular, decimal(unit.mg)),
        source: unit.source.to_owned(),
    }];
    if food.edible.permille < 1000 {
        steps.push(trim(food).1);
    }
    Some(Rates {
        spread: allowance.about(rate, usual),
        steps,
        notes,
    })
}

fn counted_rates(food: &FoodRow, found: &Counted, allowance: &Allowance, usual: &[Rate]) -> Rates {
    Rates {
        spread: allowance.about(found.rate, usual),
        steps: vec![Step {
            basis: Basis::Count,
            fact: measure::fact(&found.measure),
            source: measure::source(food),
        }],
        notes: piece_notes(usual, allowance),
    }
}

fn piece_notes(usual: &[Rate], allowance: &Allowance) -> Vec<String> {
    let range = (usual.len() > 1)
        .then(|| "The size is not said, so the range spans the sizes of the source.".to_owned());
    range.into_iter().chain(allowance.note()).collect()
}

fn no_piece(food: &FoodRow, wanted: &Piece, all: &[Counted]) -> Missing {
    let said = [wanted.size.as_deref(), wanted.noun.as_deref()];
    let said: Vec<&str> = said.into_iter().flatten().collect();
    Missing::Piece {
        food: food.name,
        piece: if said.is_empty() {
            "piece".to_owned()
        } else {
            said.join(" ")
        },
        known: pieces_known(food, all),
    }
}

fn pieces_known(food: &FoodRow, all: &[Counted]) -> Vec<String> {
    let unit = food
        .unit
        .map(|unit| format!("1 {} = {} g as purchased", unit.singular, decimal(unit.mg)));
    let measures = all.iter().map(|counted| measure::fact(&counted.measure));
    unit.into_iter().chain(measures).collect()
}

/// Milligrams of edible portion per thousandth of a pack.
pub(super) fn pack_rates(
    food: &'static FoodRow,
    wanted: &Container,
    region: Region,
) -> Result<Rates, Missing> {
    let (allowance, trimmed) = trim(food);
    let eaten = |mass: Mass| {
        Rate::new(
            i128::from(mass.mg()) * i128::from(food.edible.permille),
            1_000_000,
        )
    };
    let mut steps = Vec::new();
    let fitting: Vec<&Pack> = food
        .packs
        .iter()
        .filter(|pack| is_container(pack, &wanted.word))
        .collect();
    let here: Vec<&Pack> = fitting
        .iter()
        .copied()
        .filter(|pack| pack.regions.contains(&region))
        .collect();
    let packs = if here.is_empty() { fitting } else { here };
    let (rate, range) = if let Some(net) = wanted.net {
        steps.push(Step {
            basis: Basis::Pack,
            fact: format!("1 {} = {} g", wanted.word, decimal(net.mg())),
            source: "as it was said".to_owned(),
        });
        (eaten(net), Vec::new())
    } else if let Some(pack) = packs.first() {
        steps.push(Step {
            basis: Basis::Pack,
            fact: format!("{} = {} g", pack.label, decimal(pack.mg)),
            source: "usual pack size, common practice, no source".to_owned(),
        });
        let range = packs.iter().filter_map(|pack| eaten(Mass::from_mg(pack.mg)));
        (eaten(Mass::from_mg(pack.mg)), range.collect())
    } else {
        return no_pack(food, wanted);
    };
    let rate = rate.ok_or_else(|| missing_pack(food, wanted))?;
    let mut notes: Vec<String> = Vec::new();
    if range.len() > 1 {
        notes.push(
            "It is sold in several sizes; the smallest is likely, and the range spans them.".to_owned(),
        );
    }
    if food.edible.permille < 1000 {
        notes.extend(allowance.note());
        // Draining is what the answer hangs on, so it is named first.
        steps.insert(usize::from(trimmed.basis != Basis::DrainedWeight), trimmed);
    }
    Ok(Rates {
        spread: allowance.about(rate, &range),
        steps,
        notes,
    })
}

/// A can, jar or loaf the source weighed stands in when no pack of that kind is known.
fn no_pack(food: &'static FoodRow, wanted: &Container) -> Result<Rates, Missing> {
    let noun = Some(wanted.word.clone());
    let piece = Piece { size: None, noun };
    piece_rates(food, &piece).map_err(|_| missing_pack(food, wanted))
}

fn missing_pack(food: &FoodRow, wanted: &Container) -> Missing {
    let mut known: Vec<String> = food.packs.iter().map(|pack| pack.label.to_owned()).collect();
    known.dedup();
    Missing::Pack {
        food: food.name,
        container: wanted.word.clone(),
        known,
    }
}

/// Whether a pack is of this kind; a packet, a package and a pack are one.
fn is_container(pack: &Pack, word: &str) -> bool {
    words(pack.label)
        .last()
        .is_some_and(|last| container_word(last) == word)
}

/// The word for a kind of pack as it is compared.
pub(super) fn container_word(word: &str) -> &str {
    match word {
        "tin" => "can",
        "packet" | "package" => "pack",
        other => other,
    }
}
