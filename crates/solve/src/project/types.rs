//! The nouns of a project. Values are made through [`ProjectBuilder`](super::ProjectBuilder) only, so a
//! [`Project`] always satisfies the limits and the index checks listed there.

/// The place of a task in its project.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct TaskIx(pub(crate) usize);

impl TaskIx {
    /// The position in the order in which tasks were added, from zero.
    #[must_use]
    pub fn position(self) -> usize {
        self.0
    }
}

/// The place of a resource in its project.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct ResourceIx(pub(crate) usize);

impl ResourceIx {
    /// The position in the order in which resources were added, from zero.
    #[must_use]
    pub fn position(self) -> usize {
        self.0
    }
}

/// The place of a supply in its project.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct SupplyIx(pub(crate) usize);

impl SupplyIx {
    /// The position in the order in which supplies were added, from zero.
    #[must_use]
    pub fn position(self) -> usize {
        self.0
    }
}

/// The place of a mode in its task, from zero. Earlier modes are preferred when nothing else decides.
pub type ModeIx = usize;

/// One way to do a task.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Mode {
    /// Length in time units; zero is allowed and then uses no capacity.
    pub duration: i64,
    /// Amount of each resource held from start to end. A resource named twice counts with the sum.
    pub uses: Vec<(ResourceIx, i64)>,
    /// Amount of each supply used up. A supply named twice counts with the sum.
    pub spends: Vec<(SupplyIx, i64)>,
    /// In this mode the task may not start sooner.
    pub earliest: i64,
    /// In this mode the task may not start later, if there is such a time.
    pub latest: Option<i64>,
}

impl Mode {
    /// A mode that holds nothing and may start at once.
    #[must_use]
    pub fn lasting(duration: i64) -> Self {
        Self {
            duration,
            uses: Vec::new(),
            spends: Vec::new(),
            earliest: 0,
            latest: None,
        }
    }

    /// The same mode, also holding an amount of a resource.
    #[must_use]
    pub fn using(mut self, resource: ResourceIx, amount: i64) -> Self {
        self.uses.push((resource, amount));
        self
    }

    /// The same mode, also using up an amount of a supply.
    #[must_use]
    pub fn spending(mut self, supply: SupplyIx, amount: i64) -> Self {
        self.spends.push((supply, amount));
        self
    }

    /// The same mode, not starting before a time.
    #[must_use]
    pub fn not_before(mut self, earliest: i64) -> Self {
        self.earliest = earliest;
        self
    }

    /// The same mode, not starting after a time.
    #[must_use]
    pub fn not_after(mut self, latest: i64) -> Self {
        self.latest = Some(latest);
        self
    }
}

/// When a task should have ended, and what each unit of lateness weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Due {
    /// The task is late by what its end exceeds this.
    pub time: i64,
    /// Weight of one unit of lateness.
    pub weight: i64,
}

/// A piece of work: exactly one of its modes is carried out, without interruption.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Task {
    /// At least one, the preferred one first.
    pub modes: Vec<Mode>,
    /// Lateness to avoid, if any.
    pub due: Option<Due>,
    /// Start this task as late as nothing else suffers from.
    pub late: bool,
}

/// A part of a resource is away.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Absence {
    /// First time unit of the absence.
    pub from: i64,
    /// First time unit after it.
    pub to: i64,
    /// How much of the capacity is missing; overlapping absences add up.
    pub amount: i64,
}

/// Something tasks hold while they run and give back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Resource {
    /// The amount present when nothing is away.
    pub capacity: i64,
    /// When less is there.
    pub absences: Vec<Absence>,
}

/// Something that modes use up: the chosen modes together may spend no more than this amount.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Supply {
    /// What is there for the whole project.
    pub amount: i64,
}

/// `start(to) - end(from)` is at least `min`, and at most `max` where given.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Lag {
    /// The task that ends.
    pub from: TaskIx,
    /// The task that starts.
    pub to: TaskIx,
    /// Least difference; negative allows an overlap.
    pub min: i64,
    /// Greatest difference.
    pub max: Option<i64>,
}

/// `start(task) - start(of)` lies in `min..=max`: a short visit nested in a long task.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Offset {
    /// The visit.
    pub task: TaskIx,
    /// The long task.
    pub of: TaskIx,
    /// Least difference of the starts.
    pub min: i64,
    /// Greatest difference of the starts.
    pub max: i64,
}

/// If `a` runs in `a_mode` and `b` in `b_mode`, they exclude each other, with a set-up time by direction.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Changeover {
    /// One task.
    pub a: TaskIx,
    /// The mode of `a` that is concerned.
    pub a_mode: ModeIx,
    /// The other task.
    pub b: TaskIx,
    /// The mode of `b` that is concerned.
    pub b_mode: ModeIx,
    /// Least time from the end of `a` to the start of `b` when `a` goes first.
    pub a_to_b: i64,
    /// Least time from the end of `b` to the start of `a` when `b` goes first.
    pub b_to_a: i64,
}

/// Each time unit between the end of `from` and the start of `to` costs `weight`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hold {
    /// The task that ends.
    pub from: TaskIx,
    /// The task that starts.
    pub to: TaskIx,
    /// Cost of one time unit between them.
    pub weight: i64,
}

/// A checked project.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Project {
    pub(super) horizon: i64,
    pub(super) tasks: Vec<Task>,
    pub(super) resources: Vec<Resource>,
    pub(super) supplies: Vec<Supply>,
    pub(super) lags: Vec<Lag>,
    pub(super) offsets: Vec<Offset>,
    pub(super) changeovers: Vec<Changeover>,
    pub(super) holds: Vec<Hold>,
}

impl Project {
    /// Every task ends at this time at the latest.
    #[must_use]
    pub fn horizon(&self) -> i64 {
        self.horizon
    }

    /// The tasks, by [`TaskIx::position`].
    #[must_use]
    pub fn tasks(&self) -> &[Task] {
        &self.tasks
    }

    /// The resources, by [`ResourceIx::position`].
    #[must_use]
    pub fn resources(&self) -> &[Resource] {
        &self.resources
    }

    /// The supplies, by [`SupplyIx::position`].
    #[must_use]
    pub fn supplies(&self) -> &[Supply] {
        &self.supplies
    }

    /// Windows between an end and a start.
    #[must_use]
    pub fn lags(&self) -> &[Lag] {
        &self.lags
    }

    /// Windows between two starts.
    #[must_use]
    pub fn offsets(&self) -> &[Offset] {
        &self.offsets
    }

    /// Pairs that exclude each other.
    #[must_use]
    pub fn changeovers(&self) -> &[Changeover] {
        &self.changeovers
    }

    /// Gaps that cost.
    #[must_use]
    pub fn holds(&self) -> &[Hold] {
        &self.holds
    }
}
