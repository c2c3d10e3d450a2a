//! Two processes at once: both write, neither loses anything, and nobody puts another file in the place of a store that is
//! open.

use std::collections::BTreeSet;

use larderwright_store::contract::sample::ids;
use larderwright_store::{Fault, Store};
use larderwright_store_sqlite::SqliteStore;

use crate::fresh::{Folder, close_sound, run};
use crate::script::{COUNTER, Script, Write};
use crate::writer::{Orders, Told, Writer};

const STEPS: u64 = 60;
const EVENTS: usize = 260;

fn orders(folder: &Folder, seed: u64) -> Orders {
    Orders {
        folder: folder.path().to_owned(),
        seed,
        events: EVENTS,
        from: 0,
        to: STEPS,
        attempt: 0,
        is_shared: true,
    }
}

/// What a writer that came to its end was told, step by step.
fn answers(writer: &mut Writer) -> Vec<String> {
    let said = writer.rest();
    assert_eq!(said.last(), Some(&Told::End), "{said:?}");
    let done = said.into_iter().filter_map(|told| match told {
        Told::Done(_, answer) => Some(answer),
        _ => None,
    });
    done.collect()
}

#[test]
fn two_writers_at_once_lose_nothing() {
    let folder = Folder::new();
    let seeds = [71, 72];
    let mut writers = seeds.map(|seed| Writer::start(&orders(&folder, seed), None));
    let answers: Vec<String> = writers.iter_mut().flat_map(answers).collect();
    let writes: Vec<Write> = seeds
        .iter()
        .flat_map(|seed| {
            let script = Script::shared(*seed, EVENTS);
            (0..STEPS).map(move |step| script.write(step)).collect::<Vec<_>>()
        })
        .collect();
    assert_eq!(answers.len(), writes.len());
    let stamps = { writes.iter().zip(&answers) }
        .filter(|(write, _)| matches!(write, Write::Stamp(_)))
        .map(|(_, answer)| answer);
    let stamps: Vec<&String> = stamps.collect();
    assert_eq!(
        stamps.iter().collect::<BTreeSet<_>>().len(),
        stamps.len(),
        "a stamp was given twice"
    );
    run(async {
        let store = SqliteStore::open(&folder.path().join("home"))
            .await
            .expect("it opens");
        let kept = store.all_events(0, usize::MAX).await.expect("events are read");
        let kept: Vec<_> = kept.into_iter().map(|kept| kept.event).collect();
        let kept: BTreeSet<&str> = ids(&kept).into_iter().collect();
        let sent = writes.iter().filter_map(|write| match write {
            Write::Append(events) => Some(ids(events)),
            _ => None,
        });
        assert_eq!(kept, sent.flatten().collect());
        let counts = writes
            .iter()
            .filter(|write| matches!(write, Write::Count))
            .count();
        let counter = store.document(COUNTER).await.expect("documents are read");
        assert_eq!(counter.map(|counter| counter.text.len()), Some(counts));
        close_sound(store).await;
    });
}

#[test]
fn a_store_that_is_open_elsewhere_is_not_replaced() {
    let folder = Folder::new();
    let home = folder.path().join("home");
    let copy = folder.path().join("copy.db");
    run(async {
        let store = SqliteStore::open(&home).await.expect("it opens");
        store.backup(&copy).await.expect("a backup is written");
        let error = SqliteStore::restore(&home, &copy, "now")
            .await
            .expect_err("it is open here");
        assert_eq!(error.fault, Fault::Locked, "{error}");
        store.close().await;
        let endless = Orders {
            to: u64::MAX,
            ..orders(&folder, 73)
        };
        let mut writer = Writer::start(&endless, None);
        let wrote = std::iter::from_fn(|| writer.next()).find(|told| matches!(told, Told::Done(..)));
        assert!(wrote.is_some());
        let error = SqliteStore::restore(&home, &copy, "now")
            .await
            .expect_err("it is open elsewhere");
        assert_eq!(error.fault, Fault::Locked, "{error}");
        assert!(
            error.help().contains("Close the other program"),
            "{}",
            error.help()
        );
        writer.kill();
        SqliteStore::restore(&home, &copy, "now")
            .await
            .expect("nobody has it open any more");
    });
}
