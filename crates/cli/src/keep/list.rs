//! Lists of the rows: classes by profile, limits, curves, advice.

use larderwright_model::{Caution, Profile};
use larderwright_safety::advice::{self, AdviceRow};
use larderwright_safety::chilling::{Curve, curves};
use larderwright_safety::keeping::{KeepRow, rows};
use larderwright_safety::limits::LimitRow;
use larderwright_safety::{CautionRow, cautions, limits};
use serde_json::{Value, json};

use super::KeepArgs;
use super::read::state_word;
use crate::args::Format;

/// What was asked for: every class, every rule, or one topic.
pub(super) fn answer(args: &KeepArgs, format: Format) -> String {
    let profiles: Vec<Profile> = match args.profile {
        Some(profile) => vec![profile],
        None => Profile::ALL.to_vec(),
    };
    let classes: Vec<&KeepRow> = rows()
        .iter()
        .filter(|row| {
            args.list && profiles.contains(&row.profile) && args.item.is_none_or(|item| item == row.class)
        })
        .collect();
    let limits: Vec<&LimitRow> = profiles
        .iter()
        .filter(|_| args.rules)
        .flat_map(|profile| limits(*profile).sources)
        .collect();
    let curves: Vec<&Curve> = curves()
        .iter()
        .filter(|curve| args.rules && profiles.contains(&curve.profile))
        .copied()
        .collect();
    let wanted = |row: &&AdviceRow| {
        (args.rules || args.about == Some(row.topic)) && profiles.iter().any(|profile| row.holds_in(*profile))
    };
    let advice: Vec<&AdviceRow> = advice::rows().iter().filter(wanted).collect();
    let care: Vec<&CautionRow> = if args.rules { at_risk() } else { Vec::new() };
    match format {
        Format::Json => {
            let value = json!({
                "classes": classes.into_iter().map(class_json).collect::<Vec<_>>(),
                "limits": limits.into_iter().map(limit_json).collect::<Vec<_>>(),
                "curves": curves.into_iter().map(curve_json).collect::<Vec<_>>(),
                "advice": advice.into_iter().map(advice_json).collect::<Vec<_>>(),
                "eaters": care.into_iter().map(care_json).collect::<Vec<_>>(),
            });
            format!("{value:#}\n")
        }
        Format::Text => {
            let mut lines: Vec<String> = classes.into_iter().map(class_text).collect();
            lines.extend(limits.into_iter().map(limit_text));
            lines.extend(curves.into_iter().map(curve_text));
            lines.extend(advice.into_iter().map(advice_text));
            lines.extend(care.into_iter().map(care_text));
            lines.push("Where your local food-safety authority says less, its word holds.".into());
            lines.push(String::new());
            lines.join("\n")
        }
    }
}

fn at_risk() -> Vec<&'static CautionRow> {
    let states = [
        Caution::Pregnant,
        Caution::Breastfeeding,
        Caution::Infant,
        Caution::ImmuneCompromised,
        Caution::OlderThan65,
    ];
    states.into_iter().flat_map(cautions).collect()
}

fn range_json(range: Option<(i64, i64)>) -> Value {
    range.map_or(Value::Null, |(low, high)| json!([low, high]))
}

fn class_json(row: &KeepRow) -> Value {
    json!({
        "item": row.class.word(),
        "profile": row.profile.word(),
        "rule": row.id.as_str(),
        "fridge_days": range_json(row.fridge_days),
        "fridge_hours": row.fridge_hours,
        "cupboard_days": range_json(row.cupboard_days),
        "freezer_months": range_json(row.freezer_months),
        "thawed_hours": row.thawed_hours,
        "chill_within_minutes": row.chill_within.mins(larderwright_quantity::Rounding::Down),
        "reheat_once": row.reheat_once,
        "general_rule": row.general,
        "source": row.source,
        "flag": row.flag.word(),
    })
}

