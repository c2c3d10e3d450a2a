//! Covering a need with whole packs at the least price.

use larderwright_model::Pack;
use larderwright_quantity::{Mass, Money};

/// A choice of packs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cover {
    /// How many of each pack, in the order given.
    pub counts: Vec<i64>,
    /// What they cost together.
    pub price: Money,
    /// What they hold together.
    pub mass: Mass,
}

/// The cheapest choice of packs that holds at least `need`; among equals the one with least left
/// over, then the fewest packs. `None` when there is no pack.
///
/// Exact: depth-first over pack sizes, largest first; the last size is the only one not branched on.
/// Cost is the product of the counts needed by all sizes but one; a food has at most a few sizes.
#[must_use]
pub fn cheapest_cover(need: Mass, packs: &[Pack]) -> Option<Cover> {
    if packs.is_empty() || packs.iter().any(|pack| !pack.size.mass.is_positive()) {
        return None;
    }
    let mut order: Vec<usize> = (0..packs.len()).collect();
    order.sort_by_key(|ix| std::cmp::Reverse(packs[*ix].size.mass));
    let mut search = Search {
        packs,
        order,
        counts: vec![0; packs.len()],
        best: None,
    };
    search.branch(0, need, Money::ZERO);
    search.best.map(|(price, _, _, counts)| {
        let mass = counts
            .iter()
            .zip(packs)
            .map(|(count, pack)| pack.size.mass.times(*count))
            .sum();
        Cover { counts, price, mass }
    })
}

/// A second size of pack has to spare this much of the price, in per cent, to be worth another line on the sheet.
const WORTH_A_LINE: i64 = 10;

/// The cheapest choice of packs, in one size where that costs little more: nobody likes to buy a bag of apples and six apples.
#[must_use]
pub fn handy_cover(need: Mass, packs: &[Pack]) -> Option<Cover> {
    let best = cheapest_cover(need, packs)?;
    let most = best.price.minor() * (100 + WORTH_A_LINE) / 100;
    let of_one_size = (0..packs.len()).filter_map(|ix| {
        let alone = cheapest_cover(need, &packs[ix..=ix])?;
        let mut counts = vec![0; packs.len()];
        counts[ix] = alone.counts[0];
        Some(Cover { counts, ..alone })
    });
    let handy = of_one_size.min_by_key(|cover| (cover.price, cover.mass, cover.counts.iter().sum::<i64>()));
    Some(handy.filter(|cover| cover.price.minor() <= most).unwrap_or(best))
}

struct Search<'a> {
    packs: &'a [Pack],
    order: Vec<usize>,
    counts: Vec<i64>,
    best: Option<(Money, Mass, i64, Vec<i64>)>,
}

