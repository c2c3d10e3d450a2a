//! What is different in one week: who is away, who comes, what is skipped. Kept as a document of its own, so that the
//! household's usual week stays as it is.

use std::collections::{BTreeMap, BTreeSet};

use jiff::civil::{Date, DateTime};
use larderwright_model::{EaterId, MealId, Session, SessionId, Shop, Sitting, SittingId};
use serde::{Deserialize, Serialize};

/// What is different about a sitting.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct SittingChange {
    /// Nobody eats.
    pub skipped: bool,
    /// Guests beyond those of the usual week.
    pub guests: u32,
    /// Who of the household is away.
    pub away: BTreeSet<String>,
    /// Another time.
    pub at: Option<DateTime>,
    /// Other minutes.
    pub minutes: Option<i64>,
    /// A meal fixed.
    pub meal: Option<String>,
    /// Meals not wanted here.
    pub not: BTreeSet<String>,
}

/// What is different about a session.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct SessionChange {
    /// Nobody cooks.
    pub skipped: bool,
    /// Another window.
    pub window: Option<(DateTime, DateTime)>,
}

/// A week's differences.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Changes {
    /// By sitting.
    pub sittings: BTreeMap<String, SittingChange>,
    /// By session.
    pub sessions: BTreeMap<String, SessionChange>,
    /// Trips to the shop beyond those of the usual week.
    pub trips: BTreeSet<DateTime>,
    /// Meals switched off for the week.
    pub off: BTreeSet<String>,
}

/// The name of the document that keeps a week's changes.
#[must_use]
pub fn document_name(monday: Date) -> String {
    format!("changes/{monday}")
}

impl Changes {
    /// Reads a document; an empty text is no change at all.
    ///
    /// # Errors
    /// When the text is no such document.
    pub fn parse(text: &str) -> Result<Self, serde_json::Error> {
        if text.trim().is_empty() {
            return Ok(Self::default());
        }
        serde_json::from_str(text)
    }

    /// The document's text.
    ///
    /// # Panics
    /// Never: keys are texts.
    #[must_use]
    pub fn text(&self) -> String {
        serde_json::to_string_pretty(self).expect("changes have text keys") + "\n"
    }

    /// What is different about a sitting, to be changed.
    pub fn sitting(&mut self, id: &SittingId) -> &mut SittingChange {
        self.sittings.entry(id.to_string()).or_default()
    }

    /// What is different about a session, to be changed.
    pub fn session(&mut self, id: &SessionId) -> &mut SessionChange {
        self.sessions.entry(id.to_string()).or_default()
    }

    /// The week's sittings with these differences, those without anybody left out.
    #[must_use]
    pub fn apply_sittings(&self, sittings: Vec<Sitting>) -> Vec<Sitting> {
        let changed = sittings.into_iter().filter_map(|sitting| {
            let Some(change) = self.sittings.get(sitting.id.as_str()) else {
                return Some(sitting);
            };
            let stays = |eater: &EaterId| !change.away.contains(eater.as_str());
            let changed = Sitting {
                eaters: sitting.eaters.into_iter().filter(stays).collect(),
                guests: sitting.guests + change.guests,
                at: change.at.unwrap_or(sitting.at),
                minutes: change.minutes.unwrap_or(sitting.minutes),
                ..sitting
            };
            (!change.skipped && changed.covers() > 0).then_some(changed)
        });
        let mut changed: Vec<Sitting> = changed.collect();
        changed.sort_by_key(|sitting| sitting.at);
        changed
    }

    /// The week's sessions with these differences.
    #[must_use]
    pub fn apply_sessions(&self, sessions: Vec<Session>) -> Vec<Session> {
        let changed = sessions.into_iter().filter_map(|session| {
            let Some(change) = self.sessions.get(session.id.as_str()) else {
                return Some(session);
            };
            let (from, to) = change.window.unwrap_or((session.from, session.to));
            (!change.skipped).then_some(Session { from, to, ..session })
        });
        let mut changed: Vec<Session> = changed.collect();
        changed.sort_by_key(|session| session.from);
        changed
    }

    /// The week's trips with those that were added.
    #[must_use]
    pub fn apply_shops(&self, mut shops: Vec<Shop>) -> Vec<Shop> {
        for at in &self.trips {
            let known = shops.iter().any(|shop| shop.at == *at);
            if !known {
                let id = at.strftime("%Y-%m-%d-%H%M").to_string();
                shops.push(Shop {
                    id: id.as_str().into(),
                    at: *at,
                });
            }
        }
        shops.sort_by_key(|shop| shop.at);
        shops
    }

    /// Meals fixed at sittings of this week.
    pub fn fixed(&self) -> impl Iterator<Item = (SittingId, MealId)> {
        let fixed = self.sittings.iter();
        fixed.filter_map(|(id, change)| Some((id.as_str().into(), change.meal.as_deref()?.into())))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use larderwright_model::{Occasion, Where};

    fn sitting() -> Sitting {
        Sitting {
            id: "2026-12-03-dinner".into(),
            at: date(2026, 12, 3).at(18, 30, 0, 0),
            occasion: Occasion::Dinner,
            minutes: 20,
            eaters: vec!["ana".into(), "ben".into()],
            guests: 0,
            place: Where::Home,
        }
    }

    fn check(change: SittingChange) -> Vec<Sitting> {
        let mut changes = Changes::default();
        *changes.sitting(&sitting().id) = change;
        let read = Changes::parse(&changes.text()).expect("it was written just now");
        assert_eq!(read, changes);
        read.apply_sittings(vec![sitting()])
    }

    #[test]
    fn guests_come_and_eaters_stay_away() {
        let changed = check(SittingChange {
            guests: 2,
            away: ["ben".to_owned()].into(),
            ..SittingChange::default()
        });
        assert_eq!((changed[0].guests, changed[0].covers()), (2, 3));
    }

    #[test]
    fn a_sitting_without_anybody_does_not_take_place() {
        let away = ["ana", "ben"].map(str::to_owned).into();
        assert!(
            check(SittingChange {
                away,
                ..SittingChange::default()
            })
            .is_empty()
        );
        assert!(
            check(SittingChange {
                skipped: true,
                ..SittingChange::default()
            })
            .is_empty()
        );
    }

    #[test]
    fn an_empty_text_changes_nothing() {
        assert_eq!(Changes::parse("").expect("nothing"), Changes::default());
        assert!(Changes::parse("{\"sitings\": {}}").is_err());
    }
}
