//! Stations: `<kind> <index>`, counted from one in kitchen order; pots and trays each counted singly, pots
//! smallest first.

use std::collections::BTreeMap;

use larderwright_model::{Act, ActKind, Equipment, Kitchen, Run, Tray};
use larderwright_quantity::Volume;

use crate::book::{Book, clock};
use crate::notes::Notes;
use crate::rules;

/// What a station is.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Burner,
    Rack,
    Tray,
    Board,
    Pot,
    Microwave,
    Blender,
    PressureCooker,
}

impl Kind {
    const ALL: [Self; 8] = [
        Self::Burner,
        Self::Rack,
        Self::Tray,
        Self::Board,
        Self::Pot,
        Self::Microwave,
        Self::Blender,
        Self::PressureCooker,
    ];

    /// The station a piece of equipment is; the oven itself is none, its racks are.
    pub(super) fn of(equipment: Equipment) -> Option<Self> {
        match equipment {
            Equipment::Burner => Some(Self::Burner),
            Equipment::Oven => None,
            Equipment::Rack => Some(Self::Rack),
            Equipment::Microwave => Some(Self::Microwave),
            Equipment::Pot => Some(Self::Pot),
            Equipment::Tray => Some(Self::Tray),
            Equipment::PressureCooker => Some(Self::PressureCooker),
            Equipment::Board => Some(Self::Board),
            Equipment::Blender => Some(Self::Blender),
        }
    }

    pub(super) fn word(self) -> &'static str {
        match self {
            Self::Burner => "burner",
            Self::Rack => "rack",
            Self::Tray => "tray",
            Self::Board => "board",
            Self::Pot => "pot",
            Self::Microwave => "microwave",
            Self::Blender => "blender",
            Self::PressureCooker => "pressure-cooker",
        }
    }

    fn count(self, kitchen: &Kitchen) -> usize {
        let count = match self {
            Self::Burner => kitchen.burners,
            Self::Rack => kitchen.oven.map_or(0, |oven| oven.racks),
            Self::Board => kitchen.boards,
            Self::Microwave => kitchen.microwaves,
            Self::Blender => u32::from(kitchen.blender),
            Self::PressureCooker => u32::from(kitchen.pressure_cooker.is_some()),
            Self::Tray => return trays(kitchen).len(),
            Self::Pot => return pots(kitchen).len(),
        };
        usize::try_from(count).expect("a kitchen has few stations")
    }
}

/// Every single pot, smallest first.
pub(super) fn pots(kitchen: &Kitchen) -> Vec<Volume> {
    let mut pots: Vec<Volume> = kitchen
        .pots
        .iter()
        .flat_map(|pot| (0..pot.count).map(|_| pot.volume))
        .collect();
    pots.sort_unstable();
    pots
}

/// Every single tray, in kitchen order.
pub(super) fn trays(kitchen: &Kitchen) -> Vec<Tray> {
    kitchen
        .trays
        .iter()
        .flat_map(|tray| (0..tray.count).map(|_| *tray))
        .collect()
}

/// Reads `pot 3`.
pub(super) fn parse(station: &str) -> Option<(Kind, usize)> {
    let (word, index) = station.rsplit_once(' ')?;
    let kind = Kind::ALL.into_iter().find(|kind| kind.word() == word)?;
    let index = index.parse().ok().filter(|index| *index > 0)?;
    Some((kind, index))
}

/// The indices of a kind that an act holds, counted from one.
pub(super) fn held(act: &Act, kind: Kind) -> impl Iterator<Item = usize> + use<'_> {
    act.stations
        .iter()
        .filter_map(|station| parse(station))
        .filter(move |(own, _)| *own == kind)
        .map(|(_, index)| index)
}

pub(super) fn check(book: &Book<'_>, run: &Run, notes: &mut Notes) {
    let kitchen = &book.snapshot.household.kitchen;
    let mut holders: BTreeMap<&str, Vec<&Act>> = BTreeMap::new();
    for act in &run.acts {
        for station in &act.stations {
            let exists = parse(station).is_some_and(|(kind, index)| index <= kind.count(kitchen));
            if !exists {
                notes.say(
                    &rules::RUN_STATION,
                    &act.id,
                    format!("the kitchen has no `{station}`"),
                );
            }
            // A visit stands at the station that the visited act holds.
            if !matches!(act.kind, ActKind::Visit { .. }) {
                holders.entry(station).or_default().push(act);
            }
        }
    }
    for (station, acts) in holders {
        clash(station, acts, notes);
    }
}

fn clash(station: &str, mut acts: Vec<&Act>, notes: &mut Notes) {
    acts.sort_by_key(|act| (act.start, act.end));
    let mut holds: Option<&Act> = None;
    for act in acts {
        if let Some(before) = holds.filter(|before| act.start < before.end) {
            notes
                .say(
                    &rules::RUN_STATION_CLASH,
                    &act.id,
                    format!("`{station}` is still held by `{}`", before.id),
                )
                .evidence = format!("starts {}, held until {}", clock(act.start), clock(before.end));
        }
        if holds.is_none_or(|before| act.end > before.end) {
            holds = Some(act);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_station_is_a_kind_and_an_index_from_one() {
        assert!(matches!(parse("pot 3"), Some((Kind::Pot, 3))));
        assert!(matches!(
            parse("pressure-cooker 1"),
            Some((Kind::PressureCooker, 1))
        ));
        for wrong in ["pot", "pot 0", "pot 5 l", "stove 1", "pot three"] {
            assert!(parse(wrong).is_none(), "{wrong}");
        }
    }
}
