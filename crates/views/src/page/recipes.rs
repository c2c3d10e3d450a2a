//! Recipes: to search, to read and to scale, each figure with its source.

use std::collections::BTreeMap;

use larderwright_model::{
    Component, ComponentId, Element, Equipment, Family, Finish, Item, Meal, MealId, Need, Occasion, Scales,
    SizeStep, Snapshot, Station, Step, Way, WeekPlan,
};
use larderwright_quantity::{Mass, Permille, Rounding, duration_text};

use crate::book::{Book, capital, listed};
use crate::page::week::family_word;
use crate::page::{Block, Named, Told};
use crate::work::station_name;

/// The list of recipes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecipeList {
    /// Title block.
    pub block: Block,
    /// What was asked for.
    pub query: String,
    /// Components by family.
    pub families: Vec<(String, Vec<Entry>)>,
    /// Meals by name.
    pub meals: Vec<Entry>,
}

/// A recipe in the list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Its identifier.
    pub id: String,
    /// Its name.
    pub name: String,
    /// A few words about it.
    pub words: String,
    /// Whether this week cooks or serves it.
    pub this_week: bool,
}

/// A component's recipe.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecipePage {
    /// Its identifier.
    pub id: String,
    /// Title block.
    pub block: Block,
    /// What goes wrong.
    pub trouble: String,
    /// Alternative ways, the first is the usual one.
    pub ways: Vec<WayPart>,
    /// How long it keeps, with sources.
    pub keeping: Vec<Told>,
    /// Meals that use it.
    pub meals: Vec<Entry>,
    /// Whose guidance it repeats.
    pub guidance: String,
}

/// One way, at a size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WayPart {
    /// Its identifier.
    pub id: String,
    /// `from dry`.
    pub name: String,
    /// What the size counts.
    pub driver: String,
    /// The size, as a cook would write it.
    pub size: String,
    /// From which size to which, and in which steps.
    pub grows: String,
    /// What comes out, from low to high, with its source.
    pub makes: Told,
    /// What goes in: as purchased, and how.
    pub inputs: Vec<InputRow>,
    /// Steps in order.
    pub steps: Vec<StepRow>,
    /// Equipment it needs.
    pub needs: String,
}

/// An input at a size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InputRow {
    /// The food's identifier.
    pub food: String,
    /// Its name.
    pub name: String,
    /// As purchased.
    pub bought: String,
    /// The part that goes in, where trimmed.
    pub goes_in: String,
    /// How it is cut or treated.
    pub how: String,
}

/// A step at a size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepRow {
    /// Three words or fewer.
    pub title: String,
    /// What to do.
    pub text: String,
    /// How to see that it is done.
    pub cue: String,
    /// `25 min, 20 to 35`, by itself or with hands, where.
    pub time: String,
    /// Where the time comes from.
    pub source: String,
    /// What guidance demands of it; may be empty.
    pub mind: String,
}

/// A meal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MealPage {
    /// Its identifier.
    pub id: String,
    /// Title block.
    pub block: Block,
    /// How it goes together.
    pub text: String,
    /// Places on the plate with what may fill them.
    pub elements: Vec<ElementPart>,
    /// Sittings of this week that serve it, with names.
    pub sittings: Vec<(String, String)>,
}

/// A place on the plate.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ElementPart {
    /// `Base`.
    pub name: String,
    /// `one of`, `one or none`.
    pub need: &'static str,
    /// What may fill it.
    pub options: Vec<OptionRow>,
}

/// What may fill a place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OptionRow {
    /// The identifier of the component or food.
    pub id: String,
    /// Whether it is a component.
    pub component: bool,
    /// Its name.
    pub name: String,
    /// Portion for a usual adult, and how it is finished.
    pub words: String,
}

/// Words of a query, in small letters.
fn query_words(query: &str) -> Vec<String> {
    query.split_whitespace().map(str::to_lowercase).collect()
}

/// Every word is part of the text.
fn fits(words: &[String], text: &str) -> bool {
    let text = text.to_lowercase();
    words.iter().all(|word| text.contains(word.as_str()))
}

