//! Conversions against the household measures of USDA SR28. The answers were worked out from the release itself by
//! other means than the code under test; each row names the measure it rests on.

use std::collections::BTreeSet;

use larderwright_model::Region;
use larderwright_quantity::{Amount, System};
use larderwright_reference::convert::{Context, convert, read_target, request};

#[test]
fn two_hundred_conversions_agree_with_the_release() {
    let rows: Vec<Vec<&str>> = include_str!("published_usda_sr28/conversions.tsv")
        .lines()
        .filter(|line| !line.starts_with('#'))
        .skip(1)
        .map(|line| line.split('\t').collect())
        .collect();
    let mut wrong = Vec::new();
    let mut departments = BTreeSet::new();
    for cells in &rows {
        let [department, food, text, to, answer, ndb, measure] = cells[..] else {
            panic!("{cells:?}")
        };
        departments.insert(department);
        let expected: i64 = answer.parse().expect("answers are whole numbers");
        match answered(text, to, (food, ndb)) {
            // Spoons and cups are read to the microlitre, which is a part in fifty thousand of the smallest.
            Ok(got) if (got - expected).abs() <= expected / 50_000 + 2 => {}
            got => wrong.push(format!(
                "{text} to {to}: {got:?}, not {expected} ({ndb}, {measure})"
            )),
        }
    }
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
    assert!(rows.len() >= 200, "{} rows", rows.len());
    assert!(departments.len() >= 12, "{departments:?}");
}

/// The likely answer in its small unit.
fn answered(text: &str, to: &str, (id, ndb): (&str, &str)) -> Result<i64, String> {
    let request = request(text, System::UsCustomary).map_err(|error| format!("{error}; {}", error.help()))?;
    if request.food.id != id || !request.food.source.contains(ndb) {
        return Err(format!("is {}, {}", request.food.id, request.food.source));
    }
    let target = read_target(to, request.food, System::UsCustomary).map_err(|error| error.to_string())?;
    let context = Context {
        region: Region::Us,
        said: None,
    };
    let answer =
        convert(request.food, &request.given, &target, &context).map_err(|error| error.to_string())?;
    Ok(match answer.amount.likely {
        Amount::Mass(mass) => mass.mg(),
        Amount::Volume(volume) => volume.ul(),
        Amount::Count(count) => count,
    })
}
