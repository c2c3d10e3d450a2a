//! A wide layer by finite volumes, for air that changes with time or differs above and below: counter, then fridge;
//! a pan in ice water under cool air.
//!
//! Cells of equal thickness, the trapezoid rule in time after four half steps of backward Euler that calm the jump
//! at each change (Rannacher). Second order in both; the cost is cells times steps. Edges are left out, so that
//! a box comes out slower than it is. No evaporation, no movement inside.

#![expect(clippy::float_arithmetic, reason = "physics; whole numbers in and out")]

use larderwright_quantity::{Length, Seconds, Temperature};

use super::composition::Material;
use super::units::{celsius, coefficient, metres, seconds, seconds_up, warmer};

const CELLS: usize = 32;
/// Steps to a decay of the slowest kind of layer.
const STEP: f64 = 60.0;
/// Nothing is followed longer than ten days.
const LONGEST: f64 = 864_000.0;

/// A surface: its coefficient and what is behind it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Face {
    /// Surface coefficient, tenths of a W/(m² K).
    pub deci_w: i64,
    /// The temperature beyond it.
    pub around: Temperature,
}

/// A time during which nothing changes around the layer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Phase {
    /// Above.
    pub above: Face,
    /// Below.
    pub below: Face,
    /// How long; `None` for the last one, which lasts.
    pub lasting: Option<Seconds>,
}

/// A wide layer that starts at one temperature.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Layer {
    /// What it is made of.
    pub material: Material,
    /// How deep it lies.
    pub depth: Length,
    /// Its temperature at the start.
    pub start: Temperature,
}

impl Layer {
    /// How long until its hottest place has come down to a temperature, rounded up; `None` when it does not.
    #[must_use]
    pub fn time_to(&self, phases: &[Phase], target: Temperature) -> Option<Seconds> {
        let target = celsius(target);
        let mut grid = Grid::new(self);
        if grid.hottest() <= target {
            return Some(Seconds::ZERO);
        }
        let mut clock = 0.0;
        for phase in phases {
            let end = phase.lasting.map_or(LONGEST, |lasting| clock + seconds(lasting));
            grid.enter(phase);
            while clock < end {
                let before = grid.hottest();
                let step = grid.step(end - clock);
                let now = grid.hottest();
                if now <= target {
                    let share = (before - target) / (before - now);
                    return seconds_up(clock + step * share);
                }
                clock += step;
                if phase.lasting.is_none() && grid.rests(target) {
                    return None;
                }
            }
        }
        None
    }

    /// The hottest place at the end of each of `count` equal times, rounded to the warmer tenth.
    #[must_use]
    pub fn curve(&self, phases: &[Phase], every: Seconds, count: usize) -> Vec<Temperature> {
        let mut grid = Grid::new(self);
        let mut curve = Vec::with_capacity(count);
        let (mut clock, mut due) = (0.0, seconds(every));
        for phase in phases {
            let end = phase
                .lasting
                .map_or(f64::INFINITY, |lasting| clock + seconds(lasting));
            grid.enter(phase);
            while curve.len() < count && clock < end - 1e-9 {
                clock += grid.step((end - clock).min(due - clock));
                if clock >= due - 1e-9 {
                    curve.push(warmer(grid.hottest()));
                    due += seconds(every);
                }
            }
        }
        curve
    }
}

struct Grid {
    cells: [f64; CELLS],
    /// Conductance from cell to cell over the heat of a cell, per second.
    inner: f64,
    /// The same through each face, with the air behind it.
    faces: [(f64, f64); 2],
    half: f64,
    heat: f64,
    conductivity: f64,
    calm: usize,
}

impl Grid {
    fn new(layer: &Layer) -> Self {
        let width = metres(layer.depth).max(1e-4) / CELLS as f64;
        let conductivity = layer.material.conductivity();
        let heat = layer.material.heat() * width;
        Self {
            cells: [celsius(layer.start); CELLS],
            inner: conductivity / width / heat,
            faces: [(0.0, 0.0); 2],
            half: width / 2.0,
            heat,
            conductivity,
            calm: 0,
        }
    }

    fn enter(&mut self, phase: &Phase) {
        let through = |face: Face| {
            let h = coefficient(face.deci_w);
            // From the middle of the outer cell through half of it and through the surface.
            let conductance = if h > 0.0 {
                1.0 / (self.half / self.conductivity + 1.0 / h)
            } else {
                0.0
            };
            (conductance / self.heat, celsius(face.around))
        };
        self.faces = [through(phase.above), through(phase.below)];
        self.calm = 4;
    }

    fn hottest(&self) -> f64 {
        self.cells
            .iter()
            .fold(f64::NEG_INFINITY, |most, cell| most.max(*cell))
    }

    /// Whether nothing will change any more above the target: every air is at or above it, or the layer has come
    /// to rest.
    fn rests(&self, target: f64) -> bool {
        let open = self.faces.iter().filter(|(conductance, _)| *conductance > 0.0);
        let coldest = open.fold(f64::INFINITY, |least, (_, air)| least.min(*air));
        coldest >= target
    }

