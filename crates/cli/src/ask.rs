//! What is to be known: what is in the house, what tonight wants, what was said, how a week went.

use clap::Subcommand;
use jiff::civil::Date;
use larderwright_app::home::{Now, Shelf, ShelfLot, Tonight, WeekReview};
use larderwright_app::{Threads, WhatIf};
use larderwright_model::{Place, Run, StockState};
use larderwright_quantity::{Money, Rounding, mul_div};
use larderwright_views::Words;
use serde_json::{Value, json};

use crate::args::Format;
use crate::failure::Failure;
use crate::memory::{Memory, MemoryArgs};
use crate::planning::week_of;
use crate::progress::while_working;
use crate::why;

/// A question.
#[derive(Debug, Subcommand)]
pub(crate) enum Ask {
    /// What the next sitting wants: take out, reheat, assemble, with minutes.
    Tonight {
        /// Another sitting, as in `thu-dinner`.
        sitting: Option<String>,
        #[command(flatten)]
        memory: MemoryArgs,
    },
    /// Lots outside the freezer by their dates.
    UseFirst {
        #[command(flatten)]
        memory: MemoryArgs,
    },
    /// Everything in the house.
    Stock {
        #[command(flatten)]
        memory: MemoryArgs,
    },
    /// What happened lately, the last first.
    History {
        /// How many lines.
        #[arg(default_value_t = 30, value_parser = clap::value_parser!(u16).range(1..=10_000))]
        count: u16,
        #[command(flatten)]
        memory: MemoryArgs,
    },
    /// What foods cost when they were last bought.
    Prices {
        #[command(flatten)]
        memory: MemoryArgs,
    },
    /// What would make a session shorter: one more burner, rack, pot or pair of hands, another way of making something.
    WhatIf {
        /// The session, by its day, as in `2026-11-29`; by default the next one.
        session: Option<String>,
        #[command(flatten)]
        memory: MemoryArgs,
    },
    /// Why a sitting has its meal: what the others would cost the week, and what is gained by giving way a little.
    Why {
        /// The sitting, as in `thu-dinner`; by default the next one.
        sitting: Option<String>,
        #[command(flatten)]
        memory: MemoryArgs,
    },
    /// How a week went so far.
    Review {
        /// The week, as in `2026-W49`; by default the one that is going on.
        #[arg(long)]
        week: Option<String>,
        #[command(flatten)]
        memory: MemoryArgs,
    },
    /// End a week; its review is what it is.
    Close {
        /// The week, as in `2026-W49`; by default the one that is going on.
        #[arg(long)]
        week: Option<String>,
        #[command(flatten)]
        memory: MemoryArgs,
    },
}

/// Answers.
///
/// # Errors
/// When there is nothing to answer from.
pub(crate) fn run(ask: &Ask, format: Format) -> Result<String, Failure> {
    let (Ask::Tonight { memory: args, .. }
    | Ask::UseFirst { memory: args }
    | Ask::Stock { memory: args }
    | Ask::History { memory: args, .. }
    | Ask::Prices { memory: args }
    | Ask::WhatIf { memory: args, .. }
    | Ask::Why { memory: args, .. }
    | Ask::Review { memory: args, .. }
    | Ask::Close { memory: args, .. }) = ask;
    let memory = Memory::open(args)?;
    let now = memory.now()?;
    memory.wait(memory.home.settle(&now))?;
    let household = memory.wait(memory.home.household())?;
    let words = Words::of(&household);
    let (text, value) = match ask {
        Ask::Tonight { sitting, .. } => {
            let tonight = memory.wait(memory.home.tonight(sitting.as_deref(), &now))?;
            (tonight_text(&tonight), tonight_json(&tonight))
        }
        Ask::UseFirst { .. } => {
            let lots = memory.wait(memory.home.use_first(&now))?;
            let none = "nothing in the house has a date\n".to_owned();
            let text = if lots.is_empty() {
                none
            } else {
                lot_table(&lots, &words)
            };
            (
                text,
                json!({ "lots": lots.iter().map(lot_json).collect::<Vec<_>>() }),
            )
        }
        Ask::Stock { .. } => {
            let shelf = memory.wait(memory.home.shelf(&now))?;
            (shelf_text(&shelf, &words), shelf_json(&shelf))
        }
        Ask::History { count, .. } => {
            let lines = memory.wait(memory.home.history(usize::from(*count)))?;
            (lines.join("\n") + "\n", json!({ "lines": lines }))
        }
        Ask::Prices { .. } => prices(&memory, &words)?,
        Ask::WhatIf { session, .. } => {
            let session = session.as_deref().map(Into::into);
            let (run, answers) = while_working("scheduling", || {
                memory.wait(memory.home.what_if(session.as_ref(), Threads::Two, &now))
            })?;
            (what_if_text(&run, &answers, &words), what_if_json(&run, &answers))
        }
        Ask::Why { sitting, .. } => why::answer(&memory, sitting.as_deref(), &now, &words)?,
        Ask::Review { week, .. } => {
            let monday = week_or_this(&memory, week.as_deref(), &now)?;
            let review = memory.wait(memory.home.review(monday))?;
            (review_text(&review, &words), review_json(&review))
        }
        Ask::Close { week, .. } => {
            let monday = week_or_this(&memory, week.as_deref(), &now)?;
            let (told, review) = memory.wait(memory.home.close(monday, &now))?;
            let text = format!("{}\n\n{}", told.lines.join("\n"), review_text(&review, &words));
            (text, review_json(&review))
        }
    };
    Ok(match format {
        Format::Text => text,
        Format::Json => format!("{value:#}\n"),
    })
}

