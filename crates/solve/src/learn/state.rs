//! What is known at the moment, and why: bounds, the trail of their changes, and the reasons.

use super::domain::{Lit, Side, Var};

const NONE: u32 = u32::MAX;

/// Why a bound rose.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Reason {
    /// Decided, or given from the start.
    Given,
    /// The clause has no other statement left.
    Clause(u32),
    /// The arc passed the bound on.
    Arc(u32),
    /// The statements stored from here, so many.
    Stored(u32, u32),
}

/// One rise of one bound.
#[derive(Clone, Copy, Debug)]
pub(super) struct Entry {
    pub(super) side: Side,
    pub(super) old: i32,
    pub(super) new: i32,
    /// The entry before on the same side.
    before: u32,
    pub(super) reason: Reason,
}

/// Something cannot be: bounds crossed, or a rule left its grounds in the state.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Clash;

/// Bounds with their history. Rules read it and change it through [`State::post`] and [`State::fail`] only.
#[derive(Debug, Default)]
pub(crate) struct State {
    bounds: Vec<i32>,
    newest: Vec<u32>,
    pub(super) trail: Vec<Entry>,
    /// Lengths of the trail and of the stored statements when each decision was taken.
    marks: Vec<(usize, usize)>,
    stored: Vec<Lit>,
    /// The last entry made the bounds of its variable cross.
    crossed: bool,
    /// Statements that are true and cannot all be, left by a rule that failed.
    grounds: Vec<Lit>,
    /// Work done, in steps of a few instructions.
    pub(crate) work: u64,
}

impl State {
    pub(super) fn add(&mut self, least: i32, most: i32) -> Var {
        let var = Var(u32::try_from(self.bounds.len() / 2).expect("variables are fewer than 2^31"));
        self.bounds.extend([least, -most]);
        self.newest.extend([NONE, NONE]);
        var
    }

    pub(super) fn var_count(&self) -> usize {
        self.bounds.len() / 2
    }

    pub(crate) fn least(&self, var: Var) -> i32 {
        self.bounds[var.lower().index()]
    }

    pub(crate) fn most(&self, var: Var) -> i32 {
        -self.bounds[var.upper().index()]
    }

    pub(super) fn bound(&self, side: Side) -> i32 {
        self.bounds[side.index()]
    }

    pub(crate) fn is_true(&self, lit: Lit) -> bool {
        self.bounds[lit.side.index()] >= lit.value
    }

    pub(crate) fn is_false(&self, lit: Lit) -> bool {
        self.bounds[lit.side.opposite().index()] > -lit.value
    }

    pub(super) fn level(&self) -> usize {
        self.marks.len()
    }

    pub(super) fn has_crossed(&self) -> bool {
        self.crossed
    }

    /// Derives a statement from statements that are true.
    ///
    /// # Errors
    /// If the bounds cross.
    pub(crate) fn post(&mut self, lit: Lit, grounds: &[Lit]) -> Result<(), Clash> {
        if self.is_true(lit) {
            return Ok(());
        }
        debug_assert!(
            grounds.iter().all(|ground| self.is_true(*ground)),
            "grounds are true"
        );
        let (from, count) = (self.stored.len(), grounds.len());
        self.stored.extend_from_slice(grounds);
        self.work += count as u64;
        let position = |number: usize| u32::try_from(number).expect("stored statements are fewer than 2^32");
        self.raise(lit, Reason::Stored(position(from), position(count)))
    }

    /// Says that statements which are true cannot all be.
    ///
    /// # Errors
    /// Always.
    pub(crate) fn fail(&mut self, grounds: &[Lit]) -> Result<(), Clash> {
        debug_assert!(
            grounds.iter().all(|ground| self.is_true(*ground)),
            "grounds are true"
        );
        self.grounds.clear();
        self.grounds.extend_from_slice(grounds);
        Err(Clash)
    }

    pub(super) fn raise(&mut self, lit: Lit, reason: Reason) -> Result<(), Clash> {
        let side = lit.side.index();
        let old = self.bounds[side];
        if old >= lit.value {
            return Ok(());
        }
        debug_assert!(!self.crossed, "nothing is derived after bounds have crossed");
        self.trail.push(Entry {
            side: lit.side,
            old,
            new: lit.value,
            before: self.newest[side],
            reason,
        });
        self.newest[side] = u32::try_from(self.trail.len() - 1).expect("the trail is shorter than 2^32");
        self.bounds[side] = lit.value;
        self.crossed = lit.value > -self.bounds[lit.side.opposite().index()];
        if self.crossed { Err(Clash) } else { Ok(()) }
    }

    pub(super) fn decide(&mut self) {
        self.marks.push((self.trail.len(), self.stored.len()));
    }

    /// Takes the newest entry back if it belongs to a level above; to be called until it gives nothing.
    pub(super) fn take_back(&mut self, level: usize) -> Option<Entry> {
        let (length, stored) = *self.marks.get(level)?;
        if self.trail.len() > length {
            let entry = self.trail.pop().expect("the trail is longer than the mark");
            self.bounds[entry.side.index()] = entry.old;
            self.newest[entry.side.index()] = entry.before;
            self.crossed = false;
            return Some(entry);
        }
        self.marks.truncate(level);
        self.stored.truncate(stored);
        None
    }

    /// The place on the trail where a true statement became true; none if it was from the start.
    pub(super) fn place(&self, lit: Lit) -> Option<usize> {
        let mut at = self.newest[lit.side.index()];
        while at != NONE && self.trail[at as usize].old >= lit.value {
            at = self.trail[at as usize].before;
        }
        (at != NONE).then_some(at as usize)
    }

    /// Like [`State::place`], but none also for what has held since before the first decision.
    pub(super) fn place_above_root(&self, lit: Lit) -> Option<usize> {
        let root = self.marks.first().map_or(usize::MAX, |mark| mark.0);
        self.place(lit).filter(|place| *place >= root)
    }

    /// The decision level at which the entry was made.
    pub(super) fn level_of(&self, place: usize) -> usize {
        self.marks.partition_point(|mark| mark.0 <= place)
    }

    /// First place of the newest level.
    pub(super) fn level_begin(&self) -> usize {
        self.marks.last().map_or(0, |mark| mark.0)
    }

    pub(super) fn stored(&self, from: u32, count: u32) -> &[Lit] {
        &self.stored[from as usize..(from + count) as usize]
    }

    /// What a rule that failed left.
    pub(super) fn grounds(&self) -> &[Lit] {
        &self.grounds
    }
}
