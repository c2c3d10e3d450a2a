//! The cart: lines of an order ticked off one by one, taken out again, and unpacked at home.

use std::collections::BTreeSet;

use jiff::civil::Date;
use larderwright_ledger::{Deed, Subject, is_undoing};
use larderwright_model::{Event, Fact, FoodId, Goods, Household, OrderLine, Reported, ShopId, WeekPlan};
use larderwright_store::Store;
use larderwright_views::Words;

use super::shop::line_deed;
use super::{Home, HomeError, Now, Told};

/// A line of an order that was bought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CartLine {
    /// On which trip.
    pub trip: ShopId,
    /// What.
    pub food: FoodId,
    /// The label of its pack.
    pub pack: String,
    /// The date printed on it, where somebody read it.
    pub printed: Option<Date>,
    /// Whether somebody said so.
    pub told: bool,
}

impl CartLine {
    /// Whether it is this line of the order.
    #[must_use]
    pub fn is(&self, line: &OrderLine) -> bool {
        (&self.trip, &self.food, &self.pack) == (&line.shop, &line.food, &line.pack)
    }
}

/// How far back a tick that was taken out again is looked for.
const LOOK_BACK: usize = 600;

impl<S: Store> Home<S> {
    /// What of a plan's order is bought.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn cart(&self, plan: &WeekPlan) -> Result<Vec<CartLine>, HomeError> {
        let trips: BTreeSet<&ShopId> = plan.order.lines.iter().map(|line| &line.shop).collect();
        let mut lines = Vec::new();
        for trip in trips {
            let events = self.store.events_about(&Subject::Trip(trip.clone())).await?;
            lines.extend(events.iter().filter_map(|event| cart_line(event, trip)));
        }
        Ok(lines)
    }

    /// The event that says that a line was bought.
    async fn buying(&self, line: &OrderLine) -> Result<Option<Event>, HomeError> {
        let events = self.store.events_about(&Subject::Trip(line.shop.clone())).await?;
        Ok(events.into_iter().rev().find(|event| is_buying(event, line)))
    }

    /// A line of an order went into the cart. Said twice it counts once.
    ///
    /// # Errors
    /// When the store fails, or the food is not known.
    pub async fn into_cart(
        &self,
        household: &Household,
        line: &OrderLine,
        now: &Now,
    ) -> Result<Told, HomeError> {
        if self.buying(line).await?.is_some_and(|event| told(&event)) {
            return Ok(Told::default());
        }
        let last = self.store.last_events(LOOK_BACK).await?;
        // A tick that was taken back comes back by taking that back: the first report keeps its identifier.
        let before = last
            .iter()
            .find(|kept| !kept.counts && is_buying(&kept.event, line) && told(&kept.event));
        let undoing = before.and_then(|before| {
            last.iter().find(|kept| {
                kept.counts
                    && is_undoing(&kept.event)
                    && kept.event.corrects.as_ref() == Some(&before.event.id)
            })
        });
        let deed = match undoing {
            Some(undoing) => Deed::undo(&undoing.event.id),
            None => line_deed(household, line, (now.minute(), Reported::Told))?,
        };
        self.tell(vec![deed], now).await
    }

    /// A line of an order is out of the cart again.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn out_of_cart(&self, line: &OrderLine, now: &Now) -> Result<Told, HomeError> {
        match self.buying(line).await? {
            Some(event) => self.tell(vec![Deed::undo(&event.id)], now).await,
            None => Ok(Told::default()),
        }
    }

    /// A line was unpacked at home, and this date is printed on it. Its lot is used by then at the latest.
    ///
    /// # Errors
    /// When it was not bought.
    pub async fn unpacked(
        &self,
        household: &Household,
        line: &OrderLine,
        (printed, now): (Date, &Now),
    ) -> Result<Told, HomeError> {
        let event = match self.buying(line).await? {
            Some(event) => event,
            None => {
                self.into_cart(household, line, now).await?;
                let event = self.buying(line).await?;
                event
                    .ok_or_else(|| HomeError::unknown("this was not bought", "Tick it in the cart first."))?
            }
        };
        let deed = Deed {
            id: None,
            corrects: Some(event.id.clone()),
            cards: event
                .cards
                .iter()
                .cloned()
                .map(|card| larderwright_model::LotCard {
                    printed: Some(printed),
                    ..card
                })
                .collect(),
            moves: event.moves.clone(),
            fact: said(event.fact.clone()),
        };
        let words = Words::of(household);
        let until = words.until(larderwright_safety::keeping::end_of_day(printed, 0));
        let told = self.tell_at(vec![deed], &event.moment, now).await?;
        Ok(Told {
            lines: vec![format!(
                "{}: use by {until}, as printed",
                super::names::goods_name(&Goods::Food(line.food.clone()))
            )],
            ..told
        })
    }
}

