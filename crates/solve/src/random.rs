//! A small deterministic generator of pseudo-random numbers.
//!
//! `splitmix64`, after Steele, Lea and Flood, "Fast splittable pseudorandom number generators" (2014). Good
//! enough to perturb a search; never for secrets.

/// A stream of pseudo-random numbers fixed by its seed.
#[derive(Clone, Debug)]
pub struct Random(u64);

impl Random {
    /// The stream of a seed.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The next 64 bits.
    pub fn next_u64(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number in `0..bound`; zero when the bound is zero. The bias of the reduction is below 2^-32.
    pub fn below(&mut self, bound: usize) -> usize {
        let wide = u128::from(self.next_u64()) * bound as u128;
        (wide >> 64) as usize
    }

    /// True about `percent` times in a hundred.
    pub fn chance(&mut self, percent: usize) -> bool {
        self.below(100) < percent
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_stream_from_seed_zero_starts_with_the_published_reference_value() {
        // First output of the reference implementation of splitmix64 for the state 0.
        assert_eq!(Random::new(0).next_u64(), 0xE220_A839_7B1D_CDAF);
    }

    #[test]
    fn every_value_below_a_bound_is_reached_and_none_above() {
        let mut random = Random::new(7);
        let mut seen = [0_u32; 6];
        for _ in 0..6000 {
            seen[random.below(6)] += 1;
        }
        assert!(seen.iter().all(|&count| (800..1200).contains(&count)), "{seen:?}");
        assert_eq!(random.below(0), 0);
    }
}
