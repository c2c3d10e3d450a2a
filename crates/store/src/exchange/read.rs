//! Reading everything in: all of it is read and checked before the first of it is kept.

use std::fs;
use std::path::{Component, Path};

use jiff::civil::Date;
use larderwright_model::{Clock, Event};
use larderwright_records::event::event_from_json;
use serde::de::DeserializeOwned;

use super::{
    CHOICES, ChoiceLine, DOCUMENTS, DocumentLine, EVENTS, EventLine, MANIFEST, Manifest, PLANS, PlanLine,
    VERSION,
};
use crate::error::{Doing, Fault, StoreError};
use crate::port::{Choice, Kept, PlanHead, PlanRow, Put, Store};
use crate::rules::check_plan;

const DOING: Doing = Doing::Importing;
const PAGE: usize = 1000;

/// Everything in an export.
struct Everything {
    manifest: Manifest,
    events: Vec<Kept>,
    plans: Vec<PlanRow>,
    choices: Vec<(Date, String)>,
    documents: Vec<(DocumentLine, String)>,
}

/// Reads an export into an empty store.
///
/// # Errors
/// When something in the folder is missing or not as it was written, when the store is not empty, or when it fails.
pub async fn import<S: Store>(store: &S, folder: &Path) -> Result<Manifest, StoreError> {
    let everything = read(folder)?;
    let in_import = |error: StoreError| error.while_doing(DOING);
    if !is_empty(store).await.map_err(in_import)? {
        return Err(bad(
            "the store is not empty; an export is read into an empty one".into()
        ));
    }
    keep(store, everything).await.map_err(in_import)
}

async fn is_empty<S: Store>(store: &S) -> Result<bool, StoreError> {
    Ok(store.all_events(0, 1).await?.is_empty()
        && store.weeks().await?.is_empty()
        && store.document_names().await?.is_empty())
}

async fn keep<S: Store>(store: &S, everything: Everything) -> Result<Manifest, StoreError> {
    for page in everything.events.chunks(PAGE) {
        store.adopt(page).await?;
    }
    for plan in &everything.plans {
        store.save_plan(plan).await?;
    }
    for (monday, hash) in &everything.choices {
        if store.choose(*monday, hash).await? != Choice::Chosen {
            return Err(bad(format!(
                "the plan `{hash}` does not follow the one chosen before"
            )));
        }
    }
    for (line, text) in &everything.documents {
        let put = store.put_document(&line.name, text, line.version - 1).await?;
        if put != Put::Saved(line.version) {
            return Err(bad(format!("a version of `{}` is missing", line.name)));
        }
    }
    Ok(everything.manifest)
}

fn read(folder: &Path) -> Result<Everything, StoreError> {
    let manifest: Manifest = parse(&text(&folder.join(MANIFEST))?, MANIFEST, 1)?;
    if manifest.v != VERSION {
        let (found, known) = (i64::from(manifest.v), i64::from(VERSION));
        return Err(StoreError::new(DOING, Fault::NewerSchema { found, known }));
    }
    let events = lines(folder, EVENTS, manifest.events)?;
    let events: Result<_, _> = events.into_iter().map(read_event).collect();
    let plans = lines(folder, PLANS, manifest.plans)?;
    let plans: Result<_, _> = plans.into_iter().map(|plan| read_plan(folder, plan)).collect();
    let choices = lines(folder, CHOICES, manifest.choices)?;
    let choices: Result<_, _> = choices.into_iter().map(read_choice).collect();
    let documents = lines(folder, DOCUMENTS, manifest.documents)?;
    let documents: Result<_, _> = documents
        .into_iter()
        .map(|line| read_document(folder, line))
        .collect();
    Ok(Everything {
        manifest,
        events: events?,
        plans: plans?,
        choices: choices?,
        documents: documents?,
    })
}

fn read_event(line: EventLine) -> Result<Kept, StoreError> {
    let sent = event_from_json(&line.event.to_string()).map_err(|cause| {
        let message = format!("{EVENTS}: the event numbered {} cannot be read", line.seq);
        StoreError::caused(DOING, Fault::BadInput(message), cause)
    })?;
    let said = line.in_force.is_some().then(|| sent.clock.clone());
    let clock = match line.in_force {
        Some(stamp) => Clock {
            wall_ms: stamp.wall_ms,
            count: stamp.count,
            device: sent.clock.device.clone(),
        },
        None => sent.clock.clone(),
    };
    Ok(Kept {
        seq: line.seq,
        event: Event { clock, ..sent },
        said,
        received_ms: line.received_ms,
        counts: false,
    })
}

fn read_plan(folder: &Path, line: PlanLine) -> Result<PlanRow, StoreError> {
    let read = |inside: &str, hash: &str| {
        let name = format!("{hash}.json");
        let path = folder.join(inside).join(plain(&name)?);
        text(&path)
    };
    let wrong = |_| bad(format!("{PLANS}: a date of the plan `{}` is none", line.hash));
    let plan = PlanRow {
        plan_json: read("plans", &line.hash)?,
        snapshot_json: read("snapshots", &line.snapshot_hash)?,
        head: PlanHead {
            monday: line.monday.parse().map_err(wrong)?,
            made_at: line.made_at.parse().map_err(wrong)?,
            hash: line.hash,
            parent: line.parent,
            snapshot_hash: line.snapshot_hash,
        },
    };
    check_plan(&plan).map_err(|error| error.while_doing(DOING))?;
    Ok(plan)
}

fn read_choice(line: ChoiceLine) -> Result<(Date, String), StoreError> {
    let monday = line.monday.parse();
    let monday = monday.map_err(|_| bad(format!("{CHOICES}: `{}` is no date", line.monday)))?;
    Ok((monday, line.hash))
}

fn read_document(folder: &Path, line: DocumentLine) -> Result<(DocumentLine, String), StoreError> {
    if line.version == 0 {
        return Err(bad(format!("{DOCUMENTS}: versions are counted from one")));
    }
    let text = text(&folder.join("documents").join(plain(&line.file)?))?;
    Ok((line, text))
}

/// A path that stays inside the folder, whatever somebody wrote into an export.
fn plain(path: &str) -> Result<&Path, StoreError> {
    let is_plain = Path::new(path)
        .components()
        .all(|part| matches!(part, Component::Normal(_)));
    if is_plain {
        Ok(Path::new(path))
    } else {
        Err(bad(format!("`{path}` leads out of the folder")))
    }
}

fn lines<T: DeserializeOwned>(folder: &Path, name: &str, count: u64) -> Result<Vec<T>, StoreError> {
    let text = text(&folder.join(name))?;
    let lines: Vec<T> = (1..)
        .zip(text.lines())
        .map(|(at, line)| parse(line, name, at))
        .collect::<Result<_, _>>()?;
    if lines.len() as u64 == count {
        Ok(lines)
    } else {
        let found = lines.len();
        Err(bad(format!(
            "{name} has {found} lines, and {MANIFEST} says {count}"
        )))
    }
}

fn parse<T: DeserializeOwned>(text: &str, name: &str, line: usize) -> Result<T, StoreError> {
    serde_json::from_str(text).map_err(|cause| {
        let message = format!("{name}, line {line}, is not as it was written");
        StoreError::caused(DOING, Fault::BadInput(message), cause)
    })
}

fn text(path: &Path) -> Result<String, StoreError> {
    fs::read_to_string(path).map_err(|cause| {
        let message = format!("{}: {cause}", path.display());
        StoreError::caused(DOING, Fault::Unreachable(message), cause)
    })
}

fn bad(message: String) -> StoreError {
    StoreError::new(DOING, Fault::BadInput(message))
}
