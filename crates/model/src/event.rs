//! Events: what really happened in the house, as it was reported, never changed afterwards.
//!
//! Double entry: a move takes a mass of one lot out of one account and puts it into another, so that nothing
//! appears or is lost. Stock, costs, waste and yields are folds over events (crate `ledger`). A correction is a new
//! event that names the one it replaces.

use jiff::civil::{Date, DateTime};
use larderwright_quantity::{Mass, Money, Permille, Temperature};

use crate::household::StockState;
use crate::id::{
    BatchId, BoxId, ComponentId, DeviceId, EaterId, EventId, FoodId, LotId, MealId, SessionId, ShopId,
    SittingId, WayId,
};
use crate::production::{Keep, Place};

/// A hybrid logical clock: milliseconds since 1970 (UTC) as far as the device knows, then a count for what happens
/// within one millisecond or while the clock stands or goes back, then the device. It orders all events.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Clock {
    /// Milliseconds since 1970-01-01T00:00Z; never lower than that of an earlier event of the device.
    pub wall_ms: i64,
    /// Counts up where `wall_ms` stands still.
    pub count: u32,
    /// Which device.
    pub device: DeviceId,
}

/// When something happened, as the clock on the wall said.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moment {
    /// Local date and time.
    pub at: DateTime,
    /// Seconds that local time was ahead of UTC.
    pub offset_s: i32,
    /// IANA time zone.
    pub zone: String,
}

impl Moment {
    /// Seconds since 1970-01-01T00:00Z, whatever the clocks were set to.
    #[must_use]
    pub fn instant_s(&self) -> i64 {
        const EPOCH: DateTime = DateTime::constant(1970, 1, 1, 0, 0, 0, 0);
        self.at.duration_since(EPOCH).as_secs() - i64::from(self.offset_s)
    }
}

/// Where mass can be.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Account {
    /// Outside, before it was bought.
    Shop,
    /// In the house.
    Place(Place),
    /// In a pot: what went into a batch and has not come out of it.
    Batch(BatchId),
    /// On plates.
    Eaten,
    /// Thrown away: spoiled, burnt, left on a plate.
    Bin,
    /// Peel, bones, brine: what a recipe throws away on purpose.
    Trim,
    /// Given away.
    Given,
    /// Steam, soaking water: what cooking adds to a batch or takes from it.
    CookingChange,
    /// What nobody can explain.
    Unaccounted,
}

/// What a lot consists of.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Goods {
    /// A food as bought.
    Food(FoodId),
    /// A component as cooked.
    Component(ComponentId),
    /// What was left of a dish put together.
    Dish(MealId),
}

impl Goods {
    /// The identifier's text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        match self {
            Self::Food(id) => id.as_str(),
            Self::Component(id) => id.as_str(),
            Self::Dish(id) => id.as_str(),
        }
    }
}

/// A mass of one lot that goes from one account to another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Move {
    /// Which lot.
    pub lot: LotId,
    /// From where.
    pub from: Account,
    /// Where to.
    pub to: Account,
    /// How much; never negative.
    pub mass: Mass,
    /// What it is worth, in thousandths of the smallest unit of money.
    pub worth: i64,
}

/// What is written on a lot's label. A later card of the same lot takes the place of an earlier one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LotCard {
    /// Which lot.
    pub lot: LotId,
    /// What it is.
    pub goods: Goods,
    /// When it was made or bought.
    pub made: DateTime,
    /// Until when guidance lets it be eaten; `None` for what keeps for months.
    pub keep: Option<Keep>,
    /// The date printed on the pack.
    pub printed: Option<Date>,
    /// The pack it came in, in words; empty for what was cooked.
    pub pack: String,
    /// Boxes by kind and count.
    pub boxes: Vec<(BoxId, u32)>,
}

impl LotCard {
    /// The last moment to eat it: the earlier of the computed and the printed date.
    #[must_use]
    pub fn use_by(&self) -> Option<DateTime> {
        let printed = self.printed.map(|date| date.at(23, 59, 0, 0));
        match (self.keep.as_ref().map(|keep| keep.use_by), printed) {
            (Some(computed), Some(printed)) => Some(computed.min(printed)),
            (computed, printed) => computed.or(printed),
        }
    }
}

/// How the output of a batch became known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measured {
    /// On a scale.
    Weighed,
    /// By how full the boxes are.
    Filled(Permille),
    /// Nobody looked: the yield the recipe leads one to expect.
    Expected,
}

/// One look at the thermometer, or only at the clock.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reading {
    /// When.
    pub at: DateTime,
    /// How warm in the middle, where somebody measured.
    pub temperature: Option<Temperature>,
}

/// Why food is thrown away.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum WasteReason {
    /// Past its date.
    PastDate,
    /// Smelled, looked or tasted off.
    Spoiled,
    /// Stood too long where it was warm.
    LeftOut,
    /// Burnt or spilled.
    Mishap,
    /// Left on a plate.
    PlateScrapings,
    /// Nobody wanted it.
    Unwanted,
    /// A power cut or a broken fridge.
    PowerCut,
}

