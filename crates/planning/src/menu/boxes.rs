//! Boxes in the menu: the same choice as packing makes, on numbers alone, to see early what will not fit.

use larderwright_quantity::{Length, Rounding, mul_div};

use larderwright_model::{Fate, Snapshot};

use crate::packing::Held;

/// Days before the week that are looked at.
const BEFORE: i64 = 7;
/// Days looked at altogether.
const DAYS: usize = 16;

/// Boxes of one kind.
struct Kind {
    /// What goes in, hot or not, for the fridge and for the freezer.
    fridge: [i64; 2],
    freezer: [i64; 2],
    volume: i64,
    freezes: bool,
    count: i64,
}

/// A lot to be.
pub(super) struct Parcel {
    /// Microlitres.
    pub volume: i64,
    pub hot: bool,
    pub frozen: bool,
    /// First and last day in the boxes, counted from Monday.
    pub from: i64,
    pub to: i64,
}

/// The household's boxes.
pub(super) struct Cupboard {
    kinds: Vec<Kind>,
    /// Those in which lots lie that are in the house, each until its date.
    held: Taken,
}

/// Which boxes are taken on which day.
#[derive(Clone)]
pub(super) struct Taken {
    used: Vec<[i64; DAYS]>,
}

impl Cupboard {
    pub(super) fn new(
        snapshot: &Snapshot,
        house: &[Held<'_>],
        depth_max: Length,
        room_permille: i64,
    ) -> Self {
        let kind = |kind: &larderwright_model::BoxKind| {
            let by_depth = mul_div(
                kind.volume.ul(),
                depth_max.um(),
                kind.depth.um().max(1),
                Rounding::Down,
            );
            let room = |fate| {
                let cold = crate::packing::fill(kind, fate).ul();
                [cold.max(1), cold.min(by_depth).max(1)]
            };
            Kind {
                fridge: room(Fate::Fridge),
                freezer: room(Fate::Freezer),
                volume: kind.volume.ul(),
                freezes: kind.freezes,
                count: mul_div(i64::from(kind.count), room_permille, 1000, Rounding::Down),
            }
        };
        let kinds = &snapshot.household.kitchen.boxes;
        let mut held = Taken {
            used: vec![[0; DAYS]; kinds.len()],
        };
        let from_monday = |date: jiff::civil::Date| day(i64::from((date - snapshot.monday).get_days()));
        for lot in house {
            let (first, last) = (from_monday(lot.stay.from), from_monday(lot.stay.to));
            for (id, count) in lot.boxes {
                if let Some(ix) = kinds.iter().position(|kind| kind.id == *id) {
                    for used in &mut held.used[ix][first..=last.max(first)] {
                        *used += i64::from(*count);
                    }
                }
            }
        }
        Self {
            kinds: kinds.iter().map(kind).collect(),
            held,
        }
    }

    /// No boxes taken but those of the house.
    pub(super) fn empty(&self) -> Taken {
        self.held.clone()
    }

    /// Takes boxes for a parcel; returns the volume for which there are none.
    pub(super) fn take(&self, taken: &mut Taken, parcel: &Parcel) -> i64 {
        let (first, last) = (day(parcel.from), day(parcel.to).max(day(parcel.from)));
        let free = |taken: &Taken, ix: usize| {
            let most = taken.used[ix][first..=last].iter().max().copied().unwrap_or(0);
            (self.kinds[ix].count - most).max(0)
        };
        let usable = |kind: &Kind| {
            let rooms = if parcel.frozen { kind.freezer } else { kind.fridge };
            rooms[usize::from(parcel.hot)]
        };
        let fitting = || {
            self.kinds
                .iter()
                .enumerate()
                .filter(|(_, kind)| kind.freezes || !parcel.frozen)
        };
        let single = fitting()
            .map(|(ix, kind)| {
                (
                    parcel.volume.div_euclid(usable(kind)) + i64::from(parcel.volume % usable(kind) > 0),
                    ix,
                )
            })
            .filter(|(count, ix)| *count <= free(taken, *ix))
            .min_by_key(|(count, ix)| (*count, self.kinds[*ix].volume * count));
        let occupy = |taken: &mut Taken, ix: usize, count: i64| {
            for used in &mut taken.used[ix][first..=last] {
                *used += count;
            }
        };
        if let Some((count, ix)) = single {
            occupy(taken, ix, count);
            return 0;
        }
        let mut left = parcel.volume;
        let mut order: Vec<usize> = fitting().map(|(ix, _)| ix).collect();
        order.sort_by_key(|ix| std::cmp::Reverse(usable(&self.kinds[*ix])));
        for ix in order {
            let room = usable(&self.kinds[ix]);
            let count = mul_div(left.max(0), 1, room, Rounding::Up).min(free(taken, ix));
            occupy(taken, ix, count);
            left -= room * count;
        }
        left.max(0)
    }
}

fn day(from_monday: i64) -> usize {
    usize::try_from((from_monday + BEFORE).max(0))
        .unwrap_or(0)
        .min(DAYS - 1)
}
