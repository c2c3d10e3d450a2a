//! The look back: a week's review, and its end.

use jiff::civil::Date;
use larderwright_ledger::review::{Hours, Review};
use larderwright_ledger::{Deed, LotState};
use larderwright_model::{Event, Fact, Goods, LotId};
use larderwright_quantity::Money;
use larderwright_store::Store;

use super::{Home, HomeError, Now, Told, Week};

/// A week's review with what was learnt from it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WeekReview {
    /// The figures.
    pub review: Review,
    /// What the plan meant to spend at the shop.
    pub spent_planned: Money,
    /// What the household's own weeks teach, a sentence each.
    pub learnt: Vec<String>,
}

impl<S: Store> Home<S> {
    /// The look back on a week.
    ///
    /// # Errors
    /// When nothing was planned for it.
    pub async fn review(&self, monday: Date) -> Result<WeekReview, HomeError> {
        let lineage = self.lineage(monday).await?;
        let Some(first) = lineage.first() else {
            return Err(HomeError::unknown(
                format!("no plan was chosen for the week of {monday}"),
                "Name a week that was planned, such as `2026-W49`.",
            ));
        };
        let events = self.week_events(monday).await?;
        let own: Vec<&Event> = events
            .iter()
            .filter(|event| belongs(event, monday, &lineage))
            .collect();
        let lots = larderwright_ledger::lots_of(own.iter().copied());
        let mut states: std::collections::BTreeMap<LotId, LotState> = std::collections::BTreeMap::new();
        for lot in lots {
            if let Some(state) = self.store.lot(&lot).await? {
                states.insert(lot, state);
            }
        }
        let goods = |lot: &LotId| -> Option<Goods> {
            states
                .get(lot)?
                .card
                .as_ref()
                .map(|card| card.goods.clone())
                .or_else(|| shelf_goods(lot))
        };
        let mut review = Review::of(monday, &own, &goods);
        add_planned_hours(&mut review, first);
        let planned: i64 = first.plan.order.lines.iter().map(|line| line.price.minor()).sum();
        let lessons = self.lessons().await?;
        let learnt = first
            .snapshot
            .components
            .values()
            .flat_map(|component| lessons.teach(component).1);
        Ok(WeekReview {
            review,
            spent_planned: Money::from_minor(planned),
            learnt: learnt.collect(),
        })
    }

    /// Ends a week: what nobody reported is presumed, and the review is what it is.
    ///
    /// # Errors
    /// When nothing was planned for it.
    pub async fn close(&self, monday: Date, now: &Now) -> Result<(Told, WeekReview), HomeError> {
        self.settle(now).await?;
        let review = self.review(monday).await?;
        let events = self.week_events(monday).await?;
        if larderwright_ledger::life::is_closed(monday, &events) {
            return Ok((Told::nothing("the week was closed already"), review));
        }
        let deed = Deed::of(Fact::Closed { monday });
        let told = self
            .say(deed, format!("closed the week of {monday}"), now)
            .await?;
        Ok((told, review))
    }
}

/// The goods of a lot that nobody labelled: `shelf:` and `pot:` say it in their names.
fn shelf_goods(lot: &LotId) -> Option<Goods> {
    let food = lot.as_str().strip_prefix("shelf:")?;
    Some(Goods::Food(food.into()))
}

/// Whether an event belongs to a week: what is about its trips, sessions and sittings, and otherwise what happened on
/// its days.
fn belongs(event: &Event, monday: Date, lineage: &[Week]) -> bool {
    let has = |wanted: &dyn Fn(&Week) -> bool| lineage.iter().any(wanted);
    let within = || {
        let days = (event.moment.at.date() - monday).get_days();
        (0..7).contains(&days)
    };
    match &event.fact {
        Fact::Bought { trip: Some(trip), .. } | Fact::Receipt { trip: Some(trip), .. } => {
            has(&|week: &Week| week.plan.order.lines.iter().any(|line| line.shop == *trip))
        }
        Fact::Cooked(fact) => {
            has(&|week: &Week| week.plan.batches.iter().any(|batch| batch.id == fact.batch))
        }
        Fact::Stored { batch } | Fact::Cooled { batch, .. } => {
            has(&|week: &Week| week.plan.batches.iter().any(|known| known.id == *batch))
        }
        Fact::SessionEnded { session, .. } => {
            has(&|week: &Week| week.plan.runs.iter().any(|run| run.session == *session))
        }
        Fact::Served(fact) => {
            has(&|week: &Week| {
                week.plan
                    .menu
                    .choices
                    .iter()
                    .any(|choice| choice.sitting == fact.sitting)
            }) || within()
        }
        _ => within(),
    }
}

/// Sessions whose time nobody told stand there as planned.
fn add_planned_hours(review: &mut Review, week: &Week) {
    for run in &week.plan.runs {
        if review.hours.iter().any(|hours| hours.session == run.session) {
            continue;
        }
        let start = run.acts.iter().map(|act| act.start).min();
        review.hours.push(Hours {
            session: run.session.clone(),
            planned: start.map_or(0, |start| run.finish.duration_since(start).as_mins()),
            real: None,
        });
    }
    review.hours.sort_by(|one, other| one.session.cmp(&other.session));
}