impl WasteReason {
    /// Every reason with the word used in files and on the command line.
    pub const WORDS: [(&'static str, Self); 7] = [
        ("past-date", Self::PastDate),
        ("spoiled", Self::Spoiled),
        ("left-out", Self::LeftOut),
        ("mishap", Self::Mishap),
        ("plate-scrapings", Self::PlateScrapings),
        ("unwanted", Self::Unwanted),
        ("power-cut", Self::PowerCut),
    ];

    /// The word used in files and on the command line.
    #[must_use]
    pub fn word(self) -> &'static str {
        let found = Self::WORDS.iter().find(|(_, reason)| *reason == self);
        found.map(|(word, _)| *word).expect("every reason has its word")
    }
}

/// How a sitting is known to have gone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reported {
    /// Nobody said anything: eaten as planned.
    Presumed,
    /// Somebody said so.
    Told,
    /// It did not happen: nobody ate here, nothing was cooked.
    Skipped,
}

/// What a sitting was.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ServedFact {
    /// Which sitting.
    pub sitting: SittingId,
    /// What was on the table.
    pub meal: Option<MealId>,
    /// Who of the household ate.
    pub eaters: Vec<EaterId>,
    /// How many plates, guests included.
    pub covers: u32,
    /// The mass the plan would mean to be eaten if everybody had the appetite that was stated: what was learnt before is
    /// taken out, so that what is learnt next does not build upon itself.
    pub planned: Mass,
    /// How it is known.
    pub reported: Reported,
}

/// What a batch was.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CookedFact {
    /// Which batch.
    pub batch: BatchId,
    /// What.
    pub component: ComponentId,
    /// How.
    pub way: WayId,
    /// When, when it was part of a session.
    pub session: Option<SessionId>,
    /// Size: edible portion of the driver.
    pub x: Mass,
    /// The yield that the recipe's own law leads one to expect, without what was learnt before.
    pub expected: Mass,
    /// What came out.
    pub output: Mass,
    /// How that is known.
    pub measured: Measured,
    /// Minutes it really took, where somebody said so.
    pub minutes: Option<i64>,
    /// Minutes it would be planned to take by the recipe's own laws, without what was learnt before.
    pub minutes_planned: Option<i64>,
    /// Whether somebody reported it, it is presumed to have been cooked as planned, or it was not cooked at all.
    pub reported: Reported,
}

/// What happened, beside the masses that moved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fact {
    /// A food was bought: one lot.
    Bought {
        /// On which trip of the plan.
        trip: Option<ShopId>,
        /// How many packs.
        count: i64,
        /// What they cost together, where known.
        price: Option<Money>,
        /// Whether somebody reported it.
        reported: Reported,
    },
    /// What the receipt of a trip says in total.
    Receipt {
        /// Which trip.
        trip: Option<ShopId>,
        /// The total.
        total: Money,
    },
    /// A lot was opened.
    Opened {
        /// Which.
        lot: LotId,
    },
    /// A lot or food was counted or weighed.
    Counted,
    /// A food was ticked on the list of what is at home, without an amount.
    Ticked {
        /// The food.
        food: FoodId,
        /// What the list says; `None`: none left.
        state: Option<StockState>,
    },
    /// A batch was cooked.
    Cooked(CookedFact),
    /// A batch was cooled.
    Cooled {
        /// Which batch.
        batch: BatchId,
        /// Times, and temperatures where somebody measured.
        readings: Vec<Reading>,
    },
    /// A part of a batch went into boxes: a new lot.
    Stored {
        /// Which batch.
        batch: BatchId,
    },
    /// A lot changed its place.
    Moved,
    /// A lot was taken out of the freezer to thaw in the fridge.
    Thawed,
    /// A sitting took place, or did not.
    Served(ServedFact),
    /// What was left in the pot after a sitting became a new lot.
    LeftOver {
        /// Which sitting.
        sitting: Option<SittingId>,
    },
    /// What came back on plates and was thrown away.
    Returned {
        /// Which sitting.
        sitting: SittingId,
    },
    /// Food was thrown away.
    Discarded {
        /// Why.
        reason: WasteReason,
    },
    /// Food was given away.
    GivenAway {
        /// To whom; may be empty.
        to: String,
    },
    /// A lot was warmed.
    Reheated {
        /// Which.
        lot: LotId,
    },
    /// A lot stood out of the cold.
    LeftOut {
        /// Which.
        lot: LotId,
        /// For how many minutes.
        minutes: i64,
    },
    /// A look into fridge and freezer: what was there, half or gone.
    Checked,
    /// A session ended.
    SessionEnded {
        /// Which session.
        session: SessionId,
        /// Minutes it really took.
        minutes: i64,
        /// Minutes it was planned to take.
        minutes_planned: i64,
    },
    /// The week was closed.
    Closed {
        /// Its Monday.
        monday: Date,
    },
    /// The event that this one names did not happen.
    Undone,
}

/// Something that happened, as it was reported.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Event {
    /// Made on the device, final.
    pub id: EventId,
    /// Its place in the order of all events.
    pub clock: Clock,
    /// When it happened.
    pub moment: Moment,
    /// Who reported it; may be empty.
    pub by: String,
    /// Hash of the plan that was current then.
    pub plan: Option<String>,
    /// The event that this one takes the place of.
    pub corrects: Option<EventId>,
    /// Lots made or labelled anew.
    pub cards: Vec<LotCard>,
    /// Masses that moved.
    pub moves: Vec<Move>,
    /// What happened.
    pub fact: Fact,
}
