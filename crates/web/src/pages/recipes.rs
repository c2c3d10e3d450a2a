//! Recipes: search, read, scale; and meals.

use axum::extract::{Path, Query, State};
use larderwright_model::{ComponentId, MealId};
use larderwright_store::Store;
use larderwright_views::page::recipes::{
    Entry, MealPage, RecipeList, RecipePage, WayPart, meal as meal_view, recipe as recipe_view,
    recipes as list_view,
};
use maud::{Markup, html};
use serde::Deserialize;

use super::Answer;
use crate::Pages;
use crate::layout::{Frame, page};
use crate::pages::larder::mass;
use crate::parts::{block, guidance, sect, told};
use crate::refusal::Refusal;
use crate::routes::Route;

/// What is searched for, or a size as a cook writes it.
#[derive(Debug, Default, Deserialize)]
pub(crate) struct Asked {
    #[serde(default)]
    q: String,
    #[serde(default)]
    size: String,
}

/// The longest query.
pub(crate) const QUERY_MAX: usize = 100;

/// A query cut to its longest length.
pub(crate) fn cut(query: &str) -> String {
    query.chars().take(QUERY_MAX).collect()
}

/// All recipes, or those that fit.
pub(crate) async fn recipes<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Query(asked): Query<Asked>,
) -> Answer {
    let week = pages.desk.week().await?;
    Ok(list(&list_view(&week.snapshot, &week.plan, &cut(&asked.q))))
}

/// A component's recipe.
pub(crate) async fn recipe<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
    Query(asked): Query<Asked>,
) -> Answer {
    let week = pages.desk.week().await?;
    let size = mass(&asked.size, &week.snapshot.household)?;
    let view = recipe_view(&week.snapshot, &week.plan, &ComponentId::new(&id), size);
    let view = view.ok_or_else(|| Refusal::missing(format!("There is no recipe `{id}`.")))?;
    Ok(render(&view))
}

/// A meal.
pub(crate) async fn meal<S: Store + 'static>(
    State(pages): State<Pages<S>>,
    Path(id): Path<String>,
) -> Answer {
    let week = pages.desk.week().await?;
    let view = meal_view(&week.snapshot, &week.plan, &MealId::new(&id));
    let view = view.ok_or_else(|| Refusal::missing(format!("There is no meal `{id}`.")))?;
    Ok(render_meal(&view))
}

fn frame(title: &str) -> Frame {
    Frame::new(title).here(Route::Recipes).css(&["css/table.css"])
}

/// A field to search with.
pub(crate) fn search(route: &Route, label: &str, query: &str) -> Markup {
    html! {
        search {
            form.ask method="get" action=(route) {
                label { (label) " " input type="search" name="q" value=(query) maxlength=(QUERY_MAX) autocomplete="off"; }
                button.btn type="submit" { "Search" }
            }
        }
    }
}

/// The list laid out.
pub(crate) fn list(view: &RecipeList) -> Markup {
    let body = html! {
        (block(&view.block))
        (search(&Route::Recipes, "Name, family or food", &view.query))
        @if view.families.is_empty() && view.meals.is_empty() {
            p.lead { "Nothing here fits “" (view.query) "”. Try fewer words, or one food." }
        }
        @for (at, (family, entries)) in view.families.iter().enumerate() {
            (sect(&format!("f{at}"), family, ""))
            (entry_list(entries, Route::Recipe))
        }
        @if !view.meals.is_empty() {
            (sect("meals", "Meals", "put together at the table"))
            (entry_list(&view.meals, Route::Meal))
        }
    };
    page(&frame("Recipes"), &body)
}

fn entry_list(entries: &[Entry], route: fn(String) -> Route) -> Markup {
    html! {
        ul.entries {
            @for entry in entries {
                li { a href=(route(entry.id.clone())) { (entry.name) } " " span { (entry.words) } @if entry.this_week { " " em { "this week" } } }
            }
        }
    }
}

/// A recipe laid out.
pub(crate) fn render(view: &RecipePage) -> Markup {
    let body = html! {
        (block(&view.block))
        @if !view.trouble.is_empty() { p.lead { (view.trouble) } }
        @for (at, way) in view.ways.iter().enumerate() { (one_way(way, &view.id, at)) }
        (sect("keeps", "Keeping", "as guidance says"))
        (told(&view.keeping))
        @if !view.meals.is_empty() {
            (sect("in", "Meals with it", ""))
            (entry_list(&view.meals, Route::Meal))
        }
        (guidance(&view.guidance))
    };
    page(&frame(&view.block.title), &body)
}

fn one_way(way: &WayPart, id: &str, at: usize) -> Markup {
    html! {
        section.way aria-labelledby=(format!("w{at}")) {
            (sect(&format!("w{at}"), &way.name, &format!("needs {}", way.needs)))
            form.ask method="get" action=(Route::Recipe(id.to_owned())) {
                label { "How much " (way.driver.to_lowercase()) ", edible part " input type="text" name="size" size="10" value=(way.size) autocomplete="off"; }
                button.btn type="submit" { "Scale" }
                p.note { (way.grows) "." }
            }
            p.makes { "Makes " b { (way.makes.what) } ", " (way.makes.why) cite { (way.makes.source) } }
            table role="table" aria-label="What goes in" {
                thead role="rowgroup" { tr role="row" {
                    th role="columnheader" scope="col" { "Food" } th.r role="columnheader" scope="col" { "As purchased" }
                    th.r role="columnheader" scope="col" { "Goes in" } th role="columnheader" scope="col" { "How" }
                } }
                tbody role="rowgroup" {
                    @for row in &way.inputs {
                        tr role="row" {
                            td role="cell" { a href=(Route::Food(row.food.clone())) { (row.name) } }
                            td.r role="cell" data-name="As purchased" { (row.bought) }
                            td.r role="cell" data-name="Goes in" { (row.goes_in) }
                            td role="cell" data-name="How" { (row.how) }
                        }
                    }
                }
            }
            ol.rsteps {
                @for step in &way.steps {
                    li {
                        b { (step.title) }
                        p { (step.text) }
                        @if !step.cue.is_empty() { p.cue { "Look for: " (step.cue) } }
                        @if !step.mind.is_empty() { p.mind { (step.mind) } }
                        p.time { (step.time) cite { (step.source) } }
                    }
                }
            }
        }
    }
}

/// A meal laid out.
pub(crate) fn render_meal(view: &MealPage) -> Markup {
    let body = html! {
        (block(&view.block))
        p.lead { (view.text) }
        @for (at, part) in view.elements.iter().enumerate() {
            (sect(&format!("e{at}"), &part.name, part.need))
            ul.entries {
                @for option in &part.options {
                    @let route = if option.component { Route::Recipe(option.id.clone()) } else { Route::Food(option.id.clone()) };
                    li { a href=(route) { (option.name) } " " span { (option.words) } }
                }
            }
        }
        @if !view.sittings.is_empty() {
            (sect("sit", "This week", ""))
            ul.entries { @for (id, name) in &view.sittings { li { a href=(Route::Sitting(id.clone())) { (name) } } } }
        }
    };
    page(&frame(&view.block.title), &body)
}
