//! How long looking up takes. Ignored among the other tests, because a busy machine makes any time long:
//! `cargo xtask bench lookups` runs it.

use std::hint::black_box;

use larderwright_reference::search::find;
use larderwright_reference::{all, food};

/// Nanoseconds that one of so many calls takes.
#[expect(
    clippy::disallowed_methods,
    reason = "a timing test reads the clock and stores nothing"
)]
fn nanoseconds(calls: u128, work: impl Fn()) -> u128 {
    let start = std::time::Instant::now();
    work();
    start.elapsed().as_nanos() / calls
}

#[test]
#[ignore = "a busy machine makes any time long"]
fn a_lookup_takes_less_than_a_microsecond_and_a_search_less_than_a_hundred() {
    let ids: Vec<&str> = all().iter().map(|row| row.id).collect();
    let rounds = 200;
    let lookup = nanoseconds(rounds * ids.len() as u128, || {
        for _ in 0..rounds {
            for id in &ids {
                black_box(food(black_box(id)));
            }
        }
    });
    let queries = [
        "onion",
        "zuchini",
        "garbanzo beans dry",
        "ground beef",
        "brocoli",
        "olive oil",
        "tinned tomatos",
        "cilantro",
        "sweet corn",
        "wholemeal bred",
        "chik",
        "bean",
        "smoked paprica",
        "milk",
        "xylophone",
        "brown rice cooked",
    ];
    black_box(find("first use builds the index", 1));
    let rounds = 200;
    let search = nanoseconds(rounds * queries.len() as u128, || {
        for _ in 0..rounds {
            for query in queries {
                black_box(find(black_box(query), 10));
            }
        }
    });
    println!("foods    {}", ids.len());
    println!("lookup   {lookup} ns by identifier");
    println!(
        "search   {search} ns by name, {} a second",
        1_000_000_000 / search.max(1)
    );
    assert!(lookup < 1_000, "{lookup} ns");
    assert!(search < 100_000, "{search} ns");
}
