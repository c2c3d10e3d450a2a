//! How sure a figure is: every row of this crate carries one of these flags beside its source.

/// Where a figure was seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Flag {
    /// Read in a copy of the named source.
    Read,
    /// Read on a page that quotes the authority.
    ReadSecond,
    /// From memory of the named publication; nobody has checked it.
    Memory,
    /// Worked out from figures that were read.
    Derived,
    /// Common practice; there is no published source.
    Practice,
}

impl Flag {
    /// The mark shown beside a figure.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Read => "READ",
            Self::ReadSecond => "READ-2",
            Self::Memory => "MEM",
            Self::Derived => "DERIV",
            Self::Practice => "common practice, no source",
        }
    }
}
