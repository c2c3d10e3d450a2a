//! Checking the input: limits, indices, and windows that contradict each other.

use super::bound::longest_paths;
use super::net::Net;
use super::types::{
    Absence, Changeover, Due, Hold, Lag, Mode, ModeIx, Offset, Project, Resource, ResourceIx, Supply,
    SupplyIx, Task, TaskIx,
};

/// No time, duration or difference may exceed this, so that sums of them stay exact.
const TIME_MAX: i64 = 1 << 30;
/// No capacity or amount may exceed this.
const AMOUNT_MAX: i64 = 1 << 20;
/// No weight may exceed this.
const WEIGHT_MAX: i64 = 1 << 16;
/// Neither tasks nor holds may be more.
const COUNT_MAX: usize = 1 << 12;

/// Why an input was refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ProjectError {
    /// A time, duration, difference, amount or weight is negative where it may not be, or beyond its limit.
    OutOfRange(i64),
    /// More than 4096 tasks or holds.
    TooMany,
    /// The task has no mode.
    NoMode,
    /// No such task has been added.
    UnknownTask(TaskIx),
    /// The task has no such mode.
    UnknownMode(TaskIx, ModeIx),
    /// No such resource has been added.
    UnknownResource(ResourceIx),
    /// No such supply has been added.
    UnknownSupply(SupplyIx),
    /// A window that links a task with itself.
    SameTask(TaskIx),
    /// A window or an absence that ends before it begins.
    EmptyWindow,
    /// The windows between these tasks contradict each other whatever the modes.
    Contradiction(Vec<TaskIx>),
}

impl std::fmt::Display for ProjectError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::OutOfRange(value) => write!(f, "`{value}` is out of range"),
            Self::TooMany => write!(f, "more than {COUNT_MAX} tasks or holds"),
            Self::NoMode => write!(f, "a task has no mode"),
            Self::UnknownTask(task) => write!(f, "there is no task {}", task.0),
            Self::UnknownMode(task, mode) => write!(f, "task {} has no mode {mode}", task.0),
            Self::UnknownResource(resource) => write!(f, "there is no resource {}", resource.0),
            Self::UnknownSupply(supply) => write!(f, "there is no supply {}", supply.0),
            Self::SameTask(task) => write!(f, "task {} is linked with itself", task.0),
            Self::EmptyWindow => write!(f, "a window ends before it begins"),
            Self::Contradiction(tasks) => {
                write!(f, "windows contradict each other among the tasks")?;
                tasks.iter().try_for_each(|task| write!(f, " {}", task.0))
            }
        }
    }
}

impl std::error::Error for ProjectError {}

/// Collects a project piece by piece; each piece is checked as it comes.
#[derive(Clone, Debug)]
pub struct ProjectBuilder {
    project: Project,
}

fn within(value: i64, least: i64, most: i64) -> Result<(), ProjectError> {
    if (least..=most).contains(&value) {
        Ok(())
    } else {
        Err(ProjectError::OutOfRange(value))
    }
}

impl ProjectBuilder {
    /// Starts an empty project in which every task ends at the horizon at the latest.
    ///
    /// # Errors
    /// If the horizon is negative or above 2^30.
    pub fn new(horizon: i64) -> Result<Self, ProjectError> {
        within(horizon, 0, TIME_MAX)?;
        let project = Project {
            horizon,
            tasks: Vec::new(),
            resources: Vec::new(),
            supplies: Vec::new(),
            lags: Vec::new(),
            offsets: Vec::new(),
            changeovers: Vec::new(),
            holds: Vec::new(),
        };
        Ok(Self { project })
    }

    /// Adds a resource with its whole capacity (0 to 2^20).
    ///
    /// # Errors
    /// If the capacity is out of range.
    pub fn resource(&mut self, capacity: i64) -> Result<ResourceIx, ProjectError> {
        within(capacity, 0, AMOUNT_MAX)?;
        self.project.resources.push(Resource {
            capacity,
            absences: Vec::new(),
        });
        Ok(ResourceIx(self.project.resources.len() - 1))
    }

    /// Adds something that is used up, with what is there of it (0 to 2^20).
    ///
    /// # Errors
    /// If the amount is out of range.
    pub fn supply(&mut self, amount: i64) -> Result<SupplyIx, ProjectError> {
        within(amount, 0, AMOUNT_MAX)?;
        self.project.supplies.push(Supply { amount });
        Ok(SupplyIx(self.project.supplies.len() - 1))
    }

    /// Takes a part of a resource away for a while. More may be taken than is there.
    ///
    /// # Errors
    /// If the resource is unknown, the times are reversed, or a figure is out of range.
    pub fn absence(&mut self, resource: ResourceIx, absence: Absence) -> Result<(), ProjectError> {
        self.known_resource(resource)?;
        within(absence.from, -TIME_MAX, TIME_MAX)?;
        within(absence.to, -TIME_MAX, TIME_MAX)?;
        within(absence.amount, 0, AMOUNT_MAX)?;
        if absence.to < absence.from {
            return Err(ProjectError::EmptyWindow);
        }
        self.project.resources[resource.0].absences.push(absence);
        Ok(())
    }

