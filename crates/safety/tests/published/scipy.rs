//! Fifty random bodies solved independently with scipy: `tests/scipy/solve.py` wrote the table beside it and says how
//! to write it again.

use larderwright_quantity::{Length, Seconds};
use larderwright_safety::cooling::{Block, Body, Face, Layer, Material, Phase, Shape, Spot};

use crate::{about, c};

const CASES: &str = include_str!("../scipy/cases.tsv");

fn time(kind: &str, n: &[i64]) -> Option<Seconds> {
    let material = Material {
        conductivity_uw: n[3],
        heat_j: n[4],
    };
    let size = Length::from_um(n[0]);
    let (start, target) = (c(n[15]), c(n[16]));
    let face = |deci_w: usize, around: usize| Face {
        deci_w: n[deci_w],
        around: c(n[around]),
    };
    let layer = Layer {
        material,
        depth: size,
        start,
    };
    match kind {
        "layer" => {
            let phase = Phase {
                above: face(5, 8),
                below: face(6, 9),
                lasting: None,
            };
            layer.time_to(&[phase], target)
        }
        "two-phase" => {
            let phases = [
                Phase {
                    above: face(5, 8),
                    below: face(6, 9),
                    lasting: Some(Seconds::from_secs(n[14])),
                },
                Phase {
                    above: face(10, 12),
                    below: face(11, 13),
                    lasting: None,
                },
            ];
            layer.time_to(&phases, target)
        }
        "box" => Block {
            material,
            depth: size,
            sides: Some((Length::from_um(n[1]), Length::from_um(n[2]))),
            surfaces_deci_w: [n[5], n[6], n[7]],
            start,
            around: c(n[8]),
        }
        .time_to(target),
        _ => Body {
            shape: if kind == "ball" {
                Shape::Sphere
            } else {
                Shape::Cylinder
            },
            measure: size,
            material,
            surface_deci_w: n[5],
            start,
            around: c(n[8]),
        }
        .time_to(Spot::Centre, target),
    }
}

#[test]
fn fifty_random_bodies_agree_within_two_percent() {
    let rows: Vec<&str> = CASES.lines().skip(2).collect();
    assert_eq!(rows.len(), 50);
    for row in rows {
        let mut words = row.split('\t');
        let kind = words.next().expect("a kind");
        let figures: Vec<i64> = words.map(|word| word.parse().expect("a whole number")).collect();
        let published = figures[17];
        let found = time(kind, &figures);
        assert!(found.is_some(), "{row}");
        about(found, Seconds::from_secs(published), 20);
    }
}
