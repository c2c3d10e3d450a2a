//! Reading a TOML file by hand, so that every mistake in it is collected with its line. A reader answers with a
//! value even after it has noted a problem; the value is thrown away with the rest, because a file with a problem
//! is refused as a whole. It knows nothing of kitchens.

mod fields;
mod guess;
mod log;
mod value;

use toml::de::DeTable;

pub(crate) use fields::Fields;
pub(crate) use guess::{list_of, nearest};
pub(crate) use value::{Value, shortened};

use crate::problem::Problem;
use log::Log;

/// Reads a file: `read` takes the root table and answers with the value.
///
/// # Errors
/// All problems, by line. After a mistake of syntax, missing fields are not complained about: they may be there.
pub(crate) fn read_file<T>(text: &str, read: impl FnOnce(&Fields<'_>) -> T) -> Result<T, Vec<Problem>> {
    let (root, errors) = DeTable::parse_recoverable(text);
    let mut log = Log::new(text);
    for error in &errors {
        log.add_broken(
            error.span().map_or(text.len(), |span| span.start),
            error.message(),
        );
    }
    let value = read(&Fields::root(&log, root.get_ref()));
    let problems = log.into_problems();
    if problems.is_empty() {
        Ok(value)
    } else {
        Err(problems)
    }
}
