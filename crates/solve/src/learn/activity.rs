//! Which statement to decide next: those that took part in recent conflicts first.
//!
//! After Moskewicz, Madigan, Zhao, Zhang and Malik, "Chaff: engineering an efficient SAT solver" (2001),
//! over statements about bounds made on first use, as in Feydy and Stuckey, "Lazy clause generation
//! reengineered" (2009). Activities are whole numbers.

use super::domain::{Lit, Var};
use super::state::{Entry, State};

const ABSENT: u32 = u32::MAX;
const RESCALE: u64 = 1 << 50;

/// "The variable is at least this."
#[derive(Clone, Copy, Debug)]
struct Atom {
    var: Var,
    value: i32,
}

#[derive(Debug)]
pub(super) struct Activity {
    atoms: Vec<Atom>,
    scores: Vec<u64>,
    /// By variable, the values of its atoms in rising order.
    known: Vec<Vec<(i32, u32)>>,
    heap: Vec<u32>,
    spots: Vec<u32>,
    step: u64,
}

impl Activity {
    pub(super) fn new() -> Self {
        Self {
            atoms: Vec::new(),
            scores: Vec::new(),
            known: Vec::new(),
            heap: Vec::new(),
            spots: Vec::new(),
            step: 1 << 20,
        }
    }

    pub(super) fn add_var(&mut self) {
        self.known.push(Vec::new());
    }

    /// Notes that a statement took part in a conflict.
    pub(super) fn bump(&mut self, lit: Lit) {
        let value = if lit.side.is_upper() {
            1 - lit.value
        } else {
            lit.value
        };
        let atom = self.atom(lit.side.var(), value);
        self.scores[atom as usize] += self.step;
        if self.scores[atom as usize] > RESCALE {
            self.scores.iter_mut().for_each(|score| *score >>= 30);
            self.step = (self.step >> 30).max(1 << 10);
            // Ties may have arisen, but a heap stays a heap when its keys shrink in step.
        }
        if self.spots[atom as usize] != ABSENT {
            self.rise(self.spots[atom as usize] as usize);
        }
    }

    /// Makes later bumps weigh more, by a twentieth.
    pub(super) fn age(&mut self) {
        self.step += self.step / 20;
    }

    fn atom(&mut self, var: Var, value: i32) -> u32 {
        let known = &mut self.known[var.index()];
        match known.binary_search_by_key(&value, |(value, _)| *value) {
            Ok(spot) => known[spot].1,
            Err(spot) => {
                let atom = u32::try_from(self.atoms.len()).expect("atoms are fewer than 2^32");
                known.insert(spot, (value, atom));
                self.atoms.push(Atom { var, value });
                self.scores.push(0);
                self.spots.push(ABSENT);
                self.insert(atom);
                atom
            }
        }
    }

    /// Puts back the atoms that a bound, taken back, has opened again.
    pub(super) fn reopen(&mut self, entry: &Entry) {
        let (from, to) = if entry.side.is_upper() {
            (1 - entry.new, -entry.old)
        } else {
            (entry.old + 1, entry.new)
        };
        let var = entry.side.var().index();
        let mut at = self.known[var].partition_point(|(value, _)| *value < from);
        while let Some(&(value, atom)) = self.known[var].get(at)
            && value <= to
        {
            if self.spots[atom as usize] == ABSENT {
                self.insert(atom);
            }
            at += 1;
        }
    }

    /// The most active atom that is still open.
    pub(super) fn next(&mut self, state: &State) -> Option<(Var, i32)> {
        while let Some(&top) = self.heap.first() {
            let Atom { var, value } = self.atoms[top as usize];
            if state.least(var) < value && value <= state.most(var) {
                return Some((var, value));
            }
            self.pop();
        }
        None
    }

    fn insert(&mut self, atom: u32) {
        self.heap.push(atom);
        self.rise(self.heap.len() - 1);
    }

    fn pop(&mut self) {
        let top = self.heap.swap_remove(0);
        self.spots[top as usize] = ABSENT;
        if !self.heap.is_empty() {
            self.sink(0);
        }
    }

    fn put(&mut self, spot: usize, atom: u32) {
        self.heap[spot] = atom;
        self.spots[atom as usize] = u32::try_from(spot).expect("atoms are fewer than 2^32");
    }

    fn rise(&mut self, mut spot: usize) {
        let atom = self.heap[spot];
        while spot > 0 {
            let above = (spot - 1) / 2;
            if self.scores[self.heap[above] as usize] >= self.scores[atom as usize] {
                break;
            }
            self.put(spot, self.heap[above]);
            spot = above;
        }
        self.put(spot, atom);
    }

    fn sink(&mut self, mut spot: usize) {
        let atom = self.heap[spot];
        loop {
            let mut below = 2 * spot + 1;
            if below >= self.heap.len() {
                break;
            }
            let score = |spot: usize| self.scores[self.heap[spot] as usize];
            if below + 1 < self.heap.len() && score(below + 1) > score(below) {
                below += 1;
            }
            if score(below) <= self.scores[atom as usize] {
                break;
            }
            self.put(spot, self.heap[below]);
            spot = below;
        }
        self.put(spot, atom);
    }
}