/// The recipes that fit a query; all when it is empty.
#[must_use]
pub fn recipes(snapshot: &Snapshot, plan: &WeekPlan, query: &str) -> RecipeList {
    let words = query_words(query);
    let mut families: BTreeMap<Family, Vec<Entry>> = BTreeMap::new();
    let mut count = 0;
    for component in snapshot.components.values() {
        let foods: Vec<String> = component
            .ways
            .iter()
            .flat_map(|way| &way.inputs)
            .filter_map(|input| snapshot.foods.get(&input.food))
            .map(|food| food.name.clone())
            .collect();
        let text = format!(
            "{} {} {}",
            component.name,
            family_word(component.family),
            foods.join(" ")
        );
        if fits(&words, &text) {
            count += 1;
            families
                .entry(component.family)
                .or_default()
                .push(component_entry(plan, component));
        }
    }
    let meals: Vec<Entry> = snapshot
        .meals
        .values()
        .filter(|meal| fits(&words, &format!("{} {} {}", meal.name, meal.cuisine, meal.kind)))
        .map(|meal| meal_entry(plan, meal))
        .collect();
    RecipeList {
        block: Block {
            title: "Recipes".into(),
            sub: "Building blocks to cook and keep, and meals put together from them".into(),
            fields: vec![
                Named::new("Building blocks", count.to_string()),
                Named::new("Meals", meals.len().to_string()),
            ],
        },
        query: query.trim().to_owned(),
        families: families
            .into_iter()
            .map(|(family, entries)| (capital(family_word(family)), entries))
            .collect(),
        meals,
    }
}

fn component_entry(plan: &WeekPlan, component: &Component) -> Entry {
    let ways: Vec<&str> = component.ways.iter().map(|way| way.name.as_str()).collect();
    Entry {
        id: component.id.to_string(),
        name: component.name.clone(),
        words: ways.join(", or "),
        this_week: plan.batches.iter().any(|batch| batch.component == component.id),
    }
}

fn meal_entry(plan: &WeekPlan, meal: &Meal) -> Entry {
    let at: Vec<&str> = meal.at.iter().map(|at| occasion_word(*at)).collect();
    Entry {
        id: meal.id.to_string(),
        name: meal.name.clone(),
        words: at.join(", "),
        this_week: plan.menu.choices.iter().any(|choice| choice.meal == meal.id),
    }
}

fn occasion_word(occasion: Occasion) -> &'static str {
    match occasion {
        Occasion::Breakfast => "breakfast",
        Occasion::Lunch => "lunch",
        Occasion::Dinner => "dinner",
        Occasion::Snack => "snack",
        Occasion::PackedCold => "packed, cold",
        Occasion::PackedHot => "packed, hot",
    }
}

/// A component's recipe at a size of its driver; the size of this week's batch, or a middling one, when
/// none is asked for. `None` when there is no such component.
#[must_use]
pub fn recipe(
    snapshot: &Snapshot,
    plan: &WeekPlan,
    id: &ComponentId,
    size: Option<Mass>,
) -> Option<RecipePage> {
    let book = Book::new(snapshot, plan);
    let component = snapshot.components.get(id)?;
    let batches: Vec<_> = plan
        .batches
        .iter()
        .filter(|batch| batch.component == *id)
        .collect();
    let mut fields = vec![
        Named::new("Family", capital(family_word(component.family))),
        Named::new("Freezes", freezing_word(component)),
    ];
    if let Some(batch) = batches.first() {
        fields.push(Named::new("This week makes", book.mass(batch.yields[1])));
    }
    let uses = |meal: &&Meal| {
        meal.elements
            .iter()
            .flat_map(|element| &element.options)
            .any(|option| option.item == Item::Component(id.clone()))
    };
    Some(RecipePage {
        id: id.to_string(),
        block: Block {
            title: component.name.clone(),
            sub: season_words(component),
            fields,
        },
        trouble: component.trouble.clone(),
        ways: component
            .ways
            .iter()
            .map(|way| {
                let planned = batches
                    .iter()
                    .find(|batch| batch.way == way.id)
                    .map(|batch| batch.x);
                way_part(book, way, size.or(planned))
            })
            .collect(),
        keeping: keeping(book, component),
        meals: snapshot
            .meals
            .values()
            .filter(uses)
            .map(|meal| meal_entry(plan, meal))
            .collect(),
        guidance: book.guidance(),
    })
}

fn freezing_word(component: &Component) -> &'static str {
    use larderwright_model::Freezing;
    match component.freeze {
        Freezing::Good => "well",
        Freezing::Fair => "comes back softer",
        Freezing::No => "not to be frozen",
    }
}

fn season_words(component: &Component) -> String {
    const MONTHS: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    if component.season.is_empty() {
        return "All year".into();
    }
    let name = |month: &i8| {
        usize::try_from(*month - 1)
            .ok()
            .and_then(|at| MONTHS.get(at))
            .copied()
    };
    let names: Vec<&str> = component.season.iter().filter_map(name).collect();
    format!("At its best in {}", listed(&names))
}

