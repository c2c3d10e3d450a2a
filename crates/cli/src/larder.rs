//! The command that shows what the built-in larder can do: which dinners few components make.

use std::collections::BTreeMap;

use clap::Args;
use larderwright_app::catalogue::built_in;
use larderwright_app::cross::Cross;
use larderwright_model::{Food, FoodId};
use serde_json::json;

use crate::args::Format;
use crate::failure::Failure;

/// What to show of the larder.
#[derive(Debug, Args)]
pub(crate) struct LarderArgs {
    /// For every base and protein the fewest dinners that any two vegetables leave.
    #[arg(long, required = true)]
    pub(crate) matrix: bool,
}

/// Shows the matrix.
///
/// # Errors
/// When the built-in recipes cannot be read.
pub(crate) fn run(_args: &LarderArgs, format: Format) -> Result<String, Failure> {
    let larder = built_in().map_err(|problems| {
        Failure::usage(
            format!("{} mistakes in the built-in recipes", problems.len()),
            "Install it anew.",
        )
    })?;
    let rows = larder.foods();
    let rows = rows
        .iter()
        .filter_map(|id| larderwright_reference::food(id.as_str()));
    let foods: BTreeMap<FoodId, Food> = rows.map(|row| (FoodId::new(row.id), row.to_food())).collect();
    let cross = Cross::new(&larder.components, &larder.meals, &foods);
    Ok(match format {
        Format::Text => text(&cross),
        Format::Json => as_json(&cross),
    })
}

fn text(cross: &Cross<'_>) -> String {
    let widest = cross
        .bases
        .iter()
        .map(|base| base.as_str().len())
        .max()
        .unwrap_or(0);
    let numbers: Vec<String> = (1..=cross.proteins.len())
        .map(|number| format!("{number:>3}"))
        .collect();
    let mut out = format!(
        "Dinners, of {}, from a base, a protein, any two vegetables and the cupboard: the fewest.\n\n{:widest$} {}\n",
        cross.dinner_count(),
        "",
        numbers.concat()
    );
    for base in &cross.bases {
        let cells = cross.proteins.iter().map(|protein| {
            let least = cross.least(base, protein);
            format!("{:>3}", least.map_or(0, |least| least.dinners))
        });
        out += &format!("{:widest$} {}\n", base.as_str(), cells.collect::<String>());
    }
    out += "\n";
    for (number, protein) in (1..).zip(&cross.proteins) {
        out += &format!("{number:>3} {protein}\n");
    }
    let vegetables: Vec<&str> = cross.vegetables.iter().map(|id| id.as_str()).collect();
    out += &format!(
        "\nVegetables: {}.\nMore components never lose a dinner.\n",
        vegetables.join(", ")
    );
    out
}

fn as_json(cross: &Cross<'_>) -> String {
    let cells = cross.bases.iter().flat_map(|base| {
        cross.proteins.iter().filter_map(move |protein| {
            let least = cross.least(base, protein)?;
            let [one, other] = least.vegetables.map(larderwright_model::ComponentId::as_str);
            Some(json!({
                "base": base.as_str(),
                "protein": protein.as_str(),
                "fewest": least.dinners,
                "vegetables": [one, other],
            }))
        })
    });
    let cells: Vec<_> = cells.collect();
    format!(
        "{:#}\n",
        json!({ "dinners": cross.dinner_count(), "cells": cells })
    )
}
