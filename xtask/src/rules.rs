//! Writes the table of rules by profile into docs/food-safety.md, as a test of the safety crate makes it from the
//! rows. That the document is current is checked by a test beside it.

use std::fs;

use crate::machine::{cargo, output, root};

const BEGIN: &str = "<!-- rules by profile: ";
const END: &str = "<!-- end of rules by profile -->\n";

/// Writes the table anew.
///
/// # Errors
/// A sentence naming the step that failed, or the mark that the document lacks.
pub fn run_all() -> Result<(), String> {
    let mut command = cargo(&[
        "test",
        "--quiet",
        "--locked",
        "--package",
        "larderwright-safety",
        "--test",
        "rules_table",
        "--",
        "--ignored",
        "--nocapture",
    ]);
    let printed =
        output(&mut command).ok_or("the table could not be made: build the safety crate's tests")?;
    let table = between(&printed).ok_or("the test that makes the table did not print it")?;
    let path = root().join("docs/food-safety.md");
    let document = fs::read_to_string(&path).map_err(|fault| format!("{}: {fault}", path.display()))?;
    let there =
        between(&document).ok_or_else(|| format!("{} lacks the marks of the table", path.display()))?;
    if there == table {
        println!("the table is current");
        return Ok(());
    }
    fs::write(&path, document.replacen(there, table, 1))
        .map_err(|fault| format!("{}: {fault}", path.display()))?;
    println!("wrote {}", path.display());
    Ok(())
}

/// What stands between the marks, the marks included.
fn between(text: &str) -> Option<&str> {
    let from = text.find(BEGIN)?;
    let to = text[from..].find(END)? + END.len();
    Some(&text[from..from + to])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_found_between_its_marks() {
        let text = format!("a\n{BEGIN}x -->\n| b |\n{END}c\n");
        assert_eq!(
            between(&text),
            Some(format!("{BEGIN}x -->\n| b |\n{END}").as_str())
        );
        assert_eq!(between("nothing"), None);
    }
}
