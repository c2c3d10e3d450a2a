//! What was read, as short lines.

use larderwright_intake::Composition;

/// One food: description / source / figures / measures.
pub(crate) fn food(read: &Composition, id: &str) -> String {
    let food = read
        .foods
        .iter()
        .find(|food| food.id == id)
        .expect("the food was read");
    let figures = food.nutrients.iter();
    let figures: Vec<String> = figures
        .map(|(nutrient, figure)| format!("{nutrient:?} {} ({})", figure.thousandths, figure.number))
        .collect();
    let portions = food.portions.iter();
    let portions: Vec<String> = portions
        .map(|portion| {
            format!(
                "{} {} = {}",
                portion.amount_thousandths,
                portion.text,
                portion.mass.mg()
            )
        })
        .collect();
    let refuse = food
        .refuse_percent
        .map(|percent| format!(" / {percent} % refuse"))
        .unwrap_or_default();
    format!(
        "{} / {} / {} / {}{refuse}",
        food.description,
        food.source,
        figures.join(" "),
        portions.join(", ")
    )
}

/// The problems as `file:line message`.
pub(crate) fn problems(read: &Composition) -> Vec<String> {
    let problems = read.problems.iter();
    problems
        .map(|it| format!("{}:{} {}", it.file, it.line, it.message))
        .collect()
}
