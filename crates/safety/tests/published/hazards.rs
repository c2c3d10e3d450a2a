//! Beans, thawing and marinades by the texts of the authorities.

use larderwright_model::{FoodId, Profile};
use larderwright_quantity::Seconds;
use larderwright_safety::advice::{Topic, about, figure};
use larderwright_safety::{KeepClass, bean_boil, rule};

/// foodsafety.asn.au, slow cookers, and the FDA Bad Bug Book (read at mscnews.net): dry kidney beans are boiled 10 min
/// at the least, 30 advised, before a slow cooker; canned are cooked already.
#[test]
fn dry_kidney_beans_boil_ten_minutes_and_thirty_are_advised() {
    let row = bean_boil(&FoodId::new("kidney-bean-dry")).expect("kidney beans need it");
    assert_eq!(row.at(0), Seconds::from_mins(10));
    assert_eq!(figure("beans/boil-advised"), 30);
    assert!(bean_boil(&FoodId::new("kidney-bean-canned")).is_none());
    let cooker = about(Profile::UsHome, Topic::SlowCooker);
    assert!(cooker.iter().any(|row| row.text.contains("boiled first")));
}

/// MSU Extension E3259: at least 24 h in the fridge for each 5 lb.
#[test]
fn five_pounds_thaw_a_day_in_the_fridge() {
    let minutes = figure("thaw/fridge") * 2268 / 1000;
    assert!((24 * 60..=24 * 60 + 10).contains(&minutes), "{minutes}");
}

/// MSU Extension E3259: 3-4 lb take 2-3 h in cold water; about 30 min a pound.
#[test]
fn four_pounds_thaw_two_hours_in_cold_water() {
    let minutes = figure("thaw/water") * 4;
    assert!((120..=180).contains(&minutes), "{minutes}");
}

/// Texas A&M: poultry 2 days in a marinade, Iowa State 24 h; the shorter is taken under every profile.
#[test]
fn marinades_end_after_a_day() {
    for profile in Profile::ALL {
        for class in [KeepClass::PoultryMarinating, KeepClass::MeatMarinating] {
            assert_eq!(
                rule(profile, class).fridge_hours.map(|hours| hours <= 24),
                Some(true)
            );
        }
    }
}

/// Federal chart, foodsafety.gov: ground meat and poultry 1-2 days, cuts 3-5, sausage 1-2, bacon a week, raw eggs 3-5
/// weeks, frozen 3-4, 9-12, 4-12, 1-2 and 1 months.
#[test]
fn raw_rows_of_the_federal_chart() {
    let rows = [
        (KeepClass::GroundMeatRaw, (1, 2), Some((3, 4))),
        (KeepClass::PoultryRaw, (1, 2), Some((9, 12))),
        (KeepClass::MeatRaw, (3, 5), Some((4, 12))),
        (KeepClass::SausageRaw, (1, 2), Some((1, 2))),
        (KeepClass::Bacon, (7, 7), Some((1, 1))),
        (KeepClass::EggInShell, (21, 35), None),
        (KeepClass::MixedSalad, (3, 4), None),
        (KeepClass::Pizza, (3, 4), Some((1, 2))),
    ];
    for (class, days, months) in rows {
        let row = rule(Profile::UsHome, class);
        assert_eq!(
            (row.fridge_days, row.freezer_months),
            (Some(days), months),
            "{}",
            row.id
        );
    }
}
