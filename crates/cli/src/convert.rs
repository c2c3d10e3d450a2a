//! The command that converts amounts, and its answer as text and for programs.

use clap::Args;
use larderwright_quantity::{Amount, Mass, Rounding, System, Unit, Volume, mul_div};
use larderwright_reference::convert::{
    Context, Conversion, Missing, Piece, ReadError, Request, Spread, Target, convert, read_said, read_target,
    request,
};
use serde_json::{Value, json};

use crate::args::{Format, RegionArg, SystemArg};
use crate::failure::Failure;

/// What to convert.
#[derive(Debug, Args)]
pub(crate) struct ConvertArgs {
    /// An amount of a food: `2 cups chickpeas, dry`, `1 medium onion`, `1 can chickpeas`, `1 lb carrots, untrimmed`.
    pub(crate) amount: String,
    /// A unit (g, oz, cup, `cup, chopped`) or what is counted (cloves, large, cans).
    #[arg(long, value_name = "UNIT")]
    pub(crate) to: String,
    /// What you know better, for the edible portion: `1 cup = 120 g`, `1 large = 60 g`, `1 can = 240 g`.
    #[arg(long, value_name = "FIGURE")]
    pub(crate) given: Option<String>,
    /// Whose packs are meant.
    #[arg(long, value_enum, default_value_t = RegionArg::Us)]
    pub(crate) region: RegionArg,
    /// Whose spoons and cups are meant.
    #[arg(long, value_enum, default_value_t = SystemArg::Us)]
    pub(crate) system: SystemArg,
}

/// Converts and tells what the answer rests on.
///
/// # Errors
/// When a text cannot be read, or a fact is missing.
pub(crate) fn run(args: &ConvertArgs, format: Format) -> Result<String, Failure> {
    let system = System::from(args.system);
    let asked = request(&args.amount, system).map_err(|error| unread(&error))?;
    let target = read_target(&args.to, asked.food, system).map_err(|error| unread(&error))?;
    let said = args
        .given
        .as_deref()
        .map(|text| read_said(text, asked.food, system));
    let context = Context {
        region: args.region.into(),
        said: said.transpose().map_err(|error| unread(&error))?,
    };
    let answer =
        convert(asked.food, &asked.given, &target, &context).map_err(|missing| unknown(&asked, &missing))?;
    Ok(match format {
        Format::Text => text(args, &asked, &target, &answer),
        Format::Json => format!("{:#}\n", to_json(&asked, &target, &answer)),
    })
}

fn unread(error: &ReadError) -> Failure {
    Failure::usage(error.to_string(), error.help())
}

fn unknown(asked: &Request, missing: &Missing) -> Failure {
    Failure::Negative {
        message: missing.to_string(),
        help: missing.help(),
        value: json!({
            "status": "missing",
            "missing": missing.word(),
            "food": { "id": asked.food.id, "name": asked.food.name },
            "message": missing.to_string(),
            "help": missing.help(),
        }),
    }
}

/// The word for what is counted in the answer.
fn unit_word(target: &Target) -> String {
    match target {
        Target::Mass(unit) | Target::Volume(unit, _) => unit.name().to_owned(),
        Target::Pieces(piece) => piece_word(piece),
        Target::Packs(container) => container.word.clone(),
    }
}

fn piece_word(piece: &Piece) -> String {
    let words: Vec<&str> = [piece.size.as_deref(), piece.noun.as_deref()]
        .into_iter()
        .flatten()
        .collect();
    if words.is_empty() {
        "count".to_owned()
    } else {
        words.join(" ")
    }
}

/// How many digits behind the point tell a gram apart.
fn digits(target: &Target) -> u32 {
    match target {
        Target::Mass(Unit::Kg | Unit::Lb)
        | Target::Volume(Unit::L | Unit::PintUs | Unit::QuartUs | Unit::GallonUs | Unit::PintUk, _) => 6,
        _ => 3,
    }
}