fn way_part(book: Book<'_>, way: &Way, wanted: Option<Mass>) -> WayPart {
    let (min, max) = (way.size.min, way.size.max);
    let middle = (min + max).scale(1, 2, Rounding::Down);
    let x = wanted.unwrap_or(middle).max(min).min(max);
    let driver = book.food_name(&way.driver);
    let out = |permille: Permille| book.mass(permille.of(x, Rounding::Down));
    let steps = match way.size.step {
        SizeStep::Mass(step) => format!("in steps of {}", book.mass(step)),
        SizeStep::Pack => "by whole cans".into(),
        SizeStep::Unit => "by whole pieces".into(),
    };
    WayPart {
        id: way.id.to_string(),
        name: way.name.clone(),
        grows: format!("From {} to {}, {steps}", book.mass(min), book.mass(max)),
        size: book.mass(x),
        makes: Told {
            what: format!("{} (likely)", out(way.yields.likely)),
            why: format!("from {} to {}", out(way.yields.low), out(way.yields.high)),
            source: way.yields.source.clone(),
        },
        inputs: way.inputs.iter().map(|input| input_row(book, input, x)).collect(),
        steps: way.steps.iter().map(|step| step_row(book, step, x)).collect(),
        needs: listed(
            &way.needs
                .iter()
                .map(|need| equipment_word(*need))
                .collect::<Vec<_>>(),
        ),
        driver,
    }
}

fn input_row(book: Book<'_>, input: &larderwright_model::Input, x: Mass) -> InputRow {
    let edible = input.fixed + input.per_kg.scale(x.mg(), 1_000_000, Rounding::Nearest);
    let permille = book
        .food(&input.food)
        .map_or(1000, |food| food.edible.value.permille().max(1));
    let bought = edible.scale(1000, permille, Rounding::Up);
    let trimmed = bought - edible >= Mass::from_g(1);
    let poured = if input.drained { "poured away" } else { "" };
    let how: Vec<&str> = [input.prep.as_str(), poured]
        .into_iter()
        .filter(|word| !word.is_empty())
        .collect();
    InputRow {
        food: input.food.to_string(),
        name: book.food_name(&input.food),
        bought: book.purchased(&input.food, bought),
        goes_in: if trimmed { book.mass(edible) } else { String::new() },
        how: how.join("; "),
    }
}

fn step_row(book: Book<'_>, step: &Step, x: Mass) -> StepRow {
    let [low, likely, high] = [step.law.low(x), step.law.likely(x), step.law.high(x)];
    let spread = if low == high {
        String::new()
    } else {
        format!(", {} to {}", duration_text(low), duration_text(high))
    };
    let hands = match (step.lead, step.hands) {
        (true, _) => "before the day",
        (false, 0) => "by itself",
        (false, 1) => "one pair of hands",
        (false, _) => "two pairs of hands",
    };
    let oven = step.oven.map_or_else(String::new, |oven| {
        format!(", oven {}", book.temperature(oven.best))
    });
    let boil = if step.boil.is_some() {
        ", and the time to come to the boil"
    } else {
        ""
    };
    StepRow {
        title: step.title.clone(),
        text: step.text.clone(),
        cue: step.cue.clone(),
        time: format!(
            "{}{spread}{boil} · {} · {hands}{oven}",
            duration_text(likely),
            station_word(step.station)
        ),
        source: step.law.source.clone(),
        mind: step
            .safety
            .as_ref()
            .map_or_else(String::new, |safety| safety.note.clone()),
    }
}

fn station_word(station: Station) -> String {
    station_name(station).to_lowercase()
}

fn equipment_word(equipment: Equipment) -> &'static str {
    match equipment {
        Equipment::Burner => "a burner",
        Equipment::Oven => "an oven",
        Equipment::Rack => "an oven rack",
        Equipment::Microwave => "a microwave",
        Equipment::Pot => "a pot",
        Equipment::Tray => "a tray",
        Equipment::PressureCooker => "a pressure cooker",
        Equipment::Board => "a board",
        Equipment::Blender => "a blender",
    }
}

/// How long it keeps under the profile in force.
pub(crate) fn keeping(book: Book<'_>, component: &Component) -> Vec<Told> {
    let Some(class) = larderwright_safety::KeepClass::parse(component.keep.as_str()) else {
        return Vec::new();
    };
    let row = larderwright_safety::rule(book.plan.profile, class);
    let general = if row.general {
        " (the profile's general rule for left-overs)"
    } else {
        ""
    };
    let range = |(low, high): (i64, i64), word: &str| {
        if low == high {
            format!("{high} {word}")
        } else {
            format!("{low} to {high} {word}")
        }
    };
    let mut told = Vec::new();
    let mut say = |what: String| {
        told.push(Told {
            what,
            why: format!("{}{general}", row.flag.meaning()),
            source: row.source.to_owned(),
        });
    };
    if let Some(days) = row.fridge_days {
        say(format!("fridge: {}", range(days, "days after the day of making")));
    }
    if let Some(hours) = row.fridge_hours {
        say(format!("fridge: {hours} hours after making"));
    }
    if let Some(days) = row.cupboard_days {
        say(format!("cupboard: {}", range(days, "days")));
    }
    if let Some(months) = row.freezer_months {
        say(format!("freezer: {}, for quality", range(months, "months")));
    }
    say(format!(
        "into the cold within {} of the end of cooking",
        duration_text(row.chill_within)
    ));
    told
}

