//! The command that says how long food takes to get cold, as a band, and what is to be minded.

use clap::{ArgGroup, Args};
use larderwright_model::{Finding, Profile, Severity};
use larderwright_quantity::{Length, Rounding, Seconds, Temperature, mul_div};
use larderwright_reference::Nutrient;
use larderwright_reference::convert::resolve;
use larderwright_reference::food::FoodRow;
use larderwright_safety::chilling::yardstick;
use larderwright_safety::cooling::growth::{PERFRINGENS_CHICKEN, relative_milli};
use larderwright_safety::cooling::{
    COLD, Composition, Container, Cooling, FRIDGE_SPARE_W, Place, Times, WARM, Warm, fridge_works, ice_for,
    surface,
};
use serde_json::{Value, json};

use crate::args::Format;
use crate::convert::number;
use crate::failure::{Failure, finding_json};
use crate::keep::read::{decimal, degrees, profile};

/// What is to be cooled, in what and where.
#[derive(Debug, Args)]
#[command(group(ArgGroup::new("what").required(true).args(["food", "water_pct"])))]
pub(crate) struct CoolArgs {
    /// A food of the table, as it is when it is hot: `rice-white-cooked`.
    #[arg(long, value_name = "ID")]
    pub(crate) food: Option<String>,
    /// Or how much water is in it, in percent.
    #[arg(long, value_name = "PERCENT", value_parser = percent)]
    pub(crate) water_pct: Option<i64>,
    /// How deep it lies, in centimetres.
    #[arg(long, value_name = "CM", value_parser = centimetres)]
    pub(crate) depth_cm: Length,
    /// How long the box is, in centimetres (for a pot: how wide it is); without it a wide layer, or a pot of 24 cm.
    #[arg(long, value_name = "CM", value_parser = centimetres)]
    pub(crate) length_cm: Option<Length>,
    /// How wide the box is, in centimetres.
    #[arg(long, value_name = "CM", requires = "length_cm", value_parser = centimetres)]
    pub(crate) width_cm: Option<Length>,
    /// open-tray, lidded-box, flat-bag, pot-stirred, stacked-boxes.
    #[arg(long, value_parser = container)]
    pub(crate) container: Container,
    /// counter, fridge, fan-fridge, freezer, fan-freezer, ice-bath.
    #[arg(long, value_parser = place)]
    pub(crate) place: Place,
    /// The air there, in °C; by default 22 on the counter, 4 in a fridge and over an ice bath, -18 in a freezer.
    #[arg(long, value_name = "DEGREES", allow_hyphen_values = true, value_parser = degrees)]
    pub(crate) air_c: Option<Temperature>,
    /// Its temperature at the start, in °C.
    #[arg(long, value_name = "DEGREES", default_value = "57.2", value_parser = degrees)]
    pub(crate) start_c: Temperature,
    /// Whose guidance: us-home, us-food-service, uk, ca, au, eu.
    #[arg(long, default_value = "us-home", value_parser = profile)]
    pub(crate) profile: Profile,
    /// Also compare the chance for growth with that of the slowest curve published: an indicator, not a safety decision.
    #[arg(long)]
    pub(crate) growth: bool,
}

fn percent(text: &str) -> Result<i64, String> {
    decimal(text, 1)
        .filter(|permille| (1..=1000).contains(permille))
        .ok_or_else(|| format!("`{text}` is no share of water: write 0.1 to 100"))
}

fn centimetres(text: &str) -> Result<Length, String> {
    decimal(text, 3)
        .filter(|thousandths| (100..=200_000).contains(thousandths))
        .map(|thousandths| Length::from_um(thousandths * 10))
        .ok_or_else(|| format!("`{text}` is no length in cm: write 0.1 to 200"))
}

fn container(text: &str) -> Result<Container, String> {
    let found = Container::ALL
        .into_iter()
        .find(|container| container.word() == text);
    found.ok_or_else(|| {
        let words = Container::ALL.map(Container::word).join(", ");
        format!("there is no container `{text}`: there are {words}")
    })
}

fn place(text: &str) -> Result<Place, String> {
    let found = Place::ALL.into_iter().find(|place| place.word() == text);
    found.ok_or_else(|| {
        let words = Place::ALL.map(Place::word).join(", ");
        format!("there is no place `{text}`: there are {words}")
    })
}

