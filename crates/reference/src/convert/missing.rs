//! What nobody has told, in the words of the kitchen, and how to supply it.

use std::error::Error;
use std::fmt;

/// A fact that a conversion needs and the table does not hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Missing {
    /// How much a volume of the food weighs.
    Density {
        /// The food's name.
        food: &'static str,
    },
    /// How much one piece weighs.
    Piece {
        /// The food's name.
        food: &'static str,
        /// The piece asked for: `large`, `clove`.
        piece: String,
        /// The pieces whose weight is known.
        known: Vec<String>,
    },
    /// Which part of a food is counted.
    Noun {
        /// The food's name.
        food: &'static str,
        /// The pieces whose weight is known.
        known: Vec<String>,
    },
    /// How much such a pack holds.
    Pack {
        /// The food's name.
        food: &'static str,
        /// The pack asked for: `can`.
        container: String,
        /// The packs that are known.
        known: Vec<String>,
    },
}

impl Missing {
    /// One word for programs: which fact is missing.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Self::Density { .. } => "density",
            Self::Piece { .. } => "weight of one",
            Self::Noun { .. } => "what is counted",
            Self::Pack { .. } => "pack",
        }
    }

    /// What to do, as sentences.
    #[must_use]
    pub fn help(&self) -> String {
        match self {
            Self::Density { .. } => {
                "Weigh a level cup of it and say `--given \"1 cup = 120 g\"`, or give the amount by weight."
                    .to_owned()
            }
            Self::Piece { piece, known, .. } => {
                let weigh = format!(
                    "Weigh one and say `--given \"1 {piece} = 50 g\"`, or give the amount by weight."
                );
                listed("Known are", known, &weigh)
            }
            Self::Noun { known, .. } => listed(
                "Say which, of",
                known,
                "Or weigh one and say `--given \"1 piece = 50 g\"`.",
            ),
            Self::Pack { container, known, .. } => {
                let read = format!(
                    "Read the weight on it and say `1 400 g {container}`, or `--given \"1 {container} = 240 g\"` for what is left when drained."
                );
                listed("Known are", known, &read)
            }
        }
    }
}

fn listed(opening: &str, known: &[String], then: &str) -> String {
    if known.is_empty() {
        return then.to_owned();
    }
    format!("{opening} {}. {then}", known.join("; "))
}

impl fmt::Display for Missing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Density { food } => write!(f, "nobody has told how much a cup of `{food}` weighs"),
            Self::Piece { food, piece, .. } => {
                write!(f, "nobody has told how much one {piece} of `{food}` weighs")
            }
            Self::Noun { food, .. } => write!(f, "it is not said what is counted of `{food}`"),
            Self::Pack { food, container, .. } => {
                write!(f, "nobody has told how much `{food}` a {container} holds")
            }
        }
    }
}

impl Error for Missing {}
