//! A disk that is really full and a folder that is really write-protected, for the system's administrator too: both are
//! mounted in a name space of the test's own. Where the machine does not allow that, the tests say so and are skipped.

use std::fs;
use std::io::{BufRead, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use larderwright_store::contract::history::history;
use larderwright_store::contract::whole::keeping_of;
use larderwright_store::exchange::export;
use larderwright_store::{Fault, MemoryStore, Store, StoreError};
use larderwright_store_sqlite::{FILE_NAME, SqliteStore};

use super::refused;
use crate::fresh::{Folder, close_sound, run};
use crate::script::{LATER_MS, Script, Write, apply};

/// Runs an ignored test of this program where something is mounted; `$1` is the folder.
fn run_mounted(test: &str, folder: &Folder, mount: &str) {
    let shell = |script: &str| {
        let mut command = Command::new("unshare");
        command.args(["--map-root-user", "--mount", "sh", "-e", "-c", script, "sh"]);
        command.arg(folder.path());
        command
    };
    let probe = shell(mount).stdout(Stdio::null()).stderr(Stdio::null()).status();
    if !probe.is_ok_and(|status| status.success()) {
        println!("skipped: this machine lets nobody mount in a name space of one's own");
        return;
    }
    let own = std::env::current_exe().expect("a test knows its own program");
    let script = format!("{mount}; exec \"$2\" --exact {test} --ignored --nocapture");
    let mut command = shell(&script);
    command
        .arg(own)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    let mut child = command.spawn().expect("the probe ran too");
    let mut input = child.stdin.take().expect("its input is a pipe");
    writeln!(input, "{}", folder.path().display()).expect("the test waits for its folder");
    drop(input);
    let output = child.wait_with_output().expect("a child can be waited for");
    let said = [output.stdout, output.stderr].concat();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&said));
}

/// The folder in which something is mounted; none when somebody runs the ignored test alone.
fn mounted() -> Option<PathBuf> {
    let mut line = String::new();
    std::io::stdin().lock().read_line(&mut line).ok()?;
    let line = line.trim_end();
    (!line.is_empty()).then(|| line.into())
}

#[test]
fn a_full_disk_loses_nothing() {
    run_mounted(
        "faults::mounts::full_disk",
        &Folder::new(),
        "mount -t tmpfs -o size=5m tmpfs \"$1\"",
    );
}

#[test]
#[ignore = "runs where a small disk is mounted; started by the test above"]
fn full_disk() {
    if let Some(folder) = mounted() {
        for seed in [401, 402, 403] {
            run(fill_up(&folder, seed));
        }
    }
}

async fn fill_up(disk: &Path, seed: u64) {
    let ballast = disk.join("ballast");
    let home = disk.join("home");
    fs::write(&ballast, vec![0; 3_000_000]).expect("there is room yet");
    let script = Script::new(seed, 400);
    let memory = MemoryStore::new();
    let store = SqliteStore::open(&home).await.expect("there is room yet");
    let writes = (0..).map(|step| script.write(step));
    let mut writes = writes.filter(|write| !matches!(write, Write::Backup | Write::Export | Write::Restore));
    let too_much = loop {
        let write = writes.next().expect("a script does not end");
        match apply(&store, &write).await {
            Ok(answer) => assert_eq!(Some(answer), apply(&memory, &write).await.ok()),
            Err(error) => {
                no_room(&error);
                break write;
            }
        }
    };
    let expected = keeping_of(&memory).await.ok();
    assert_eq!(
        keeping_of(&store).await.ok(),
        expected,
        "what was kept can be read all the same"
    );
    fill(&disk.join("more"));
    no_room(
        &store
            .backup(&disk.join("copy.db"))
            .await
            .expect_err("there is no room"),
    );
    no_room(
        &export(&store, &disk.join("texts"))
            .await
            .expect_err("there is no room"),
    );
    for left in ["copy.db", "copy.db.partial", "texts", "texts.partial"] {
        assert!(!disk.join(left).exists(), "half of {left} was left behind");
    }
    store.close().await;
    match SqliteStore::open(&home).await {
        Ok(store) => {
            assert_eq!(keeping_of(&store).await.ok(), expected);
            store.close().await;
        }
        Err(error) => no_room(&error),
    }
    no_room(
        &SqliteStore::open(&disk.join("another"))
            .await
            .expect_err("there is no room"),
    );
    fs::remove_file(&ballast).expect("it can be removed");
    let store = SqliteStore::open(&home).await.expect("there is room again");
    assert_eq!(keeping_of(&store).await.ok(), expected);
    apply(&store, &too_much).await.expect("there is room again");
    close_sound(store).await;
    clear(disk);
}

fn clear(disk: &Path) {
    for entry in fs::read_dir(disk).expect("the folder is there").flatten() {
        let path = entry.path();
        let removed = if path.is_dir() {
            fs::remove_dir_all(path)
        } else {
            fs::remove_file(path)
        };
        removed.expect("our own files can be removed");
    }
}

/// Until not a byte more fits.
fn fill(file: &Path) {
    let mut file = fs::File::create(file).expect("an empty file needs no room");
    while file.write_all(&[0; 512]).is_ok() {}
}

fn no_room(error: &StoreError) {
    assert_eq!(error.fault, Fault::Full, "{error}: {error:?}");
    assert!(error.help().contains("Make room"), "{}", error.help());
}

#[test]
fn a_write_protected_folder_is_named_and_left_alone() {
    let folder = Folder::new();
    let locked = folder.path().join("locked");
    run(async {
        let store = SqliteStore::open(&locked).await.expect("it opens");
        store
            .append(&history(61, 30), LATER_MS)
            .await
            .expect("events are kept");
        store.close().await;
    });
    let before = fs::read(locked.join(FILE_NAME)).expect("the file is there");
    let mount = "mount --bind \"$1/locked\" \"$1/locked\"; mount -o remount,bind,ro \"$1/locked\"";
    run_mounted("faults::mounts::write_protected_folder", &folder, mount);
    assert_eq!(fs::read(locked.join(FILE_NAME)).ok(), Some(before));
}

#[test]
#[ignore = "runs where a folder is write-protected; started by the test above"]
fn write_protected_folder() {
    let Some(folder) = mounted() else { return };
    run(async {
        let locked = folder.join("locked");
        let store = SqliteStore::open(&folder.join("free")).await.expect("it opens");
        let tried = [
            refused(&locked).await,
            refused(&locked.join("new")).await,
            store
                .backup(&locked.join("copy.db"))
                .await
                .expect_err("nothing can be written"),
            export(&store, &locked.join("texts"))
                .await
                .expect_err("nothing can be written"),
        ];
        for error in tried {
            assert_eq!(error.fault, Fault::ReadOnly, "{error}: {error:?}");
            assert!(error.help().contains("write-protected"), "{}", error.help());
        }
        let copy = folder.join("copy.db");
        store.backup(&copy).await.expect("a backup is written");
        let restored = SqliteStore::restore(&locked, &copy, "now").await;
        assert_eq!(restored.map_err(|error| error.fault), Err(Fault::ReadOnly));
        store.close().await;
    });
}
