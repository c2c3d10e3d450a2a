//! The care of the data: copies, the way out and back in, and a look for everything that could be wrong.

use std::path::{Path, PathBuf};

use clap::Subcommand;
use larderwright_store::exchange::{self, Manifest};
use larderwright_store::{Defect, Gravity, Store};
use larderwright_store_sqlite::SqliteStore;
use serde_json::{Value, json};

use crate::args::Format;
use crate::clock::timestamp;
use crate::failure::Failure;
use crate::memory::{Memory, MemoryArgs};
use crate::progress::while_working;

/// A chore.
#[derive(Debug, Subcommand)]
pub(crate) enum Care {
    /// Write a consistent copy of everything to a new file, while the pages may stay open.
    Backup {
        /// The file to write.
        file: PathBuf,
        #[command(flatten)]
        memory: MemoryArgs,
    },
    /// Put a backup in the place of the data, once it has been read and checked.
    Restore {
        /// The file to read.
        file: PathBuf,
        #[command(flatten)]
        memory: MemoryArgs,
    },
    /// Write everything to a folder of open texts.
    Export {
        /// A folder that is not there yet, or empty.
        folder: PathBuf,
        #[command(flatten)]
        memory: MemoryArgs,
    },
    /// Look for everything that could be wrong with the data.
    Doctor {
        /// Make anew what is only derived.
        #[arg(long)]
        mend: bool,
        #[command(flatten)]
        memory: MemoryArgs,
    },
}

/// Does the chore.
///
/// # Errors
/// What stood in its way.
pub(crate) fn run(care: &Care, format: Format) -> Result<String, Failure> {
    let (text, value) = match care {
        Care::Backup { file, memory } => backup(file, memory)?,
        Care::Restore { file, memory } => restore(file, memory)?,
        Care::Export { folder, memory } => export(folder, memory)?,
        Care::Doctor { mend, memory } => doctor(*mend, memory)?,
    };
    Ok(match format {
        Format::Text => text + "\n",
        Format::Json => format!("{value:#}\n"),
    })
}

type Answer = Result<(String, Value), Failure>;

fn backup(file: &Path, args: &MemoryArgs) -> Answer {
    let memory = Memory::open(args)?;
    let store = memory.home.store();
    while_working("copying", || memory.wait_for_store(store.backup(file)))?;
    let shown = file.display().to_string();
    Ok((
        format!("copied everything to {shown}"),
        json!({ "status": "done", "file": shown }),
    ))
}

fn restore(file: &Path, args: &MemoryArgs) -> Answer {
    let folder = args.folder()?;
    std::fs::create_dir_all(&folder)
        .map_err(|error| Failure::Fault(format!("`{}` cannot be made: {error}", folder.display())))?;
    let label = timestamp().strftime("%Y-%m-%dT%H%M%SZ").to_string();
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .map_err(|error| Failure::fault(&error))?;
    let restored = while_working("reading the backup", || {
        runtime.block_on(SqliteStore::restore(&folder, file, &label))
    })?;
    let mut lines = vec![format!("{} is in place", file.display())];
    if let Some(replaced) = &restored.replaced {
        lines.push(format!("what was there before is kept as {}", replaced.display()));
    }
    lines.extend(restored.defects.iter().map(defect_text));
    let value = json!({
        "status": "done",
        "replaced": restored.replaced.map(|path| path.display().to_string()),
        "defects": restored.defects.iter().map(defect_json).collect::<Vec<_>>(),
    });
    Ok((lines.join("\n"), value))
}

fn export(folder: &Path, args: &MemoryArgs) -> Answer {
    let memory = Memory::open(args)?;
    let store = memory.home.store();
    let manifest = while_working("writing", || {
        memory.wait_for_store(exchange::export(store, folder))
    })?;
    Ok(carried(&manifest, ("wrote", "to"), folder))
}

/// Reads an exported folder into a memory that is still empty.
///
/// # Errors
/// When the folder is not whole, or the memory is not empty.
pub(crate) fn import(folder: &Path, args: &MemoryArgs) -> Answer {
    let memory = Memory::make(&args.folder()?, args.clock)?;
    let store = memory.home.store();
    let manifest = while_working("reading", || {
        memory.wait_for_store(exchange::import(store, folder))
    })?;
    Ok(carried(&manifest, ("read", "from"), folder))
}

/// What was carried out or in.
fn carried(manifest: &Manifest, (verb, preposition): (&str, &str), folder: &Path) -> (String, Value) {
    let folder = folder.display().to_string();
    let text = format!(
        "{verb} {} events, {} plans and {} documents {preposition} {folder}",
        manifest.events, manifest.plans, manifest.documents
    );
    let value = json!({
        "status": "done",
        "folder": folder,
        "events": manifest.events,
        "plans": manifest.plans,
        "documents": manifest.documents,
    });
    (text, value)
}

fn doctor(mend: bool, args: &MemoryArgs) -> Answer {
    let memory = Memory::open(args)?;
    let store = memory.home.store();
    let found = while_working("looking", || memory.wait_for_store(store.check()))?;
    let grave: Vec<&Defect> = found
        .iter()
        .filter(|defect| defect.gravity != Gravity::Notice)
        .collect();
    let value = |status: &str| json!({ "status": status, "defects": found.iter().map(defect_json).collect::<Vec<_>>() });
    let mut lines: Vec<String> = found.iter().map(defect_text).collect();
    if grave.is_empty() {
        lines.push("everything is as it should be".to_owned());
        return Ok((lines.join("\n"), value("whole")));
    }
    let damaged = grave.iter().any(|defect| defect.gravity == Gravity::Damage);
    if mend {
        memory.wait_for_store(store.mend())?;
        let left = memory.wait_for_store(store.check())?;
        if left.iter().all(|defect| defect.gravity == Gravity::Notice) {
            lines.push("what is derived was made anew; everything is as it should be now".to_owned());
            return Ok((lines.join("\n"), value("mended")));
        }
    }
    let help = if damaged {
        "Something that was kept is damaged; `larderwright restore FILE` puts a backup in its place."
    } else {
        "`larderwright doctor --mend` makes anew what is only derived; no event is touched."
    };
    Err(Failure::Negative {
        message: lines.join("\n"),
        help: help.to_owned(),
        value: value(if damaged { "damaged" } else { "to-mend" }),
    })
}

fn gravity_word(gravity: Gravity) -> &'static str {
    match gravity {
        Gravity::Notice => "note",
        Gravity::Derived => "to mend",
        Gravity::Damage => "damage",
    }
}

fn defect_text(defect: &Defect) -> String {
    format!(
        "{}: {}: {}",
        gravity_word(defect.gravity),
        defect.subject,
        defect.message
    )
}

fn defect_json(defect: &Defect) -> Value {
    json!({ "gravity": gravity_word(defect.gravity), "subject": defect.subject, "message": defect.message })
}
