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
    /// Every flag, the surest first.
    pub const ALL: [Self; 5] = [
        Self::Read,
        Self::ReadSecond,
        Self::Memory,
        Self::Derived,
        Self::Practice,
    ];

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

    /// What the mark means.
    #[must_use]
    pub fn meaning(self) -> &'static str {
        match self {
            Self::Read => "read in a copy of the named source",
            Self::ReadSecond => "read on a page that quotes the source",
            Self::Memory => "from memory of the named publication; nobody has checked it",
            Self::Derived => "worked out from figures that were read",
            Self::Practice => "what cooks do; nobody published a figure",
        }
    }
}
