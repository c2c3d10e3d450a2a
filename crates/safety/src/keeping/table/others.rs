//! Figures of the United Kingdom, Canada, Australia and the European Union.

use super::{Figure, Life};
use crate::keeping::KeepClass;
use crate::source::Flag;

pub(super) const UK_GENERAL: Figure = Figure {
    class: None,
    general: true,
    fridge: Life::Hours(48),
    cupboard: None,
    freezer: Some((1, 3)),
    thawed_hours: Some(24),
    chill_minutes: 120,
    source: "from memory: Food Standards Agency, left-overs within 48 hours, thawed food within 24 hours; freezer months \
             from memory",
    flag: Flag::Memory,
};

pub(super) const UK_RICE: Figure = Figure {
    class: Some(KeepClass::RiceCooked),
    general: false,
    fridge: Life::Hours(24),
    chill_minutes: 60,
    source: "national health service text on rice, read at healthwell.eani.org.uk: cool within 1 hour, keep no more than \
             1 day, reheat once; freezer and thawing from memory",
    flag: Flag::Read,
    ..UK_GENERAL
};

pub(super) const CANADA_GENERAL: Figure = Figure {
    class: None,
    general: true,
    fridge: Life::Days(2, 4),
    cupboard: None,
    freezer: Some((2, 3)),
    thawed_hours: Some(24),
    chill_minutes: 120,
    source: "left-overs 2 to 4 days: Canadian federal advice, read at newswire.ca 2014-10-10; 2 h: recalls-rappels.canada.ca \
             RA-25979; freezer and 24 h after thawing from memory",
    flag: Flag::Read,
};

pub(super) const AUSTRALIA_GENERAL: Figure = Figure {
    class: None,
    general: true,
    fridge: Life::Days(2, 3),
    cupboard: None,
    freezer: Some((1, 3)),
    thawed_hours: Some(24),
    chill_minutes: 120,
    source: "from memory: left-overs 2-3 days, thawed food within 24 h; 60 °C to 21 °C in 2 h: Food Standards Code 3.2.2 \
             clause 7(3), read at experts123.com",
    flag: Flag::Memory,
};

pub(super) const EU_GENERAL: Figure = Figure {
    class: None,
    general: true,
    fridge: Life::Days(3, 3),
    cupboard: None,
    freezer: Some((1, 3)),
    thawed_hours: Some(24),
    chill_minutes: 120,
    source: "from memory: Irish advice, left-overs 3 days, thawed food within 24 h; chilling in 2 h: French text of \
             8 March 2012, read at acfri.com",
    flag: Flag::Memory,
};
