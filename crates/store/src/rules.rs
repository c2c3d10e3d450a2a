//! What every adapter has to refuse or report alike.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::Date;
use larderwright_ledger::{Books, Oddity, effective};
use larderwright_model::{Account, BatchId, Clock, Event, EventId};
use larderwright_quantity::Mass;
use larderwright_records::event::{KINDS, event_to_json};
use larderwright_records::written_hash;

use crate::clock::Hybrid;
use crate::error::{Doing, Fault, StoreError};
use crate::port::{Appended, Defect, Gravity, Kept, PlanHead, PlanRow};

/// What counts of what is kept, in the order of the clocks. Where two devices reported the same thing under one id,
/// the report with the earlier clock stands for both, whichever arrived first.
#[must_use]
pub fn counting(kept: &[Kept]) -> Vec<&Kept> {
    let mut by_id: BTreeMap<&EventId, &Kept> = BTreeMap::new();
    for one in kept {
        let first = by_id.entry(&one.event.id).or_insert(one);
        if is_before(&one.event, &first.event) {
            *first = one;
        }
    }
    let counting = effective(by_id.values().map(|one| &one.event));
    counting.into_iter().map(|event| by_id[&event.id]).collect()
}

fn is_before(one: &Event, other: &Event) -> bool {
    match one.clock.cmp(&other.clock) {
        std::cmp::Ordering::Equal => event_to_json(one) < event_to_json(other),
        order => order.is_lt(),
    }
}

/// An event as it is kept when it arrives now and the highest stamp so far is `seen`; its number and whether it
/// counts are decided later.
#[must_use]
pub fn arrived(seen: Hybrid, event: &Event, now_ms: i64) -> Kept {
    let (_, own) = seen.arrival(&event.clock, now_ms);
    let said = own.as_ref().map(|_| event.clock.clone());
    let clock = own.unwrap_or_else(|| event.clock.clone());
    Kept {
        seq: 0,
        event: Event {
            clock,
            ..event.clone()
        },
        said,
        received_ms: now_ms,
        counts: false,
    }
}

/// What an arriving event is beside those of the same id that are kept; whether it has to be kept too.
///
/// Two devices that report the same thing under one id differ in clock and time only: both are kept, and it is known.
/// Where they differ in what happened both are kept too, and that is a finding.
#[must_use]
pub fn meeting(sent: &Event, twins: &[Kept]) -> (Appended, bool) {
    let is_kept = twins.iter().any(|twin| twin.as_sent() == *sent);
    let other = twins.iter().find(|twin| !is_same_deed(&twin.event, sent));
    match (twins.is_empty(), is_kept, other) {
        (true, ..) => (Appended::New, true),
        (_, true, _) => (Appended::Known, false),
        (_, false, None) => (Appended::Known, true),
        (_, false, Some(other)) => (Appended::KnownDiffers(Box::new(other.event.clone())), true),
    }
}

fn is_same_deed(one: &Event, other: &Event) -> bool {
    (&one.fact, &one.moves, &one.cards, &one.corrects)
        == (&other.fact, &other.moves, &other.cards, &other.corrects)
}

/// Whether a plan's texts carry the hashes of its head.
///
/// # Errors
/// Bad input when they do not.
pub fn check_plan(plan: &PlanRow) -> Result<(), StoreError> {
    let pairs = [
        ("plan", &plan.plan_json, &plan.head.hash),
        ("snapshot", &plan.snapshot_json, &plan.head.snapshot_hash),
    ];
    for (what, text, hash) in pairs {
        let bad = |why: String| Fault::BadInput(format!("the {what} `{hash}` {why}"));
        match written_hash(text) {
            Ok(written) if written == *hash => {}
            Ok(written) => {
                let fault = bad(format!("calls itself `{written}`"));
                return Err(StoreError::new(Doing::Planning, fault));
            }
            Err(cause) => {
                let fault = bad("was changed after it was written".into());
                return Err(StoreError::caused(Doing::Planning, fault, cause));
            }
        }
    }
    Ok(())
}

