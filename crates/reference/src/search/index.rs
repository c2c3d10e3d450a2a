//! The index over all names: built once on first use, from the table alone, and never changed.

use std::sync::LazyLock;

use super::distance::{slips, slips_allowed};
use super::words::{LIKE, words};
use super::{Fit, Found};
use crate::food::{FoodRow, all};

/// One name of one food.
struct Name {
    food: usize,
    text: &'static str,
    /// Places in the list of words, in the order of the name.
    words: Vec<usize>,
}

/// A word that stands in some name.
struct Word {
    text: String,
    letters: Vec<char>,
    mask: u32,
    /// The names it stands in.
    names: Vec<usize>,
}

pub(super) struct Index {
    names: Vec<Name>,
    /// In alphabetical order.
    words: Vec<Word>,
    /// Sorted words of a name, and its food; in order.
    keys: Vec<(String, usize)>,
}

/// What a query finds in one name.
#[derive(Clone, Copy, Default)]
struct Tally {
    /// The latest word of the query that was found, counted from one.
    latest: u8,
    found: u8,
    prefixes: u8,
    slips: u8,
}

/// A word of the query with the words of the index it may mean, best first.
struct Meant {
    /// The place, whether only its beginning was typed, and the slips.
    words: Vec<(usize, bool, u8)>,
}

static INDEX: LazyLock<Index> = LazyLock::new(Index::build);

pub(super) fn index() -> &'static Index {
    &INDEX
}

impl Index {
    fn build() -> Self {
        let mut spelled: Vec<(usize, &'static str, Vec<String>)> = Vec::new();
        for (at, row) in all().iter().enumerate() {
            let texts = [row.name, row.name_us, row.id];
            for text in texts.into_iter().chain(row.synonyms.iter().copied()) {
                let words = words(text);
                let is_new = spelled
                    .iter()
                    .rev()
                    .take_while(|name| name.0 == at)
                    .all(|name| name.2 != words);
                if !words.is_empty() && is_new {
                    spelled.push((at, text, words));
                }
            }
        }
        let mut texts: Vec<String> = spelled.iter().flat_map(|name| name.2.iter().cloned()).collect();
        // The words that are spelled as another are kept to be found when they hold a slip or are begun.
        let others = LIKE.iter().flat_map(|(_, others)| others.iter());
        texts.extend(others.map(|other| (*other).to_owned()));
        texts.sort_unstable();
        texts.dedup();
        let mut index = Self {
            names: Vec::new(),
            words: texts.into_iter().map(Word::new).collect(),
            keys: spelled.iter().map(|name| (key(&name.2), name.0)).collect(),
        };
        index.keys.sort_unstable();
        index.keys.dedup();
        for (at, (food, text, words)) in spelled.into_iter().enumerate() {
            let places: Vec<usize> = words.iter().filter_map(|word| index.place(word)).collect();
            for &place in &places {
                index.words[place].names.push(at);
            }
            index.names.push(Name {
                food,
                text,
                words: places,
            });
        }
        for (first, others) in LIKE {
            let names = index.place(first).map(|place| index.words[place].names.clone());
            for other in *others {
                if let (Some(names), Some(place)) = (&names, index.place(other)) {
                    index.words[place].names.clone_from(names);
                }
            }
        }
        index
    }

    fn place(&self, word: &str) -> Option<usize> {
        self.words
            .binary_search_by(|known| known.text.as_str().cmp(word))
            .ok()
    }

    pub(super) fn named(&self, wanted: &[String]) -> Vec<&'static FoodRow> {
        let key = key(wanted);
        let from = self.keys.partition_point(|known| known.0 < key);
        let same = self.keys[from..].iter().take_while(|known| known.0 == key);
        same.map(|known| &all()[known.1]).collect()
    }

    pub(super) fn find(&self, query: &str, limit: usize) -> Vec<Found> {
        let mut wanted = words(query);
        // A word that is said twice asks for nothing more.
        let mut at = 0;
        while at < wanted.len() {
            if wanted[..at].contains(&wanted[at]) {
                wanted.remove(at);
            } else {
                at += 1;
            }
        }
        if wanted.is_empty() || limit == 0 {
            return Vec::new();
        }
        let mut found = self.find_words(&wanted);
        for other in self.written_apart_or_together(&wanted) {
            found.extend(self.find_words(&other));
        }
        found.sort_unstable_by_key(rank);
        let mut kept: Vec<Found> = Vec::with_capacity(limit.min(found.len()));
        for one in found {
            if kept.len() == limit {
                break;
            }
            if kept.iter().all(|other| other.food.id != one.food.id) {
                kept.push(one);
            }
        }
        kept
    }

    /// The same query with two words written as one or one as two, where the index knows those words.
    fn written_apart_or_together(&self, wanted: &[String]) -> Vec<Vec<String>> {
        let mut others = Vec::new();
        for at in 0..wanted.len() {
            if let Some(next) = wanted.get(at + 1) {
                let joined = words(&format!("{}{next}", wanted[at]));
                if joined.first().is_some_and(|word| self.place(word).is_some()) {
                    others.push([&wanted[..at], &joined[..], &wanted[at + 2..]].concat());
                }
            }
            if self.place(&wanted[at]).is_none() {
                let word = &wanted[at];
                let cuts = word
                    .char_indices()
                    .map(|(cut, _)| cut)
                    .filter(|&cut| cut >= 3 && cut + 3 <= word.len());
                let parts = cuts.map(|cut| words(&format!("{} {}", &word[..cut], &word[cut..])));
                let known = parts.filter(|parts| parts.iter().all(|part| self.place(part).is_some()));
                others.extend(known.map(|parts| [&wanted[..at], &parts[..], &wanted[at + 1..]].concat()));
            }
        }
        others
    }

