//! Clauses, at least one statement of which is true, and who watches which.
//!
//! A clause watches its first two statements. A watch lies with the side whose rise makes the watched
//! statement false, beside the value from which it does.

use super::domain::Lit;

#[derive(Clone, Copy, Debug)]
pub(super) struct Watch {
    pub(super) clause: u32,
    /// The watched statement is false once the side has reached this.
    pub(super) value: i32,
    /// Another statement of the clause; while it is true there is nothing to do.
    pub(super) other: Lit,
}

#[derive(Clone, Copy, Debug)]
struct Head {
    from: u32,
    length: u32,
    /// Number of decision levels met when it was learnt; zero for clauses that were given.
    spread: u32,
    activity: u64,
}

#[derive(Debug, Default)]
pub(super) struct Clauses {
    heads: Vec<Head>,
    lits: Vec<Lit>,
    pub(super) watches: Vec<Vec<Watch>>,
    learnt: usize,
    bump: u64,
}

/// Activities are scaled down beyond this.
const ACTIVITY_MAX: u64 = 1 << 60;

impl Clauses {
    pub(super) fn add_side_pair(&mut self) {
        self.watches.extend([Vec::new(), Vec::new()]);
    }

    pub(super) fn lits(&self, clause: u32) -> &[Lit] {
        let head = &self.heads[clause as usize];
        &self.lits[head.from as usize..(head.from + head.length) as usize]
    }

    pub(super) fn lits_mut(&mut self, clause: u32) -> &mut [Lit] {
        let head = &self.heads[clause as usize];
        &mut self.lits[head.from as usize..(head.from + head.length) as usize]
    }

    pub(super) fn learnt_count(&self) -> usize {
        self.learnt
    }

    /// Stores a clause of at least two statements; a spread of zero marks a given one.
    pub(super) fn add(&mut self, lits: &[Lit], spread: u32) -> u32 {
        let position = |number: usize| u32::try_from(number).expect("statements are fewer than 2^32");
        let clause = position(self.heads.len());
        self.heads.push(Head {
            from: position(self.lits.len()),
            length: position(lits.len()),
            spread,
            activity: self.bump,
        });
        self.lits.extend_from_slice(lits);
        self.learnt += usize::from(spread > 0);
        self.watch(lits[0], clause, lits[1]);
        self.watch(lits[1], clause, lits[0]);
        clause
    }

    pub(super) fn watch(&mut self, watched: Lit, clause: u32, other: Lit) {
        let enemy = watched.negated();
        self.watches[enemy.side.index()].push(Watch {
            clause,
            value: enemy.value,
            other,
        });
    }

    /// Notes that a clause took part in a conflict.
    pub(super) fn bump(&mut self, clause: u32) {
        let head = &mut self.heads[clause as usize];
        head.activity = head.activity.saturating_add(self.bump);
    }

    /// Makes later bumps weigh more, by a thousandth.
    pub(super) fn age(&mut self) {
        self.bump += self.bump / 1024 + 1024;
        if self.bump > ACTIVITY_MAX / 1024 {
            self.bump >>= 30;
            self.heads.iter_mut().for_each(|head| head.activity >>= 30);
        }
    }

    /// Forgets the less active half of the learnt clauses that spread over more than two levels, and every
    /// clause that `is_done`. Only before any decision, when no clause is the reason of anything explained.
    pub(super) fn reduce(&mut self, is_done: impl Fn(&[Lit]) -> bool) {
        let mut weak: Vec<u32> = (0..).take(self.heads.len()).collect();
        weak.retain(|clause| {
            let head = &self.heads[*clause as usize];
            head.spread > 2 && head.length > 2
        });
        weak.sort_unstable_by_key(|clause| (self.heads[*clause as usize].activity, *clause));
        weak.truncate(weak.len() / 2);
        let mut dropped = vec![false; self.heads.len()];
        weak.iter().for_each(|clause| dropped[*clause as usize] = true);
        let (heads, lits) = (std::mem::take(&mut self.heads), std::mem::take(&mut self.lits));
        self.watches.iter_mut().for_each(Vec::clear);
        self.learnt = 0;
        for (head, dropped) in heads.iter().zip(dropped) {
            let own = &lits[head.from as usize..(head.from + head.length) as usize];
            if !dropped && !is_done(own) {
                let clause = self.add(own, head.spread);
                self.heads[clause as usize].activity = head.activity;
            }
        }
    }
}
