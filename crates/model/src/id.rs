//! Typed identifiers: every noun that can be pointed at has a type of its own.

use std::fmt;
use std::sync::Arc;

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident),* $(,)?) => {$(
        $(#[$doc])*
        #[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(Arc<str>);

        impl $name {
            /// Makes an identifier from its text.
            #[must_use]
            pub fn new(text: &str) -> Self {
                Self(Arc::from(text))
            }

            /// The text of the identifier.
            #[must_use]
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl From<&str> for $name {
            fn from(text: &str) -> Self {
                Self::new(text)
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&self.0)
            }
        }

        impl fmt::Debug for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "{:?}", &*self.0)
            }
        }
    )*};
}

ids! {
    /// One line of a run sheet.
    ActId,
    /// One component cooked in one session.
    BatchId,
    /// A kind of storage box.
    BoxId,
    /// A prepared building block.
    ComponentId,
    /// Someone who cooks.
    CookId,
    /// A phone, tablet or computer that reports events.
    DeviceId,
    /// Someone who eats.
    EaterId,
    /// A place on an assembled plate: base, protein, sauce.
    ElementId,
    /// Something that happened.
    EventId,
    /// Something bought or grown.
    FoodId,
    /// A dated stored quantity in one place.
    LotId,
    /// An assembly on a plate.
    MealId,
    /// A published rule of food safety, or a rule of the audit.
    RuleId,
    /// A block of cooking time.
    SessionId,
    /// One trip to a shop.
    ShopId,
    /// One eating occasion.
    SittingId,
    /// One step of a recipe.
    StepId,
    /// One of the alternative ways to make a component.
    WayId,
}
