//! Every rule of the judge is shown to speak: a good plan is broken in one place, and exactly that rule answers.

mod carried;
mod complete;
mod cooling;
mod eaters;
mod good;
mod keeping;
mod mass;
mod order;
mod run;
mod service;
mod storage;
mod week;

use std::collections::BTreeSet;

use larderwright_audit::{Rule, judge, rules};
use larderwright_model::{Severity, Snapshot, WeekPlan};

/// Declares tests that break one thing each, and lists the rules they show.
macro_rules! breaks {
    ($($name:ident: $rule:ident, |$snapshot:ident, $plan:ident| $body:block)*) => {
        $(
            #[test]
            fn $name() {
                crate::expect(&larderwright_audit::rules::$rule, |$snapshot, $plan| $body);
            }
        )*

        /// The rules shown here.
        pub(crate) fn shown() -> Vec<&'static str> {
            vec![$(larderwright_audit::rules::$rule.id),*]
        }
    };
}
pub(crate) use breaks;

/// Breaks the good plan and expects findings of this rule and no other.
fn expect(rule: &Rule, mend: impl FnOnce(&mut Snapshot, &mut WeekPlan)) {
    let mut snapshot = good::snapshot();
    let mut plan = week::plan();
    mend(&mut snapshot, &mut plan);
    let findings = judge(&snapshot, &plan);
    let spoken: BTreeSet<&str> = findings.iter().map(|finding| finding.rule.as_str()).collect();
    assert_eq!(spoken, BTreeSet::from([rule.id]), "{findings:#?}");
    assert!(findings.iter().all(|finding| finding.severity == rule.severity));
    assert!(
        findings
            .iter()
            .all(|finding| !finding.source.is_empty() && !finding.subject.is_empty())
    );
}

/// Changes the good plan in a way that is still good.
fn expect_silence(change: impl FnOnce(&mut Snapshot, &mut WeekPlan)) {
    let mut snapshot = good::snapshot();
    let mut plan = week::plan();
    change(&mut snapshot, &mut plan);
    assert_eq!(judge(&snapshot, &plan), []);
}

#[test]
fn the_judge_is_silent_about_a_good_plan() {
    expect_silence(|_, _| {});
}

/// The week's balance follows from finer rules and is shown beside its code.
#[test]
fn every_rule_of_the_table_is_shown_to_speak() {
    let shown: BTreeSet<&str> = [
        carried::shown(),
        complete::shown(),
        cooling::shown(),
        eaters::shown(),
        keeping::shown(),
        mass::shown(),
        order::shown(),
        run::shown(),
        service::shown(),
        storage::shown(),
        vec![rules::MASS_WEEK.id],
    ]
    .concat()
    .into_iter()
    .collect();
    let table: BTreeSet<&str> = rules::ALL.iter().map(|rule| rule.id).collect();
    assert_eq!(shown, table);
}

#[test]
fn findings_come_gravest_first_and_twice_the_same() {
    let snapshot = {
        let mut snapshot = good::snapshot();
        snapshot.household.eaters[0].dislikes.insert("parsley".to_owned());
        snapshot.household.wishes.budget = Some(larderwright_quantity::Money::from_minor(100));
        snapshot.household.profile = larderwright_model::Profile::Uk;
        snapshot
    };
    let findings = judge(&snapshot, &week::plan());
    let grave: Vec<Severity> = findings.iter().map(|finding| finding.severity).collect();
    assert!(grave.is_sorted_by(|a, b| a >= b), "{grave:?}");
    assert_eq!(grave.iter().collect::<BTreeSet<_>>().len(), 3);
    assert_eq!(findings, judge(&snapshot, &week::plan()));
}