/// The head of a plan that is to be chosen for a week.
///
/// # Errors
/// Bad input when it is not kept or is of another week.
pub fn known_plan(head: Option<PlanHead>, monday: Date, hash: &str) -> Result<PlanHead, StoreError> {
    let bad = |what: String| StoreError::new(Doing::Planning, Fault::BadInput(what));
    let head = head.ok_or_else(|| bad(format!("there is no plan `{hash}`")))?;
    if head.monday == monday {
        Ok(head)
    } else {
        let message = format!("the plan `{hash}` is of the week of {}", head.monday);
        Err(bad(message))
    }
}

/// Whether these are kinds of events.
///
/// # Errors
/// Bad input when one of them is none.
pub fn check_kinds(kinds: &[&str]) -> Result<(), StoreError> {
    match kinds.iter().find(|kind| !KINDS.contains(kind)) {
        None => Ok(()),
        Some(unknown) => {
            let fault = Fault::BadInput(format!("`{unknown}` is no kind of event"));
            Err(StoreError::new(Doing::Reading, fault))
        }
    }
}

/// Lots and pots of which a milligram is lost or made from nothing. The folds cannot do that; this is the proof.
#[must_use]
pub fn law_of_mass(books: &Books) -> Vec<Defect> {
    let lots = books.lots.values().filter_map(|lot| {
        let outside: Mass = lot.outside.values().map(|held| held.mass).sum();
        let adrift = lot.mass() + outside - lot.overdrawn;
        (adrift != Mass::ZERO).then(|| adrift_defect(lot.lot.as_str(), adrift))
    });
    let mut from_lots: BTreeMap<&BatchId, Mass> = BTreeMap::new();
    for (account, held) in books.lots.values().flat_map(|lot| &lot.outside) {
        if let Account::Batch(batch) = account {
            *from_lots.entry(batch).or_default() += held.mass;
        }
    }
    let pots = books.batches.values().filter_map(|batch| {
        let adrift = batch.in_pot.mass - from_lots.get(&batch.batch).copied().unwrap_or_default();
        (adrift != Mass::ZERO).then(|| adrift_defect(batch.batch.as_str(), adrift))
    });
    lots.chain(pots).collect()
}

fn adrift_defect(subject: &str, adrift: Mass) -> Defect {
    Defect {
        gravity: Gravity::Damage,
        subject: subject.to_owned(),
        message: format!("{} mg are neither there nor anywhere else", adrift.mg()),
    }
}

/// What does not add up in the kitchen's books, as defects.
#[must_use]
pub fn oddities(books: &Books) -> Vec<Defect> {
    let odd = books.oddities().into_iter().map(|oddity| Defect {
        gravity: Gravity::Notice,
        subject: subject_of(&oddity),
        message: oddity.message(),
    });
    odd.collect()
}

/// Events that carry the same stamp of the same device and are not the same: a device that was put back to an earlier
/// state and counts anew. Their order is that of their ids. What is presumed is stamped before all time and left out.
#[must_use]
pub fn stamped_twice(kept: &[Kept]) -> Vec<Defect> {
    let mut stamps: BTreeMap<&Clock, BTreeSet<&EventId>> = BTreeMap::new();
    for one in kept.iter().filter(|one| one.event.clock.wall_ms > 0) {
        stamps.entry(&one.event.clock).or_default().insert(&one.event.id);
    }
    let twice = stamps.into_iter().filter(|(_, ids)| ids.len() > 1);
    let defects = twice.map(|(clock, ids)| {
        let ids: Vec<&str> = ids.into_iter().map(EventId::as_str).collect();
        Defect {
            gravity: Gravity::Notice,
            subject: clock.device.to_string(),
            message: format!("the device gave one stamp to several events: {}", ids.join(", ")),
        }
    });
    defects.collect()
}

fn subject_of(oddity: &Oddity) -> String {
    match oddity {
        Oddity::Overdrawn { lot, .. } | Oddity::Strayed { lot, .. } | Oddity::Unlabelled { lot } => {
            lot.to_string()
        }
        Oddity::PotOverdrawn { batch, .. } => batch.to_string(),
    }
}
