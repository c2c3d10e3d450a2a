//! Cases: named texts with every version.

use crate::port::{Document, Put, Store};

/// The last one is the one that is given out.
pub async fn a_document_keeps_every_version<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    assert_eq!(
        store.document("household").await.expect("documents are read"),
        None
    );
    for (version, text) in [(1, "one"), (2, "two"), (3, "")] {
        let put = store.put_document("household", text, version - 1).await;
        assert_eq!(put.expect("the document is kept"), Put::Saved(version));
    }
    let history = store
        .document_history("household")
        .await
        .expect("documents are read");
    let texts: Vec<(u32, &str)> = history
        .iter()
        .map(|document| (document.version, document.text.as_str()))
        .collect();
    assert_eq!(texts, [(1, "one"), (2, "two"), (3, "")]);
    let last = store.document("household").await.expect("documents are read");
    assert_eq!(last.as_ref(), history.last());
}

/// And nothing of the first one is lost.
pub async fn of_two_writers_the_second_is_overtaken<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let puts = [
        ("mine", 0, Put::Saved(1)),
        ("yours", 0, Put::Overtaken(1)),
        ("later", 7, Put::Overtaken(1)),
    ];
    for (text, expected_version, answer) in puts {
        let put = store.put_document("household", text, expected_version).await;
        assert_eq!(put.expect("documents are kept"), answer);
    }
    let never = store.put_document("foods", "x", 1).await;
    assert_eq!(never.expect("documents are kept"), Put::Overtaken(0));
    let kept = store.document("household").await.expect("documents are read");
    assert_eq!(kept.map(|kept| kept.text).as_deref(), Some("mine"));
    assert_eq!(
        store.document_names().await.expect("documents are read"),
        ["household"]
    );
}

/// Also those that no file could have.
pub async fn documents_have_any_name_and_any_text<S: Store>(make: &impl AsyncFn() -> S) {
    let store = make().await;
    let names = ["../../etc", "a/b", "household", "кухня", " "];
    for name in names {
        let text = format!("text of {name}\u{0}\r\n");
        store
            .put_document(name, &text, 0)
            .await
            .expect("the document is kept");
        let back = store.document(name).await.expect("documents are read");
        let expected = Document {
            name: name.into(),
            version: 1,
            text,
        };
        assert_eq!(back, Some(expected));
    }
    let mut sorted = names;
    sorted.sort_unstable();
    assert_eq!(store.document_names().await.expect("documents are read"), sorted);
}