    /// One step of at most `most` seconds; returns its length.
    fn step(&mut self, most: f64) -> f64 {
        if self.calm > 0 {
            self.calm -= 1;
            let step = most.min(STEP / 4.0);
            self.advance(step, 1.0);
            step
        } else {
            let step = most.min(STEP);
            self.advance(step, 0.5);
            step
        }
    }

    /// Solves the tridiagonal system of one step; `implicit` is the share of the new temperatures in the flow.
    fn advance(&mut self, step: f64, implicit: f64) {
        let (new, old) = (step * implicit, step * (1.0 - implicit));
        let mut right = [0.0; CELLS];
        let mut ratio = [0.0; CELLS];
        for n in 0..CELLS {
            let (flow, diagonal) = self.flow(n);
            let mut rhs = self.cells[n] + old * flow;
            let mut diagonal = 1.0 + new * diagonal;
            for (side, at) in [(0, 0), (1, CELLS - 1)] {
                if n == at {
                    rhs += new * self.faces[side].0 * self.faces[side].1;
                }
            }
            let couple = new * self.inner;
            if n > 0 {
                diagonal -= couple * ratio[n - 1];
                rhs += couple * right[n - 1];
            }
            ratio[n] = couple / diagonal;
            right[n] = rhs / diagonal;
        }
        for n in (0..CELLS).rev() {
            let after = if n + 1 < CELLS {
                ratio[n] * self.cells[n + 1]
            } else {
                0.0
            };
            self.cells[n] = right[n] + after;
        }
    }

    /// Heat that flows into a cell now, and how strongly it is tied to its surroundings.
    fn flow(&self, n: usize) -> (f64, f64) {
        let here = self.cells[n];
        let mut flow = 0.0;
        let mut tied = 0.0;
        if n > 0 {
            flow += self.inner * (self.cells[n - 1] - here);
            tied += self.inner;
        } else {
            flow += self.faces[0].0 * (self.faces[0].1 - here);
            tied += self.faces[0].0;
        }
        if n + 1 < CELLS {
            flow += self.inner * (self.cells[n + 1] - here);
            tied += self.inner;
        } else {
            flow += self.faces[1].0 * (self.faces[1].1 - here);
            tied += self.faces[1].0;
        }
        (flow, tied)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cooling::block::Block;

    fn layer(mm: i64) -> Layer {
        Layer {
            material: Material {
                conductivity_uw: 530_000,
                heat_j: 3_740_000,
            },
            depth: Length::from_mm(mm),
            start: Temperature::from_f(135),
        }
    }

    fn phase(deci_w: [i64; 2], c: i64, lasting: Option<Seconds>) -> Phase {
        let face = |deci_w| Face {
            deci_w,
            around: Temperature::from_c(c),
        };
        Phase {
            above: face(deci_w[0]),
            below: face(deci_w[1]),
            lasting,
        }
    }

    #[test]
    fn volumes_and_series_agree_where_both_hold() {
        for (mm, deci_w) in [
            (25, [100, 50]),
            (51, [200, 150]),
            (76, [3000, 3000]),
            (30, [50, 0]),
        ] {
            let block = Block {
                material: layer(mm).material,
                depth: Length::from_mm(mm),
                sides: None,
                surfaces_deci_w: [deci_w[0], deci_w[1], 0],
                start: layer(mm).start,
                around: Temperature::from_c(3),
            };
            for target in [Temperature::from_f(70), Temperature::from_f(41)] {
                let exact = block.time_to(target).expect("it gets there").secs();
                let found = layer(mm)
                    .time_to(&[phase(deci_w, 3, None)], target)
                    .expect("it gets there")
                    .secs();
                assert!(
                    (found - exact).abs() * 200 <= exact,
                    "{mm} {deci_w:?}: {found} {exact}"
                );
            }
        }
    }

    #[test]
    fn a_split_phase_is_the_same_phase() {
        let target = Temperature::from_c(10);
        let whole = layer(40).time_to(&[phase([100, 50], 3, None)], target);
        let split = [
            phase([100, 50], 3, Some(Seconds::from_mins(47))),
            phase([100, 50], 3, None),
        ];
        let split = layer(40).time_to(&split, target);
        let (whole, split) = (whole.expect("cold air"), split.expect("cold air"));
        assert!((whole.secs() - split.secs()).abs() <= 10, "{whole:?} {split:?}");
    }

    #[test]
    fn air_at_the_target_never_brings_it_there() {
        assert_eq!(
            layer(40).time_to(&[phase([100, 50], 5, None)], Temperature::from_c(5)),
            None
        );
    }

    #[test]
    fn a_curve_falls_and_has_the_length_asked_for() {
        let phases = [
            phase([100, 50], 22, Some(Seconds::from_mins(25))),
            phase([100, 50], 3, None),
        ];
        let curve = layer(40).curve(&phases, Seconds::from_mins(10), 30);
        assert_eq!(curve.len(), 30);
        assert!(curve.is_sorted_by(|a, b| a >= b));
    }
}
