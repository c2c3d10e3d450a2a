//! Sums over records: the database notices a page that is out of order, not a letter that is another one.

use larderwright_store::{Doing, StoreError};
use sqlx::Row;
use sqlx::sqlite::SqliteRow;

use crate::fault::{broken, fault};

/// The sum of a text's bytes: FNV-1a of 64 bits (Fowler, Noll and Vo; the constants from memory). It finds what a disk
/// does to a text, not what a person does to it.
pub(crate) fn sum(text: &str) -> i64 {
    let start = 0xcbf2_9ce4_8422_2325_u64;
    let mixed = text.bytes().fold(start, |sum, byte| {
        (sum ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    });
    mixed.cast_signed()
}

/// The record of a row, if it still is what was written.
pub(crate) fn record(row: &SqliteRow, doing: Doing) -> Result<&str, StoreError> {
    let record: &str = row.try_get("record").map_err(fault(doing))?;
    let written: i64 = row.try_get("sum").map_err(fault(doing))?;
    if written == sum(record) {
        Ok(record)
    } else {
        Err(broken(doing, "a record is not as it was written"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn any_other_letter_gives_another_sum() {
        let text = r#"{"mg":250000}"#;
        for at in 0..text.len() {
            let mut bytes = text.as_bytes().to_vec();
            bytes[at] ^= 1;
            let changed = String::from_utf8(bytes).expect("it is still plain text");
            assert_ne!(sum(&changed), sum(text), "{changed}");
        }
        assert_ne!(sum(""), sum("\0"));
    }
}