/// Answers the question.
///
/// # Errors
/// A food that is not in the table or whose water nobody knows; a curve that has to be followed and is not.
pub(crate) fn run(args: &CoolArgs, format: Format) -> Result<String, Failure> {
    let (name, composition) = composition(args)?;
    let air = args.air_c.unwrap_or(match args.place {
        Place::Counter => Temperature::from_c(22),
        Place::Fridge | Place::FanFridge | Place::IceBath => Temperature::from_c(4),
        Place::Freezer | Place::FanFreezer => Temperature::from_c(-18),
    });
    let middle = Temperature::from_deci_c((args.start_c.deci_c() + COLD.deci_c()) / 2);
    let cooling = Cooling {
        properties: composition.properties(middle),
        depth: args.depth_cm,
        sides: args
            .length_cm
            .map(|length| (length, args.width_cm.unwrap_or(length))),
        container: args.container,
        place: args.place,
        air,
        start: args.start_c,
    };
    let answer = Answer {
        name,
        cooling,
        warm: cooling.times_to(WARM),
        cold: cooling.times_to(COLD),
        findings: cooling.findings(args.profile),
        growth: args.growth.then(|| growth(&cooling, args.profile)).flatten(),
    };
    let fatal = answer
        .findings
        .iter()
        .find(|finding| finding.severity == Severity::Fatal);
    if let Some(finding) = fatal {
        return Err(Failure::Negative {
            message: finding.message.clone(),
            help: format!("{} [{}]", finding.evidence, finding.source),
            value: answer.json(),
        });
    }
    Ok(match format {
        Format::Text => answer.text(),
        Format::Json => format!("{:#}\n", answer.json()),
    })
}

fn composition(args: &CoolArgs) -> Result<(String, Composition), Failure> {
    let Some(asked) = &args.food else {
        let permille = args.water_pct.unwrap_or(1000);
        return Ok(("food of that water".into(), Composition::of_water(permille)));
    };
    let row = resolve(asked, false)
        .map_err(|error| {
            Failure::usage(
                error.to_string(),
                "`larderwright food NAME` finds foods; or say `--water-pct`.",
            )
        })?
        .food;
    of_food(row)
        .map(|composition| (row.name.to_owned(), composition))
        .ok_or_else(|| {
            let message = format!("nobody knows how much water is in {}", row.name);
            let help = "Say it with `--water-pct`.".to_owned();
            Failure::Negative {
                value: json!({ "status": "missing", "missing": "water", "message": message, "help": help }),
                message,
                help,
            }
        })
}

/// Composition by the figures of the table; carbohydrate there includes fibre, ash is what is left.
fn of_food(row: &FoodRow) -> Option<Composition> {
    let figure = |nutrient| row.nutrient(nutrient).map(i64::from);
    let water = figure(Nutrient::Water)?;
    let or_none = |nutrient| figure(nutrient).unwrap_or(0).max(0);
    let (protein, fat) = (or_none(Nutrient::Protein), or_none(Nutrient::Fat));
    let fibre = or_none(Nutrient::Fibre);
    let carbohydrate = (or_none(Nutrient::Carbohydrate) - fibre).max(0);
    Some(Composition {
        water,
        protein,
        fat,
        carbohydrate,
        fibre,
        ash: (100_000 - water - protein - fat - carbohydrate - fibre).max(0),
    })
}

/// The likely curve against the slowest one that the yardstick allows, in thousandths.
fn growth(cooling: &Cooling, profile: Profile) -> Option<i64> {
    const EVERY: Seconds = Seconds::from_mins(10);
    let mut at = Seconds::ZERO;
    let mut profile_points = vec![(at, cooling.start)];
    for warm in cooling.curve(EVERY, 6 * 48) {
        at += EVERY;
        profile_points.push((at, warm));
    }
    let curve = yardstick(profile);
    let mut reference = vec![(Seconds::ZERO, curve.from)];
    reference.extend(curve.stages.iter().map(|stage| (stage.within, stage.to)));
    relative_milli(&PERFRINGENS_CHICKEN, &profile_points, &reference)
}

struct Answer {
    name: String,
    cooling: Cooling,
    warm: Times,
    cold: Times,
    findings: Vec<Finding>,
    growth: Option<i64>,
}

