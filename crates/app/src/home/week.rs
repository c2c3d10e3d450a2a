//! The week: drafts, the one the house goes by, and planning anew from what is really there.

use jiff::civil::Date;
use larderwright_ledger::{WeekState, life};
use larderwright_model::{Event, Run, SessionId, Sitting, Snapshot, WeekPlan};
use larderwright_planning::Threads;
use larderwright_planning::menu::{self, Why};
use larderwright_planning::session::what_if::{self, WhatIf};
use larderwright_records::plan::{plan_from_json, plan_hash};
use larderwright_records::snapshot::{snapshot_from_json, snapshot_to_json};
use larderwright_store::{Choice, PlanHead, PlanRow, Store};

use super::reality::weeks_around;
use super::{Home, HomeError, Now};
use crate::Options;
use crate::changes::Changes;
use crate::dates::{monday_of, next_monday};
use crate::planned::{Planned, Refusal, plan};

/// A plan that is kept, with what it was made from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Week {
    /// Its hash, parent and week.
    pub head: PlanHead,
    /// The plan.
    pub plan: WeekPlan,
    /// What it was made from.
    pub snapshot: Snapshot,
    /// Where the week stands.
    pub state: WeekState,
}

/// A plan just made and kept, not yet chosen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Draft {
    /// Its hash.
    pub hash: String,
    /// The plan with its findings.
    pub planned: Planned,
    /// What it was made from.
    pub snapshot: Snapshot,
}

impl<S: Store> Home<S> {
    /// Plans what is left of a week from what is really there, and keeps the plan as a draft whose parent is the
    /// current plan. Meals of the current plan stay where they can: first all of them, then, when wishes collide, none.
    ///
    /// # Errors
    /// The wishes that collide, or what the store or the household's file say.
    pub async fn draft(
        &self,
        monday: Date,
        changes: &Changes,
        (options, threads): (Options, Threads),
        now: &Now,
    ) -> Result<Draft, HomeError> {
        let current = self.current(monday).await?;
        let options = Options {
            parent: current.as_ref().map(|week| week.head.hash.clone()),
            ..options
        };
        let free = self.snapshot(monday, changes, options, now).await?;
        let kept = current.map(|week| keeping_meals(&free, &week.plan, changes));
        let (snapshot, planned) = planned(kept, free, threads)?;
        let hash = plan_hash(&planned.plan);
        let row = PlanRow {
            head: PlanHead {
                hash: hash.clone(),
                parent: planned.plan.parent.clone(),
                snapshot_hash: planned.plan.snapshot_hash.clone(),
                monday,
                made_at: now.minute(),
            },
            plan_json: planned.json.clone(),
            snapshot_json: snapshot_to_json(&snapshot),
        };
        self.store.save_plan(&row).await?;
        Ok(Draft {
            hash,
            planned,
            snapshot,
        })
    }

    /// Makes a draft the plan that the house goes by, if nothing else was chosen meanwhile.
    ///
    /// # Errors
    /// When another plan was chosen after the draft was made.
    pub async fn choose(&self, monday: Date, hash: &str) -> Result<(), HomeError> {
        match self.store.choose(monday, hash).await? {
            Choice::Chosen => Ok(()),
            Choice::Overtaken { .. } => Err(HomeError::Overtaken),
        }
    }

    /// The plan the house goes by in a week; `None` when nothing was chosen.
    ///
    /// # Errors
    /// When it cannot be read.
    pub async fn current(&self, monday: Date) -> Result<Option<Week>, HomeError> {
        match self.store.current(monday).await? {
            None => Ok(None),
            Some(head) => {
                let week = self.kept(&head.hash).await?;
                Ok(week)
            }
        }
    }

    /// A kept plan by its hash.
    ///
    /// # Errors
    /// When it cannot be read.
    pub async fn kept(&self, hash: &str) -> Result<Option<Week>, HomeError> {
        let Some(row) = self.store.plan(hash).await? else {
            return Ok(None);
        };
        let plan = plan_from_json(&row.plan_json)?;
        let snapshot = snapshot_from_json(&row.snapshot_json)?;
        let is_current = self
            .store
            .current(row.head.monday)
            .await?
            .is_some_and(|head| head.hash == hash);
        let state = if is_current {
            let events = self.week_events(row.head.monday).await?;
            self.reached(&plan, &events).await?
        } else {
            WeekState::Draft
        };
        Ok(Some(Week {
            head: row.head,
            plan,
            snapshot,
            state,
        }))
    }