/// The amount in the unit asked for, in parts of a tenth to the power of `digits`.
fn parts(amount: Amount, target: &Target, rounding: Rounding) -> i64 {
    let scale = 10_i64.pow(digits(target));
    let size = |unit: Unit| {
        let mass = unit.to_mass(1_000_000, 1).map(Mass::mg);
        mass.or_else(|| unit.to_volume(1_000_000, 1).map(Volume::ul))
            .unwrap_or(1)
    };
    match (amount, target) {
        (Amount::Mass(mass), Target::Mass(unit)) => {
            mul_div(mass.mg(), 1_000_000 * scale, size(*unit), rounding)
        }
        (Amount::Volume(volume), Target::Volume(unit, _)) => {
            mul_div(volume.ul(), 1_000_000 * scale, size(*unit), rounding)
        }
        (Amount::Mass(_) | Amount::Volume(_) | Amount::Count(_), _) => counted(amount),
    }
}

/// Counts are thousandths already.
fn counted(amount: Amount) -> i64 {
    match amount {
        Amount::Count(count) => count,
        Amount::Mass(mass) => mass.mg(),
        Amount::Volume(volume) => volume.ul(),
    }
}

fn in_unit(answer: &Conversion, target: &Target) -> Spread<i64> {
    Spread {
        low: parts(answer.amount.low, target, Rounding::Down),
        likely: parts(answer.amount.likely, target, Rounding::Nearest),
        high: parts(answer.amount.high, target, Rounding::Up),
    }
}

/// A decimal number for programs, exact to its digits.
pub(crate) fn number(parts: i64, digits: u32) -> Value {
    let scale = 10_i64.pow(digits);
    let text = format!(
        "{}.{:0width$}",
        parts / scale,
        (parts % scale).abs(),
        width = usize::try_from(digits).unwrap_or(3)
    );
    let text = text.trim_end_matches('0').trim_end_matches('.');
    serde_json::from_str(text).unwrap_or(Value::Null)
}

fn grams(mass: Spread<Mass>) -> Value {
    json!({
        "low": number(mass.low.mg(), 3),
        "likely": number(mass.likely.mg(), 3),
        "high": number(mass.high.mg(), 3),
        "unit": "g",
    })
}

fn to_json(asked: &Request, target: &Target, answer: &Conversion) -> Value {
    let amount = in_unit(answer, target);
    let (places, first) = (digits(target), answer.steps.first());
    let steps = answer
        .steps
        .iter()
        .map(|step| json!({ "basis": step.basis.word(), "fact": step.fact, "source": step.source }));
    json!({
        "status": "done",
        "amount": {
            "low": number(amount.low, places),
            "likely": number(amount.likely, places),
            "high": number(amount.high, places),
            "unit": unit_word(target),
        },
        "basis": first.map(|step| step.basis.word()),
        "source": first.map(|step| step.source.as_str()),
        "steps": steps.collect::<Vec<_>>(),
        "food": { "id": asked.food.id, "name": asked.food.name, "source": asked.food.source },
        "edible_portion": (answer.edible.high > Mass::ZERO).then(|| grams(answer.edible)),
        "as_purchased": answer.as_purchased.filter(|_| answer.edible.high > Mass::ZERO).map(grams),
        "notes": answer.notes,
    })
}

/// A figure in three digits or so, as it is read aloud.
fn short(parts: i64, digits: u32) -> String {
    let scale = 10_i64.pow(digits);
    let behind: u32 = match parts / scale {
        100.. => 0,
        10.. => 1,
        _ => 2,
    };
    let shown = mul_div(parts, 10_i64.pow(behind), scale, Rounding::Nearest);
    let text = number(shown, behind).to_string();
    if shown == 0 && parts > 0 {
        "less than 0.01".to_owned()
    } else {
        text
    }
}

