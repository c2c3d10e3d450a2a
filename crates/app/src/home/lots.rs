//! Lots: what is on the shelves, what to use first, and what happens to a box between cooking and eating.

use jiff::civil::DateTime;
use larderwright_ledger::deed::{self, Found, Labelled};
use larderwright_ledger::{LotState, Stock};
use larderwright_model::{
    ComponentId, Goods, Household, Keep, LotCard, LotId, Place, StockState, WasteReason,
};
use larderwright_quantity::{Mass, Rounding};
use larderwright_safety::keeping::{self, KeepClass};
use larderwright_store::Store;
use larderwright_views::Words;

use super::names::{Named, goods_name, tick_words};
use super::shop::{Which, days_from, food_of};
use super::{Home, HomeError, Now, Told};
use crate::catalogue::built_in;

/// A lot as it stands on a shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShelfLot {
    /// Its identifier.
    pub lot: LotId,
    /// What it is, as people say it.
    pub name: String,
    /// What it is.
    pub goods: Option<Goods>,
    /// When it was made or bought; `None` when nobody said.
    pub made: Option<DateTime>,
    /// Where most of it is.
    pub place: Place,
    /// How much there is.
    pub mass: Mass,
    /// What it is worth, in thousandths of the smallest unit of money.
    pub worth: i64,
    /// The last moment to eat it, and the rule that says so.
    pub use_by: Option<DateTime>,
    /// Which rule, and where it stands; empty for a printed date.
    pub source: String,
    /// Boxes by kind and count.
    pub boxes: Vec<(larderwright_model::BoxId, u32)>,
    /// Whether its date has passed.
    pub past: bool,
    /// Opened, warmed, left out: what happened to it, in words.
    pub marks: Vec<String>,
}

/// Everything in the house.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Shelf {
    /// Lots: those with a date first, by date.
    pub lots: Vec<ShelfLot>,
    /// Foods ticked as there without an amount, and whether they run low.
    pub ticks: Vec<(String, StockState)>,
}

/// What a look into the fridge says of a lot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Look {
    /// Which lot, by any name.
    pub name: String,
    /// There, half, gone.
    pub found: Found,
}

