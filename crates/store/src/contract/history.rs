//! Plausible histories made up from a seed: a household that buys, opens, cooks, cools, stores, eats, moves, counts,
//! throws away, corrects itself and takes things back, on several devices whose clocks are not quite right. Now and
//! then somebody reports more than was there. Everything in them is invented.

mod cooking;
mod eating;
mod shelves;

use jiff::Span;
use jiff::civil::{DateTime, date};
use larderwright_model::{
    Account, Clock, DeviceId, Event, EventId, Fact, FoodId, Goods, LotCard, LotId, Moment, Move, Place,
};
use larderwright_quantity::Mass;

use crate::clock::Hybrid;

const DEVICES: [&str; 3] = ["phone", "server", "tablet"];
const ZONES: [(&str, i32); 3] = [
    ("Europe/Vienna", 3_600),
    ("America/Chicago", -21_600),
    ("Asia/Kathmandu", 20_700),
];

/// The first event's time, in milliseconds since 1970.
pub const START_MS: i64 = 1_795_000_000_000;

/// The local time of the first event.
const START: DateTime = date(2026, 11, 18).at(7, 0, 0, 0);

/// The events of a made-up household, in the order in which they happened; the same ones for the same seed.
#[must_use]
pub fn history(seed: u64, events: usize) -> Vec<Event> {
    let mut kitchen = Kitchen::new(seed);
    while kitchen.events.len() < events {
        kitchen.something_happens();
    }
    kitchen.events
}

/// The same events in another order, some of them twice.
#[must_use]
pub fn shuffled(seed: u64, events: &[Event]) -> Vec<Event> {
    let mut random = Random(seed);
    let mut cards: Vec<Event> = events.to_vec();
    for event in events {
        if random.chance(20) {
            cards.push(event.clone());
        }
    }
    for at in (1..cards.len()).rev() {
        let other = random.below(at as u64 + 1) as usize;
        cards.swap(at, other);
    }
    cards
}

/// A generator of numbers that look random: Marsaglia, Xorshift RNGs, Journal of Statistical Software 8, 2003 (from
/// memory), with an odd start.
#[derive(Debug)]
pub struct Random(u64);

impl Random {
    /// The same numbers for the same seed.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        let mut x = self.0.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1;
        x ^= x << 13;
        x ^= x >> 7;
        x ^= x << 17;
        self.0 = x;
        x.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 11
    }

    /// A number below `end`.
    pub fn below(&mut self, end: u64) -> u64 {
        self.next() % end.max(1)
    }

    /// A number between two others, both included.
    pub fn range(&mut self, low: i64, high: i64) -> i64 {
        low + self.below((high - low + 1).unsigned_abs()) as i64
    }

    /// True so many times out of a hundred.
    pub fn chance(&mut self, percent: u64) -> bool {
        self.below(100) < percent
    }

    fn word(&mut self, of: &[&'static str]) -> &'static str {
        of[self.below(of.len() as u64) as usize]
    }

    /// One of several.
    ///
    /// # Panics
    /// When there is none.
    pub fn pick<'a, T>(&mut self, of: &'a [T]) -> &'a T {
        &of[self.below(of.len() as u64) as usize]
    }
}

/// A lot as the household thinks it is.
#[derive(Clone)]
struct Shelf {
    card: LotCard,
    place: Place,
    mg: i64,
    worth: i64,
}

struct Kitchen {
    seed: u64,
    random: Random,
    elapsed_ms: i64,
    seen: Hybrid,
    zone: usize,
    shelves: Vec<Shelf>,
    batches: u32,
    events: Vec<Event>,
}

impl Kitchen {
    fn new(seed: u64) -> Self {
        Self {
            seed,
            random: Random(seed ^ 0x5DEE_CE66),
            elapsed_ms: 0,
            seen: Hybrid::default(),
            zone: (seed % 3) as usize,
            shelves: Vec::new(),
            batches: 0,
            events: Vec::new(),
        }
    }

    fn something_happens(&mut self) {
        self.elapsed_ms += self.random.range(1, 4 * 3_600_000);
        if self.random.chance(1) {
            self.zone = (self.zone + 1) % ZONES.len();
        }
        match self.random.below(100) {
            0..20 => self.buys(),
            20..26 => self.opens(),
            26..38 => self.cooks(),
            38..62 => self.eats(),
            62..70 => self.moves(),
            70..78 => self.counts(),
            78..84 => self.throws_away(),
            84..88 => self.ticks(),
            88..92 => self.notes(),
            92..97 => self.corrects(),
            _ => self.takes_back(),
        }
    }

    /// Local time now.
    fn at(&self) -> DateTime {
        let span = Span::new().seconds(self.elapsed_ms / 1000);
        START
            .checked_add(span)
            .expect("made-up weeks lie inside the calendar")
    }

