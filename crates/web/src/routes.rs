//! Routes as types: a link is built from one, never typed. Nouns only; a verb becomes the noun it makes.

use std::fmt;

/// A page, a sheet, a file or a thing that can be made by posting to it.
#[derive(Clone, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the variants are the names of the pages")]
pub enum Route {
    Week,
    /// The week of a Monday.
    WeekOf(String),
    /// Changes of the week, tried and accepted.
    Changes,
    /// Weeks that are planned, and planning one.
    Plans,
    Shopping,
    /// The order sheet as one file.
    ShoppingFile,
    Ticks,
    /// Printed dates of what was unpacked.
    Unpackings,
    /// Totals of receipts.
    Receipts,
    Sheet(&'static str),
    Session,
    SessionOf(String),
    Beginnings(String),
    Completions(String),
    Extensions(String),
    Rests(String),
    Absences(String),
    Stops(String),
    Mishaps(String),
    /// What was boxed, with what the scale or the boxes say.
    Packings(String),
    Endings(String),
    Larder,
    /// What is said of a lot.
    Deeds,
    /// Looks into fridge and freezer.
    Looks,
    Tonight,
    Sitting(String),
    /// Turns that an evening takes.
    Turns(String),
    /// What was eaten, left over, came back.
    Servings(String),
    /// A sitting as one file.
    SittingFile(String),
    Recipes,
    Recipe(String),
    Meal(String),
    Foods,
    Food(String),
    Household,
    /// The household's file as text.
    HouseholdFile,
    Review,
    /// Weeks that end.
    Closings,
    /// Words taken back.
    Undoings,
    Sources,
    Calendar,
    /// Server-sent events.
    News,
}

impl Route {
    /// The path under which axum knows the route, with its parameters in braces.
    #[must_use]
    pub fn pattern(&self) -> &'static str {
        match self {
            Self::Week => "/week",
            Self::WeekOf(_) => "/weeks/{id}",
            Self::Changes => "/week/changes",
            Self::Plans => "/plans",
            Self::Shopping => "/shopping",
            Self::ShoppingFile => "/shopping/file",
            Self::Ticks => "/ticks",
            Self::Unpackings => "/shopping/unpackings",
            Self::Receipts => "/shopping/receipts",
            Self::Sheet(_) => "/sheets/{kind}",
            Self::Session => "/session",
            Self::SessionOf(_) => "/sessions/{id}",
            Self::Beginnings(_) => "/sessions/{id}/beginnings",
            Self::Completions(_) => "/sessions/{id}/completions",
            Self::Extensions(_) => "/sessions/{id}/extensions",
            Self::Rests(_) => "/sessions/{id}/rests",
            Self::Absences(_) => "/sessions/{id}/absences",
            Self::Stops(_) => "/sessions/{id}/stops",
            Self::Mishaps(_) => "/sessions/{id}/mishaps",
            Self::Packings(_) => "/sessions/{id}/packings",
            Self::Endings(_) => "/sessions/{id}/endings",
            Self::Larder => "/larder",
            Self::Deeds => "/larder/deeds",
            Self::Looks => "/larder/looks",
            Self::Tonight => "/tonight",
            Self::Sitting(_) => "/sittings/{id}",
            Self::Turns(_) => "/sittings/{id}/turns",
            Self::Servings(_) => "/sittings/{id}/servings",
            Self::SittingFile(_) => "/sittings/{id}/file",
            Self::Recipes => "/recipes",
            Self::Recipe(_) => "/recipes/{id}",
            Self::Meal(_) => "/meals/{id}",
            Self::Foods => "/foods",
            Self::Food(_) => "/foods/{id}",
            Self::Household => "/household",
            Self::HouseholdFile => "/household/file",
            Self::Review => "/review",
            Self::Closings => "/closings",
            Self::Undoings => "/undoings",
            Self::Sources => "/sources",
            Self::Calendar => "/calendar.ics",
            Self::News => "/news",
        }
    }

    /// What stands in the place of the braces.
    fn parameter(&self) -> &str {
        match self {
            Self::Sheet(kind) => kind,
            Self::SessionOf(id)
            | Self::Beginnings(id)
            | Self::Completions(id)
            | Self::Extensions(id)
            | Self::Rests(id)
            | Self::Absences(id)
            | Self::Stops(id)
            | Self::Mishaps(id)
            | Self::Packings(id)
            | Self::Endings(id)
            | Self::Sitting(id)
            | Self::Turns(id)
            | Self::Servings(id)
            | Self::WeekOf(id)
            | Self::SittingFile(id)
            | Self::Recipe(id)
            | Self::Meal(id)
            | Self::Food(id) => id,
            _ => "",
        }
    }
}

impl fmt::Display for Route {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let pattern = self.pattern();
        match pattern.split_once('{') {
            None => f.write_str(pattern),
            Some((before, rest)) => {
                let after = rest.split_once('}').map_or("", |(_, after)| after);
                write!(f, "{before}{}{after}", encoded(self.parameter()))
            }
        }
    }
}

impl maud::Render for Route {
    fn render_to(&self, buffer: &mut String) {
        maud::Render::render_to(&self.to_string(), buffer);
    }
}

/// A part of a path: everything but letters, digits and a few signs is escaped.
fn encoded(part: &str) -> String {
    use std::fmt::Write as _;
    let mut out = String::with_capacity(part.len());
    for byte in part.bytes() {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'_' | b'.' | b'~' | b'@') {
            out.push(char::from(byte));
        } else {
            let _ = write!(out, "%{byte:02X}");
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_link_fills_in_the_braces_of_its_pattern() {
        assert_eq!(Route::Week.to_string(), "/week");
        assert_eq!(
            Route::Stops("2026-11-29".into()).to_string(),
            "/sessions/2026-11-29/stops"
        );
    }

    #[test]
    fn what_could_leave_the_path_is_escaped() {
        let link = Route::Recipe("../a?b=c#d e\"".into()).to_string();
        assert_eq!(link, "/recipes/..%2Fa%3Fb%3Dc%23d%20e%22");
    }
}