impl<S: Store> Home<S> {
    /// Everything in the house.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn shelf(&self, now: &Now) -> Result<Shelf, HomeError> {
        let at = now.minute();
        let mut lots: Vec<ShelfLot> = self
            .store
            .open_lots()
            .await?
            .iter()
            .map(|lot| shelf_lot(lot, at))
            .collect();
        lots.sort_by_key(|lot| (lot.use_by.is_none(), lot.use_by, lot.lot.clone()));
        let ticks = self.store.ticks().await?;
        let ticks = ticks
            .into_iter()
            .filter_map(|(food, state)| Some((goods_name(&Goods::Food(food)), state?)));
        Ok(Shelf {
            lots,
            ticks: ticks.collect(),
        })
    }

    /// What to use first: lots with a date outside the freezer, those past their date first.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn use_first(&self, now: &Now) -> Result<Vec<ShelfLot>, HomeError> {
        let mut lots = self.shelf(now).await?.lots;
        lots.retain(|lot| lot.use_by.is_some() && lot.place != Place::Freezer);
        Ok(lots)
    }

    /// A lot was opened; where guidance counts days from there, its date comes earlier.
    ///
    /// # Errors
    /// When nothing of that name is in the house.
    pub async fn opened(&self, name: &str, now: &Now) -> Result<Told, HomeError> {
        let lot = self.find_lot(name).await?;
        let household = self.household().await?;
        let keep = opened_keep(&household, &lot, now.minute());
        let line = dated("opened", &lot, keep.as_ref(), &Words::of(&household));
        self.say(deed::opened(&Labelled { lot: &lot, keep }), line, now)
            .await
    }

    /// A lot changed its place. Into the freezer its clock stops; out of it, it goes on.
    ///
    /// # Errors
    /// When nothing of that name is in the house.
    pub async fn moved(&self, name: &str, to: Place, now: &Now) -> Result<Told, HomeError> {
        let lot = self.find_lot(name).await?;
        let household = self.household().await?;
        let from = lot.place().unwrap_or(Place::Fridge);
        let keep = match (from, to) {
            (Place::Freezer, Place::Fridge) => self.thawed_keep(&household, &lot, now.minute()).await?,
            (_, Place::Freezer) => frozen_keep(&household, &lot, now.minute()),
            _ => None,
        };
        let verb = match to {
            Place::Freezer => "froze",
            Place::Fridge if from == Place::Freezer => "took out to thaw",
            Place::Fridge | Place::Cupboard => "moved",
        };
        let line = dated(verb, &lot, keep.as_ref(), &Words::of(&household));
        let labelled = Labelled { lot: &lot, keep };
        let deed = if from == Place::Freezer && to == Place::Fridge {
            deed::thawed(&labelled)
        } else {
            deed::moved(&labelled, to)
        };
        self.say(deed, line, now).await
    }

    /// The date of a lot that comes out of the freezer: the days it had in the fridge before count.
    async fn thawed_keep(
        &self,
        household: &Household,
        lot: &LotState,
        at: DateTime,
    ) -> Result<Option<Keep>, HomeError> {
        let Some((card, class)) = lot.card.as_ref().zip(class_of(lot)) else {
            return Ok(None);
        };
        let subject = larderwright_ledger::Subject::Lot(lot.lot.clone());
        let events = self.store.events_about(&subject).await?;
        let into = |event: &&larderwright_model::Event| {
            let freezer = larderwright_model::Account::Place(Place::Freezer);
            event
                .moves
                .iter()
                .any(|step| step.lot == lot.lot && step.to == freezer)
        };
        let frozen = events
            .iter()
            .rfind(into)
            .map_or(card.made, |event| event.moment.at);
        Ok(Some(keeping::thawed(
            household.profile,
            class,
            card.made,
            frozen,
            at,
        )))
    }

    /// A lot was warmed and put back; guidance that allows one warming then gives it no other.
    ///
    /// # Errors
    /// When nothing of that name is in the house.
    pub async fn reheated(&self, name: &str, now: &Now) -> Result<Told, HomeError> {
        let lot = self.find_lot(name).await?;
        let line = format!("warmed {}; it is not planned hot again", name_of(&lot));
        self.say(
            deed::reheated(&Labelled {
                lot: &lot,
                keep: None,
            }),
            line,
            now,
        )
        .await
    }

    /// A lot stood out of the cold. Says what the guidance says of that.
    ///
    /// # Errors
    /// When nothing of that name is in the house.
    pub async fn left_out(&self, name: &str, minutes: i64, now: &Now) -> Result<Told, HomeError> {
        let lot = self.find_lot(name).await?;
        let household = self.household().await?;
        let limit = larderwright_safety::limits(household.profile).out_of_fridge_max;
        let total = lot.out_minutes + minutes;
        let mut told = self
            .say(
                deed::left_out(
                    &Labelled {
                        lot: &lot,
                        keep: None,
                    },
                    minutes,
                ),
                format!(
                    "{} stood out for {minutes} minutes, {total} altogether",
                    name_of(&lot)
                ),
                now,
            )
            .await?;
        let perishable = class_of(&lot).is_none_or(KeepClass::perishable);
        if perishable && total * 60 > limit.secs() {
            told.findings.push(format!(
                "the guidance in force allows {} minutes out of the cold: throw it away, and ask your local food-safety \
                 authority in doubt",
                limit.secs() / 60
            ));
        }
        Ok(told)
    }

    /// Food was thrown away; without a mass the whole lot.
    ///
    /// # Errors
    /// When nothing of that name is in the house.
    pub async fn discarded(
        &self,
        name: &str,
        mass: Option<Mass>,
        reason: WasteReason,
        now: &Now,
    ) -> Result<Told, HomeError> {
        let lot = self.find_lot(name).await?;
        let mut stock = Stock::of(self.store.open_lots().await?);
        let mass = mass.unwrap_or_else(|| lot.mass());
        let deed = deed::discarded(&mut stock, &lot.lot, mass, reason);
        let line = format!(
            "threw away {} of {}",
            self.words().await?.mass(mass),
            name_of(&lot)
        );
        self.say(deed, line, now).await
    }

    /// Food was given away; without a mass the whole lot.
    ///
    /// # Errors
    /// When nothing of that name is in the house.
    pub async fn gave(&self, name: &str, mass: Option<Mass>, to: &str, now: &Now) -> Result<Told, HomeError> {
        let lot = self.find_lot(name).await?;
        let mut stock = Stock::of(self.store.open_lots().await?);
        let mass = mass.unwrap_or_else(|| lot.mass());
        let deed = deed::given_away(&mut stock, &lot.lot, mass, to);
        let line = format!(
            "gave away {} of {}",
            self.words().await?.mass(mass),
            name_of(&lot)
        );
        self.say(deed, line, now).await
    }

    /// A lot or a food was weighed or counted. Of a food in several lots the first to be used take the difference; a
    /// food of which nothing was known becomes a lot.
    ///
    /// # Errors
    /// When nothing has that name.
    pub async fn stocktake(&self, name: &str, found: Mass, now: &Now) -> Result<Told, HomeError> {
        let line = format!("{name}: {} there", self.words().await?.mass(found));
        match self.find(name).await? {
            Named::Food(food) => {
                let household = self.household().await?;
                let known = food_of(&household, &food)?;
                let lot = self
                    .free_lot(LotId::new(&format!(
                        "{food}@{}",
                        now.minute().strftime("%Y-%m-%dT%H:%M")
                    )))
                    .await?;
                let card = LotCard {
                    lot,
                    goods: Goods::Food(food.clone()),
                    made: now.minute(),
                    keep: None,
                    printed: None,
                    pack: String::new(),
                    boxes: Vec::new(),
                };
                let pack = known.packs.first();
                let worth = pack.map_or(0, |pack| {
                    larderwright_quantity::mul_div(
                        pack.price.minor() * 1000,
                        found.mg(),
                        pack.size.mass.mg().max(1),
                        Rounding::Nearest,
                    )
                });
                let deed = deed::found_new(card, super::shop::place_of(&known), found, worth);
                self.say(deed, line, now).await
            }
            Named::Lots(lots) => {
                let mut left = found;
                let mut deeds = Vec::new();
                for (at, lot) in lots.iter().enumerate().rev() {
                    // The last lots keep what they have; the first one takes what remains of the count.
                    let here = if at == 0 { left } else { left.min(lot.mass()) };
                    left -= here;
                    if here != lot.mass() {
                        deeds.push(deed::counted(lot, here));
                    }
                }
                let told = self.tell(deeds, now).await?;
                Ok(Told {
                    lines: vec![line],
                    ..told
                })
            }
        }
    }

    /// A food was ticked as there, low or out, without an amount.
    ///
    /// # Errors
    /// When nothing has that name.
    pub async fn ticked(&self, name: &str, state: Option<StockState>, now: &Now) -> Result<Told, HomeError> {
        let mut deeds = Vec::new();
        let food = match self.find(name).await? {
            Named::Food(food) => food,
            Named::Lots(lots) => {
                if state.is_none() {
                    deeds.extend(lots.iter().map(|lot| deed::counted(lot, Mass::ZERO)));
                }
                match lots
                    .first()
                    .and_then(|lot| lot.card.as_ref())
                    .map(|card| &card.goods)
                {
                    Some(Goods::Food(food)) => food.clone(),
                    _ => {
                        let told = self.tell(deeds, now).await?;
                        return Ok(Told {
                            lines: vec![format!("{name}: noted")],
                            ..told
                        });
                    }
                }
            }
        };
        deeds.push(deed::ticked(&food, state));
        let told = self.tell(deeds, now).await?;
        Ok(Told {
            lines: vec![format!("{food}: {}", tick_words(state))],
            ..told
        })
    }

    /// A look into fridge and freezer.
    ///
    /// # Errors
    /// When a name leads nowhere.
    pub async fn checked(&self, looks: &[Look], now: &Now) -> Result<Told, HomeError> {
        let mut lots = Vec::new();
        for look in looks {
            match self.store.lot(&LotId::new(&look.name)).await? {
                Some(lot) => lots.push((lot, look.found)),
                None => lots.push((self.find_lot(&look.name).await?, look.found)),
            }
        }
        let seen: Vec<(&LotState, Found)> = lots.iter().map(|(lot, found)| (lot, *found)).collect();
        let deed = deed::checked(&seen);
        let line = match deed.moves.len() {
            0 => format!("looked at {} lots; the books agree", looks.len()),
            changed => format!("looked at {} lots; {changed} corrected", looks.len()),
        };
        self.say(deed, line, now).await
    }

    pub(crate) async fn say(
        &self,
        deed: larderwright_ledger::Deed,
        line: String,
        now: &Now,
    ) -> Result<Told, HomeError> {
        let told = self.tell(vec![deed], now).await?;
        Ok(Told {
            lines: vec![line],
            ..told
        })
    }

    /// Takes in what the household's file says is at home, once: amounts become lots, ticks become ticks.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn take_in_stock(&self, now: &Now) -> Result<Told, HomeError> {
        let household = self.household().await?;
        let nothing_known = self.store.last_events(1).await?.is_empty();
        let mut told = Told::default();
        if !nothing_known {
            return Ok(told);
        }
        for item in &household.stock {
            told = told.and(match item.state {
                StockState::Amount(mass) => self.stocktake(item.food.as_str(), mass, now).await?,
                state => self.ticked(item.food.as_str(), Some(state), now).await?,
            });
        }
        for par in household.pars.iter().filter(|par| par.on_hand.is_positive()) {
            told = told.and(self.stocktake(par.food.as_str(), par.on_hand, now).await?);
        }
        Ok(told)
    }
}

