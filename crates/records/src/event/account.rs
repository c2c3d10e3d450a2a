//! Accounts as they are written: one word, and for a pot the batch in it.

use std::borrow::Cow;

use larderwright_model::{Account, BatchId, Place};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::Error;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::wire::Wire;
use crate::words::Word;

const BATCH: &str = "batch:";

/// The accounts that are one word.
const WORDS: [(&str, Account); 7] = [
    ("shop", Account::Shop),
    ("eaten", Account::Eaten),
    ("bin", Account::Bin),
    ("trim", Account::Trim),
    ("given", Account::Given),
    ("cooking-change", Account::CookingChange),
    ("unaccounted", Account::Unaccounted),
];

/// An account, as written.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct AccountRecord(Account);

impl Wire for Account {
    type Record = AccountRecord;

    fn to_record(&self) -> AccountRecord {
        AccountRecord(self.clone())
    }

    fn from_record(record: AccountRecord) -> Self {
        record.0
    }
}

fn word(account: &Account) -> Cow<'static, str> {
    match account {
        Account::Place(place) => place.word().into(),
        Account::Batch(batch) => format!("{BATCH}{batch}").into(),
        other => {
            let known = WORDS.iter().find(|(_, account)| account == other);
            known.expect("every other account is one word").0.into()
        }
    }
}

fn parse(text: &str) -> Option<Account> {
    if let Some(batch) = text.strip_prefix(BATCH) {
        return Some(Account::Batch(BatchId::new(batch)));
    }
    let one_word = WORDS.iter().find(|(word, _)| *word == text);
    let one_word = one_word.map(|(_, account)| account.clone());
    one_word.or_else(|| Place::parse(text).map(Account::Place))
}

impl Serialize for AccountRecord {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&word(&self.0))
    }
}

impl<'de> Deserialize<'de> for AccountRecord {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = Cow::<'de, str>::deserialize(deserializer)?;
        let account = parse(&text);
        account
            .map(AccountRecord)
            .ok_or_else(|| D::Error::custom(format!("`{text}` is no known account")))
    }
}

impl JsonSchema for AccountRecord {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        "account".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let places = <Place as Word>::WORDS.iter().map(|(word, _)| *word);
        let words: Vec<&str> = WORDS.iter().map(|(word, _)| *word).chain(places).collect();
        json_schema!({ "type": "string", "pattern": format!("^({}|{BATCH}.*)$", words.join("|")) })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(account: &Account, text: &str) {
        assert_eq!(word(account), text);
        assert_eq!(parse(text).as_ref(), Some(account));
    }

    #[test]
    fn every_account_has_a_word_and_comes_back() {
        for (word, account) in WORDS {
            check(&account, word);
        }
        for (word, place) in <Place as Word>::WORDS {
            check(&Account::Place(*place), word);
        }
        check(&Account::Batch(BatchId::new("fridge")), "batch:fridge");
        check(&Account::Batch(BatchId::new("")), "batch:");
        assert_eq!(parse("cellar"), None);
    }
}