    fn find_words(&self, wanted: &[String]) -> Vec<Found> {
        let mut tallies = vec![Tally::default(); self.names.len()];
        for (at, word) in (1_u8..).zip(wanted) {
            for (place, is_prefix, slips) in self.meant(word).words {
                for &name in &self.words[place].names {
                    let tally = &mut tallies[name];
                    if tally.latest != at {
                        tally.latest = at;
                        tally.found += 1;
                        tally.prefixes += u8::from(is_prefix);
                        tally.slips += slips;
                    }
                }
            }
        }
        let most = tallies.iter().map(|tally| usize::from(tally.found)).max();
        // All words, or else as many as any name has, but half of them at least.
        let least = most.unwrap_or(0).max(wanted.len().div_ceil(2));
        let places: Vec<Option<usize>> = wanted.iter().map(|word| self.place(word)).collect();
        let fitting = tallies
            .iter()
            .enumerate()
            .filter(|(_, tally)| usize::from(tally.found) >= least);
        fitting
            .map(|(at, tally)| self.judge(&self.names[at], *tally, &places))
            .collect()
    }

    fn judge(&self, name: &Name, tally: Tally, wanted: &[Option<usize>]) -> Found {
        let begins = name.words.len() >= wanted.len()
            && name
                .words
                .iter()
                .zip(wanted)
                .all(|(place, wanted)| Some(*place) == *wanted);
        let fit = if usize::from(tally.found) < wanted.len() {
            Fit::Part
        } else if tally.slips > 0 {
            Fit::Near
        } else if tally.prefixes > 0 {
            Fit::Prefix
        } else {
            match (begins, name.words.len() <= wanted.len()) {
                (true, true) => Fit::Exact,
                (false, true) => Fit::SameWords,
                (true, false) => Fit::Begins,
                (false, false) => Fit::Words,
            }
        };
        let extra = name.words.len().saturating_sub(wanted.len());
        Found {
            food: &all()[name.food],
            name: name.text,
            fit,
            slips: tally.slips.into(),
            extra_words: u16::try_from(extra).unwrap_or(u16::MAX),
        }
    }

    /// The words of the index that a typed word may mean. Slips are only looked for when nobody writes it so.
    fn meant(&self, word: &str) -> Meant {
        let from = self.words.partition_point(|known| known.text.as_str() < word);
        let beginning = self.words[from..]
            .iter()
            .take_while(|known| known.text.starts_with(word));
        let mut meant: Vec<(usize, bool, u8)> = beginning
            .enumerate()
            .map(|(at, known)| (from + at, known.text != word, 0))
            .collect();
        let is_known = meant.first().is_some_and(|first| !first.1);
        let wanted = Word::new(word.to_owned());
        if wanted.letters.len() < 2 {
            meant.retain(|one| !one.1);
        }
        let allowed = slips_allowed(wanted.letters.len());
        if !is_known && allowed > 0 {
            for most in 1..=allowed {
                let near = self
                    .words
                    .iter()
                    .enumerate()
                    .filter(|(_, known)| known.is_like(&wanted, most));
                let near =
                    near.filter(|(_, known)| slips(&wanted.letters, &known.letters, most) == Some(most));
                // `most` is one or two.
                meant.extend(near.map(|(at, _)| (at, false, u8::try_from(most).unwrap_or(u8::MAX))));
            }
        }
        Meant { words: meant }
    }
}

impl Word {
    fn new(text: String) -> Self {
        let letters: Vec<char> = text.chars().collect();
        let bit = |letter: &char| match letter {
            'a'..='z' => 1_u32 << (u32::from(*letter) - u32::from('a')),
            _ => 1 << 26,
        };
        Self {
            mask: letters.iter().map(bit).fold(0, |mask, bit| mask | bit),
            letters,
            text,
            names: Vec::new(),
        }
    }

    /// Cheaply rules out words that differ in more letters than so many slips can explain.
    fn is_like(&self, other: &Self, slips: usize) -> bool {
        self.letters.len().abs_diff(other.letters.len()) <= slips
            && (self.mask ^ other.mask).count_ones() as usize <= 2 * slips
    }
}

/// The words of a name in order, so that the order they were written in does not matter.
fn key(words: &[String]) -> String {
    let mut sorted: Vec<&str> = words.iter().map(String::as_str).collect();
    sorted.sort_unstable();
    sorted.join(" ")
}

/// Best first; a name before a synonym, a short one before a long one.
fn rank(found: &Found) -> (Fit, u16, u16, bool, usize, &'static str, &'static str) {
    let (id, name) = (found.food.id, found.name);
    let is_synonym = found.food.synonyms.contains(&name);
    (
        found.fit,
        found.slips,
        found.extra_words,
        is_synonym,
        name.len(),
        id,
        name,
    )
}