fn shelf_lot(lot: &LotState, at: DateTime) -> ShelfLot {
    let goods = lot.card.as_ref().map(|card| card.goods.clone());
    let use_by = lot.use_by();
    let mut marks = Vec::new();
    if let Some(opened) = lot.opened {
        marks.push(format!("opened {}", opened.strftime("%a %-d %b")));
    }
    if lot.reheats > 0 {
        marks.push("warmed before".to_owned());
    }
    if lot.out_minutes > 0 {
        marks.push(format!("{} min out of the cold", lot.out_minutes));
    }
    let keep = lot.card.as_ref().and_then(|card| card.keep.as_ref());
    let computed = keep.filter(|keep| use_by == Some(keep.use_by));
    ShelfLot {
        lot: lot.lot.clone(),
        name: name_of(lot),
        goods,
        made: lot.card.as_ref().map(|card| card.made),
        place: lot.place().unwrap_or(Place::Fridge),
        mass: lot.mass(),
        worth: lot.worth(),
        use_by,
        source: computed.map_or_else(String::new, |keep| format!("{}: {}", keep.rule, keep.source)),
        boxes: lot.card.as_ref().map_or_else(Vec::new, |card| card.boxes.clone()),
        past: use_by.is_some_and(|use_by| use_by < at),
        marks,
    }
}

