//! Kills: a writer is ended with SIGKILL at a moment made up from a seed, opened again, killed again. What it had
//! acknowledged must be there, what it was just doing must be there whole or not at all, and nothing else.
//!
//! A kill is not a power cut: the system still writes what it had taken over. That the log is synchronised before a write
//! is acknowledged is SQLite's promise and is not tried here.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::Duration;

use larderwright_model::{Clock, DeviceId};
use larderwright_store::contract::history::Random;
use larderwright_store::contract::whole::{Keeping, keeping_of};
use larderwright_store::exchange::import;
use larderwright_store::{Gravity, MemoryStore, Store};
use larderwright_store_sqlite::SqliteStore;

use crate::fresh::{Folder, run};
use crate::script::{Script, Write, apply};
use crate::writer::{Orders, Told, Writer, copy_name, export_name, newest_copy};

/// How often one household's writer is killed before the next household begins.
const KILLS_EACH: u64 = 5;
const EVENTS: usize = 400;

#[test]
fn fifty_kills_lose_nothing() {
    kill_writers(1, 50);
}

#[test]
#[ignore = "takes minutes; run by `cargo xtask soak`"]
fn five_hundred_kills_lose_nothing() {
    kill_writers(1_000, 500);
}

fn kill_writers(seed: u64, kills: u64) {
    let mut random = Random::new(seed);
    let mut tally = Tally::default();
    for household in 0..kills.div_ceil(KILLS_EACH) {
        let mut household = Household::new(seed * 10_000 + household);
        for attempt in 0..KILLS_EACH {
            run(household.survives_a_kill(attempt, &mut random, &mut tally));
        }
    }
    println!("{kills} kills: {tally:?}");
    assert!(
        tally.acknowledged > 0,
        "no writer came to write anything: {tally:?}"
    );
}

/// Where the kills struck.
#[derive(Debug, Default)]
struct Tally {
    acknowledged: u64,
    /// Before the store was open.
    opening: u64,
    /// Between two writes.
    between: u64,
    /// Within a write, by what it was; the second number counts those that were there afterwards.
    within: BTreeMap<&'static str, (u64, u64)>,
}

/// What was done to a store, in order.
#[derive(Clone, Copy, Debug)]
enum Did {
    Step(u64),
    /// A look after a kill asks for a stamp and for the device.
    Looked,
}

/// What is seen after a kill: what is kept, the next stamp, which device it is.
#[derive(Debug, PartialEq)]
struct Seen {
    keeping: Keeping,
    stamp: Clock,
    device: DeviceId,
}

async fn look<S: Store>(store: &S) -> Seen {
    Seen {
        keeping: keeping_of(store).await.expect("everything can be read"),
        stamp: store
            .next_clock(&DeviceId::new("server"), 0)
            .await
            .expect("a stamp is given"),
        device: store
            .device(&DeviceId::new("looker"))
            .await
            .expect("a device is named"),
    }
}

/// A household whose writer is killed again and again, and what must be in its store.
struct Household {
    folder: Folder,
    seed: u64,
    script: Script,
    did: Vec<Did>,
    /// The next step.
    next: u64,
    /// What had been done when each backup was made.
    copies: BTreeMap<PathBuf, Vec<Did>>,
}

impl Household {
    fn new(seed: u64) -> Self {
        Self {
            folder: Folder::new(),
            seed,
            script: Script::new(seed, EVENTS),
            did: Vec::new(),
            next: 0,
            copies: BTreeMap::new(),
        }
    }

    async fn survives_a_kill(&mut self, attempt: u64, random: &mut Random, tally: &mut Tally) {
        let orders = Orders {
            folder: self.folder.path().to_owned(),
            seed: self.seed,
            events: EVENTS,
            from: self.next,
            to: self.next + 1_000,
            attempt,
            is_shared: false,
        };
        let said = killed(&orders, &self.script, random);
        let under_way = self.hear(&said, attempt).await;
        tally.acknowledged += said.iter().filter(|told| matches!(told, Told::Done(..))).count() as u64;
        if !said.contains(&Told::Opened) {
            tally.opening += 1;
        }
        match under_way {
            Some(step) => {
                let is_there = self.look_after(Some((step, attempt))).await;
                let hits = tally.within.entry(word(&self.script.write(step))).or_default();
                hits.0 += 1;
                hits.1 += u64::from(is_there);
            }
            None => {
                tally.between += 1;
                self.look_after(None).await;
            }
        }
    }

    /// Takes in what the writer acknowledged; returns the step that was under way.
    async fn hear(&mut self, said: &[Told], attempt: u64) -> Option<u64> {
        let mut memory = replayed(&self.script, &self.did).await;
        let mut under_way = None;
        for told in said {
            match told {
                Told::Opened => {}
                Told::Doing(step) => under_way = Some(*step),
                Told::Done(step, answer) => {
                    let write = self.script.write(*step);
                    if let Some(before) = self.after(&write) {
                        self.did = before;
                        memory = replayed(&self.script, &self.did).await;
                    } else {
                        let expected = apply(&memory, &write).await.expect("memory keeps everything");
                        assert_eq!(*answer, expected, "seed {}, step {step}", self.seed);
                        self.did.push(Did::Step(*step));
                    }
                    self.acknowledge(&write, *step, attempt).await;
                    self.next = step + 1;
                    under_way = None;
                }
                other => panic!("seed {}: {other:?}", self.seed),
            }
        }
        under_way
    }

