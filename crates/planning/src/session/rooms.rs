//! Rooms: the kitchen's capacities as resources of a project, by name and number.

use larderwright_model::{Conflict, Cook, CookId, Kitchen, Session, Snapshot, Stage};
use larderwright_quantity::Volume;
use larderwright_solve::project::{ProjectBuilder, ProjectError, ResourceIx};

/// Things of one kind that are alike: burners, racks, pots of one size.
#[derive(Clone, Debug)]
pub(super) struct Room {
    pub resource: ResourceIx,
    /// `burner`, `pot`.
    pub word: &'static str,
    /// Number of the first, counted over the whole kitchen from one.
    pub first: u32,
    pub count: u32,
}

/// All capacities of a session.
#[derive(Clone)]
pub(super) struct Rooms {
    pub cooks: Vec<(Cook, ResourceIx)>,
    pub burners: Room,
    pub racks: Room,
    pub trays: Room,
    pub microwaves: Room,
    pub blender: Room,
    pub pressure_cooker: Room,
    /// By pot volume, smallest first.
    pub pots: Vec<(Volume, Room)>,
    /// Boards for everything else, and one kept for raw meat where there are two.
    pub boards: Room,
    pub raw_board: Option<Room>,
}

impl Rooms {
    pub(super) fn new(
        snapshot: &Snapshot,
        session: &Session,
        raw_meat: bool,
        builder: &mut ProjectBuilder,
    ) -> Result<Self, ProjectError> {
        let kitchen = &snapshot.household.kitchen;
        let racks = kitchen.oven.map_or(0, |oven| oven.racks);
        let apart = raw_meat && kitchen.boards >= 2;
        let shared = if apart { kitchen.boards - 1 } else { kitchen.boards };
        let mut cooks = Vec::new();
        for cook in snapshot
            .household
            .cooks
            .iter()
            .filter(|cook| session.cooks.contains(&cook.id))
        {
            cooks.push((cook.clone(), builder.resource(1)?));
        }
        Ok(Self {
            cooks,
            burners: room(builder, "burner", 1, kitchen.burners)?,
            racks: room(builder, "rack", 1, racks)?,
            trays: room(builder, "tray", 1, kitchen.tray_count())?,
            microwaves: room(builder, "microwave", 1, kitchen.microwaves)?,
            blender: room(builder, "blender", 1, u32::from(kitchen.blender))?,
            pressure_cooker: room(
                builder,
                "pressure-cooker",
                1,
                u32::from(kitchen.pressure_cooker.is_some()),
            )?,
            pots: pots(kitchen, builder)?,
            boards: room(builder, "board", 1, shared)?,
            raw_board: if apart {
                Some(room(builder, "board", kitchen.boards, 1)?)
            } else {
                None
            },
        })
    }

    /// Every room, for reading a resource back into words.
    pub(super) fn all(&self) -> impl Iterator<Item = &Room> {
        let single = [
            &self.burners,
            &self.racks,
            &self.trays,
            &self.microwaves,
            &self.blender,
            &self.pressure_cooker,
            &self.boards,
        ];
        single
            .into_iter()
            .chain(self.raw_board.as_ref())
            .chain(self.pots.iter().map(|(_, room)| room))
    }

    pub(super) fn cook_ids(&self) -> Vec<CookId> {
        self.cooks.iter().map(|(cook, _)| cook.id.clone()).collect()
    }
}

fn room(
    builder: &mut ProjectBuilder,
    word: &'static str,
    first: u32,
    count: u32,
) -> Result<Room, ProjectError> {
    Ok(Room {
        resource: builder.resource(i64::from(count))?,
        word,
        first,
        count,
    })
}

fn pots(kitchen: &Kitchen, builder: &mut ProjectBuilder) -> Result<Vec<(Volume, Room)>, ProjectError> {
    let mut sizes: Vec<(Volume, u32)> = kitchen.pots.iter().map(|pot| (pot.volume, pot.count)).collect();
    sizes.sort();
    let mut pots = Vec::new();
    let mut first = 1;
    for (volume, count) in sizes.into_iter().filter(|(_, count)| *count > 0) {
        pots.push((volume, room(builder, "pot", first, count)?));
        first += count;
    }
    Ok(pots)
}

/// A project that the solver's own checks refuse: told as a conflict, since it comes from the input.
pub(super) fn refused(session: &Session, error: &ProjectError) -> Conflict {
    Conflict {
        stage: Stage::Session,
        message: format!(
            "the steps of the session on {} contradict each other: {error:?}",
            session.id
        ),
        wishes: vec![format!("session {}", session.id)],
        mends: vec!["switch a component off that was added last".into()],
    }
}
