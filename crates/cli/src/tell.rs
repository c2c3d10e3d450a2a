//! What happened: one plain verb for each event. A fact is never refused; what does not add up is said beside it.

use clap::{Args, Subcommand, ValueEnum};
use jiff::civil::{Date, DateTime};
use larderwright_app::home::{Buying, Cooking, Look, Now, Portioned, Told};
use larderwright_ledger::deed::Found;
use larderwright_model::{Place, StockState, WasteReason};
use larderwright_quantity::{Mass, Money, Permille, Temperature};
use serde_json::json;

use crate::args::Format;
use crate::failure::Failure;
use crate::memory::{Memory, MemoryArgs, When};
use crate::said;

/// Where food is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum PlaceArg {
    Fridge,
    Freezer,
    Cupboard,
}

impl From<PlaceArg> for Place {
    fn from(place: PlaceArg) -> Self {
        match place {
            PlaceArg::Fridge => Self::Fridge,
            PlaceArg::Freezer => Self::Freezer,
            PlaceArg::Cupboard => Self::Cupboard,
        }
    }
}

/// What a tick says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum TickArg {
    Have,
    Low,
    Out,
}

/// Whose memory, and when it happened.
#[derive(Debug, Args)]
pub(crate) struct Telling {
    #[command(flatten)]
    when: When,
    #[command(flatten)]
    memory: MemoryArgs,
}

/// One verb for each event.
#[derive(Debug, Subcommand)]
pub(crate) enum Tell {
    /// What came into the house.
    #[command(flatten)]
    Shop(Shop),
    /// What became of the batches.
    #[command(flatten)]
    Kitchen(Kitchen),
    /// What became of the sittings.
    #[command(flatten)]
    Table(Table),
    /// What became of the lots.
    #[command(flatten)]
    Shelves(Shelves),
    /// Take back the last words.
    Undo {
        /// How many.
        #[arg(default_value_t = 1, value_parser = clap::value_parser!(u16).range(1..=100))]
        count: u16,
        #[command(flatten)]
        memory: MemoryArgs,
    },
}

/// What came into the house.
#[derive(Debug, Subcommand)]
pub(crate) enum Shop {
    /// Something was bought: `bought carrots 2 --price 3.20`, or the whole order: `bought --all`.
    Bought {
        /// The food.
        #[arg(required_unless_present = "all")]
        food: Option<String>,
        /// How many packs.
        #[arg(default_value_t = 1, value_parser = clap::value_parser!(i64).range(1..=999))]
        count: i64,
        /// What one pack holds, as in `400 g`; by default the pack on the order, else the usual one.
        #[arg(long, value_name = "AMOUNT", value_parser = said::mass)]
        pack: Option<Mass>,
        /// What they cost together.
        #[arg(long, value_name = "MONEY", value_parser = said::money)]
        price: Option<Money>,
        /// The date printed on the pack.
        #[arg(long, value_name = "DATE")]
        printed: Option<Date>,
        /// Every line of the order that is still open, as it stands there.
        #[arg(long, conflicts_with_all = ["food", "pack", "price", "printed"])]
        all: bool,
        /// Which trip, by its date; by default the first with open lines.
        #[arg(long, value_name = "DATE", requires = "all")]
        trip: Option<String>,
        #[command(flatten)]
        telling: Telling,
    },
    /// The total of a receipt.
    Receipt {
        /// The total.
        #[arg(value_parser = said::money)]
        total: Money,
        /// Which trip, by its date; by default the last one.
        #[arg(long, value_name = "DATE")]
        trip: Option<String>,
        #[command(flatten)]
        telling: Telling,
    },
}

