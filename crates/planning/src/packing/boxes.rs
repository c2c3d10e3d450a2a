//! Boxes: which kinds hold a lot, given depth, what is in use, and the room in fridge and freezer.

use std::collections::BTreeMap;

use jiff::civil::{Date, DateTime};
use larderwright_model::{BoxId, BoxKind, Conflict, Fate, Snapshot, Stage};
use larderwright_quantity::{Length, Rounding, Volume, mul_div};
use larderwright_safety::headspace::{self, Pack};

use super::house::Held;

/// Boxes are filled to 85 % (common practice; water grows by 9 % when it freezes).
const FILL_PERMILLE: i64 = 850;

/// From when to when a lot keeps its boxes, and where they stand.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stay {
    pub fate: Fate,
    pub from: Date,
    pub pull: Option<DateTime>,
    pub to: Date,
}

/// A lot's boxes.
#[derive(Clone)]
pub(super) struct Packed {
    pub boxes: Vec<(BoxId, u32)>,
    pub depth: Length,
}

/// The household's boxes over the days of the plan.
#[derive(Clone)]
pub(super) struct Shelf<'a> {
    snapshot: &'a Snapshot,
    used: BTreeMap<(usize, Date), u32>,
    fridge: BTreeMap<Date, i64>,
    freezer: BTreeMap<Date, i64>,
    /// What the lots in the house take of fridge and freezer.
    house: [BTreeMap<Date, i64>; 2],
}

