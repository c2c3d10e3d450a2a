//! The heuristic search for a project: the fast one where the project is plain, else the general one.

use super::breed::Breeder;
use super::net::Net;
use super::schedule::{Objective, Placement};
use super::search::{Field, Worker};
use super::types::Project;

/// A seeded search that improves one schedule.
#[derive(Debug)]
pub(super) struct Seeker<'a> {
    field: &'a Field<'a>,
    kind: Kind<'a>,
}

#[derive(Debug)]
enum Kind<'a> {
    Plain(Box<Breeder>),
    General(Box<Worker<'a>>),
}

impl<'a> Seeker<'a> {
    pub(super) fn new(field: &'a Field<'a>, seed: u64) -> Self {
        let plain = Breeder::new(field.project, field.ahead, (field.target.1, seed));
        let kind = plain.map_or_else(
            || Kind::General(Box::new(Worker::new(field, seed))),
            |breeder| Kind::Plain(Box::new(breeder)),
        );
        Self { field, kind }
    }

    pub(super) fn project(&self) -> &'a Project {
        self.field.project
    }

    pub(super) fn net(&self) -> &'a Net {
        self.field.ahead
    }

    pub(super) fn least_hold(&self) -> Option<i64> {
        self.field.target.2
    }

    /// Placements tried, or what takes as long.
    pub(super) fn tries(&self) -> u64 {
        match &self.kind {
            Kind::Plain(breeder) => breeder.tries(),
            Kind::General(worker) => worker.tries(),
        }
    }

    /// Searches until so many placements were tried in all, or nothing better can exist.
    pub(super) fn advance(&mut self, limit: u64) {
        match &mut self.kind {
            Kind::Plain(breeder) => breeder.advance(limit),
            Kind::General(worker) => worker.advance(limit),
        }
    }

    pub(super) fn best(&self) -> Option<(Objective, &[Placement])> {
        let placements = match &self.kind {
            Kind::Plain(breeder) => &breeder.best.as_ref()?.1,
            Kind::General(worker) => &worker.best()?.placements,
        };
        Some((Objective::measure(self.field.project, placements), placements))
    }

    /// The best schedule, with holds shortened.
    pub(super) fn polished(&self) -> Option<(Objective, Vec<Placement>)> {
        match &self.kind {
            Kind::Plain(_) => self
                .best()
                .map(|(objective, placements)| (objective, placements.to_vec())),
            Kind::General(worker) => worker
                .polished()
                .map(|member| (member.objective, member.placements)),
        }
    }

    /// Takes up a schedule found elsewhere if it is better than all found here.
    pub(super) fn take_up(&mut self, placements: &[Placement]) {
        match &mut self.kind {
            Kind::Plain(breeder) => breeder.take_up(placements),
            Kind::General(worker) => worker.take_up(placements),
        }
    }
}
