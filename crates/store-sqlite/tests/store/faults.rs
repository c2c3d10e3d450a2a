//! What a disk and a folder can do to a household: no room, no right to write, somebody else's file, a newer program's
//! file. Each is refused in words that say what to do, and nothing that was acknowledged is lost.

mod mounts;

use std::fs;
use std::path::Path;

use larderwright_model::DeviceId;
use larderwright_store::contract::history::{START_MS, history};
use larderwright_store::contract::whole::keeping_of;
use larderwright_store::{Fault, MemoryStore, Store};
use larderwright_store_sqlite::{FILE_NAME, SCHEMA_VERSION, SqliteStore};

use crate::fresh::{Folder, close_sound, raw, run};
use crate::script::{LATER_MS, Script, Write, apply};
use crate::writer::{Orders, Told, Writer};

const EVENTS: usize = 400;
const STEPS: u64 = 60;

async fn refused(folder: &Path) -> larderwright_store::StoreError {
    match SqliteStore::open(folder).await {
        Ok(_) => panic!("{} was opened", folder.display()),
        Err(error) => error,
    }
}

/// A limit on the size of files, as a quota sets it: wherever it strikes, the write is refused whole and in words, and
/// goes through once the limit is gone.
#[test]
fn a_quota_that_is_used_up_loses_nothing() {
    let mut refusals = 0;
    let is_plain = |seed: &u64| {
        let script = Script::new(*seed, EVENTS);
        (0..STEPS).all(|step| !matches!(script.write(step), Write::Restore))
    };
    let seeds = (300..).filter(is_plain);
    for (seed, blocks) in seeds.zip([250, 400, 600, 900, 1_300, 1_800]) {
        let folder = Folder::new();
        let orders = Orders {
            folder: folder.path().to_owned(),
            seed,
            events: EVENTS,
            from: 0,
            to: STEPS,
            attempt: 0,
            is_shared: false,
        };
        // Without the trap the system would end the program.
        let shell = format!("trap '' XFSZ; ulimit -f {blocks}");
        let said = Writer::start(&orders, Some(&shell)).rest();
        let Some(step) = refused_step(&said) else {
            assert_eq!(said.last(), Some(&Told::End), "{blocks} blocks: {said:?}");
            continue;
        };
        refusals += 1;
        run(holds_what_was_done(&orders, &said));
        let again = Orders {
            from: step,
            attempt: 1,
            ..orders
        };
        let said = Writer::start(&again, None).rest();
        assert_eq!(said.last(), Some(&Told::End), "{blocks} blocks: {said:?}");
    }
    assert!(refusals > 2, "the limits were too wide to try anything");
}

/// The step that was refused, in words that speak of room.
fn refused_step(said: &[Told]) -> Option<u64> {
    said.iter().find_map(|told| match told {
        Told::Refused(step, message) => {
            assert!(message.contains("room"), "{message}");
            Some(*step)
        }
        _ => None,
    })
}

async fn holds_what_was_done(orders: &Orders, said: &[Told]) {
    let script = Script::new(orders.seed, orders.events);
    let memory = MemoryStore::new();
    for told in said {
        let Told::Done(step, _) = told else { continue };
        let write = script.write(*step);
        apply(&memory, &write).await.expect("memory keeps everything");
    }
    let store = SqliteStore::open(&orders.folder.join("home"))
        .await
        .expect("it opens");
    assert_eq!(keeping_of(&store).await.ok(), keeping_of(&memory).await.ok());
    close_sound(store).await;
}

#[test]
fn somebody_elses_file_is_refused_and_left_alone() {
    run(async {
        let folder = Folder::new();
        let file = folder.path().join(FILE_NAME);
        let texts: [&[u8]; 3] = [b"Dear diary,", &[b'x'; 5_000], b""];
        for text in texts {
            fs::write(&file, text).expect("the file can be written");
            let error = refused(folder.path()).await;
            assert!(
                matches!(error.fault, Fault::WrongFile(_) | Fault::Corrupt(_)),
                "{error}"
            );
            assert!(error.to_string().contains(FILE_NAME), "{error}");
            assert_eq!(fs::read(&file).ok().as_deref(), Some(text));
        }
        for sql in ["PRAGMA application_id = 7", "CREATE TABLE notes (text TEXT)"] {
            fs::remove_file(&file).expect("the file can be removed");
            raw(&file, &format!("CREATE TABLE a (b); DROP TABLE a; {sql}")).await;
            let before = fs::read(&file).expect("the file is there");
            let error = refused(folder.path()).await;
            assert!(matches!(error.fault, Fault::WrongFile(_)), "{error}");
            assert_eq!(fs::read(&file).ok(), Some(before), "{sql}");
            let restored = SqliteStore::restore(&folder.path().join("home"), &file, "now").await;
            let error = restored.expect_err("it is no backup");
            assert!(matches!(error.fault, Fault::WrongFile(_)), "{error}");
        }
    });
}