/// A meal's page; `None` when there is no such meal.
#[must_use]
pub fn meal(snapshot: &Snapshot, plan: &WeekPlan, id: &MealId) -> Option<MealPage> {
    let book = Book::new(snapshot, plan);
    let meal = snapshot.meals.get(id)?;
    let at: Vec<&str> = meal.at.iter().map(|at| occasion_word(*at)).collect();
    let served = plan.menu.choices.iter().filter(|choice| choice.meal == *id);
    Some(MealPage {
        id: id.to_string(),
        block: Block {
            title: meal.name.clone(),
            sub: format!("{}, {}", capital(&meal.cuisine), meal.kind),
            fields: vec![
                Named::new("Served at", listed(&at)),
                Named::new(
                    "To put together",
                    format!(
                        "{} and {} a plate",
                        duration_text(meal.assemble_fixed),
                        duration_text(meal.assemble_per_cover)
                    ),
                ),
            ],
        },
        text: meal.text.clone(),
        elements: meal
            .elements
            .iter()
            .map(|element| element_part(book, element))
            .collect(),
        sittings: served
            .map(|choice| (choice.sitting.to_string(), book.sitting_name(&choice.sitting)))
            .collect(),
    })
}

fn element_part(book: Book<'_>, element: &Element) -> ElementPart {
    let option = |option: &larderwright_model::ElementOption| {
        let finish = match option.finish {
            Finish::Reheat => "warmed",
            Finish::Cold => "cold",
            Finish::Raw => "as it is",
            Finish::Toast => "toasted",
            Finish::Fry => "from the pan",
        };
        let scales = if element.scales == Scales::Appetite {
            ", more or less by appetite"
        } else {
            ""
        };
        OptionRow {
            id: option.item.as_str().to_owned(),
            component: matches!(option.item, Item::Component(_)),
            name: book.item_name(&option.item),
            words: format!("{}, {finish}{scales}", book.mass(option.portion)),
        }
    };
    ElementPart {
        name: capital(element.id.as_str()),
        need: match element.need {
            Need::One => "one of",
            Need::Optional => "one or none of",
            Need::Some => "one or two of",
        },
        options: element.options.iter().map(option).collect(),
    }
}

#[cfg(test)]
mod tests {
    use larderwright_testkit::sample;

    use super::*;

    #[test]
    fn an_empty_query_lists_everything_and_nonsense_nothing() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let list = recipes(&snapshot, &plan, " ");
        let count: usize = list.families.iter().map(|(_, entries)| entries.len()).sum();
        assert_eq!(count, snapshot.components.len());
        assert_eq!(list.meals.len(), snapshot.meals.len());
        let none = recipes(&snapshot, &plan, "xylophone");
        assert!(none.families.is_empty() && none.meals.is_empty());
    }

    #[test]
    fn a_recipe_is_found_by_what_goes_into_it() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let list = recipes(&snapshot, &plan, "CHICKPEA");
        assert!(
            list.families
                .iter()
                .flat_map(|(_, entries)| entries)
                .any(|entry| entry.name.contains("Chickpea"))
        );
    }

    fn page(size: Option<i64>) -> RecipePage {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let id = plan.batches[0].component.clone();
        recipe(&snapshot, &plan, &id, size.map(Mass::from_g)).expect("the sample cooks it")
    }

    #[test]
    fn a_size_outside_the_limits_is_brought_back_inside() {
        let small = page(Some(0));
        let large = page(Some(1_000_000));
        let way = &small.ways[0];
        let limits = format!("From {} to {}, ", way.size, large.ways[0].size);
        assert!(way.grows.starts_with(&limits), "{} {limits}", way.grows);
        assert_ne!(way.size, large.ways[0].size);
    }

    #[test]
    fn every_figure_of_a_recipe_has_a_source() {
        let page = page(None);
        for way in &page.ways {
            assert!(!way.makes.source.is_empty());
            assert!(
                way.steps.iter().all(|step| !step.source.is_empty()),
                "{}",
                way.name
            );
        }
        assert!(page.keeping.iter().all(|told| !told.source.is_empty()));
    }

    #[test]
    fn a_meal_names_what_may_fill_each_place() {
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        for id in snapshot.meals.keys() {
            let page = meal(&snapshot, &plan, id).expect("it is there");
            assert!(page.elements.iter().all(|element| !element.options.is_empty()));
        }
        assert_eq!(meal(&snapshot, &plan, &"nothing".into()), None);
    }
}
