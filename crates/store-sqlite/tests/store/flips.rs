//! A file on which the disk has changed a few bytes, or from which it has lost the end: either every answer is right, or
//! opening refuses it, or a question is refused, or the doctor names it. Never a wrong answer that nobody notices.

use std::fs;
use std::path::{Path, PathBuf};

use larderwright_store::contract::history::{Random, history};
use larderwright_store::contract::sample::{go_by_two_plans, keep_versions};
use larderwright_store::contract::whole::{Whole, whole_of};
use larderwright_store::{Fault, Gravity, Store, StoreError};
use larderwright_store_sqlite::{FILE_NAME, SqliteStore};

use crate::fresh::{Folder, run};
use crate::script::LATER_MS;

/// A sound file and what it answers.
struct Sound {
    bytes: Vec<u8>,
    whole: Whole,
}

async fn sound() -> Sound {
    let folder = Folder::new();
    let store = SqliteStore::open(folder.path()).await.expect("it opens");
    for part in history(51, 90).chunks(9) {
        store.append(part, LATER_MS).await.expect("events are kept");
    }
    go_by_two_plans(&store).await;
    for (name, texts) in [("household", ["short", "a longer text"]), ("foods", ["", "[]"])] {
        keep_versions(&store, name, &texts).await;
    }
    let whole = whole_of(&store).await.expect("it answers");
    store.close().await;
    let bytes = fs::read(folder.path().join(FILE_NAME)).expect("the file is there");
    Sound { bytes, whole }
}

/// What became of a damaged file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Fate {
    /// Nothing of it could be seen.
    Harmless,
    /// It was not opened.
    NotOpened,
    /// It gave no answer where it would have been a wrong one.
    NotAnswered,
    /// The doctor named it.
    Named,
}

async fn fate(sound: &Sound, bytes: &[u8], what: &str) -> Fate {
    let folder = Folder::new();
    let file = folder.path().join(FILE_NAME);
    fs::write(&file, bytes).expect("the file can be written");
    let store = match SqliteStore::open(folder.path()).await {
        Ok(store) => store,
        Err(error) => {
            is_clear(&error, what);
            assert_eq!(
                fs::read(&file).ok().as_deref(),
                Some(bytes),
                "{what}: the damaged file was changed"
            );
            return Fate::NotOpened;
        }
    };
    let is_named = match store.check().await {
        Err(error) => {
            is_clear(&error, what);
            true
        }
        Ok(defects) => defects.iter().any(|defect| defect.gravity > Gravity::Notice),
    };
    let answers = whole_of(&store).await;
    store.close().await;
    match answers {
        Ok(whole) if whole == sound.whole => Fate::Harmless,
        Ok(_) => {
            assert!(is_named, "{what}: wrong answers, and the doctor sees nothing");
            Fate::Named
        }
        Err(error) => {
            is_clear(&error, what);
            Fate::NotAnswered
        }
    }
}

fn is_clear(error: &StoreError, what: &str) {
    let is_expected = matches!(
        error.fault,
        Fault::Corrupt(_) | Fault::WrongFile(_) | Fault::NewerSchema { .. } | Fault::Unreachable(_)
    );
    assert!(is_expected, "{what}: {error:?}");
}

fn flip(random: &mut Random, bytes: &[u8]) -> Vec<u8> {
    let mut flipped = bytes.to_vec();
    for _ in 0..random.range(1, 3) {
        // Half of the damage close to the beginning of a page, where the database keeps its own notes.
        let at = match random.chance(50) {
            true => random.below(bytes.len() as u64) / 4096 * 4096 + random.below(120),
            false => random.below(bytes.len() as u64),
        };
        flipped[at as usize] ^= 1 << random.below(8);
    }
    flipped
}

fn flip_often(seeds: std::ops::Range<u64>) {
    run(async {
        let sound = sound().await;
        let mut fates = std::collections::BTreeMap::new();
        for seed in seeds {
            let bytes = flip(&mut Random::new(seed), &sound.bytes);
            let fate = fate(&sound, &bytes, &format!("seed {seed}")).await;
            *fates.entry(fate).or_insert(0) += 1;
        }
        println!("{} bytes: {fates:?}", sound.bytes.len());
    });
}

#[test]
fn a_changed_byte_gives_no_wrong_answer_unnoticed() {
    flip_often(0..120);
}

#[test]
#[ignore = "takes minutes; run by `cargo xtask soak`"]
fn three_thousand_changed_bytes_give_no_wrong_answer_unnoticed() {
    flip_often(10_000..13_000);
}

#[test]
fn a_file_that_lost_its_end_is_refused() {
    run(async {
        let sound = sound().await;
        let length = sound.bytes.len();
        for left in [
            0,
            1,
            60,
            100,
            511,
            4_096,
            8_192,
            length / 2,
            length - 4_096,
            length - 1,
        ] {
            let what = format!("{left} of {length} bytes are left");
            let fate = fate(&sound, &sound.bytes[..left], &what).await;
            assert_eq!(fate, Fate::NotOpened, "{what}");
        }
    });
}

/// The damaged backup is refused, and what was there stays.
#[test]
fn a_damaged_backup_is_not_restored() {
    run(async {
        let sound = sound().await;
        let home = Folder::new();
        let file: PathBuf = home.path().join(FILE_NAME);
        fs::write(&file, &sound.bytes).expect("the file can be written");
        let backup = home.path().join("backup.db");
        for (seed, is_cut) in (0..12).flat_map(|seed| [(seed, false), (seed, true)]) {
            let mut random = Random::new(500 + seed);
            let mut bytes = flip(&mut random, &sound.bytes);
            if is_cut {
                bytes.truncate(random.below(bytes.len() as u64) as usize);
            }
            fs::write(&backup, &bytes).expect("the file can be written");
            let restored = SqliteStore::restore(home.path(), &backup, "test").await;
            assert!(!(is_cut && restored.is_ok()), "seed {seed}: {restored:?}");
            holds(home.path(), &sound.whole).await;
        }
    });
}

async fn holds(home: &Path, whole: &Whole) {
    let store = SqliteStore::open(home).await.expect("it opens");
    assert_eq!(whole_of(&store).await.ok().as_ref(), Some(whole));
    store.close().await;
}