#[test]
fn a_newer_programs_file_is_refused_and_left_alone() {
    run(async {
        let folder = Folder::new();
        let store = SqliteStore::open(folder.path()).await.expect("it opens");
        store
            .append(&history(1, 5), LATER_MS)
            .await
            .expect("events are kept");
        store.close().await;
        let file = folder.path().join(FILE_NAME);
        let newer = SCHEMA_VERSION + 1;
        raw(&file, &format!("PRAGMA user_version = {newer}")).await;
        let before = fs::read(&file).expect("the file is there");
        let error = refused(folder.path()).await;
        assert_eq!(
            error.fault,
            Fault::NewerSchema {
                found: newer,
                known: SCHEMA_VERSION
            }
        );
        assert!(error.help().contains("newer program"), "{}", error.help());
        assert_eq!(fs::read(&file).ok(), Some(before));
    });
}

#[test]
fn a_folder_that_is_a_file_is_named() {
    run(async {
        let folder = Folder::new();
        let file = folder.path().join("kitchen");
        fs::write(&file, "a file").expect("the file can be written");
        for place in [file.clone(), file.join("below")] {
            let error = refused(&place).await;
            assert!(error.to_string().contains("kitchen"), "{error}");
        }
        // A folder in the file's place.
        let home = folder.path().join("home");
        fs::create_dir_all(home.join(FILE_NAME)).expect("the folder can be made");
        let error = refused(&home).await;
        assert!(error.to_string().contains(FILE_NAME), "{error}");
    });
}

/// Whoever may write everywhere is shown a mounted folder instead (`mounts`).
#[cfg(unix)]
#[test]
fn a_folder_of_somebody_else_is_named_and_left_alone() {
    use std::os::unix::fs::PermissionsExt;
    let allow = |path: &Path, mode: u32| {
        fs::set_permissions(path, fs::Permissions::from_mode(mode)).expect("the folder is ours");
    };
    let folder = Folder::new();
    let home = folder.path().join("home");
    run(async {
        let store = SqliteStore::open(&home).await.expect("it opens");
        store
            .append(&history(2, 20), LATER_MS)
            .await
            .expect("events are kept");
        store.close().await;
        let file = home.join(FILE_NAME);
        let before = fs::read(&file).expect("the file is there");
        allow(&file, 0o444);
        allow(&home, 0o555);
        if fs::write(home.join("probe"), "").is_ok() {
            println!("skipped: this user may write everywhere");
            return;
        }
        for place in [home.clone(), home.join("new")] {
            let error = refused(&place).await;
            assert_eq!(error.fault, Fault::ReadOnly, "{error}: {error:?}");
        }
        assert_eq!(fs::read(&file).ok().as_ref(), Some(&before));
        allow(&home, 0o755);
        // The folder may be written to, the file not: it can be read.
        let store = SqliteStore::open(&home).await.expect("it opens for reading");
        let kept = store.all_events(0, usize::MAX).await.expect("events are read");
        assert!(kept.len() >= 20);
        let error = store
            .append(&history(3, 2), LATER_MS)
            .await
            .expect_err("it cannot be written to");
        assert_eq!(error.fault, Fault::ReadOnly, "{error}: {error:?}");
        store.close().await;
        assert_eq!(fs::read(&file).ok(), Some(before));
    });
}

/// Set back by a year while the program was not running.
#[test]
fn a_clock_that_was_set_back_in_between_counts_on() {
    run(async {
        let folder = Folder::new();
        let device = DeviceId::new("server");
        let mut last = None;
        for now_ms in [LATER_MS, LATER_MS - 31_536_000_000, START_MS, 0, LATER_MS + 5] {
            let store = SqliteStore::open(folder.path()).await.expect("it opens");
            let next = store.next_clock(&device, now_ms).await.expect("a stamp is given");
            assert!(last.is_none_or(|last| last < next), "{next:?}");
            last = Some(next);
            store.close().await;
        }
    });
}