fn week_or_this(memory: &Memory, week: Option<&str>, now: &Now) -> Result<Date, Failure> {
    match week {
        Some(week) => week_of(week),
        None => Ok(memory.wait(memory.home.this_week(now))?.head.monday),
    }
}

fn tonight_text(tonight: &Tonight) -> String {
    let page = &tonight.page;
    let fields = page
        .block
        .fields
        .iter()
        .map(|field| format!("{} {}", field.name.to_lowercase(), field.value));
    let mut lines = vec![
        format!("{}: {}", page.block.sub, page.block.title),
        fields.collect::<Vec<_>>().join(", "),
    ];
    let mut part = |title: &str, entries: Vec<String>| {
        if !entries.is_empty() {
            lines.push(String::new());
            lines.push(title.to_owned());
            lines.extend(entries.iter().map(|entry| format!("  {entry}")));
        }
    };
    part("NOT AS PLANNED", tonight.missing.clone());
    let tapes = page.take_out.tapes.iter();
    let tapes = tapes.map(|tape| format!("{}, {} ({})", tape.name, tape.words, tape.dates));
    let out = tapes.chain(page.take_out.fresh.iter().cloned());
    part(&format!("TAKE OUT {}", page.take_out.at), out.collect());
    let steps = page.steps.iter().map(|step| {
        let words = [&step.what, &step.amount, &step.minutes, &step.who];
        let words: Vec<&str> = words
            .into_iter()
            .map(String::as_str)
            .filter(|word| !word.is_empty())
            .collect();
        format!("{}  {}", step.at, words.join(", "))
    });
    part("WARM", steps.collect());
    part(&format!("PUT TOGETHER {}", page.assemble_at), page.how.clone());
    let plates = page.plates.iter().map(|plate| {
        let rows = plate
            .rows
            .iter()
            .map(|row| format!("{} {}", row.what, row.amount));
        let marks = plate.marks.iter().map(|mark| format!(" [{}]", mark.words));
        format!(
            "{}: {}{}",
            plate.name,
            rows.collect::<Vec<_>>().join(", "),
            marks.collect::<String>()
        )
    });
    part("PLATES", plates.collect());
    let todos = page.before_bed.iter();
    let todos = todos.map(|todo| format!("{}  {}: {}", todo.when, todo.title, todo.text));
    part("BEFORE BED", todos.collect());
    lines.push(String::new());
    lines.push(page.guidance.clone());
    lines.join("\n") + "\n"
}

fn tonight_json(tonight: &Tonight) -> Value {
    let page = &tonight.page;
    let take_out =
        page.take_out.tapes.iter().map(
            |tape| json!({ "lot": tape.lot, "name": tape.name, "words": tape.words, "dates": tape.dates }),
        );
    let steps = page.steps.iter().map(|step| {
        json!({ "at": step.at, "what": step.what, "amount": step.amount, "minutes": step.minutes, "who": step.who })
    });
    let plates = page.plates.iter().map(|plate| {
        let rows = plate
            .rows
            .iter()
            .map(|row| json!({ "what": row.what, "amount": row.amount }));
        let marks: Vec<&str> = plate.marks.iter().map(|mark| mark.words.as_str()).collect();
        json!({ "name": plate.name, "rows": rows.collect::<Vec<_>>(), "marks": marks })
    });
    let before_bed = page
        .before_bed
        .iter()
        .map(|todo| json!({ "when": todo.when, "title": todo.title, "text": todo.text }));
    json!({
        "sitting": tonight.sitting.id.as_str(),
        "at": tonight.sitting.at.to_string(),
        "start": tonight.start.to_string(),
        "meal": page.block.title,
        "take_out": take_out.collect::<Vec<_>>(),
        "fresh": page.take_out.fresh,
        "steps": steps.collect::<Vec<_>>(),
        "how": page.how,
        "plates": plates.collect::<Vec<_>>(),
        "missing": tonight.missing,
        "before_bed": before_bed.collect::<Vec<_>>(),
    })
}

