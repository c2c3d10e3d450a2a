//! Reading a schedule back: lines with clock times, names of cooks, numbered burners and pots.

use std::collections::BTreeMap;

use jiff::Span;
use jiff::civil::DateTime;
use larderwright_model::{Act, ActId, ActKind, BatchId, OvenSetting, Run, Session, Snapshot, Standing};
use larderwright_solve::project::{Bound, BoundReason, ResourceIx, Schedule};

use super::lead;
use super::project::{Kind, Network};
use super::rooms::Room;

/// What a new run takes over from the one before it, by task.
#[derive(Clone, Debug, Default)]
pub(super) struct Kept {
    /// Identifiers of acts.
    pub names: BTreeMap<usize, ActId>,
    /// Acts that have begun: their stations and hands stay as they were.
    pub begun: BTreeMap<usize, Act>,
}

/// The run that a schedule stands for.
pub(super) fn run(
    snapshot: &Snapshot,
    session: &Session,
    (network, kept): (&Network, Option<&Kept>),
    (schedule, bound, standing): (&Schedule, &Bound, Standing),
) -> Run {
    let clock = |minute: i64| session.from.saturating_add(Span::new().minutes(minute));
    let stations = stations(network, kept, schedule);
    let oven = oven(network, schedule, &clock);
    let mut order: Vec<usize> = (0..network.tasks.len()).collect();
    order.sort_by_key(|ix| (schedule.placements[*ix].start, schedule.placements[*ix].end, *ix));
    let names = names(session, &order, kept);
    let cooks = network.rooms.cook_ids();
    let mut acts = Vec::new();
    for ix in &order {
        let info = &network.tasks[*ix];
        let placement = schedule.placements[*ix];
        let begun = kept.and_then(|kept| kept.begun.get(ix));
        let who = || {
            info.cooks[placement.mode]
                .iter()
                .map(|cook| cooks[*cook].clone())
                .collect()
        };
        let first_heat = oven.first().map(|setting| setting.temperature);
        acts.push(Act {
            id: names[ix].clone(),
            kind: kind(&info.kind, &names),
            title: info.title.clone(),
            text: info.text.clone(),
            cue: info.cue.clone(),
            batches: info.batches().cloned().collect(),
            step: info.step.clone(),
            load: info.load,
            start: clock(placement.start),
            end: clock(placement.end),
            who: begun.map_or_else(who, |act| act.who.clone()),
            stations: stations[*ix].clone(),
            oven: if info.kind == Kind::Preheat {
                first_heat
            } else {
                info.oven
            },
        });
    }
    let finish = acts.iter().map(|act| act.end).max().unwrap_or(session.from);
    let leads = leads(snapshot, session, network, &acts);
    Run {
        session: session.id.clone(),
        standing,
        leads,
        oven,
        finish,
        bound: clock(bound.makespan).min(finish),
        decided_by: decided_by(snapshot, network, bound),
        acts,
    }
}

/// Acts are numbered by start; those that have a name keep it.
fn names(session: &Session, order: &[usize], kept: Option<&Kept>) -> BTreeMap<usize, ActId> {
    let mut names = kept.map_or_else(BTreeMap::new, |kept| kept.names.clone());
    let fresh = (1..).map(|number| ActId::new(&format!("{}-{number:03}", session.id)));
    let taken: Vec<ActId> = names.values().cloned().collect();
    let mut fresh = fresh.filter(|name| !taken.contains(name));
    for ix in order {
        if !names.contains_key(ix) {
            names.insert(*ix, fresh.next().expect("numbers never end"));
        }
    }
    names
}

fn kind(kind: &Kind, names: &BTreeMap<usize, ActId>) -> ActKind {
    match kind {
        Kind::Preflight => ActKind::Preflight,
        Kind::Preheat => ActKind::Preheat,
        Kind::Step => ActKind::Step,
        Kind::Visit { of } => ActKind::Visit {
            of: names[of].clone(),
        },
        Kind::Cool => ActKind::Cool,
        Kind::PackOut => ActKind::PackOut,
        Kind::CleanDown => ActKind::CleanDown,
        Kind::ClearDown => ActKind::ClearDown,
    }
}

/// Numbers alike things: whoever starts first takes the lowest number that is free.
fn stations(network: &Network, kept: Option<&Kept>, schedule: &Schedule) -> Vec<Vec<String>> {
    let mut stations = vec![Vec::new(); network.tasks.len()];
    for (ix, act) in kept.iter().flat_map(|kept| &kept.begun) {
        stations[*ix].clone_from(&act.stations);
    }
    for room in network.rooms.all() {
        number(network, schedule, room, &mut stations);
    }
    stations
}