fn range(range: (i64, i64), unit: &str) -> String {
    match range {
        (low, high) if low == high => format!("{low} {unit}"),
        (low, high) => format!("{low}-{high} {unit}"),
    }
}

fn class_text(row: &KeepRow) -> String {
    let mut parts = Vec::new();
    let fridge = row.fridge_days.map(|days| range(days, "days"));
    parts.extend(fridge.map(|days| format!("fridge {days}")));
    parts.extend(row.fridge_hours.map(|hours| format!("fridge {hours} h")));
    parts.extend(
        row.cupboard_days
            .map(|days| format!("cupboard {}", range(days, "days"))),
    );
    let freezer = row.freezer_months.map(|months| range(months, "months"));
    parts.push(freezer.map_or("not frozen".to_owned(), |months| format!("freezer {months}")));
    parts.extend(row.thawed_hours.map(|hours| format!("thawed {hours} h")));
    if row.general {
        parts.push("no figure of its own".into());
    }
    format!(
        "{:22} {:16} {}\n    [{} ({})]",
        row.class.word(),
        row.profile.word(),
        parts.join("; "),
        row.source,
        row.flag.word()
    )
}

fn limit_json(row: &LimitRow) -> Value {
    json!({
        "profile": row.profile.word(),
        "limit": row.kind.word(),
        "value": row.value,
        "unit": row.kind.unit(),
        "source": row.source,
        "flag": row.flag.word(),
    })
}

fn limit_text(row: &LimitRow) -> String {
    format!(
        "{:16} {:22} {} {}\n    [{} ({})]",
        row.profile.word(),
        row.kind.word(),
        row.value,
        row.kind.unit(),
        row.source,
        row.flag.word()
    )
}

fn curve_json(curve: &Curve) -> Value {
    let stage = |stage: &larderwright_safety::chilling::Stage| json!({ "to_deci_c": stage.to.deci_c(), "within_seconds": stage.within.secs() });
    json!({
        "rule": curve.id,
        "profile": curve.profile.word(),
        "from_deci_c": curve.from.deci_c(),
        "stages": curve.stages.iter().map(stage).collect::<Vec<_>>(),
        "demanded": curve.demanded,
        "source": curve.source,
        "flag": curve.flag.word(),
    })
}

fn curve_text(curve: &Curve) -> String {
    let stages: Vec<String> = curve
        .stages
        .iter()
        .map(|stage| {
            format!(
                "to {}.{} °C within {} min",
                stage.to.deci_c() / 10,
                stage.to.deci_c() % 10,
                stage.within.mins(larderwright_quantity::Rounding::Down)
            )
        })
        .collect();
    let whom = if curve.demanded {
        "demanded"
    } else {
        "for businesses"
    };
    format!(
        "{:39} from {}.{} °C {} ({whom})\n    [{} ({})]",
        curve.id,
        curve.from.deci_c() / 10,
        curve.from.deci_c() % 10,
        stages.join(", "),
        curve.source,
        curve.flag.word()
    )
}

pub(super) fn advice_json(row: &AdviceRow) -> Value {
    json!({
        "id": row.id,
        "topic": row.topic.word(),
        "text": row.text,
        "value": row.figure.map(|figure| figure.value),
        "unit": row.figure.map(|figure| figure.unit),
        "source": row.source,
        "flag": row.flag.word(),
    })
}

fn advice_text(row: &AdviceRow) -> String {
    format!(
        "{}: {}\n    [{} ({})]",
        row.id,
        row.text,
        row.source,
        row.flag.word()
    )
}

fn care_json(row: &CautionRow) -> Value {
    json!({
        "id": row.id,
        "state": state_word(row.caution),
        "text": row.text,
        "source": row.source,
        "flag": row.flag.word(),
    })
}

fn care_text(row: &CautionRow) -> String {
    format!(
        "{}: {}\n    [{} ({})]",
        row.id,
        row.text,
        row.source,
        row.flag.word()
    )
}