/// Date, place, mass and name in columns; a lot past its date says so.
fn lot_table(lots: &[ShelfLot], words: &Words) -> String {
    let rows: Vec<[String; 4]> = lots
        .iter()
        .map(|lot| {
            let until = lot.use_by.map_or_else(|| "-".to_owned(), |at| words.until(at));
            let mut name = lot.name.clone();
            if lot.past {
                name.push_str("  PAST ITS DATE: throw it away");
            }
            for mark in &lot.marks {
                name.push_str(&format!(", {mark}"));
            }
            [until, lot.place.word().to_owned(), words.mass(lot.mass), name]
        })
        .collect();
    let width = |at: usize| {
        let cells = rows.iter().map(|row| row[at].chars().count());
        cells.max().unwrap_or(0)
    };
    let widths = [width(0), width(1), width(2)];
    let line = |row: &[String; 4]| {
        format!(
            "{:<w0$}  {:<w1$}  {:>w2$}  {}\n",
            row[0],
            row[1],
            row[2],
            row[3],
            w0 = widths[0],
            w1 = widths[1],
            w2 = widths[2]
        )
    };
    rows.iter().map(line).collect()
}

fn lot_json(lot: &ShelfLot) -> Value {
    json!({
        "lot": lot.lot.as_str(),
        "name": lot.name,
        "place": lot.place.word(),
        "mg": lot.mass.mg(),
        "worth_minor": mul_div(lot.worth, 1, 1000, Rounding::Nearest),
        "use_by": lot.use_by.map(|at| at.to_string()),
        "past": lot.past,
        "source": lot.source,
        "marks": lot.marks,
    })
}

fn tick_word(state: StockState) -> &'static str {
    match state {
        StockState::Low => "low",
        StockState::Have | StockState::Amount(_) => "there",
    }
}

fn shelf_text(shelf: &Shelf, words: &Words) -> String {
    if shelf.lots.is_empty() && shelf.ticks.is_empty() {
        return "nothing is known of what is in the house\n".to_owned();
    }
    let mut text = String::new();
    for place in [Place::Fridge, Place::Freezer, Place::Cupboard] {
        let lots: Vec<ShelfLot> = shelf
            .lots
            .iter()
            .filter(|lot| lot.place == place)
            .cloned()
            .collect();
        if !lots.is_empty() {
            text.push_str(&format!("{}\n", place.word().to_uppercase()));
            text.push_str(&lot_table(&lots, words));
            text.push('\n');
        }
    }
    if !shelf.ticks.is_empty() {
        text.push_str("TICKED, no amounts\n");
        for (name, state) in &shelf.ticks {
            text.push_str(&format!("{}  {name}\n", tick_word(*state)));
        }
    }
    text.trim_end().to_owned() + "\n"
}

fn shelf_json(shelf: &Shelf) -> Value {
    let ticks = shelf
        .ticks
        .iter()
        .map(|(name, state)| json!({ "name": name, "state": tick_word(*state) }));
    json!({
        "lots": shelf.lots.iter().map(lot_json).collect::<Vec<_>>(),
        "ticks": ticks.collect::<Vec<_>>(),
    })
}

fn prices(memory: &Memory, words: &Words) -> Result<(String, Value), Failure> {
    let paid = memory.wait(memory.home.prices())?;
    if paid.is_empty() {
        let none = "no price is known yet; `larderwright bought FOOD --price 3.20` teaches one\n";
        return Ok((none.to_owned(), json!({ "prices": [] })));
    }
    let line = |paid: &larderwright_ledger::prices::Paid| {
        format!(
            "{:>8}  {} ({}), {}\n",
            words.money(paid.price),
            paid.food,
            paid.pack,
            larderwright_views::day(paid.on)
        )
    };
    let value = paid.iter().map(|paid| {
        json!({ "food": paid.food.as_str(), "pack": paid.pack, "price_minor": paid.price.minor(), "on": paid.on.to_string() })
    });
    let value = json!({ "prices": value.collect::<Vec<_>>() });
    Ok((paid.iter().map(line).collect(), value))
}