/// The keeping class of a cooked lot.
fn class_of(lot: &LotState) -> Option<KeepClass> {
    let card = lot.card.as_ref()?;
    match &card.goods {
        Goods::Component(id) => component_class(id),
        Goods::Dish(_) => Some(KeepClass::Leftovers),
        Goods::Food(_) => None,
    }
}

fn component_class(id: &ComponentId) -> Option<KeepClass> {
    let larder = built_in().ok()?;
    KeepClass::parse(larder.components.get(id)?.keep.as_str())
}

fn opened_keep(household: &Household, lot: &LotState, at: DateTime) -> Option<Keep> {
    let card = lot.card.as_ref()?;
    let Goods::Food(food) = &card.goods else {
        return None;
    };
    let food = food_of(household, food).ok()?;
    let opened = days_from(household, &food, (at, Which::Opened))?;
    let earlier = card.keep.as_ref().is_none_or(|keep| opened.use_by < keep.use_by);
    earlier.then_some(opened)
}

fn frozen_keep(household: &Household, lot: &LotState, at: DateTime) -> Option<Keep> {
    let card = lot.card.as_ref()?;
    match &card.goods {
        Goods::Food(food) => {
            let food = food_of(household, food).ok()?;
            days_from(household, &food, (at, Which::Frozen))
        }
        Goods::Component(_) | Goods::Dish(_) => keeping::frozen(household.profile, class_of(lot)?, at),
    }
}

fn dated(verb: &str, lot: &LotState, keep: Option<&Keep>, words: &Words) -> String {
    let place = lot.place().map_or("", Place::word);
    let until = keep.map_or_else(String::new, |keep| {
        format!("; use by {} ({})", words.until(keep.use_by), keep.source)
    });
    let (name, mass) = (name_of(lot), words.mass(lot.mass()));
    format!("{verb} {name} ({mass} in the {place}){until}")
}

/// What a lot is, as people say it.
pub(crate) fn name_of(lot: &LotState) -> String {
    let card = lot.card.as_ref();
    card.map_or_else(|| lot.lot.to_string(), |card| goods_name(&card.goods))
}