    /// Where a week stands by the plan it goes by and those that this one took the place of.
    async fn reached(&self, plan: &WeekPlan, events: &[Event]) -> Result<WeekState, HomeError> {
        let mut reached = life::state(plan, events);
        let mut parent = plan.parent.clone();
        while let Some(hash) = parent {
            let Some(row) = self.store.plan(&hash).await? else {
                break;
            };
            let earlier = plan_from_json(&row.plan_json)?;
            reached = reached.max(life::state(&earlier, events));
            parent = earlier.parent;
        }
        Ok(reached)
    }

    /// Every plan that was current in a week, the first one first: an earlier one still says what was meant for
    /// sittings before the later one was made.
    pub(crate) async fn lineage(&self, monday: Date) -> Result<Vec<Week>, HomeError> {
        let mut weeks = Vec::new();
        for hash in self.store.choices(monday).await? {
            weeks.extend(self.kept(&hash).await?);
        }
        Ok(weeks)
    }

    /// The current plans of the weeks around today.
    ///
    /// # Errors
    /// When they cannot be read.
    pub async fn current_weeks(&self, now: &Now) -> Result<Vec<Week>, HomeError> {
        let mut weeks = Vec::new();
        for monday in weeks_around(now.minute().date()) {
            weeks.extend(self.current(monday).await?);
        }
        Ok(weeks)
    }

    /// The week that today belongs to; failing that the next one with a plan.
    ///
    /// # Errors
    /// When there is none.
    pub async fn this_week(&self, now: &Now) -> Result<Week, HomeError> {
        let heads = self.open_heads(now).await?;
        self.first_of(&heads).await
    }

    /// The week whose sheets are wanted: this week or the next one; failing that the nearest later one with a plan, and
    /// failing that the last one.
    ///
    /// # Errors
    /// When no plan was ever chosen.
    pub async fn week_at_hand(&self, now: &Now) -> Result<Week, HomeError> {
        let heads = self.heads_at_hand(now).await?;
        self.first_of(&heads).await
    }

    async fn first_of(&self, heads: &[PlanHead]) -> Result<Week, HomeError> {
        let week = match heads.first() {
            Some(head) => self.kept(&head.hash).await?,
            None => None,
        };
        week.ok_or_else(|| {
            HomeError::unknown(
                "there is no plan for this week or the next",
                "Plan one with `larderwright plan --household FILE --week 2026-W49`.",
            )
        })
    }

