//! Small events for tests.

use jiff::civil::date;
use larderwright_model::{
    Account, Clock, DeviceId, Event, EventId, Fact, FoodId, Goods, LotCard, LotId, Moment, Move,
};
use larderwright_quantity::Mass;

pub(crate) fn moment(hour: i8) -> Moment {
    Moment {
        at: date(2026, 12, 1).at(hour, 0, 0, 0),
        offset_s: 3600,
        zone: "Europe/Berlin".into(),
    }
}

pub(crate) fn event(id: &str, wall_ms: i64, corrects: Option<&str>) -> Event {
    Event {
        id: EventId::new(id),
        clock: Clock {
            wall_ms,
            count: 0,
            device: DeviceId::new("a"),
        },
        moment: moment(12),
        by: String::new(),
        plan: None,
        corrects: corrects.map(EventId::new),
        cards: Vec::new(),
        moves: Vec::new(),
        fact: Fact::Counted,
    }
}

pub(crate) fn card(lot: &str) -> LotCard {
    LotCard {
        lot: LotId::new(lot),
        goods: Goods::Food(FoodId::new("chickpea-dry")),
        made: moment(9).at,
        keep: None,
        printed: None,
        pack: "500 g".into(),
        boxes: Vec::new(),
    }
}

pub(crate) fn moved(lot: &str, from: Account, to: Account, grams: i64) -> Move {
    Move {
        lot: LotId::new(lot),
        from,
        to,
        mass: Mass::from_g(grams),
        worth: grams * 3,
    }
}
