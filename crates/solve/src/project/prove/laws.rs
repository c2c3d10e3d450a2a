//! The kernel on thousands of tiny random projects, compared with brute force.

use proptest::prelude::*;

use super::super::answer::{Bound, BoundReason, Threads};
use super::super::check::check_schedule;
use super::super::exact::optimum;
use super::super::laws::{config, project};
use super::super::net::Net;
use super::super::schedule::{Objective, Schedule};
use super::super::seek::Seeker;
use super::super::solve::field;
use super::super::types::Project;
use super::encode::{Model, Rules};
use super::{Effort, Shares, Standing, improve};
use crate::learn::{Taste, Verdict};

/// Without a schedule or a bound to start with, and without heuristic search.
fn from_nothing(project: &Project, threads: Threads) -> Standing {
    let bound = Bound {
        makespan: 0,
        lateness: 0,
        reason: BoundReason::Chain(Vec::new()),
    };
    let (ahead, back) = (Net::forwards(project), Net::backwards(project));
    let tails = vec![0; ahead.len()];
    let field = field(project, (&ahead, &back), (&bound, &tails));
    let mut standing = Standing {
        best: None,
        bound,
        infeasible: false,
    };
    let effort = Effort {
        work: 10_000_000,
        seed: 1,
        shares: Shares { seek: 0, window: 0 },
        threads,
        stop: &|| false,
    };
    improve(&mut Seeker::new(&field, 1), &mut standing, effort);
    standing
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn the_kernel_alone_agrees_with_brute_force(project in project()) {
        let standing = from_nothing(&project, Threads::One);
        match optimum(&project) {
            None => prop_assert!(standing.infeasible && standing.best.is_none()),
            Some((best, _)) => {
                prop_assert!(!standing.infeasible);
                let placements = standing.best.expect("the work suffices for a tiny project");
                let found = Objective::measure(&project, &placements);
                prop_assert_eq!(check_schedule(&project, &Schedule { placements }), vec![]);
                prop_assert_eq!(found, best);
                let bound = (standing.bound.lateness, standing.bound.makespan);
                prop_assert_eq!(bound, (best.lateness, best.makespan));
            }
        }
    }

    #[test]
    fn nothing_learnt_excludes_a_best_schedule(project in project()) {
        let Some((best, schedule)) = optimum(&project) else { return Ok(()) };
        let net = Net::forwards(&project);
        // Forgetting and restarting come early, so that they are met.
        let taste = || Taste { restart: 5, clauses_max: 10 };
        let mut first = Model::new(&project, &net, (taste(), Rules::All)).expect("figures are small");
        let last = i32::try_from(best.makespan).expect("small");
        first.solver.set_wishes(first.values(&schedule.placements));
        first.solver.require(first.makespan.at_most(last));
        prop_assert_eq!(first.solver.search(&[], u64::MAX), Verdict::Found);
        let witness = first.solver.values();
        let mut second = Model::new(&project, &net, (taste(), Rules::All)).expect("figures are small");
        second.solver.set_witness(witness);
        let mut target = 0;
        while second.solver.search(&[second.makespan.at_most(target)], u64::MAX) == Verdict::Untenable {
            target += 1;
        }
        prop_assert!(i64::from(target) <= best.makespan);
    }
}