/// Who reads a date off a pack has it in hand.
fn said(fact: Fact) -> Fact {
    match fact {
        Fact::Bought {
            trip, count, price, ..
        } => Fact::Bought {
            trip,
            count,
            price,
            reported: Reported::Told,
        },
        other => other,
    }
}

fn told(event: &Event) -> bool {
    matches!(
        &event.fact,
        Fact::Bought {
            reported: Reported::Told,
            ..
        }
    )
}

fn is_buying(event: &Event, line: &OrderLine) -> bool {
    cart_line(event, &line.shop).is_some_and(|bought| bought.is(line))
}

fn cart_line(event: &Event, of: &ShopId) -> Option<CartLine> {
    let Fact::Bought { trip: Some(trip), .. } = &event.fact else {
        return None;
    };
    let card = event.cards.first()?;
    match &card.goods {
        Goods::Food(food) if trip == of => Some(CartLine {
            trip: trip.clone(),
            food: food.clone(),
            // The card says how many packs as well.
            pack: card
                .pack
                .split_once(" × ")
                .map_or(card.pack.as_str(), |(_, pack)| pack)
                .to_owned(),
            printed: card.printed,
            told: told(event),
        }),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use jiff::civil::date;
    use larderwright_model::{DeviceId, Moment};
    use larderwright_store::MemoryStore;
    use larderwright_testkit::sample;

    use super::*;

    fn now(minute: i8) -> Now {
        let moment = Moment {
            at: date(2026, 11, 28).at(10, minute, 0, 0),
            offset_s: 0,
            zone: "UTC".into(),
        };
        Now {
            ms: moment.instant_s() * 1000,
            moment,
        }
    }

    #[tokio::test]
    async fn a_line_goes_in_and_out_of_the_cart_as_often_as_one_likes() {
        let home = Home::open(MemoryStore::new(), &DeviceId::new("test"))
            .await
            .expect("a store in memory opens");
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let line = &plan.order.lines[0];
        let household = &snapshot.household;
        for round in 0..3 {
            for twice in 0..2 {
                home.into_cart(household, line, &now(round * 4 + twice))
                    .await
                    .expect("the food is known");
                let cart = home.cart(&plan).await.expect("it can be read");
                assert!(cart.len() == 1 && cart[0].is(line), "round {round}: {cart:?}");
                let lots = home.store().open_lots().await.expect("they can be read");
                assert_eq!(
                    lots[0].mass(),
                    line.pack_mass.times(line.count),
                    "bought once, not twice"
                );
            }
            for twice in 2..4 {
                home.out_of_cart(line, &now(round * 4 + twice))
                    .await
                    .expect("it was bought");
                assert!(
                    home.cart(&plan).await.expect("it can be read").is_empty(),
                    "round {round}"
                );
            }
        }
    }

    #[tokio::test]
    async fn a_printed_date_is_the_last_day_of_its_lot() {
        let home = Home::open(MemoryStore::new(), &DeviceId::new("test"))
            .await
            .expect("a store in memory opens");
        let (snapshot, plan) = (sample::snapshot(), sample::plan());
        let line = &plan.order.lines[0];
        let printed = date(2026, 11, 29);
        home.unpacked(&snapshot.household, line, (printed, &now(30)))
            .await
            .expect("unpacking says that it was bought");
        let cart = home.cart(&plan).await.expect("it can be read");
        assert_eq!(cart[0].printed, Some(printed));
        let lots = home.store().open_lots().await.expect("they can be read");
        assert_eq!(lots[0].mass(), line.pack_mass.times(line.count));
        assert!(lots[0].use_by().is_some_and(|at| at.date() <= printed));
    }
}