fn text(args: &ConvertArgs, asked: &Request, target: &Target, answer: &Conversion) -> String {
    let (amount, places, unit) = (in_unit(answer, target), digits(target), unit_word(target));
    let mut lines = vec![format!(
        "{} = {} {unit}",
        args.amount.trim(),
        short(amount.likely, places)
    )];
    if amount.low != amount.high {
        let (low, high) = (short(amount.low, places), short(amount.high, places));
        lines.push(format!("  between {low} and {high} {unit}"));
    }
    lines.push(format!("  food: {} ({})", asked.food.name, asked.food.id));
    for step in &answer.steps {
        lines.push(format!(
            "  by {}: {} [{}]",
            step.basis.word(),
            step.fact,
            step.source
        ));
    }
    if let Some(bought) = answer.as_purchased.filter(|bought| bought.likely > Mass::ZERO) {
        let (bought, edible) = (bought.likely.mg(), answer.edible.likely.mg());
        lines.push(format!(
            "  of edible portion: {} g, from {} g as purchased",
            short(edible, 3),
            short(bought, 3)
        ));
    }
    lines.extend(answer.notes.iter().map(|note| format!("  {note}")));
    lines.push(String::new());
    lines.join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(amount: &str, to: &str, given: Option<&str>) -> Result<Value, Failure> {
        let args = ConvertArgs {
            amount: amount.to_owned(),
            to: to.to_owned(),
            given: given.map(str::to_owned),
            region: RegionArg::Us,
            system: SystemArg::Us,
        };
        assert_eq!(run(&args, Format::Text).is_ok(), run(&args, Format::Json).is_ok());
        run(&args, Format::Json).map(|text| serde_json::from_str(&text).expect("the answer is JSON"))
    }

    fn check(amount: &str, to: &str, likely: &str, basis: &str) {
        let value = asked(amount, to, None).unwrap_or_else(|failure| panic!("{amount}: {}", failure.text()));
        assert_eq!(value["amount"]["likely"].to_string(), likely, "{amount} to {to}");
        assert_eq!(value["basis"], basis, "{amount} to {to}");
        assert!(value["source"].as_str().is_some_and(|source| !source.is_empty()));
    }

    #[test]
    fn answers_carry_amount_basis_food_and_source() {
        check("2 cups chickpeas, dry", "g", "400", "measure");
        // 15 oz of which 56.5 % is left, at 693 g to the litre.
        check("1 can chickpeas", "cup", "1.465", "drained weight");
        check("3 onions", "g", "330", "count");
        check("1 medium onion", "g", "110", "count");
        check("1 lb carrots", "cup", "3.544", "measure");
        check("8 oz butter", "g", "226.796", "weight");
        check("1 l milk, whole", "quart", "1.056688", "weight");
    }

    #[test]
    fn what_is_missing_is_named_and_can_be_supplied() {
        let failure = asked("1 jumbo onion", "g", None).expect_err("nobody weighed a jumbo onion");
        assert_eq!(failure.exit_code(), 1.into());
        assert_eq!(failure.json()["missing"], "weight of one");
        let value = asked("2 jumbo onions", "g", Some("1 jumbo = 300 g")).expect("the cook weighed it");
        assert_eq!(value["amount"]["likely"], json!(600));
        assert_eq!(value["basis"], "given figure");
    }

    #[test]
    fn what_cannot_be_read_is_wrong_use() {
        for (amount, to) in [
            ("2 cups moon dust", "g"),
            ("2 cups chickpeas", "g"),
            ("onions", "g"),
            ("1 onion", "furlong"),
        ] {
            let failure = asked(amount, to, None).expect_err(amount);
            assert_eq!(failure.exit_code(), 2.into(), "{amount}");
            assert_eq!(failure.json()["status"], "wrong-use");
        }
    }

    #[test]
    fn figures_are_short_for_people_and_exact_for_programs() {
        assert_eq!(short(1_466_123, 6), "1.47");
        assert_eq!(short(400_000, 3), "400");
        assert_eq!(short(33_333, 3), "33.3");
        assert_eq!(short(1, 3), "less than 0.01");
        assert_eq!(number(28_349, 3).to_string(), "28.349");
        assert_eq!(number(5, 3).to_string(), "0.005");
    }
}