fn number(network: &Network, schedule: &Schedule, room: &Room, stations: &mut [Vec<String>]) {
    let mut users: Vec<(i64, i64, usize, i64)> = network
        .project
        .tasks()
        .iter()
        .enumerate()
        .filter_map(|(ix, task)| {
            let placement = schedule.placements[ix];
            let amount = amount_of(&task.modes[placement.mode].uses, room.resource);
            (amount > 0).then_some((placement.start, placement.end, ix, amount))
        })
        .collect();
    // What has begun keeps what it holds, so it comes before what starts in the same minute.
    let fresh = |ix: usize| !stations[ix].iter().any(|station| station.starts_with(room.word));
    users.sort_unstable_by_key(|(start, end, ix, _)| (*start, fresh(*ix), *end, *ix));
    let mut free_from = vec![0i64; room.count as usize];
    let mut last_used: BTreeMap<&BatchId, usize> = BTreeMap::new();
    for (start, end, ix, amount) in users {
        let batch = network.tasks[ix].batch.as_ref();
        let name = |unit: usize| format!("{} {}", room.word, u32::try_from(unit).unwrap_or(0) + room.first);
        let held: Vec<usize> = (0..free_from.len())
            .filter(|unit| stations[ix].contains(&name(*unit)))
            .collect();
        if !held.is_empty() {
            for unit in held {
                free_from[unit] = end;
                if let Some(batch) = batch {
                    last_used.insert(batch, unit);
                }
            }
            continue;
        }
        let mut order: Vec<usize> = (0..free_from.len())
            .filter(|unit| free_from[*unit] <= start)
            .collect();
        // A batch stays where it was, if that is still free.
        let stay = batch.and_then(|batch| last_used.get(batch)).copied();
        order.sort_by_key(|unit| (Some(*unit) != stay, *unit));
        for unit in order.into_iter().take(usize::try_from(amount).unwrap_or(0)) {
            free_from[unit] = end;
            stations[ix].push(name(unit));
            if let Some(batch) = batch {
                last_used.insert(batch, unit);
            }
        }
    }
}

fn amount_of(uses: &[(ResourceIx, i64)], resource: ResourceIx) -> i64 {
    uses.iter()
        .filter(|(used, _)| *used == resource)
        .map(|(_, amount)| amount)
        .sum()
}

/// The oven's settings: from the first dish at a temperature to the last before it changes.
fn oven(network: &Network, schedule: &Schedule, clock: &impl Fn(i64) -> DateTime) -> Vec<OvenSetting> {
    let mut dishes: Vec<(i64, i64, larderwright_quantity::Temperature)> = network
        .tasks
        .iter()
        .enumerate()
        .filter(|(_, info)| info.kind == Kind::Step)
        .filter_map(|(ix, info)| {
            Some((
                schedule.placements[ix].start,
                schedule.placements[ix].end,
                info.oven?,
            ))
        })
        .collect();
    dishes.sort_unstable();
    let mut settings: Vec<(i64, i64, larderwright_quantity::Temperature)> = Vec::new();
    for (start, end, temperature) in dishes {
        match settings.last_mut() {
            Some(last) if last.2 == temperature => last.1 = last.1.max(end),
            _ => settings.push((start, end, temperature)),
        }
    }
    settings
        .into_iter()
        .map(|(from, to, temperature)| OvenSetting {
            from: clock(from),
            to: clock(to),
            temperature,
        })
        .collect()
}

fn leads(
    snapshot: &Snapshot,
    session: &Session,
    network: &Network,
    acts: &[Act],
) -> Vec<larderwright_model::Lead> {
    let mut batches: Vec<&BatchId> = network
        .tasks
        .iter()
        .flat_map(super::project::TaskInfo::batches)
        .collect();
    batches.sort();
    batches.dedup();
    let mut leads = Vec::new();
    for id in batches {
        let first = acts
            .iter()
            .find(|act| act.batches.contains(id))
            .map(|act| act.start);
        if let Some(start) = first {
            leads.extend(lead_of(snapshot, session, id, start, network));
        }
    }
    leads.sort_by(|a, b| (a.at, &a.batch, &a.step).cmp(&(b.at, &b.batch, &b.step)));
    leads
}

fn lead_of(
    snapshot: &Snapshot,
    session: &Session,
    id: &BatchId,
    start: DateTime,
    network: &Network,
) -> Vec<larderwright_model::Lead> {
    network
        .batches
        .iter()
        .find(|batch| batch.id == *id)
        .map_or_else(Vec::new, |batch| lead::leads(snapshot, session, batch, start))
}

fn decided_by(snapshot: &Snapshot, network: &Network, bound: &Bound) -> String {
    match &bound.reason {
        BoundReason::Chain(tasks) => {
            let named = tasks
                .iter()
                .filter_map(|task| network.tasks[task.position()].batch.as_ref())
                .next();
            let batch = named.and_then(|id| network.batches.iter().find(|batch| batch.id == *id));
            batch.map_or_else(
                || "what cannot wait".to_string(),
                |batch| snapshot.components[&batch.component].name.to_lowercase(),
            )
        }
        BoundReason::Resource { resource, .. } => {
            if let Some((cook, _)) = network.rooms.cooks.iter().find(|(_, ix)| ix == resource) {
                return format!("the hands of {}", cook.name);
            }
            let room = network.rooms.all().find(|room| room.resource == *resource);
            match room.map(|room| room.word) {
                Some("rack") => "the oven".to_string(),
                Some(word) => format!("the {word}s"),
                None => "the kitchen".to_string(),
            }
        }
    }
}
