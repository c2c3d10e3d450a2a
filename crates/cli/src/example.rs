//! The command that prints a commented file to start from.

use clap::Args;
use larderwright_records::household::{EXAMPLE_HOUSEHOLD, PATTERNS, pattern};
use serde_json::json;

use crate::args::Format;
use crate::failure::Failure;

/// Which example to print.
#[derive(Debug, Args)]
pub(crate) struct ExampleArgs {
    /// `household`.
    #[arg(value_parser = ["household"])]
    pub(crate) what: String,
    /// A household of another sort: couple, family-small-children, no-oven, one-person, shared-flat, tight-budget or
    /// vegan; the one without a name explains every line.
    #[arg(long, value_name = "NAME")]
    pub(crate) pattern: Option<String>,
}

/// Prints the example.
///
/// # Errors
/// When there is no pattern of that name.
pub(crate) fn run(args: &ExampleArgs, format: Format) -> Result<String, Failure> {
    let (name, text) = match &args.pattern {
        None => (args.what.as_str(), EXAMPLE_HOUSEHOLD),
        Some(wanted) => {
            let found = pattern(wanted).ok_or_else(|| unknown(wanted))?;
            (found.name, found.text)
        }
    };
    Ok(match format {
        Format::Text => text.to_owned(),
        Format::Json => format!(
            "{:#}\n",
            json!({ "example": name, "format": "toml", "text": text })
        ),
    })
}

fn unknown(wanted: &str) -> Failure {
    let known: Vec<String> = PATTERNS
        .iter()
        .map(|pattern| format!("`{}`, {}", pattern.name, pattern.about))
        .collect();
    Failure::usage(
        format!("there is no pattern `{wanted}`"),
        format!("There are: {}.", known.join("; ")),
    )
}