    fn tell(&mut self, fact: Fact, cards: Vec<LotCard>, moves: Vec<Move>) {
        let device = DeviceId::new(self.random.word(&DEVICES));
        // A device's clock may be half a minute off, so that now and then a correction carries the earlier stamp.
        let skew = self.random.range(-30_000, 30_000);
        let now_ms = START_MS + self.elapsed_ms + skew;
        let stamp = if self.random.chance(10) {
            Hybrid {
                wall_ms: now_ms,
                count: self.events.len() as u32,
            }
        } else {
            self.seen.next(now_ms)
        };
        self.seen = self.seen.max(stamp);
        let (zone, offset_s) = ZONES[self.zone];
        let event = Event {
            id: EventId::new(&format!("{}-{}", self.seed, self.events.len())),
            clock: stamp.stamp(&device),
            moment: Moment {
                at: self.at(),
                offset_s,
                zone: zone.into(),
            },
            by: (*self.random.pick(&["", "Ada", "Bo \"the cook\""])).into(),
            plan: self.random.chance(30).then(|| "0f".repeat(32)),
            corrects: None,
            cards,
            moves,
            fact,
        };
        self.events.push(event);
        self.reports_twice();
    }

    /// Two devices now and then report the same thing under one id.
    fn reports_twice(&mut self) {
        let last = self.events.last().expect("something was told").clone();
        if !self.random.chance(4) {
            return;
        }
        let device = DeviceId::new(self.random.word(&DEVICES));
        let later = self.random.range(-2_000, 20_000);
        let clock = Clock {
            wall_ms: last.clock.wall_ms + later,
            count: 9,
            device,
        };
        self.events.push(Event { clock, ..last });
    }

    /// One of the last events, or any.
    fn earlier(&mut self) -> Option<Event> {
        let last = self.events.len() as u64;
        let at = if self.random.chance(70) {
            last.checked_sub(1 + self.random.below(last.min(6)))?
        } else {
            self.random.below(last)
        };
        self.events.get(at as usize).cloned()
    }

    /// Says an earlier thing again, with other masses.
    fn corrects(&mut self) {
        let Some(earlier) = self.earlier() else { return };
        let part = self.random.range(1, 300);
        let moves = earlier.moves.iter().map(|step| Move {
            mass: Mass::from_mg(step.mass.mg() * part / 100 + self.random.range(0, 9)),
            ..step.clone()
        });
        let moves = moves.collect();
        self.tell(earlier.fact, earlier.cards, moves);
        self.name_corrected(&earlier.id);
    }

    fn takes_back(&mut self) {
        let Some(earlier) = self.earlier() else { return };
        self.tell(Fact::Undone, Vec::new(), Vec::new());
        self.name_corrected(&earlier.id);
    }

    fn name_corrected(&mut self, corrected: &EventId) {
        let told = self.events.last().expect("something was told").id.clone();
        for event in self.events.iter_mut().rev().take_while(|event| event.id == told) {
            event.corrects = Some(corrected.clone());
        }
    }

    fn card(&self, lot: &str, goods: Goods) -> LotCard {
        LotCard {
            lot: LotId::new(lot),
            goods,
            made: self.at(),
            keep: None,
            printed: None,
            pack: String::new(),
            boxes: Vec::new(),
        }
    }

    fn buys(&mut self) {
        let foods = [
            "chickpea-dry",
            "rice-brown-long-dry",
            "milk-whole",
            "spinach",
            "salt",
        ];
        let food = *self.random.pick(&foods);
        let lot = format!("{food}@{}/{}", self.at().date(), self.events.len());
        let printed = self
            .random
            .chance(40)
            .then(|| self.at().date().saturating_add(Span::new().days(9)));
        let card = LotCard {
            printed,
            pack: "500 g".into(),
            ..self.card(&lot, Goods::Food(FoodId::new(food)))
        };
        let (mg, worth) = (
            self.random.range(50_001, 2_000_003),
            self.random.range(0, 900_007),
        );
        let place = *self
            .random
            .pick(&[Place::Fridge, Place::Freezer, Place::Cupboard]);
        let step = Move {
            lot: card.lot.clone(),
            from: Account::Shop,
            to: Account::Place(place),
            mass: Mass::from_mg(mg),
            worth,
        };
        let fact = shelves::bought(&mut self.random);
        self.tell(fact, vec![card.clone()], vec![step]);
        self.shelves.push(Shelf {
            card,
            place,
            mg,
            worth,
        });
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use larderwright_ledger::Books;
    use larderwright_records::event::{KINDS, kind_word};

    use super::*;

    #[test]
    fn the_same_seed_makes_the_same_history() {
        assert_eq!(history(3, 80), history(3, 80));
        assert_ne!(history(3, 80), history(4, 80));
    }

    #[test]
    fn every_kind_of_event_comes_up() {
        let all = (0..6).flat_map(|seed| history(seed, 400)).collect::<Vec<_>>();
        let kinds: BTreeSet<&str> = all.iter().map(|event| kind_word(&event.fact)).collect();
        let missing: Vec<&&str> = KINDS.iter().filter(|kind| !kinds.contains(**kind)).collect();
        assert!(missing.is_empty(), "{missing:?}");
        assert!(all.iter().filter(|event| event.corrects.is_some()).count() > 50);
    }

    #[test]
    fn stock_piles_up_is_eaten_and_now_and_then_overdrawn() {
        let events = history(1, 600);
        let books = Books::of(&events);
        let open = books.lots.values().filter(|lot| lot.is_open()).count();
        assert!(
            open > 5 && open < books.lots.len(),
            "{open} of {}",
            books.lots.len()
        );
        assert!(books.lots.values().any(|lot| lot.overdrawn.is_positive()));
        assert!(books.balance(&Account::Eaten).mass.is_positive());
    }
}