/// What became of the batches.
#[derive(Debug, Subcommand)]
pub(crate) enum Kitchen {
    /// A batch was cooked.
    Cooked {
        /// A component of the plan, or a batch.
        batch: String,
        /// What came out, by the scale.
        #[arg(long, value_name = "AMOUNT", value_parser = said::mass, conflicts_with = "filled")]
        weighed: Option<Mass>,
        /// How full the boxes are, of what was planned: `90%`.
        #[arg(long, value_name = "PERCENT", value_parser = said::percent)]
        filled: Option<Permille>,
        /// Minutes it took.
        #[arg(long, value_name = "N", value_parser = clap::value_parser!(i64).range(0..=2880))]
        minutes: Option<i64>,
        #[command(flatten)]
        telling: Telling,
    },
    /// A batch was not cooked after all, or was burnt or spilled.
    NotCooked {
        /// A component of the plan, or a batch.
        batch: String,
        /// It was begun and is lost: what went into it is thrown away.
        #[arg(long)]
        lost: bool,
        #[command(flatten)]
        telling: Telling,
    },
    /// A batch was cooled: when, and how warm it was where somebody measured.
    Cooled {
        /// A component of the plan, or a batch.
        batch: String,
        /// A reading, as in `2026-11-29T15:00=57C`, `15:00=135F` or `17:00`; may be said several times.
        #[arg(long = "reading", value_name = "READING", value_parser = said::reading)]
        readings: Vec<(crate::keep::read::Moment, Option<Temperature>)>,
        #[command(flatten)]
        telling: Telling,
    },
    /// A batch went into its boxes.
    Stored {
        /// A component of the plan, or a batch.
        batch: String,
        /// What the boxes hold, in the order of the labels.
        #[arg(long, value_name = "AMOUNT", value_parser = said::mass)]
        weighed: Vec<Mass>,
        /// All of it elsewhere than planned.
        #[arg(long)]
        place: Option<PlaceArg>,
        #[command(flatten)]
        telling: Telling,
    },
    /// A whole session is over, all of it as planned but what was said otherwise.
    SessionDone {
        /// Which, by its day; by default the first that is open.
        session: Option<String>,
        /// Minutes it took.
        #[arg(long, value_name = "N", value_parser = clap::value_parser!(i64).range(0..=2880))]
        minutes: Option<i64>,
        #[command(flatten)]
        telling: Telling,
    },
}

/// What became of the sittings.
#[derive(Debug, Subcommand)]
pub(crate) enum Table {
    /// A sitting took place.
    Served {
        /// The sitting, as in `thu-dinner` or `tonight`.
        sitting: String,
        /// How much of the plan was eaten: `80%`; `150%` when more sat down.
        #[arg(long, value_name = "PERCENT", default_value = "100%", value_parser = said::percent)]
        part: Permille,
        #[command(flatten)]
        telling: Telling,
    },
    /// Nobody ate at a sitting.
    Skipped {
        /// The sitting, as in `thu-dinner` or `tonight`.
        sitting: String,
        #[command(flatten)]
        telling: Telling,
    },
    /// Something was left in the pot and put away.
    LeftOver {
        /// The sitting, as in `thu-dinner` or `tonight`.
        sitting: String,
        /// How much.
        #[arg(value_parser = said::mass)]
        amount: Mass,
        /// Which component it is; by default the dish as a whole.
        #[arg(long, value_name = "COMPONENT")]
        of: Option<String>,
        #[command(flatten)]
        telling: Telling,
    },
    /// Something came back on plates and was thrown away.
    Returned {
        /// The sitting, as in `thu-dinner` or `tonight`.
        sitting: String,
        /// How much.
        #[arg(value_parser = said::mass)]
        amount: Mass,
        #[command(flatten)]
        telling: Telling,
    },
}

/// What became of the lots.
#[derive(Debug, Subcommand)]
pub(crate) enum Shelves {
    /// A pack or box was opened.
    Opened {
        /// A food, component or lot.
        what: String,
        #[command(flatten)]
        telling: Telling,
    },
    /// Something was weighed or counted: `stocktake rice "300 g"`.
    Stocktake {
        /// A food or lot.
        what: String,
        /// How much is there: `300 g`, `2 cups`, `6`.
        amount: String,
        #[command(flatten)]
        telling: Telling,
    },
    /// A food is there, runs low, or is out; no amounts.
    Ticked {
        /// A food.
        what: String,
        /// What the shelf says.
        state: TickArg,
        #[command(flatten)]
        telling: Telling,
    },
    /// A lot changed its place; out of the freezer it thaws.
    Moved {
        /// A food, component or lot.
        what: String,
        /// Where to.
        to: PlaceArg,
        #[command(flatten)]
        telling: Telling,
    },
    /// A lot was taken out of the freezer to thaw in the fridge.
    Thawed {
        /// A component or lot.
        what: String,
        #[command(flatten)]
        telling: Telling,
    },
    /// A lot was warmed and put back.
    Reheated {
        /// A component or lot.
        what: String,
        #[command(flatten)]
        telling: Telling,
    },
    /// A lot stood out of the cold.
    LeftOut {
        /// A food, component or lot.
        what: String,
        /// For how many minutes.
        #[arg(value_parser = clap::value_parser!(i64).range(1..=20_000))]
        minutes: i64,
        #[command(flatten)]
        telling: Telling,
    },
    /// Something was thrown away.
    Discarded {
        /// A food, component or lot.
        what: String,
        /// How much; by default all of it.
        #[arg(value_parser = said::mass)]
        amount: Option<Mass>,
        /// Why.
        #[arg(long, default_value = "spoiled", value_parser = said::reason)]
        reason: WasteReason,
        #[command(flatten)]
        telling: Telling,
    },
    /// Something was given away.
    Gave {
        /// A food, component or lot.
        what: String,
        /// How much; by default all of it.
        #[arg(value_parser = said::mass)]
        amount: Option<Mass>,
        /// Whom to.
        #[arg(long, value_name = "NAME", default_value = "")]
        to: String,
        #[command(flatten)]
        telling: Telling,
    },
    /// A look into fridge and freezer: `checked rice=half lentils=gone`.
    Checked {
        /// What was seen: a name, `=`, and `there`, `half` or `gone`.
        #[arg(required = true, value_parser = said::look)]
        looks: Vec<(String, Found)>,
        #[command(flatten)]
        telling: Telling,
    },
}

