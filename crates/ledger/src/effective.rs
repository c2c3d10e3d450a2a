//! Which events count: corrections take the place of what they name, the latest one wins, and a correction that is
//! itself corrected gives back what it took. The answer depends on the set of events alone, never on their order.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{Event, EventId, Fact};

/// The events that count, in the order of their clocks. The same event given twice counts once.
///
/// An event is out when a later event that counts names it in `corrects`; of several such only the latest counts.
/// An `Undone` that counts has no effect of its own, but is listed.
#[must_use]
pub fn effective<'a>(events: impl IntoIterator<Item = &'a Event>) -> Vec<&'a Event> {
    let by_id: BTreeMap<&EventId, &Event> = events.into_iter().map(|event| (&event.id, event)).collect();
    let mut ordered: Vec<&Event> = by_id.into_values().collect();
    ordered.sort_by(|a, b| (&a.clock, &a.id).cmp(&(&b.clock, &b.id)));
    let clocks: BTreeMap<&EventId, usize> = ordered
        .iter()
        .enumerate()
        .map(|(at, event)| (&event.id, at))
        .collect();
    let mut taken: BTreeSet<&EventId> = BTreeSet::new();
    let mut counts: Vec<&Event> = Vec::new();
    for (at, event) in ordered.iter().enumerate().rev() {
        if taken.contains(&event.id) {
            continue;
        }
        match &event.corrects {
            // What names an event that comes after it has read the future: it corrects nothing.
            Some(target) if clocks.get(target).is_none_or(|other| *other < at) => {
                // A later correction of the same event came first in this walk.
                if taken.insert(target) {
                    counts.push(event);
                }
            }
            _ => counts.push(event),
        }
    }
    counts.reverse();
    counts
}

/// Whether the event says only that another one did not happen.
#[must_use]
pub fn is_undoing(event: &Event) -> bool {
    event.fact == Fact::Undone
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample::event;

    fn check(events: &[Event], wanted: &[&str]) {
        let ids: Vec<&str> = effective(events).iter().map(|event| event.id.as_str()).collect();
        assert_eq!(ids, wanted);
    }

    #[test]
    fn a_correction_takes_the_place_of_what_it_names() {
        check(&[event("a", 1, None), event("b", 2, Some("a"))], &["b"]);
    }

    #[test]
    fn of_two_corrections_the_later_one_counts() {
        let events = [
            event("a", 1, None),
            event("b", 2, Some("a")),
            event("c", 3, Some("a")),
        ];
        check(&events, &["c"]);
    }

    #[test]
    fn a_correction_that_is_undone_gives_back_what_it_took() {
        let events = [
            event("a", 1, None),
            event("b", 2, Some("a")),
            event("c", 3, Some("b")),
        ];
        check(&events, &["a", "c"]);
    }

    #[test]
    fn when_the_later_correction_is_undone_the_earlier_one_counts_again() {
        let events = [
            event("a", 1, None),
            event("b", 2, Some("a")),
            event("c", 3, Some("a")),
            event("d", 4, Some("c")),
        ];
        check(&events, &["b", "d"]);
    }

    #[test]
    fn a_correction_may_arrive_before_what_it_names() {
        check(&[event("b", 2, Some("a"))], &["b"]);
        check(&[event("b", 2, Some("a")), event("a", 1, None)], &["b"]);
    }

    #[test]
    fn an_event_that_names_a_later_one_corrects_nothing() {
        check(&[event("a", 1, Some("b")), event("b", 2, None)], &["a", "b"]);
    }

    #[test]
    fn the_same_event_twice_counts_once() {
        check(&[event("a", 1, None), event("a", 1, None)], &["a"]);
    }
}