fn tenths(temperature: Temperature) -> Value {
    let tenths = temperature.deci_c();
    let sign = if tenths < 0 { "-" } else { "" };
    let text = format!("{sign}{}", number(tenths.abs(), 1));
    serde_json::from_str(&text).unwrap_or(Value::Null)
}

/// Hours in thousandths, rounded up.
fn hours(time: Option<Seconds>) -> Value {
    time.map_or(Value::Null, |time| {
        number(mul_div(time.secs(), 1000, 3600, Rounding::Up), 3)
    })
}

fn band(times: Times) -> Value {
    json!({ "low": hours(times.low), "likely": hours(times.likely), "high": hours(times.high) })
}

impl Answer {
    /// What a box of known sides asks of the fridge or the ice.
    fn load(&self) -> Option<Value> {
        let (length, width) = self.cooling.sides?;
        let ul = mul_div(length.um(), width.um(), 1_000_000, Rounding::Up);
        let ul = mul_div(ul, self.cooling.depth.um(), 1000, Rounding::Up);
        let mg = mul_div(ul, self.cooling.properties.density_g, 1_000_000, Rounding::Up);
        let mass = larderwright_quantity::Mass::from_mg(mg);
        let load = Warm {
            mass,
            specific_heat_j: self.cooling.properties.specific_heat_j,
            from: self.cooling.start,
            to: COLD,
        };
        let ice = ice_for(
            mass,
            self.cooling.properties,
            (self.cooling.start, Temperature::from_c(10)),
        );
        Some(json!({
            "mass_g": mass.g(Rounding::Nearest),
            "heat_kj": mul_div(load.heat_j(), 1, 1000, Rounding::Up),
            "fridge_minutes": fridge_works(&[load], FRIDGE_SPARE_W).mins(Rounding::Up),
            "fridge_spare_w": FRIDGE_SPARE_W,
            "ice_g_to_10c": ice.g(Rounding::Up),
        }))
    }

    fn json(&self) -> Value {
        let cooling = &self.cooling;
        let surface = surface(cooling.container, cooling.place);
        let coefficients =
            |band: larderwright_safety::cooling::Band| band.three().map(|deci| number(deci, 1)).to_vec();
        json!({
            "hours_to_21c": band(self.warm),
            "hours_to_5c": band(self.cold),
            "findings": self.findings.iter().map(finding_json).collect::<Vec<_>>(),
            "food": self.name,
            "container": cooling.container.word(),
            "place": cooling.place.word(),
            "air_c": tenths(cooling.air),
            "start_c": tenths(cooling.start),
            "depth_mm": number(cooling.depth.um(), 3),
            "properties": {
                "conductivity_w_per_m_k": number(cooling.properties.conductivity_uw, 6),
                "density_kg_per_m3": number(cooling.properties.density_g, 3),
                "specific_heat_j_per_kg_k": cooling.properties.specific_heat_j,
            },
            "surface_w_per_m2_k": {
                "above": coefficients(surface.above),
                "below": coefficients(surface.below),
                "side": coefficients(surface.side),
                "source": surface.source,
                "flag": surface.flag.word(),
            },
            "load": self.load(),
            "growth_against_slowest_curve": self.growth.map(|milli| number(milli, 3)),
            "growth_note": self.growth.map(|_| "indicator, not a safety decision"),
        })
    }

    fn text(&self) -> String {
        let cooling = &self.cooling;
        let mut lines = vec![format!(
            "{} in {} ({}), {} mm deep, from {} °C in {} °C",
            self.name,
            cooling.container.word(),
            cooling.place.word(),
            cooling.depth.mm(Rounding::Up),
            tenths(cooling.start),
            tenths(cooling.air),
        )];
        lines.push(format!("  to 21.1 °C: {}", spoken(self.warm)));
        lines.push(format!("  to  5.0 °C: {}", spoken(self.cold)));
        lines.extend(self.findings.iter().map(|finding| {
            let evidence = if finding.evidence.is_empty() {
                String::new()
            } else {
                format!(" ({})", finding.evidence)
            };
            format!("  - {}{evidence} [{}]", finding.message, finding.source)
        }));
        if let Some(milli) = self.growth {
            lines.push(format!(
                "  - chance for growth against the slowest curve published: {} (indicator, not a safety decision)",
                number(milli, 3)
            ));
        }
        lines.push("  where your local food-safety authority says less, its word holds".into());
        lines.push(String::new());
        lines.join("\n")
    }
}

