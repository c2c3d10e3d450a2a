//! A small generator of whole numbers for tests: the same seed gives the same numbers everywhere.
//!
//! SplitMix64: Steele, Lea and Flood, Fast splittable pseudorandom number generators, OOPSLA 2014.

/// A generator of numbers that look random.
#[derive(Clone, Debug)]
pub struct SplitMix(u64);

impl SplitMix {
    /// A generator for a seed.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The next number of 64 bits.
    pub fn next_u64(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// A whole number from `low` to `high`, both included.
    ///
    /// # Panics
    /// When `low` is above `high`.
    pub fn range(&mut self, low: i64, high: i64) -> i64 {
        assert!(low <= high, "a range has its low end first");
        let width = u64::try_from(high - low).expect("test ranges are narrow") + 1;
        low + i64::try_from(self.next_u64() % width).expect("a remainder is smaller than the width")
    }

    /// True so many times in a hundred.
    pub fn chance(&mut self, percent: i64) -> bool {
        self.range(1, 100) <= percent
    }

    /// One of several.
    ///
    /// # Panics
    /// When there is none.
    pub fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        let last = i64::try_from(of.len()).expect("test lists are short") - 1;
        of[usize::try_from(self.range(0, last)).expect("a place in a list is not negative")]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_numbers_are_the_published_ones() {
        let mut numbers = SplitMix::new(1_234_567);
        assert_eq!(numbers.next_u64(), 6_457_827_717_110_365_317);
        assert_eq!(numbers.next_u64(), 3_203_168_211_198_807_973);
    }

    #[test]
    fn a_range_reaches_both_ends_and_not_beyond() {
        let mut numbers = SplitMix::new(7);
        let drawn: Vec<i64> = (0..200).map(|_| numbers.range(-1, 2)).collect();
        assert_eq!((drawn.iter().min(), drawn.iter().max()), (Some(&-1), Some(&2)));
    }
}