    /// The plans that may be meant, the likeliest first: of this week and the next, as far as they are open; failing
    /// that of the nearest week. None when none was ever chosen.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn heads_at_hand(&self, now: &Now) -> Result<Vec<PlanHead>, HomeError> {
        let mut heads = self.open_heads(now).await?;
        if heads.is_empty() {
            let today = monday_of(now.minute().date());
            let mut mondays = self.store.weeks().await?;
            mondays.sort_by_key(|monday| (*monday < today, (*monday - today).get_days().abs()));
            for monday in mondays {
                heads.extend(self.store.current(monday).await?);
                if !heads.is_empty() {
                    break;
                }
            }
        }
        Ok(heads)
    }

    /// The plans of this week and the next, as far as they are not closed.
    async fn open_heads(&self, now: &Now) -> Result<Vec<PlanHead>, HomeError> {
        let monday = monday_of(now.minute().date());
        let mut heads = Vec::new();
        for monday in [monday, next_monday(monday)] {
            if !self.is_closed(monday).await? {
                heads.extend(self.store.current(monday).await?);
            }
        }
        Ok(heads)
    }

    /// Whether a week was closed.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn is_closed(&self, monday: Date) -> Result<bool, HomeError> {
        // A week is closed after it has begun.
        let closed = self.store.events_of_since(&["closed"], monday).await?;
        Ok(life::is_closed(monday, &closed))
    }

    /// What would make a session shorter; the one named by its day, else the first that has not ended.
    ///
    /// # Errors
    /// When no plan at hand has such a session.
    pub async fn what_if(
        &self,
        session: Option<&SessionId>,
        threads: Threads,
        now: &Now,
    ) -> Result<(Run, Vec<WhatIf>), HomeError> {
        let week = self.week_at_hand(now).await?;
        let wanted = |run: &&Run| match session {
            Some(id) => run.session == *id,
            None => run.finish >= now.minute(),
        };
        let runs = &week.plan.runs;
        let run = runs.iter().find(wanted).cloned();
        let run = run.ok_or_else(|| {
            let ids: Vec<&str> = runs.iter().map(|run| run.session.as_str()).collect();
            HomeError::unknown(
                "the plan has no such session",
                format!("It has: {}.", ids.join(", ")),
            )
        })?;
        let answers = what_if::what_if(&week.snapshot, &week.plan, &run.session, threads);
        Ok((run, answers))
    }

    /// Why a sitting has its meal, and what others would cost; the next sitting where none is named.
    ///
    /// # Errors
    /// When no plan at hand has such a sitting.
    pub async fn why(
        &self,
        sitting: Option<&str>,
        threads: Threads,
        now: &Now,
    ) -> Result<(Week, Sitting, Why), HomeError> {
        let week = self.week_at_hand(now).await?;
        let sittings = &week.snapshot.sittings;
        let sitting = match sitting {
            Some(name) => super::names::find_sitting(sittings, name, now.minute())?,
            None => {
                let next = sittings.iter().find(|sitting| sitting.at >= now.minute());
                let next = next.or(sittings.last()).cloned();
                next.ok_or_else(|| {
                    HomeError::unknown("nobody sits down to eat this week", "Name another week.")
                })?
            }
        };
        let why = menu::why(&week.snapshot, &week.plan, &sitting.id, threads).ok_or_else(|| {
            HomeError::unknown(
                "the larder or the household has changed since this week was planned",
                "Plan it again with `larderwright plan`, then ask.",
            )
        })?;
        Ok((week, sitting, why))
    }

    /// A sitting of a week by the name a cook gives it, whether the week is planned or not.
    ///
    /// # Errors
    /// When there is none.
    pub async fn sitting_in(&self, monday: Date, name: &str, now: &Now) -> Result<Sitting, HomeError> {
        let household = self.household().await?;
        let sittings = crate::dates::sittings(&household, monday);
        super::names::find_sitting(&sittings, name, now.minute())
    }

    /// Where a week stands.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn state(&self, monday: Date) -> Result<Option<WeekState>, HomeError> {
        match self.current(monday).await? {
            Some(week) => Ok(Some(week.state)),
            None if self.store.plans(monday).await?.is_empty() => Ok(None),
            None => Ok(Some(WeekState::Draft)),
        }
    }

    /// Events of a week that count, for whoever looks closer.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn events_of_week(&self, monday: Date) -> Result<Vec<Event>, HomeError> {
        self.week_events(monday).await
    }
}

/// The snapshot with the meals of an earlier plan fixed at the sittings that are left and were not changed.
fn keeping_meals(free: &Snapshot, earlier: &WeekPlan, changes: &Changes) -> Snapshot {
    let mut kept = free.clone();
    for choice in &earlier.menu.choices {
        let unwanted = changes
            .sittings
            .get(choice.sitting.as_str())
            .is_some_and(|change| change.not.contains(choice.meal.as_str()));
        let here = kept.sitting(&choice.sitting).is_some();
        let off = kept.household.wishes.off_meals.contains(&choice.meal);
        if here && !unwanted && !off {
            let fixed = &mut kept.household.wishes.fixed;
            fixed
                .entry(choice.sitting.clone())
                .or_insert_with(|| choice.meal.clone());
        }
    }
    kept
}

/// The plan with the old meals where there is one, else the best one without them. The snapshot that is kept says
/// what was fixed.
fn planned(
    kept: Option<Snapshot>,
    free: Snapshot,
    threads: Threads,
) -> Result<(Snapshot, Planned), HomeError> {
    if let Some(kept) = kept
        && let Ok(planned) = plan(&kept, threads)
    {
        return Ok((kept, planned));
    }
    match plan(&free, threads) {
        Ok(planned) => Ok((free, planned)),
        Err(refusal) => Err(HomeError::Refused(Box::new(refusal))),
    }
}

impl From<Refusal> for HomeError {
    fn from(refusal: Refusal) -> Self {
        Self::Refused(Box::new(refusal))
    }
}
