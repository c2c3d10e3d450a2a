//! Writing everything out: beside the folder's final name first, so that there is never half an export.

use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use larderwright_records::event::event_to_json;
use serde::Serialize;

use super::{
    CHOICES, ChoiceLine, DOCUMENTS, DocumentLine, EVENTS, EventLine, MANIFEST, Manifest, PLANS, PlanLine,
    StampLine, VERSION, WHAT,
};
use crate::error::{Doing, Fault, StoreError};
use crate::port::{Kept, PlanHead, Store};

const DOING: Doing = Doing::Exporting;
const PAGE: usize = 1000;

/// Writes everything in a store to a folder that is not there yet, or empty.
///
/// # Errors
/// When the store or the folder fails, or something is in the folder already.
pub async fn export<S: Store>(store: &S, folder: &Path) -> Result<Manifest, StoreError> {
    let is_taken = fs::read_dir(folder).is_ok_and(|mut entries| entries.next().is_some());
    if is_taken || folder.is_file() {
        let message = format!("there is something in `{}` already", folder.display());
        return Err(StoreError::new(DOING, Fault::BadInput(message)));
    }
    let mut partial = folder.as_os_str().to_owned();
    partial.push(".partial");
    let partial = PathBuf::from(partial);
    let written = write_all(store, &partial).await.and_then(|manifest| {
        let _ = fs::remove_dir(folder);
        fs::rename(&partial, folder).map_err(failed(folder))?;
        Ok(manifest)
    });
    if written.is_err() {
        let _ = fs::remove_dir_all(&partial);
    }
    written
}

async fn write_all<S: Store>(store: &S, folder: &Path) -> Result<Manifest, StoreError> {
    let _ = fs::remove_dir_all(folder);
    for name in ["plans", "snapshots", "documents"] {
        let inside = folder.join(name);
        fs::create_dir_all(&inside).map_err(failed(&inside))?;
    }
    let in_export = |error: StoreError| error.while_doing(DOING);
    let events = write_events(store, folder).await.map_err(in_export)?;
    let (plans, choices) = write_plans(store, folder).await.map_err(in_export)?;
    let documents = write_documents(store, folder).await.map_err(in_export)?;
    let manifest = Manifest {
        v: VERSION,
        what: WHAT.into(),
        events,
        plans,
        choices,
        documents,
    };
    let mut text = line(&manifest);
    text.push('\n');
    write(&folder.join(MANIFEST), text.as_bytes())?;
    Ok(manifest)
}

async fn write_events<S: Store>(store: &S, folder: &Path) -> Result<u64, StoreError> {
    let mut lines = Lines::new(folder.join(EVENTS))?;
    let mut after = 0;
    loop {
        let page = store.all_events(after, PAGE).await?;
        let Some(last) = page.last() else { break };
        after = last.seq;
        for kept in &page {
            lines.add(&event_line(kept))?;
        }
    }
    lines.end()
}

fn event_line(kept: &Kept) -> EventLine {
    let clock = &kept.event.clock;
    let event = event_to_json(&kept.as_sent());
    EventLine {
        seq: kept.seq,
        received_ms: kept.received_ms,
        in_force: kept.said.as_ref().map(|_| StampLine {
            wall_ms: clock.wall_ms,
            count: clock.count,
        }),
        event: serde_json::from_str(&event).expect("what was just written as JSON is JSON"),
    }
}

/// How many plans and choices were written.
async fn write_plans<S: Store>(store: &S, folder: &Path) -> Result<(u64, u64), StoreError> {
    let mut plans = Lines::new(folder.join(PLANS))?;
    let mut choices = Lines::new(folder.join(CHOICES))?;
    for monday in store.weeks().await? {
        for head in store.plans(monday).await? {
            write_plan_texts(store, folder, &head.hash).await?;
            plans.add(&plan_line(head))?;
        }
        for hash in store.choices(monday).await? {
            let monday = monday.to_string();
            choices.add(&ChoiceLine { monday, hash })?;
        }
    }
    Ok((plans.end()?, choices.end()?))
}

