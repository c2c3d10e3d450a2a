//! Files and exports of every earlier version are read by this program, and lose nothing on the way.

use std::fs;
use std::path::{Path, PathBuf};

use larderwright_model::DeviceId;
use larderwright_store::contract::whole::{keeping_of, whole_of};
use larderwright_store::exchange::import;
use larderwright_store::{Gravity, MemoryStore, Store};
use larderwright_store_sqlite::{FILE_NAME, SCHEMA_VERSION, SqliteStore};

use crate::fresh::{Folder, raw, run};

fn golden() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/golden")
}

async fn exported(version: u32) -> MemoryStore {
    let memory = MemoryStore::new();
    let folder = golden().join(format!("export-{version}"));
    import(&memory, &folder).await.expect("the export is read");
    memory
}

#[test]
fn a_store_of_every_version_opens_and_answers_the_same() {
    run(async {
        let expected = keeping_of(&exported(1).await).await.ok();
        assert!(expected.as_ref().is_some_and(|keeping| keeping.events.len() > 40));
        for version in 1..=SCHEMA_VERSION {
            let folder = Folder::new();
            let file = folder.path().join(FILE_NAME);
            let sql = fs::read_to_string(golden().join(format!("store-{version}.sql")));
            raw(&file, &sql.expect("there is a golden store of every version")).await;
            let store = SqliteStore::open(folder.path())
                .await
                .expect("an older store opens");
            assert_eq!(keeping_of(&store).await.ok(), expected, "version {version}");
            let defects = store.check().await.expect("it can be checked");
            assert!(
                defects.iter().all(|defect| defect.gravity == Gravity::Notice),
                "{defects:?}"
            );
            let device = store.device(&DeviceId::new("another")).await;
            assert_eq!(device.ok(), Some(DeviceId::new("golden")), "version {version}");
            store.close().await;
            let copy = folder.path().join(format!(
                "backups/before-version-{SCHEMA_VERSION}-from-{version}.db"
            ));
            assert_eq!(copy.is_file(), version < SCHEMA_VERSION);
            if copy.is_file() {
                let elsewhere = Folder::new();
                let restored = SqliteStore::restore(elsewhere.path(), &copy, "test").await;
                restored.expect("the backup from before is a backup");
                let store = SqliteStore::open(elsewhere.path()).await.expect("it opens");
                assert_eq!(keeping_of(&store).await.ok(), expected, "version {version}");
                store.close().await;
            }
        }
    });
}

#[test]
fn an_export_of_the_first_version_is_read_in() {
    run(async {
        let folder = Folder::new();
        let store = SqliteStore::open(folder.path()).await.expect("it opens");
        import(&store, &golden().join("export-1"))
            .await
            .expect("the export is read");
        let expected = whole_of(&exported(1).await).await.ok();
        assert_eq!(whole_of(&store).await.ok(), expected);
        store.close().await;
    });
}
