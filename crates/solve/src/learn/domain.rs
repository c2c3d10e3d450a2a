//! Whole-number variables known by their bounds, and statements about those bounds.

/// A variable, by its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Var(pub(super) u32);

/// The lower bound of a variable, or of its negative. Both only ever rise as more becomes known, so one
/// piece of code serves starts and ends alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Side(u32);

impl Var {
    pub(crate) fn lower(self) -> Side {
        Side(2 * self.0)
    }

    pub(crate) fn upper(self) -> Side {
        Side(2 * self.0 + 1)
    }

    pub(crate) fn at_least(self, value: i32) -> Lit {
        Lit {
            side: self.lower(),
            value,
        }
    }

    pub(crate) fn at_most(self, value: i32) -> Lit {
        Lit {
            side: self.upper(),
            value: -value,
        }
    }

    /// Its place among all variables, from zero in the order in which they were made.
    pub(crate) fn position(self) -> usize {
        self.0 as usize
    }

    pub(super) fn index(self) -> usize {
        self.0 as usize
    }
}

impl Side {
    pub(super) fn index(self) -> usize {
        self.0 as usize
    }

    pub(super) fn of_index(index: usize) -> Self {
        Self(u32::try_from(index).expect("variables are fewer than 2^31"))
    }

    pub(super) fn opposite(self) -> Self {
        Self(self.0 ^ 1)
    }

    pub(super) fn var(self) -> Var {
        Var(self.0 >> 1)
    }

    pub(super) fn is_upper(self) -> bool {
        self.0 & 1 == 1
    }
}

/// The statement that the bound of a side is at least a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Lit {
    pub(super) side: Side,
    pub(super) value: i32,
}

impl Lit {
    /// The statement that is true exactly when this one is false.
    pub(crate) fn negated(self) -> Self {
        Self {
            side: self.side.opposite(),
            value: 1 - self.value,
        }
    }

    /// Whether it holds when the variables have these values.
    #[cfg(test)]
    pub(crate) fn holds_for(self, values: &[i32]) -> bool {
        let value = values[self.side.var().index()];
        if self.side.is_upper() {
            -value >= self.value
        } else {
            value >= self.value
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exactly_one_of_a_statement_and_its_negation_holds() {
        let x = Var(0);
        for value in -3..=3 {
            for lit in [x.at_least(1), x.at_most(1), x.at_most(-2)] {
                assert_ne!(lit.holds_for(&[value]), lit.negated().holds_for(&[value]));
                assert_eq!(lit.negated().negated(), lit);
            }
        }
        assert!(x.at_most(1).holds_for(&[1]) && !x.at_most(1).holds_for(&[2]));
    }
}