fn what_if_text(run: &Run, answers: &[WhatIf], words: &Words) -> String {
    let mut lines = vec![format!(
        "The session of {} is over at {}. It would be with",
        run.session,
        words.clock(run.finish)
    )];
    lines.extend(answers.iter().map(|answer| {
        let sooner = match answer.sooner_min {
            0 => "no sooner".to_owned(),
            minutes if minutes > 0 => format!("{minutes} min sooner, at {}", words.clock(answer.finish)),
            minutes => format!("{} min later, at {}", -minutes, words.clock(answer.finish)),
        };
        format!("  {}: {sooner}", answer.what)
    }));
    lines.join("\n") + "\n"
}

fn what_if_json(run: &Run, answers: &[WhatIf]) -> Value {
    let answers = answers.iter().map(|answer| {
        json!({
            "what": answer.what,
            "finish": answer.finish.to_string(),
            "sooner_min": answer.sooner_min,
            "proven": answer.proven,
        })
    });
    json!({
        "session": run.session.as_str(),
        "finish": run.finish.to_string(),
        "what_if": answers.collect::<Vec<_>>(),
    })
}

fn minor(worth: i64) -> Money {
    Money::from_minor(mul_div(worth, 1, 1000, Rounding::Nearest))
}

fn review_text(week: &WeekReview, words: &Words) -> String {
    let review = &week.review;
    let estimate = if review.spent_known {
        ""
    } else {
        ", a part of it estimated"
    };
    let mut lines = vec![
        format!("The week of {}", larderwright_views::day(review.monday)),
        format!(
            "  plates eaten     {} ({} nobody reported)",
            review.covers, review.covers_presumed
        ),
        format!(
            "  paid at the shop {}{estimate} (planned {})",
            words.money(review.spent),
            words.money(week.spent_planned)
        ),
    ];
    if let Some(cost) = review.per_cover() {
        lines.push(format!("  cost of a plate  {}", words.money(cost)));
    }
    for hours in &review.hours {
        let real = hours
            .real
            .map_or_else(|| "nobody said".to_owned(), |minutes| format!("{minutes} min"));
        lines.push(format!(
            "  session {}  {real} (planned {} min)",
            hours.session, hours.planned
        ));
    }
    let wasted = review.wasted();
    lines.push(format!(
        "  thrown away      {}, {}",
        words.mass(wasted.mass),
        words.money(minor(wasted.worth))
    ));
    for waste in &review.waste {
        lines.push(format!(
            "    {} {}, {} ({})",
            words.mass(waste.held.mass),
            waste.goods.as_str(),
            words.money(minor(waste.held.worth)),
            waste.reason.word()
        ));
    }
    if review.given.mass.is_positive() {
        lines.push(format!("  given away       {}", words.mass(review.given.mass)));
    }
    if review.unaccounted.mass.mg() != 0 {
        lines.push(format!(
            "  unaccounted      {}",
            words.mass(review.unaccounted.mass)
        ));
    }
    if week.learnt.is_empty() {
        lines.push("  nothing learnt yet: weigh a batch or say how long it took".to_owned());
    }
    lines.extend(week.learnt.iter().map(|line| format!("  learnt: {line}")));
    lines.join("\n") + "\n"
}

fn review_json(week: &WeekReview) -> Value {
    let review = &week.review;
    let hours = review.hours.iter().map(
        |hours| json!({ "session": hours.session.as_str(), "planned": hours.planned, "real": hours.real }),
    );
    let waste = review.waste.iter().map(|waste| {
        json!({
            "goods": waste.goods.as_str(),
            "reason": waste.reason.word(),
            "mg": waste.held.mass.mg(),
            "worth_minor": minor(waste.held.worth).minor(),
        })
    });
    json!({
        "monday": review.monday.to_string(),
        "covers": review.covers,
        "covers_presumed": review.covers_presumed,
        "spent_minor": review.spent.minor(),
        "spent_known": review.spent_known,
        "spent_planned_minor": week.spent_planned.minor(),
        "per_cover_minor": review.per_cover().map(Money::minor),
        "eaten_mg": review.eaten.mass.mg(),
        "waste": waste.collect::<Vec<_>>(),
        "given_mg": review.given.mass.mg(),
        "unaccounted_mg": review.unaccounted.mass.mg(),
        "hours": hours.collect::<Vec<_>>(),
        "learnt": week.learnt,
    })
}