/// Writes down what was said and repeats it.
///
/// # Errors
/// When a name leads nowhere, or the memory cannot be written.
pub(crate) fn run(tell: &Tell, format: Format) -> Result<String, Failure> {
    let told = match tell {
        Tell::Shop(verb) => shop(verb)?,
        Tell::Kitchen(verb) => kitchen(verb)?,
        Tell::Table(verb) => table(verb)?,
        Tell::Shelves(verb) => shelves(verb)?,
        Tell::Undo { count, memory } => undo(*count, memory)?,
    };
    Ok(match format {
        Format::Text => text(&told),
        Format::Json => format!(
            "{:#}\n",
            json!({
                "status": "noted",
                "events": told.events.iter().map(ToString::to_string).collect::<Vec<_>>(),
                "lines": told.lines,
                "findings": told.findings,
            })
        ),
    })
}

fn text(told: &Told) -> String {
    let lines = told.lines.iter().cloned();
    let findings = told.findings.iter().map(|finding| format!("note: {finding}"));
    lines.chain(findings).collect::<Vec<_>>().join("\n") + "\n"
}

/// The memory that is meant, and when it happened.
fn opened(telling: &Telling) -> Result<(Memory, Now), Failure> {
    let memory = Memory::open(&telling.memory)?;
    let now = memory.when(&telling.when)?;
    settled(memory, now)
}

/// What was planned for earlier and nobody reported is presumed first, so that it comes before this.
fn settled(memory: Memory, now: Now) -> Result<(Memory, Now), Failure> {
    memory.wait(memory.home.settle(&now))?;
    Ok((memory, now))
}

fn undo(count: u16, args: &MemoryArgs) -> Result<Told, Failure> {
    let memory = Memory::open(args)?;
    let now = memory.now()?;
    let (memory, now) = settled(memory, now)?;
    memory.wait(memory.home.undo(usize::from(count), &now))
}

fn shop(verb: &Shop) -> Result<Told, Failure> {
    let (Shop::Bought { telling, .. } | Shop::Receipt { telling, .. }) = verb;
    let (memory, now) = opened(telling)?;
    let (home, now) = (&memory.home, &now);
    match verb {
        Shop::Bought { all: true, trip, .. } => {
            let trip = trip.as_deref().map(Into::into);
            memory.wait(home.bought_all(trip.as_ref(), now))
        }
        Shop::Bought {
            food,
            count,
            pack,
            price,
            printed,
            ..
        } => memory.wait(async {
            let food = home.food(food.as_deref().unwrap_or_default()).await?;
            let buying = Buying {
                food,
                count: *count,
                pack: *pack,
                price: *price,
                printed: *printed,
            };
            home.bought(buying, now).await
        }),
        Shop::Receipt { total, trip, .. } => {
            memory.wait(home.receipt(trip.as_deref().map(Into::into), *total, now))
        }
    }
}

