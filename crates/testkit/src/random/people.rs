//! Made-up eaters and cooks.

use std::collections::{BTreeMap, BTreeSet};

use larderwright_model::{
    Allergen, Appetite, Avoid, Caution, Contact, Cook, CookId, Diet, Eater, EaterId, Physique, Sex, Skill,
};

use crate::splitmix::SplitMix;

const NAMES: [&str; 6] = ["Ada", "Bo", "Cem", "Dee", "Eli", "Fay"];

pub(super) fn eaters(random: &mut SplitMix) -> Vec<Eater> {
    let count = usize::try_from(random.range(1, 6)).expect("a small count");
    NAMES[..count].iter().map(|name| eater(random, name)).collect()
}

fn eater(random: &mut SplitMix, name: &str) -> Eater {
    let usual = [
        Diet::Everything,
        Diet::Everything,
        Diet::Pescatarian,
        Diet::Vegetarian,
        Diet::Vegan,
    ];
    Eater {
        id: EaterId::new(&name.to_lowercase()),
        name: name.into(),
        appetite: appetite(random),
        diet: random.pick(&usual),
        avoid: some(
            random,
            10,
            &[Avoid::Dairy, Avoid::Gluten, Avoid::Pork, Avoid::Alcohol],
        ),
        allergies: allergies(random),
        dislikes: if random.chance(20) {
            BTreeSet::from(["olive-black".to_owned()])
        } else {
            BTreeSet::new()
        },
        cautions: some(
            random,
            5,
            &[
                Caution::Pregnant,
                Caution::OlderThan65,
                Caution::ImmuneCompromised,
            ],
        ),
    }
}

/// Each of them so many times in a hundred.
fn some<T: Copy + Ord>(random: &mut SplitMix, percent: i64, of: &[T]) -> BTreeSet<T> {
    of.iter().copied().filter(|_| random.chance(percent)).collect()
}

fn appetite(random: &mut SplitMix) -> Appetite {
    match random.range(1, 5) {
        1 => Appetite::Small,
        2 => Appetite::Big,
        3 => Appetite::Computed(Physique {
            age: random.range(19, 70),
            sex: random.pick(&[Sex::Female, Sex::Male]),
            height_cm: random.range(150, 195),
            weight_hg: random.range(500, 1000),
            activity: random.pick(&[0, 1, 2, 3]),
        }),
        _ => Appetite::Usual,
    }
}

fn allergies(random: &mut SplitMix) -> BTreeMap<Allergen, Contact> {
    let mut allergies = BTreeMap::new();
    if random.chance(25) {
        let contact = random.pick(&[Contact::Plate, Contact::Traces, Contact::Severe]);
        allergies.insert(random.pick(&Allergen::ALL), contact);
    }
    allergies
}

/// The first can do everything; a second may only cut.
pub(super) fn cooks(random: &mut SplitMix) -> Vec<Cook> {
    let all = BTreeSet::from([Skill::Any, Skill::Knife, Skill::Stove]);
    let cook = |id: &str, may| Cook {
        id: CookId::new(id),
        name: id.to_uppercase(),
        may,
    };
    let mut cooks = vec![cook("first", all.clone())];
    if random.chance(50) {
        let may = if random.chance(50) {
            all
        } else {
            BTreeSet::from([Skill::Any, Skill::Knife])
        };
        cooks.push(cook("second", may));
    }
    cooks
}
