//! A block of food in a box: depth with a coefficient of its own above and below, sides alike, air that stays as it
//! is. The hottest place is the product of the hottest places of three slabs.
//!
//! Exact for a block that starts at one temperature (product solution). Without sides it is a wide layer. Where the
//! air changes or differs above and below, `volumes` is used instead.

#![expect(clippy::float_arithmetic, reason = "physics; whole numbers in and out")]

use larderwright_quantity::{Length, Seconds, Temperature};

use super::composition::Material;
use super::roots::two_faced;
use super::series::falls_to;
use super::units::{celsius, coefficient, metres, seconds, seconds_up, warmer};

/// Terms of the series along each edge; before the first few minutes are over the rest has died away.
const TERMS: usize = 12;
/// Places along the depth at which the hottest is looked for.
const PLACES: usize = 17;

/// A block in air.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Block {
    /// What it is made of.
    pub material: Material,
    /// How deep it lies.
    pub depth: Length,
    /// Length and width; `None` for a layer so wide that its edges do not matter.
    pub sides: Option<(Length, Length)>,
    /// Surface coefficients above, below and at the sides, tenths of a W/(m² K).
    pub surfaces_deci_w: [i64; 3],
    /// Its temperature at the start.
    pub start: Temperature,
    /// The temperature around it.
    pub around: Temperature,
}

impl Block {
    /// How long until its hottest place has come down to a temperature, rounded up; `None` when it never does.
    #[must_use]
    pub fn time_to(&self, target: Temperature) -> Option<Seconds> {
        let (start, around) = (celsius(self.start), celsius(self.around));
        let wanted = (celsius(target) - around) / (start - around);
        if wanted.is_nan() || wanted <= 0.0 {
            return None;
        }
        if wanted >= 1.0 {
            return Some(Seconds::ZERO);
        }
        let edges = self.edges();
        seconds_up(falls_to(|time| hottest(&edges, time), wanted))
    }

    /// The temperature of its hottest place after a time, rounded to the warmer tenth.
    #[must_use]
    pub fn hottest(&self, after: Seconds) -> Temperature {
        let (start, around) = (celsius(self.start), celsius(self.around));
        warmer(around + hottest(&self.edges(), seconds(after)) * (start - around))
    }

    fn edges(&self) -> Vec<Edge> {
        let [above, below, side] = self.surfaces_deci_w.map(coefficient);
        let mut edges = vec![Edge::new(self.material, metres(self.depth), (above, below))];
        if let Some((length, width)) = self.sides {
            for edge in [length, width] {
                edges.push(Edge::new(self.material, metres(edge), (side, side)));
            }
        }
        edges
    }
}

fn hottest(edges: &[Edge], time: f64) -> f64 {
    edges.iter().map(|edge| edge.hottest(time)).product()
}

/// The series along one edge: decay constants, and each term at each place.
struct Edge {
    decays: Vec<f64>,
    places: Vec<[f64; TERMS]>,
}

impl Edge {
    fn new(material: Material, thickness: f64, (above, below): (f64, f64)) -> Self {
        let scale = thickness / material.conductivity();
        let biot = (above * scale, below * scale);
        let alike = above == below;
        let roots: Vec<f64> = (1..=TERMS).map(|n| two_faced(biot, n)).collect();
        let pace = material.diffusivity() / (thickness * thickness);
        let shape = |l: f64, x: f64| libm::cos(l * x) + biot.0 / l * libm::sin(l * x);
        let weights: Vec<f64> = roots.iter().map(|l| weight(*l, biot.0)).collect();
        let spots: Vec<f64> = if alike {
            vec![0.5]
        } else {
            (0..PLACES).map(|n| n as f64 / (PLACES - 1) as f64).collect()
        };
        let at_place = |x: &f64| {
            let mut terms = [0.0; TERMS];
            for ((term, l), weight) in terms.iter_mut().zip(&roots).zip(&weights) {
                *term = weight * shape(*l, *x);
            }
            terms
        };
        Self {
            decays: roots.iter().map(|l| l * l * pace).collect(),
            places: spots.iter().map(at_place).collect(),
        }
    }

    fn hottest(&self, time: f64) -> f64 {
        if time <= 0.0 {
            return 1.0;
        }
        let mut powers = [0.0; TERMS];
        for (power, decay) in powers.iter_mut().zip(&self.decays) {
            *power = libm::exp(-decay * time);
            if *power < 1e-12 {
                *power = 0.0;
                break;
            }
        }
        let at_place = |terms: &[f64; TERMS]| -> f64 {
            terms.iter().zip(&powers).map(|(term, power)| term * power).sum()
        };
        let most = self.places.iter().map(at_place).fold(0.0, f64::max);
        most.clamp(0.0, 1.0)
    }
}

/// How much of an even start an eigenfunction `cos l x + (B/l) sin l x` takes up.
fn weight(l: f64, b: f64) -> f64 {
    let (sin, cos) = (libm::sin(l), libm::cos(l));
    let ratio = b / l;
    let area = sin / l + ratio * (1.0 - cos) / l;
    let square =
        0.5 * (1.0 + sin * cos / l) + ratio * ratio * 0.5 * (1.0 - sin * cos / l) + ratio * sin * sin / l;
    area / square
}

#[cfg(test)]
mod tests {
    use super::*;

    fn block() -> Block {
        Block {
            material: Material {
                conductivity_uw: 530_000,
                heat_j: 3_740_000,
            },
            depth: Length::from_mm(51),
            sides: None,
            surfaces_deci_w: [100, 50, 50],
            start: Temperature::from_f(135),
            around: Temperature::from_c(3),
        }
    }

    fn time(block: Block) -> i64 {
        block
            .time_to(Temperature::from_f(70))
            .expect("it gets there")
            .secs()
    }

    #[test]
    fn turning_a_block_over_changes_nothing() {
        let over = Block {
            surfaces_deci_w: [50, 100, 50],
            ..block()
        };
        assert!((time(block()) - time(over)).abs() <= 2);
    }

    #[test]
    fn edges_help_and_depth_harms() {
        let edged = Block {
            sides: Some((Length::from_mm(160), Length::from_mm(110))),
            ..block()
        };
        let deeper = Block {
            depth: Length::from_mm(76),
            ..block()
        };
        assert!(time(edged) < time(block()));
        assert!(time(deeper) > time(block()));
    }

    #[test]
    fn a_block_is_never_colder_than_its_air() {
        for minutes in [1, 10, 100, 1000, 10_000] {
            let hottest = block().hottest(Seconds::from_mins(minutes));
            assert!(hottest >= Temperature::from_c(3) && hottest <= Temperature::from_f(135));
        }
        assert_eq!(block().time_to(Temperature::from_c(3)), None);
    }
}