impl Search<'_> {
    fn branch(&mut self, depth: usize, open: Mass, price: Money) {
        if self.best.as_ref().is_some_and(|(known, ..)| price > *known) {
            return;
        }
        if !open.is_positive() || depth == self.order.len() {
            if !open.is_positive() {
                self.keep(price, Mass::ZERO - open);
            }
            return;
        }
        let ix = self.order[depth];
        let pack = &self.packs[ix];
        let most = open.div_ceil_by(pack.size.mass);
        let least = if depth + 1 == self.order.len() { most } else { 0 };
        for count in (least..=most).rev() {
            self.counts[ix] = count;
            self.branch(
                depth + 1,
                open - pack.size.mass.times(count),
                price + pack.price.times(count),
            );
        }
        self.counts[ix] = 0;
    }

    fn keep(&mut self, price: Money, over: Mass) {
        let count = self.counts.iter().sum();
        let candidate = (price, over, count, self.counts.clone());
        if self.best.as_ref().is_none_or(|known| candidate < *known) {
            self.best = Some(candidate);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use larderwright_model::{PackSize, PriceBasis};

    fn pack(grams: i64, cents: i64) -> Pack {
        Pack {
            size: PackSize {
                label: format!("{grams} g"),
                mass: Mass::from_g(grams),
            },
            price: Money::from_minor(cents),
            basis: PriceBasis::Estimate,
        }
    }

    #[test]
    fn half_a_pack_is_bought_as_a_whole_one() {
        let cover = cheapest_cover(Mass::from_g(250), &[pack(500, 120)]).expect("there is a pack");
        assert_eq!((cover.counts, cover.price.minor()), (vec![1], 120));
    }

    #[test]
    fn two_small_packs_beat_a_dear_large_one() {
        let cover =
            cheapest_cover(Mass::from_g(900), &[pack(500, 120), pack(1000, 260)]).expect("there are packs");
        assert_eq!(cover.counts, vec![2, 0]);
    }

    #[test]
    fn at_equal_price_least_is_left_over() {
        let cover =
            cheapest_cover(Mass::from_g(400), &[pack(400, 200), pack(500, 200)]).expect("there are packs");
        assert_eq!(cover.counts, vec![1, 0]);
    }

    #[test]
    fn a_second_size_of_pack_has_to_be_worth_its_line() {
        let cover = |grams, packs: &[Pack]| {
            handy_cover(Mass::from_g(grams), packs)
                .expect("there are packs")
                .counts
        };
        let (bag, each, dear) = (pack(1000, 556), pack(150, 90), pack(150, 120));
        let apples = [bag.clone(), each];
        assert_eq!(
            cover(1900, &apples),
            [2, 0],
            "a bag and six are hardly cheaper than two bags"
        );
        assert_eq!(cover(140, &apples), [0, 1]);
        let milk = [pack(500, 100), pack(2000, 400)];
        assert_eq!(cover(2000, &milk), [0, 1], "at one price the fewest packs");
        assert_eq!(
            cover(1100, &[bag, dear]),
            [1, 1],
            "neither two bags nor eight dear ones"
        );
    }

    #[test]
    fn a_handy_cover_holds_what_is_needed_and_costs_little_more() {
        let packs = [pack(150, 90), pack(400, 210), pack(1000, 480)];
        for grams in (50..2600).step_by(50) {
            let need = Mass::from_g(grams);
            let (best, handy) = (cheapest_cover(need, &packs), handy_cover(need, &packs));
            let (best, handy) = (best.expect("there are packs"), handy.expect("there are packs"));
            assert!(handy.mass >= need, "{grams} g");
            let most = best.price.minor() * (100 + WORTH_A_LINE) / 100;
            assert!(
                (best.price.minor()..=most).contains(&handy.price.minor()),
                "{grams} g"
            );
            let sizes = |cover: &Cover| cover.counts.iter().filter(|count| **count > 0).count();
            assert!(sizes(&handy) <= sizes(&best), "{grams} g");
        }
    }

    #[test]
    fn no_pack_means_no_cover() {
        assert_eq!(cheapest_cover(Mass::from_g(1), &[]), None);
    }

    #[test]
    fn no_cheaper_cover_exists_among_all_small_counts() {
        let packs = [pack(150, 90), pack(400, 210), pack(1000, 480)];
        for grams in (50..2600).step_by(50) {
            let need = Mass::from_g(grams);
            let found = cheapest_cover(need, &packs).expect("there are packs");
            let every = (0..=18).flat_map(|a| (0..=7).flat_map(move |b| (0..=3).map(move |c| [a, b, c])));
            let best = every
                .filter(|counts| {
                    counts
                        .iter()
                        .zip(&packs)
                        .map(|(n, pack)| pack.size.mass.times(*n))
                        .sum::<Mass>()
                        >= need
                })
                .map(|counts| {
                    counts
                        .iter()
                        .zip(&packs)
                        .map(|(n, pack)| pack.price.times(*n))
                        .sum::<Money>()
                })
                .min();
            assert_eq!(Some(found.price), best, "{grams} g");
        }
    }
}
