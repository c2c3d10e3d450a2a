//! The table of rules by profile in docs/food-safety.md is made from the rows: here it is made and compared.
//! `cargo xtask rules` writes it.

use std::collections::BTreeMap;
use std::fmt::Write;

use larderwright_model::Profile;
use larderwright_quantity::Rounding;
use larderwright_safety::chilling::{Curve, curves};
use larderwright_safety::keeping::{KeepClass, KeepRow};
use larderwright_safety::limits::{LimitKind, LimitRow, limit};
use larderwright_safety::{Flag, classes, rule};

const DOCUMENT: &str = include_str!("../../../docs/food-safety.md");
const BEGIN: &str = "<!-- rules by profile: made by `cargo xtask rules`, not to be edited -->\n";
const END: &str = "<!-- end of rules by profile -->\n";

/// One letter for each flag, as explained above the table.
fn letter(flag: Flag) -> char {
    match flag {
        Flag::Read => 'r',
        Flag::ReadSecond => 's',
        Flag::Memory => 'm',
        Flag::Derived => 'd',
        Flag::Practice => 'p',
    }
}

fn tenths(deci: i64) -> String {
    let sign = if deci < 0 { "-" } else { "" };
    format!("{sign}{}.{}", deci.abs() / 10, deci.abs() % 10)
}

fn limit_cell(row: &LimitRow) -> String {
    let value = match row.kind.unit() {
        "0.1 °C" => format!("{} °C", tenths(row.value)),
        unit => format!("{} {unit}", row.value),
    };
    format!("{value} {}", letter(row.flag))
}

fn curve_cell(curve: &Curve) -> String {
    let stage = |stage: &larderwright_safety::chilling::Stage| {
        format!(
            "{} in {} min",
            tenths(stage.to.deci_c()),
            stage.within.mins(Rounding::Down)
        )
    };
    let stages: Vec<String> = curve.stages.iter().map(stage).collect();
    let whom = if curve.demanded {
        "demanded"
    } else {
        "businesses only"
    };
    format!(
        "{} °C to {}, {whom} {}",
        tenths(curve.from.deci_c()),
        stages.join(", "),
        letter(curve.flag)
    )
}

fn range((low, high): (i64, i64), unit: &str) -> String {
    if low == high {
        format!("{low} {unit}")
    } else {
        format!("{low}-{high} {unit}")
    }
}

fn keep_cell(row: &KeepRow) -> String {
    let mut parts = Vec::new();
    parts.extend(row.fridge_days.map(|days| range(days, "d")));
    parts.extend(row.fridge_hours.map(|hours| format!("{hours} h")));
    parts.extend(
        row.cupboard_days
            .map(|days| format!("cupboard {}", range(days, "d"))),
    );
    parts.extend(
        row.freezer_months
            .map(|months| format!("fz {}", range(months, "mo"))),
    );
    parts.extend(row.thawed_hours.map(|hours| format!("th {hours} h")));
    let general = if row.general { "*" } else { "" };
    format!("{}{general} {}", parts.join(", "), letter(row.flag))
}

fn line(name: &str, cells: impl IntoIterator<Item = String>) -> String {
    let cells: Vec<String> = cells.into_iter().collect();
    format!("| {name} | {} |\n", cells.join(" | "))
}

fn table() -> String {
    let mut text = line("rule", Profile::ALL.map(|profile| profile.word().to_owned()));
    text += &line("---", Profile::ALL.map(|_| "---".to_owned()));
    for kind in LimitKind::ALL {
        text += &line(
            kind.word(),
            Profile::ALL.map(|profile| limit_cell(limit(profile, kind))),
        );
    }
    let chill = |class: KeepClass| {
        Profile::ALL.map(|profile| {
            let row = rule(profile, class);
            format!(
                "{} min {}",
                row.chill_within.mins(Rounding::Down),
                letter(row.flag)
            )
        })
    };
    text += &line("into the cold within", chill(KeepClass::PulseCooked));
    text += &line("into the cold within, rice", chill(KeepClass::RiceCooked));
    let of = |profile| {
        let own = curves().iter().filter(|curve| curve.profile == profile);
        let cells: Vec<String> = own.map(|curve| curve_cell(curve)).collect();
        if cells.is_empty() {
            "no curve".to_owned()
        } else {
            cells.join("; or ")
        }
    };
    text += &line("cooling curve", Profile::ALL.map(of));
    for class in classes() {
        text += &line(
            class.word(),
            Profile::ALL.map(|profile| keep_cell(rule(profile, *class))),
        );
    }
    text + &sources()
}

/// Every source of the table once, with what it stands for.
fn sources() -> String {
    let mut found: BTreeMap<(usize, String, &'static str), Vec<&'static str>> = BTreeMap::new();
    for (at, profile) in Profile::ALL.into_iter().enumerate() {
        for kind in LimitKind::ALL {
            let row = limit(profile, kind);
            let key = (at, row.source.to_owned(), row.flag.word());
            found.entry(key).or_default().push(kind.word());
        }
        for class in classes() {
            let row = rule(profile, *class);
            let key = (at, row.source.clone(), row.flag.word());
            found.entry(key).or_default().push(class.word());
        }
        for curve in curves().iter().filter(|curve| curve.profile == profile) {
            let key = (at, curve.source.to_owned(), curve.flag.word());
            found.entry(key).or_default().push("cooling curve");
        }
    }
    let mut text = String::new();
    let mut shown = None;
    for ((at, source, flag), names) in found {
        if shown != Some(at) {
            let _ = write!(text, "\nSources of `{}`:\n\n", Profile::ALL[at].word());
            shown = Some(at);
        }
        let names = if names.len() > 8 {
            format!("{} and {} more", names[..7].join(", "), names.len() - 7)
        } else {
            names.join(", ")
        };
        let _ = writeln!(text, "- {names}: {source} ({flag})");
    }
    text
}

#[test]
fn the_table_in_the_document_is_the_one_of_the_rows() {
    let (_, rest) = DOCUMENT
        .split_once(BEGIN)
        .expect("the document has the table's beginning");
    let (there, _) = rest.split_once(END).expect("the document has the table's end");
    assert!(
        there == table(),
        "stale: run `cargo xtask rules` and commit docs/food-safety.md"
    );
}

#[test]
#[ignore = "prints the table for `cargo xtask rules`"]
fn print_the_table() {
    println!("{BEGIN}{}{END}", table());
}