impl<'a> Shelf<'a> {
    /// Boxes and room, less what lots in the house take of them.
    pub(super) fn new(snapshot: &'a Snapshot, house: &[Held<'_>]) -> Self {
        let mut shelf = Self {
            snapshot,
            used: BTreeMap::new(),
            fridge: BTreeMap::new(),
            freezer: BTreeMap::new(),
            house: [BTreeMap::new(), BTreeMap::new()],
        };
        for lot in house {
            for (ix, count) in shelf.by_kind(lot.boxes) {
                for day in days(lot.stay) {
                    *shelf.used.entry((ix, day)).or_insert(0) += count;
                }
            }
            for day in days(lot.stay) {
                let rooms = [&mut shelf.fridge, &mut shelf.freezer];
                for (room, there) in rooms.into_iter().zip(places_on(lot.stay, day)) {
                    if there {
                        *room.entry(day).or_insert(0) += lot.room.ul();
                    }
                }
            }
        }
        shelf.house = [shelf.fridge.clone(), shelf.freezer.clone()];
        shelf
    }

    /// Takes boxes for a volume: the fewest of one kind, or a mixture when no kind has enough.
    pub(super) fn take(
        &mut self,
        volume: Volume,
        depth_max: Option<Length>,
        stay: Stay,
        name: &str,
    ) -> Result<Packed, Conflict> {
        let kinds = &self.snapshot.household.kitchen.boxes;
        let fitting: Vec<usize> = (0..kinds.len())
            .filter(|ix| stay.fate != Fate::Freezer || kinds[*ix].freezes)
            .collect();
        let usable = |ix: usize| usable(&kinds[ix], depth_max, stay.fate);
        let single = fitting
            .iter()
            .map(|&ix| (volume.div_ceil_by(usable(ix)).max(1), ix))
            .filter(|(count, ix)| *count <= i64::from(self.free(*ix, stay)))
            .min_by_key(|(count, ix)| (*count, kinds[*ix].volume.times(*count)));
        let choice = match single {
            Some((count, ix)) => vec![(ix, u32::try_from(count).expect("a household owns few boxes"))],
            None => self
                .mixture(volume, &fitting, stay, &usable)
                .ok_or_else(|| too_few(name, volume))?,
        };
        let room: i64 = choice
            .iter()
            .map(|(ix, count)| usable(*ix).ul() * i64::from(*count))
            .sum();
        let depth = choice
            .iter()
            .map(|(ix, _)| depth(&kinds[*ix], usable(*ix), volume, room))
            .max();
        self.occupy(&choice, stay);
        let boxes = choice
            .into_iter()
            .map(|(ix, count)| (kinds[ix].id.clone(), count))
            .collect();
        Ok(Packed {
            boxes,
            depth: depth.unwrap_or(Length::ZERO),
        })
    }

    fn mixture(
        &self,
        volume: Volume,
        fitting: &[usize],
        stay: Stay,
        usable: &impl Fn(usize) -> Volume,
    ) -> Option<Vec<(usize, u32)>> {
        let mut order = fitting.to_vec();
        order.sort_by_key(|ix| std::cmp::Reverse(usable(*ix)));
        let mut left = volume;
        let mut choice = Vec::new();
        for ix in order {
            let wanted = left.div_ceil_by(usable(ix)).max(0);
            let count = wanted.min(i64::from(self.free(ix, stay)));
            if count > 0 {
                left -= usable(ix).times(count);
                choice.push((ix, u32::try_from(count).expect("a household owns few boxes")));
            }
        }
        (!left.is_positive()).then_some(choice)
    }

    /// Takes other boxes for a lot, or keeps them otherwise: shallower, or pulled on another day. At most `most` of
    /// them; `None`, with nothing changed, when there are too few or no room.
    pub(super) fn retake(
        &mut self,
        (boxes, held): (&[(BoxId, u32)], Stay),
        (volume, depth_max): (Volume, Length),
        stay: Stay,
        most: u32,
    ) -> Option<Packed> {
        let mut tried = self.clone();
        tried.release(boxes, held);
        let packed = tried.take(volume, Some(depth_max), stay, "").ok()?;
        let count: u32 = packed.boxes.iter().map(|(_, count)| count).sum();
        // Depths round up to a micrometre.
        let deep = packed.depth.um() > depth_max.um() + 2;
        let fits = count <= most && !deep && tried.check_room().is_ok();
        fits.then(|| {
            *self = tried;
            packed
        })
    }

    /// Keeps the same boxes for another stay; `false`, with nothing changed, when there is no room.
    pub(super) fn move_stay(&mut self, boxes: &[(BoxId, u32)], held: Stay, stay: Stay) -> bool {
        let mut tried = self.clone();
        tried.release(boxes, held);
        tried.occupy(&tried.by_kind(boxes), stay);
        let fits = tried.check_room().is_ok();
        if fits {
            *self = tried;
        }
        fits
    }

    /// Stands boxes in the freezer for an hour of a day, beside what is there; `false`, with nothing changed, when there is
    /// no room.
    pub(super) fn stand_in_freezer(&mut self, boxes: &[(BoxId, u32)], day: Date) -> bool {
        let kitchen = &self.snapshot.household.kitchen;
        let brim = kitchen.brim(boxes).ul();
        let room = kitchen.freezer.ul();
        let there = self.freezer.entry(day).or_insert(0);
        let fits = *there + brim <= room;
        if fits {
            *there += brim;
        }
        fits
    }

    fn by_kind(&self, boxes: &[(BoxId, u32)]) -> Vec<(usize, u32)> {
        let kinds = &self.snapshot.household.kitchen.boxes;
        let of = |id: &BoxId| kinds.iter().position(|kind| kind.id == *id);
        boxes
            .iter()
            .filter_map(|(id, count)| Some((of(id)?, *count)))
            .collect()
    }

    fn release(&mut self, boxes: &[(BoxId, u32)], stay: Stay) {
        let choice = self.by_kind(boxes);
        self.each_day(
            &choice,
            stay,
            |used, count| *used -= count,
            |room, brim| *room -= brim,
        );
    }

    fn free(&self, kind: usize, stay: Stay) -> u32 {
        let owned = self.snapshot.household.kitchen.boxes[kind].count;
        let used = days(stay)
            .filter_map(|day| self.used.get(&(kind, day)))
            .max()
            .copied()
            .unwrap_or(0);
        owned.saturating_sub(used)
    }

    fn occupy(&mut self, choice: &[(usize, u32)], stay: Stay) {
        self.each_day(
            choice,
            stay,
            |used, count| *used += count,
            |room, brim| *room += brim,
        );
    }

    fn each_day(
        &mut self,
        choice: &[(usize, u32)],
        stay: Stay,
        count_in: impl Fn(&mut u32, u32),
        room_in: impl Fn(&mut i64, i64),
    ) {
        for day in days(stay) {
            for &(ix, count) in choice {
                count_in(self.used.entry((ix, day)).or_insert(0), count);
                let brim = self.snapshot.household.kitchen.boxes[ix].volume.ul() * i64::from(count);
                let rooms = [&mut self.fridge, &mut self.freezer];
                for (room, there) in rooms.into_iter().zip(places_on(stay, day)) {
                    if there {
                        room_in(room.entry(day).or_insert(0), brim);
                    }
                }
            }
        }
    }

    /// Whether fridge and freezer hold the boxes on every day on which the plan adds some to those of the house.
    pub(super) fn check_room(&self) -> Result<(), Conflict> {
        let kitchen = &self.snapshot.household.kitchen;
        let [fridge, freezer] = &self.house;
        for (name, used, house, room) in [
            ("fridge", &self.fridge, fridge, kitchen.fridge),
            ("freezer", &self.freezer, freezer, kitchen.freezer),
        ] {
            let added = used
                .iter()
                .filter(|(day, used)| **used > house.get(day).copied().unwrap_or(0));
            let fullest = added.max_by_key(|(_, used)| **used);
            if let Some((day, most)) = fullest.filter(|(_, used)| **used > room.ul()) {
                return Err(too_full(name, *day, Volume::from_ul(*most), room));
            }
        }
        Ok(())
    }
}