    /// What will have been done once the newest backup is restored; `None` for any other write.
    fn after(&self, write: &Write) -> Option<Vec<Did>> {
        let newest = self.copies.last_key_value();
        matches!(write, Write::Restore)
            .then(|| newest.map_or_else(|| self.did.clone(), |(_, did)| did.clone()))
    }

    async fn acknowledge(&mut self, write: &Write, step: u64, attempt: u64) {
        match write {
            Write::Backup => {
                let copy = self.folder.path().join(copy_name(attempt, step));
                assert!(
                    copy.is_file(),
                    "seed {}: a backup that was acknowledged is not there",
                    self.seed
                );
                self.copies.insert(copy, self.did.clone());
            }
            Write::Export => {
                let folder = self.folder.path().join(export_name(attempt, step));
                self.is_exported(&folder).await;
            }
            _ => {}
        }
    }

    /// The export holds what the store held.
    async fn is_exported(&self, folder: &Path) {
        let memory = MemoryStore::new();
        import(&memory, folder).await.expect("an export is whole");
        let expected = replayed(&self.script, &self.did).await;
        assert_eq!(
            keeping_of(&memory).await.ok(),
            keeping_of(&expected).await.ok(),
            "seed {}",
            self.seed
        );
    }

    /// The store is opened after a kill, and looked at from all sides.
    async fn look_after(&mut self, under_way: Option<(u64, u64)>) -> bool {
        let home = self.folder.path().join("home");
        let store = SqliteStore::open(&home)
            .await
            .expect("a store opens after a kill");
        let defects = store.check().await.expect("it can be checked");
        assert!(
            defects.iter().all(|defect| defect.gravity == Gravity::Notice),
            "seed {}: {defects:?}",
            self.seed
        );
        let seen = look(&store).await;
        store.close().await;
        let unchanged = look(&replayed(&self.script, &self.did).await).await;
        let mut is_there = false;
        if let Some((step, attempt)) = under_way {
            let write = self.script.write(step);
            let after = self
                .after(&write)
                .unwrap_or_else(|| [&self.did[..], &[Did::Step(step)]].concat());
            if look(&replayed(&self.script, &after).await).await == seen {
                is_there = true;
                self.did = after;
                self.next = step + 1;
            }
            self.look_at_files(&write, (step, attempt)).await;
        }
        assert!(
            is_there || seen == unchanged,
            "seed {}, under way {under_way:?}: {seen:?}",
            self.seed
        );
        self.did.push(Did::Looked);
        self.copies_hold().await;
        is_there
    }

    /// A backup or an export that was under way is whole or not there.
    async fn look_at_files(&mut self, write: &Write, (step, attempt): (u64, u64)) {
        let name = match write {
            Write::Backup => copy_name(attempt, step),
            Write::Export => export_name(attempt, step),
            _ => return,
        };
        if self.folder.path().join(name).exists() {
            self.acknowledge(write, step, attempt).await;
        }
    }

    /// The newest backup holds what the store held then.
    async fn copies_hold(&self) {
        let newest = newest_copy(self.folder.path());
        assert_eq!(
            newest.as_ref(),
            self.copies.last_key_value().map(|(path, _)| path)
        );
        let Some((copy, did)) = self.copies.last_key_value() else {
            return;
        };
        let elsewhere = Folder::new();
        SqliteStore::restore(elsewhere.path(), copy, "test")
            .await
            .expect("a backup can be restored");
        let store = SqliteStore::open(elsewhere.path()).await.expect("it opens");
        let expected = replayed(&self.script, did).await;
        assert_eq!(look(&store).await, look(&expected).await, "seed {}", self.seed);
        store.close().await;
    }
}

/// Lets a writer say so many things and live on for a little while. Now and then it is a restore that is waited for: it is
/// rare, takes long, and puts one file in the place of another.
fn killed(orders: &Orders, script: &Script, random: &mut Random) -> Vec<Told> {
    let mut writer = Writer::start(orders, None);
    let mut said = Vec::new();
    let mut longest = *random.pick(&[200, 2_000, 20_000]);
    let lines = *random.pick(&[2, 20, 120]);
    if random.chance(25) {
        longest = 80_000;
        let is_restore = |told: &Told| match told {
            Told::Doing(step) => matches!(script.write(*step), Write::Restore),
            _ => false,
        };
        while said.len() < 400 && !said.last().is_some_and(is_restore) {
            said.extend(writer.next());
        }
    } else {
        for _ in 0..random.below(lines) {
            said.extend(writer.next());
        }
    }
    std::thread::sleep(Duration::from_micros(random.below(longest)));
    said.extend(writer.kill());
    said
}

/// What a store without a database holds after the same.
async fn replayed(script: &Script, did: &[Did]) -> MemoryStore {
    let memory = MemoryStore::new();
    for did in did {
        match did {
            Did::Step(step) => {
                let write = script.write(*step);
                apply(&memory, &write).await.expect("memory keeps everything");
            }
            Did::Looked => {
                look(&memory).await;
            }
        }
    }
    memory
}

fn word(write: &Write) -> &'static str {
    match write {
        Write::Append(_) => "append",
        Write::Adopt(_) => "adopt",
        Write::SavePlan(_) => "plan",
        Write::Choose(_) => "choice",
        Write::Document { .. } => "document",
        Write::Stamp(_) => "stamp",
        Write::Device(_) => "device",
        Write::Backup => "backup",
        Write::Export => "export",
        Write::Restore => "restore",
        Write::Count => "count",
    }
}
