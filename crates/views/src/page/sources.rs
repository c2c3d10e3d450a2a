//! Sources and cautions: the rules in force, each with its document, and what the program does not promise.

use std::collections::BTreeMap;

use larderwright_model::{PriceBasis, Snapshot, WeekPlan};
use larderwright_quantity::{Seconds, Temperature, duration_text};
use larderwright_safety::{LimitKind, limits};

use crate::book::{Book, profile};
use crate::page::recipes::keeping;
use crate::page::{Block, Named, Told};

/// The page of sources and cautions.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourcesPage {
    /// Title block.
    pub block: Block,
    /// What the program does not promise.
    pub cautions: Vec<String>,
    /// Limits of time, temperature and depth.
    pub limits: Vec<Told>,
    /// How long this week's components keep, by component.
    pub keeping: Vec<(String, Vec<Told>)>,
    /// Rules the audit spoke of this week.
    pub findings: Vec<Told>,
    /// Where prices come from.
    pub prices: Vec<Told>,
}

/// The page of sources and cautions.
#[must_use]
pub fn sources(snapshot: &Snapshot, plan: &WeekPlan) -> SourcesPage {
    let book = Book::new(snapshot, plan);
    let made: BTreeMap<&str, _> = plan
        .batches
        .iter()
        .filter_map(|batch| snapshot.components.get(&batch.component))
        .map(|component| (component.name.as_str(), component))
        .collect();
    SourcesPage {
        block: Block {
            title: "Sources and cautions".into(),
            sub: "Every figure about food has a source; this is where they stand".into(),
            fields: vec![
                Named::new("Guidance", profile(plan.profile)),
                Named::new("Tables", plan.tables.clone()),
            ],
        },
        cautions: vec![
            book.guidance(),
            "Dates and temperatures are guidance, not a promise. Food that smells, looks or tastes wrong goes into the \
             bin, whatever its date says; and food can make ill without any sign."
                .into(),
            "Allergens: a plate is marked as cleared only when everything on it is known. Labels change; read them \
             every time. In an emergency call your local emergency number."
                .into(),
            "Stricter care for pregnancy, infants, old age and a weak immune system repeats published texts. It is no \
             medical advice."
                .into(),
        ],
        limits: limit_rows(book),
        keeping: made
            .into_iter()
            .map(|(name, component)| (name.to_owned(), keeping(book, component)))
            .collect(),
        findings: rules(plan),
        prices: prices(plan),
    }
}

fn limit_rows(book: Book<'_>) -> Vec<Told> {
    let rows = limits(book.plan.profile).sources;
    rows.into_iter()
        .map(|row| {
            let degrees = || book.temperature(Temperature::from_deci_c(row.value));
            let minutes = || duration_text(Seconds::from_mins(row.value));
            let (what, figure) = match row.kind {
                LimitKind::OutOfFridge => ("Out of the fridge, at most", minutes()),
                LimitKind::OutOfFridgeHot => ("Out of the fridge on a hot day, at most", minutes()),
                LimitKind::HotDay => ("A hot day is one above", degrees()),
                LimitKind::ReheatCore => ("Left-overs are warmed, in the middle, to", degrees()),
                LimitKind::FridgeMax => ("The fridge is at most", degrees()),
                LimitKind::FreezerMax => ("The freezer is at most", degrees()),
                LimitKind::HotMin => ("Food kept hot is at least", degrees()),
                LimitKind::DepthMax => (
                    "Hot food lies at most this deep to cool",
                    format!("{}\u{a0}mm", row.value),
                ),
            };
            Told {
                what: format!("{what} {figure}"),
                why: row.flag.meaning().to_owned(),
                source: row.source.to_owned(),
            }
        })
        .collect()
}

/// Each rule once.
fn rules(plan: &WeekPlan) -> Vec<Told> {
    let by_rule: BTreeMap<&str, Told> = plan
        .findings
        .iter()
        .filter(|finding| !finding.source.is_empty())
        .map(|finding| {
            (
                finding.rule.as_str(),
                Told {
                    what: finding.rule.to_string(),
                    why: finding.evidence.clone(),
                    source: finding.source.clone(),
                },
            )
        })
        .collect();
    by_rule.into_values().collect()
}

fn prices(plan: &WeekPlan) -> Vec<Told> {
    let mut by_source: BTreeMap<String, usize> = BTreeMap::new();
    for line in &plan.order.lines {
        let source = match &line.basis {
            PriceBasis::Household => "the household wrote it down",
            PriceBasis::Published(source) => source,
            PriceBasis::Estimate => "invented estimate, to be replaced by the price you pay",
        };
        *by_source.entry(source.to_owned()).or_default() += 1;
    }
    by_source
        .into_iter()
        .map(|(source, count)| Told {
            what: crate::book::counted(count, "line", "lines"),
            why: String::new(),
            source,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    #[test]
    fn every_limit_has_a_source_and_a_mark() {
        let page = sources(&sample::snapshot(), &sample::plan());
        assert_eq!(page.limits.len(), LimitKind::ALL.len());
        assert!(
            page.limits
                .iter()
                .all(|told| !told.source.is_empty() && !told.why.is_empty())
        );
    }

    #[test]
    fn nothing_on_the_page_calls_food_safe() {
        let text = format!("{:?}", sources(&sample::snapshot(), &sample::plan())).to_lowercase();
        assert!(!text.contains("is safe") && !text.contains("are safe"), "{text}");
    }

    #[test]
    fn every_priced_line_is_counted() {
        let plan = sample::plan();
        let page = sources(&sample::snapshot(), &plan);
        let count = |told: &Told| -> usize {
            let number = told.what.split('\u{a0}').next().unwrap_or("");
            number.parse().unwrap_or(1)
        };
        assert_eq!(
            page.prices.iter().map(count).sum::<usize>(),
            plan.order.lines.len()
        );
    }
}