    /// Adds a task with its modes, the preferred one first. Modes that exceed a capacity are accepted and
    /// never chosen.
    ///
    /// # Errors
    /// If there is no mode, a resource or supply is unknown, a figure is out of range, or there are too many tasks.
    pub fn task(&mut self, modes: Vec<Mode>) -> Result<TaskIx, ProjectError> {
        if modes.is_empty() {
            return Err(ProjectError::NoMode);
        }
        if self.project.tasks.len() == COUNT_MAX {
            return Err(ProjectError::TooMany);
        }
        for mode in &modes {
            within(mode.duration, 0, TIME_MAX)?;
            within(mode.earliest, -TIME_MAX, TIME_MAX)?;
            for (resource, amount) in &mode.uses {
                self.known_resource(*resource)?;
                within(*amount, 0, AMOUNT_MAX)?;
            }
            for (supply, amount) in &mode.spends {
                self.known_supply(*supply)?;
                within(*amount, 0, AMOUNT_MAX)?;
            }
            if let Some(latest) = mode.latest {
                within(latest, -TIME_MAX, TIME_MAX)?;
            }
        }
        self.project.tasks.push(Task {
            modes,
            due: None,
            late: false,
        });
        Ok(TaskIx(self.project.tasks.len() - 1))
    }

    /// Says when a task should have ended. A second call replaces the first.
    ///
    /// # Errors
    /// If the task is unknown, the time exceeds 2^30 either way, or the weight is not in 0 to 2^16.
    pub fn due(&mut self, task: TaskIx, due: Due) -> Result<(), ProjectError> {
        self.known_task(task)?;
        within(due.time, -TIME_MAX, TIME_MAX)?;
        within(due.weight, 0, WEIGHT_MAX)?;
        self.project.tasks[task.0].due = Some(due);
        Ok(())
    }

    /// Asks that a task start as late as nothing else suffers from.
    ///
    /// # Errors
    /// If the task is unknown.
    pub fn late(&mut self, task: TaskIx) -> Result<(), ProjectError> {
        self.known_task(task)?;
        self.project.tasks[task.0].late = true;
        Ok(())
    }

    /// Adds a window between the end of one task and the start of another.
    ///
    /// # Errors
    /// If a task is unknown, both are the same, the window is empty, or a figure is out of range.
    pub fn lag(&mut self, lag: Lag) -> Result<(), ProjectError> {
        self.known_pair(lag.from, lag.to)?;
        within(lag.min, -TIME_MAX, TIME_MAX)?;
        if let Some(max) = lag.max {
            within(max, -TIME_MAX, TIME_MAX)?;
            if max < lag.min {
                return Err(ProjectError::EmptyWindow);
            }
        }
        self.project.lags.push(lag);
        Ok(())
    }

    /// Adds a window between two starts.
    ///
    /// # Errors
    /// If a task is unknown, both are the same, the window is empty, or a figure is out of range.
    pub fn offset(&mut self, offset: Offset) -> Result<(), ProjectError> {
        self.known_pair(offset.task, offset.of)?;
        within(offset.min, -TIME_MAX, TIME_MAX)?;
        within(offset.max, -TIME_MAX, TIME_MAX)?;
        if offset.max < offset.min {
            return Err(ProjectError::EmptyWindow);
        }
        self.project.offsets.push(offset);
        Ok(())
    }

    /// Adds a pair that excludes each other.
    ///
    /// # Errors
    /// If a task or mode is unknown, both tasks are the same, or a set-up time is negative or too long.
    pub fn changeover(&mut self, change: Changeover) -> Result<(), ProjectError> {
        self.known_pair(change.a, change.b)?;
        for (task, mode) in [(change.a, change.a_mode), (change.b, change.b_mode)] {
            if mode >= self.project.tasks[task.0].modes.len() {
                return Err(ProjectError::UnknownMode(task, mode));
            }
        }
        within(change.a_to_b, 0, TIME_MAX)?;
        within(change.b_to_a, 0, TIME_MAX)?;
        self.project.changeovers.push(change);
        Ok(())
    }

    /// Adds a gap that costs.
    ///
    /// # Errors
    /// If a task is unknown, both are the same, the weight is not in 0 to 2^16, or there are too many.
    pub fn hold(&mut self, hold: Hold) -> Result<(), ProjectError> {
        self.known_pair(hold.from, hold.to)?;
        within(hold.weight, 0, WEIGHT_MAX)?;
        if self.project.holds.len() == COUNT_MAX {
            return Err(ProjectError::TooMany);
        }
        self.project.holds.push(hold);
        Ok(())
    }

    /// Hands over the project after looking for contradictions among all windows.
    ///
    /// # Errors
    /// [`ProjectError::Contradiction`] if the windows cannot all hold, whatever the modes.
    pub fn build(self) -> Result<Project, ProjectError> {
        let net = Net::forwards(&self.project);
        let seeds = vec![0; net.len()];
        match longest_paths(&net, &seeds) {
            Ok(_) => Ok(self.project),
            Err(tasks) => Err(ProjectError::Contradiction(tasks)),
        }
    }

    fn known_task(&self, task: TaskIx) -> Result<(), ProjectError> {
        if task.0 < self.project.tasks.len() {
            Ok(())
        } else {
            Err(ProjectError::UnknownTask(task))
        }
    }

    fn known_pair(&self, one: TaskIx, other: TaskIx) -> Result<(), ProjectError> {
        self.known_task(one)?;
        self.known_task(other)?;
        if one == other {
            Err(ProjectError::SameTask(one))
        } else {
            Ok(())
        }
    }

    fn known_supply(&self, supply: SupplyIx) -> Result<(), ProjectError> {
        if supply.0 < self.project.supplies.len() {
            Ok(())
        } else {
            Err(ProjectError::UnknownSupply(supply))
        }
    }

    fn known_resource(&self, resource: ResourceIx) -> Result<(), ProjectError> {
        if resource.0 < self.project.resources.len() {
            Ok(())
        } else {
            Err(ProjectError::UnknownResource(resource))
        }
    }
}