fn spoken(times: Times) -> String {
    let word = |time: Option<Seconds>| {
        time.map_or("never".to_owned(), |time| {
            let minutes = time.mins(Rounding::Up);
            if minutes < 100 {
                format!("{minutes} min")
            } else {
                format!("{} h {:02} min", minutes / 60, minutes % 60)
            }
        })
    };
    if !times.reachable() {
        return "never".into();
    }
    format!(
        "likely {}, between {} and {}",
        word(times.likely),
        word(times.low),
        word(times.high)
    )
}

#[cfg(test)]
mod tests {
    use clap::Parser;

    use super::*;
    use crate::args::{Command, CommandLine};

    fn asked(line: &str) -> Result<Value, Failure> {
        let line = format!("larderwright cool {line}");
        let parsed = CommandLine::try_parse_from(line.split(' '))
            .unwrap_or_else(|error| panic!("`{line}` is understood: {error}"));
        let Command::Cool(args) = parsed.command else {
            panic!("`cool` is the command of `{line}`");
        };
        assert_eq!(run(&args, Format::Text).is_ok(), run(&args, Format::Json).is_ok());
        run(&args, Format::Json).map(|text| serde_json::from_str(&text).expect("the answer is JSON"))
    }

    fn likely(value: &Value, to: &str) -> f64 {
        value[to]["likely"].as_f64().expect("a number of hours")
    }

    #[test]
    fn the_answer_is_a_band_in_order() {
        let value = asked("--water-pct 66 --depth-cm 5.1 --container open-tray --place fan-fridge --air-c 3")
            .expect("it cools");
        for to in ["hours_to_21c", "hours_to_5c"] {
            let [low, likely, high] = ["low", "likely", "high"].map(|end| value[to][end].as_f64());
            assert!(low < likely && likely < high, "{to}: {value}");
        }
        // 2.36 h by an independent solution at 20 and 15 W/(m² K).
        assert!((likely(&value, "hours_to_21c") - 2.36).abs() < 0.12, "{value}");
    }

    #[test]
    fn what_cannot_be_reached_is_said_and_not_computed() {
        let value = asked("--water-pct 90 --depth-cm 5 --container lidded-box --place fridge --air-c 5")
            .expect("an answer");
        assert_eq!(value["hours_to_5c"]["likely"], Value::Null);
        assert!(value["hours_to_21c"]["likely"].is_number());
        assert!(value["findings"].to_string().contains("cool/unreachable"));
    }

    #[test]
    fn a_food_of_the_table_brings_its_composition() {
        let value = asked(
            "--food rice-white-cooked --depth-cm 3 --length-cm 20 --width-cm 15 --container lidded-box --place fridge --growth",
        )
        .expect("rice is in the table");
        assert!(
            value["properties"]["density_kg_per_m3"]
                .as_f64()
                .is_some_and(|kg| (kg - 1121.0).abs() < 15.0)
        );
        assert!(value["load"]["ice_g_to_10c"].is_number());
        assert!(value["growth_against_slowest_curve"].is_number());
    }

    #[test]
    fn only_those_who_have_to_follow_a_curve_are_refused() {
        let line = "--water-pct 66 --depth-cm 7.5 --container open-tray --place fridge --air-c 3";
        assert!(asked(line).is_ok());
        let failure = asked(&format!("{line} --profile us-food-service")).expect_err("too slow");
        assert_eq!(failure.exit_code(), 1.into());
        assert!(failure.json()["hours_to_21c"]["likely"].is_number());
    }

    #[test]
    fn a_stirred_pot_in_ice_is_quick() {
        let value =
            asked("--water-pct 90 --depth-cm 10 --container pot-stirred --place ice-bath").expect("it cools");
        assert!(likely(&value, "hours_to_5c") < 0.7, "{value}");
    }

    #[test]
    fn a_food_nobody_knows_is_wrong_use() {
        let failure = asked("--food moon-dust --depth-cm 3 --container open-tray --place fridge")
            .expect_err("there is no such food");
        assert_eq!(failure.exit_code(), 2.into());
    }
}
