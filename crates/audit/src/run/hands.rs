//! Hands: nobody does two things at once, everyone belongs to the session and may do what they do.

use larderwright_model::{Act, CookId, Run, Skill};

use crate::book::{Book, clock};
use crate::notes::Notes;
use crate::rules;

pub(super) fn check(book: &Book<'_>, run: &Run, notes: &mut Notes) {
    let household = &book.snapshot.household;
    let session = book.snapshot.session(&run.session);
    for cook in &household.cooks {
        clash(run, &cook.id, notes);
    }
    for act in &run.acts {
        for who in &act.who {
            let cook = household.cooks.iter().find(|cook| cook.id == *who);
            let belongs = session.is_some_and(|session| session.cooks.contains(who));
            let Some(cook) = cook.filter(|_| belongs) else {
                notes.say(
                    &rules::RUN_COOK,
                    &act.id,
                    format!("`{who}` does not cook in this session"),
                );
                continue;
            };
            for skill in skills(book, act) {
                if !cook.can(skill) {
                    notes
                        .say(
                            &rules::RUN_SKILL,
                            &act.id,
                            format!("`{who}` may not do this work"),
                        )
                        .evidence = format!("{skill:?}");
                }
            }
        }
    }
}

/// What the steps behind an act ask for; a visit asks for what its step does.
fn skills(book: &Book<'_>, act: &Act) -> Vec<Skill> {
    let Some(step) = &act.step else { return Vec::new() };
    let mut skills: Vec<Skill> = act
        .batches
        .iter()
        .filter_map(|batch| book.step(batch, step))
        .map(|step| step.skill)
        .collect();
    skills.sort_unstable();
    skills.dedup();
    skills
}

fn clash(run: &Run, cook: &CookId, notes: &mut Notes) {
    let mut acts: Vec<&Act> = run.acts.iter().filter(|act| act.who.contains(cook)).collect();
    acts.sort_by_key(|act| (act.start, act.end));
    let mut busy: Option<&Act> = None;
    for act in acts {
        if let Some(before) = busy.filter(|before| act.start < before.end) {
            notes
                .say(
                    &rules::RUN_HANDS,
                    &act.id,
                    format!("`{cook}` is still busy with `{}`", before.id),
                )
                .evidence = format!("starts {}, busy until {}", clock(act.start), clock(before.end));
        }
        if busy.is_none_or(|before| act.end > before.end) {
            busy = Some(act);
        }
    }
}