/// Whether a lot stands in the fridge, and whether in the freezer, on a day: on the day of its pull it takes room in both,
/// because other boxes may come before it leaves.
fn places_on(stay: Stay, day: Date) -> [bool; 2] {
    let pulled = stay.pull.map(DateTime::date);
    match stay.fate {
        Fate::Freezer => [
            pulled.is_some_and(|pull| pull <= day),
            pulled.is_none_or(|pull| day <= pull),
        ],
        Fate::Fridge | Fate::Cupboard => [true, false],
    }
}

fn days(stay: Stay) -> impl Iterator<Item = Date> {
    let count = (stay.to - stay.from).get_days().max(0);
    (0..=count).map(move |n| stay.from.saturating_add(jiff::Span::new().days(n)))
}

/// What may go into one box: 85 % of its volume, its headspace free when it freezes, and no deeper than allowed.
fn usable(kind: &BoxKind, depth_max: Option<Length>, fate: Fate) -> Volume {
    let by_fill = fill(kind, fate).ul();
    let by_depth = depth_max.map_or(by_fill, |max| {
        mul_div(kind.volume.ul(), max.um(), kind.depth.um().max(1), Rounding::Down)
    });
    Volume::from_ul(by_fill.min(by_depth).max(1))
}

/// How much goes into a box of a kind for a fate, whatever its depth: 85 %, and less where food freezes, because it
/// grows.
pub(crate) fn fill(kind: &BoxKind, fate: Fate) -> Volume {
    let closed = Volume::from_ul(mul_div(kind.volume.ul(), FILL_PERMILLE, 1000, Rounding::Down));
    if fate == Fate::Freezer {
        closed.min(headspace::usable(Pack::Liquid, kind.volume, kind.depth))
    } else {
        closed
    }
}

/// How deep the food lies when it is shared out in proportion to what each box may hold.
fn depth(kind: &BoxKind, usable: Volume, volume: Volume, room: i64) -> Length {
    let here = mul_div(usable.ul(), volume.ul(), room.max(1), Rounding::Up);
    Length::from_um(mul_div(
        kind.depth.um(),
        here,
        kind.volume.ul().max(1),
        Rounding::Up,
    ))
}

fn litres(volume: Volume) -> String {
    format!(
        "{}.{} l",
        volume.ul() / 1_000_000,
        volume.ul() % 1_000_000 / 100_000
    )
}

fn too_few(name: &str, volume: Volume) -> Conflict {
    Conflict {
        stage: Stage::Packing,
        message: format!(
            "there are not enough free boxes for {} of {}",
            litres(volume),
            name.to_lowercase()
        ),
        wishes: vec![
            format!("{} is cooked ahead", name.to_lowercase()),
            "boxes as listed in the household file".into(),
        ],
        mends: vec![
            "add boxes to the household file".into(),
            "cook fewer portions ahead".into(),
        ],
    }
}

fn too_full(name: &str, day: Date, used: Volume, room: Volume) -> Conflict {
    Conflict {
        stage: Stage::Packing,
        message: format!(
            "the {name} would hold {} of boxes on {day}, and there is room for {}",
            litres(used),
            litres(room)
        ),
        wishes: vec![format!("room in the {name}: {}", litres(room))],
        mends: vec![
            format!("make room in the {name}"),
            "cook fewer portions ahead, or in two sessions".into(),
        ],
    }
}
