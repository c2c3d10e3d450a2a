//! Made-up weeks.

use jiff::civil::{Weekday, time};
use larderwright_model::{
    Cook, DayRef, Eater, Occasion, Packed, SessionPattern, ShopPattern, SittingPattern, Where,
};

use crate::splitmix::SplitMix;

const WEEK: [Weekday; 7] = [
    Weekday::Monday,
    Weekday::Tuesday,
    Weekday::Wednesday,
    Weekday::Thursday,
    Weekday::Friday,
    Weekday::Saturday,
    Weekday::Sunday,
];

/// Three to seven dinners, now and then a lunch carried along.
pub(super) fn sittings(random: &mut SplitMix, eaters: &[Eater]) -> Vec<SittingPattern> {
    let dinners = usize::try_from(random.range(3, 7)).expect("a small count");
    let mut sittings = Vec::new();
    for day in WEEK.into_iter().take(dinners) {
        sittings.push(sitting(random, (day, Occasion::Dinner), eaters, Where::Home));
        if random.chance(25) {
            let place = Where::Packed(packed(random));
            sittings.push(sitting(random, (day, Occasion::Lunch), &eaters[..1], place));
        }
    }
    sittings
}

fn sitting(
    random: &mut SplitMix,
    (day, occasion): (Weekday, Occasion),
    eaters: &[Eater],
    place: Where,
) -> SittingPattern {
    let mut who: Vec<_> = eaters.iter().map(|eater| eater.id.clone()).collect();
    if who.len() > 1 && random.chance(20) {
        who.pop();
    }
    let guest = place == Where::Home && random.chance(10);
    SittingPattern {
        day: DayRef::In(day),
        occasion,
        at: if occasion == Occasion::Dinner {
            time(18, 30, 0, 0)
        } else {
            time(12, 30, 0, 0)
        },
        minutes: random.pick(&[20, 30, 45]),
        eaters: who,
        guests: u32::from(guest),
        place,
    }
}

fn packed(random: &mut SplitMix) -> Packed {
    Packed {
        hours: random.range(2, 6),
        ice_pack: random.chance(70),
        fridge: random.chance(40),
        microwave: random.chance(50),
    }
}

/// A long session before the week, now and then a short one in the middle.
pub(super) fn sessions(random: &mut SplitMix, cooks: &[Cook]) -> Vec<SessionPattern> {
    let ids = || cooks.iter().map(|cook| cook.id.clone()).collect();
    let hours = i8::try_from(random.range(3, 6)).expect("a few hours");
    let day = DayRef::Before(Weekday::Sunday);
    let mut sessions = vec![SessionPattern {
        day,
        from: time(12, 0, 0, 0),
        to: time(12 + hours, 0, 0, 0),
        cooks: ids(),
    }];
    if random.chance(60) {
        let day = DayRef::In(random.pick(&[Weekday::Wednesday, Weekday::Thursday]));
        sessions.push(SessionPattern {
            day,
            from: time(19, 0, 0, 0),
            to: time(21, 30, 0, 0),
            cooks: ids(),
        });
    }
    sessions
}

/// A trip before the first session, now and then one on the day of the second.
pub(super) fn shops(random: &mut SplitMix, sessions: &[SessionPattern]) -> Vec<ShopPattern> {
    let day = DayRef::Before(Weekday::Saturday);
    let mut shops = vec![ShopPattern {
        day,
        at: time(11, 0, 0, 0),
    }];
    if let Some(second) = sessions.get(1)
        && random.chance(70)
    {
        shops.push(ShopPattern {
            day: second.day,
            at: time(17, 0, 0, 0),
        });
    }
    shops
}