fn kitchen(verb: &Kitchen) -> Result<Told, Failure> {
    let (Kitchen::Cooked { telling, .. }
    | Kitchen::NotCooked { telling, .. }
    | Kitchen::Cooled { telling, .. }
    | Kitchen::Stored { telling, .. }
    | Kitchen::SessionDone { telling, .. }) = verb;
    let (memory, now) = opened(telling)?;
    let (home, now) = (&memory.home, &now);
    match verb {
        Kitchen::Cooked {
            batch,
            weighed,
            filled,
            minutes,
            ..
        } => {
            let cooking = Cooking {
                weighed: *weighed,
                filled: *filled,
                minutes: *minutes,
            };
            memory.wait(home.cooked(batch, cooking, now))
        }
        Kitchen::NotCooked { batch, lost, .. } => memory.wait(home.not_cooked(batch, *lost, now)),
        Kitchen::Cooled { batch, readings, .. } => {
            let at = now.minute();
            let mut read: Vec<(DateTime, Option<Temperature>)> = readings
                .iter()
                .map(|(moment, temperature)| (said::before(*moment, at), *temperature))
                .collect();
            if read.is_empty() {
                read.push((at, None));
            }
            memory.wait(home.cooled(batch, read, now))
        }
        Kitchen::Stored {
            batch,
            weighed,
            place,
            ..
        } => {
            let portioned = Portioned {
                weighed: weighed.clone(),
                place: place.map(Into::into),
            };
            memory.wait(home.stored(batch, &portioned, now))
        }
        Kitchen::SessionDone { session, minutes, .. } => {
            let session = session.as_deref().map(Into::into);
            memory.wait(home.session_done(session.as_ref(), *minutes, now))
        }
    }
}

fn table(verb: &Table) -> Result<Told, Failure> {
    let (Table::Served { telling, .. }
    | Table::Skipped { telling, .. }
    | Table::LeftOver { telling, .. }
    | Table::Returned { telling, .. }) = verb;
    let (memory, now) = opened(telling)?;
    let (home, now) = (&memory.home, &now);
    match verb {
        Table::Served { sitting, part, .. } => memory.wait(home.served(sitting, part.permille(), now)),
        Table::Skipped { sitting, .. } => memory.wait(home.skipped(sitting, now)),
        Table::LeftOver {
            sitting, amount, of, ..
        } => memory.wait(home.left_over(sitting, *amount, of.as_deref(), now)),
        Table::Returned { sitting, amount, .. } => memory.wait(home.returned(sitting, *amount, now)),
    }
}

fn shelves(verb: &Shelves) -> Result<Told, Failure> {
    let (Shelves::Opened { telling, .. }
    | Shelves::Stocktake { telling, .. }
    | Shelves::Ticked { telling, .. }
    | Shelves::Moved { telling, .. }
    | Shelves::Thawed { telling, .. }
    | Shelves::Reheated { telling, .. }
    | Shelves::LeftOut { telling, .. }
    | Shelves::Discarded { telling, .. }
    | Shelves::Gave { telling, .. }
    | Shelves::Checked { telling, .. }) = verb;
    let (memory, now) = opened(telling)?;
    let (home, now) = (&memory.home, &now);
    match verb {
        Shelves::Opened { what, .. } => memory.wait(home.opened(what, now)),
        Shelves::Stocktake { what, amount, .. } => said::amount_of(&memory, what, amount)
            .and_then(|mass| memory.wait(home.stocktake(what, mass, now))),
        Shelves::Ticked { what, state, .. } => {
            let state = match state {
                TickArg::Have => Some(StockState::Have),
                TickArg::Low => Some(StockState::Low),
                TickArg::Out => None,
            };
            memory.wait(home.ticked(what, state, now))
        }
        Shelves::Moved { what, to, .. } => memory.wait(home.moved(what, (*to).into(), now)),
        Shelves::Thawed { what, .. } => memory.wait(home.moved(what, Place::Fridge, now)),
        Shelves::Reheated { what, .. } => memory.wait(home.reheated(what, now)),
        Shelves::LeftOut { what, minutes, .. } => memory.wait(home.left_out(what, *minutes, now)),
        Shelves::Discarded {
            what, amount, reason, ..
        } => memory.wait(home.discarded(what, *amount, *reason, now)),
        Shelves::Gave { what, amount, to, .. } => memory.wait(home.gave(what, *amount, to, now)),
        Shelves::Checked { looks, .. } => {
            let looks: Vec<Look> = looks
                .iter()
                .map(|(name, found)| Look {
                    name: name.clone(),
                    found: *found,
                })
                .collect();
            memory.wait(home.checked(&looks, now))
        }
    }
}