async fn write_plan_texts<S: Store>(store: &S, folder: &Path, hash: &str) -> Result<(), StoreError> {
    let plan = store.plan(hash).await?;
    let plan = plan.ok_or_else(|| {
        let message = format!("the plan `{hash}` is listed and not there");
        StoreError::new(DOING, Fault::Corrupt(message))
    })?;
    let named = |inside: &str, hash: &str| folder.join(inside).join(format!("{hash}.json"));
    let snapshot_path = named("snapshots", &plan.head.snapshot_hash);
    write(&snapshot_path, plan.snapshot_json.as_bytes())?;
    write(&named("plans", hash), plan.plan_json.as_bytes())
}

fn plan_line(head: PlanHead) -> PlanLine {
    PlanLine {
        hash: head.hash,
        parent: head.parent,
        snapshot_hash: head.snapshot_hash,
        monday: head.monday.to_string(),
        made_at: head.made_at.to_string(),
    }
}

async fn write_documents<S: Store>(store: &S, folder: &Path) -> Result<u64, StoreError> {
    let mut lines = Lines::new(folder.join(DOCUMENTS))?;
    for name in store.document_names().await? {
        for document in store.document_history(&name).await? {
            let file = format!("{}/{}.txt", file_name(&name), document.version);
            let path = folder.join("documents").join(&file);
            let inside = path.parent().expect("a document lies in a folder of its own");
            fs::create_dir_all(inside).map_err(failed(inside))?;
            write(&path, document.text.as_bytes())?;
            let (name, version) = (document.name, document.version);
            lines.add(&DocumentLine { name, version, file })?;
        }
    }
    lines.end()
}

/// A name that every file system takes: letters, digits and hyphens stay, every other byte becomes `_` and two digits.
fn file_name(name: &str) -> String {
    let mut file = String::new();
    for byte in name.bytes() {
        match byte {
            b'a'..=b'z' | b'0'..=b'9' | b'-' => file.push(char::from(byte)),
            _ => file.push_str(&format!("_{byte:02x}")),
        }
    }
    if file.is_empty() { "_".into() } else { file }
}

/// A file of lines, counted.
struct Lines {
    path: PathBuf,
    file: BufWriter<File>,
    count: u64,
}

impl Lines {
    fn new(path: PathBuf) -> Result<Self, StoreError> {
        let file = File::create(&path).map_err(failed(&path))?;
        Ok(Self {
            file: BufWriter::new(file),
            count: 0,
            path,
        })
    }

    fn add(&mut self, record: &impl Serialize) -> Result<(), StoreError> {
        self.count += 1;
        writeln!(self.file, "{}", line(record)).map_err(failed(&self.path))
    }

    fn end(self) -> Result<u64, StoreError> {
        let file = self.file.into_inner().map_err(io::IntoInnerError::into_error);
        file.and_then(|file| file.sync_all())
            .map_err(failed(&self.path))?;
        Ok(self.count)
    }
}

fn line(record: &impl Serialize) -> String {
    serde_json::to_string(record).expect("lines hold text keys and whole numbers only")
}

fn write(path: &Path, bytes: &[u8]) -> Result<(), StoreError> {
    fs::write(path, bytes).map_err(failed(path))
}

fn failed(path: &Path) -> impl Fn(io::Error) -> StoreError {
    move |error| {
        let fault = match error.kind() {
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded | io::ErrorKind::FileTooLarge => {
                Fault::Full
            }
            io::ErrorKind::ReadOnlyFilesystem | io::ErrorKind::PermissionDenied => Fault::ReadOnly,
            _ => Fault::Unreachable(format!("{}: {error}", path.display())),
        };
        StoreError::caused(DOING, fault, error)
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn different_names_make_different_harmless_files() {
        let names = ["", "_", "..", "a/b", "a_2fb", "A", "a", "household", "ä"];
        let files: BTreeSet<String> = names.iter().map(|name| file_name(name)).collect();
        assert_eq!(files.len(), names.len());
        assert!(files.iter().all(|file| !file.contains(['/', '.', '\\'])));
    }
}
