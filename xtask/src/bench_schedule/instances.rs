//! The instances of a set, with what is known of them.

use std::fs;
use std::path::{Path, PathBuf};

use super::community;
use crate::machine::setting;

/// A family of instances.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Set {
    J30,
    J60,
    J120,
    Kitchen,
    Modes,
    Community,
}

impl Set {
    pub(super) fn named(name: &str) -> Option<Self> {
        match name {
            "j30" => Some(Self::J30),
            "j60" => Some(Self::J60),
            "j120" => Some(Self::J120),
            "kitchen" => Some(Self::Kitchen),
            "mm" => Some(Self::Modes),
            "community" => Some(Self::Community),
            _ => None,
        }
    }
}

/// One project and what is known of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Instance {
    pub(super) name: String,
    pub(super) file: PathBuf,
    /// The best makespan known, if any is.
    pub(super) best: Option<i64>,
}

/// Every so many of a set's instances; none where the data is not at hand.
pub(super) fn all(set: Set, every: usize, folder: &Path) -> Result<Option<Vec<Instance>>, String> {
    if set == Set::Community {
        return made(folder).map(Some);
    }
    let Some(data) = setting("LARDERWRIGHT_DATA").map(PathBuf::from) else {
        return Ok(None);
    };
    let (table, place, ending, column) = match set {
        Set::J30 => ("psplib/bounds.csv", "psplib/j30", "sm", 2),
        Set::J60 => ("psplib/bounds.csv", "psplib/j60", "sm", 2),
        Set::J120 => ("psplib/bounds.csv", "psplib/j120", "sm", 2),
        Set::Kitchen => ("kitchen-projects/bounds.csv", "kitchen-projects", "json", 2),
        Set::Modes | Set::Community => ("psplib/mm_bounds.csv", "psplib/mm", "mm", usize::MAX),
    };
    if !data.join(table).is_file() {
        return Ok(None);
    }
    let text = fs::read_to_string(data.join(table)).map_err(|fault| format!("{table}: {fault}"))?;
    let mut lines = text.lines();
    let heads: Vec<&str> = lines.next().unwrap_or_default().split(',').collect();
    let named = ["best_known", "optimum", "makespan", "upper_bound"];
    let column = heads
        .iter()
        .position(|head| named.contains(head))
        .unwrap_or(column);
    let mut instances: Vec<Instance> = Vec::new();
    for line in lines {
        let cells: Vec<&str> = line.split(',').collect();
        let name = cells[0].trim_end_matches(".mm").to_owned();
        let file = data.join(place).join(format!("{name}.{ending}"));
        if file.is_file() {
            let best = cells.get(column).and_then(|cell| cell.parse().ok());
            instances.push(Instance { name, file, best });
        }
    }
    instances.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(Some(instances.into_iter().step_by(every).collect()))
}

fn made(folder: &Path) -> Result<Vec<Instance>, String> {
    let mut instances = Vec::new();
    for seed in community::SEEDS {
        let name = format!("community-{seed}");
        let file = folder.join(format!("{name}.json"));
        fs::write(&file, community::project(seed)).map_err(|fault| format!("{}: {fault}", file.display()))?;
        instances.push(Instance {
            name,
            file,
            best: None,
        });
    }
    Ok(instances)
}
