//! The nouns of a household's week and what every stage of planning hands on.
//!
//! Types only: how a plan is made lives in `planning`, how it is judged in `audit`, how it is
//! written in `records`. Nothing here does I/O or knows the time of day.

pub mod component;
pub mod conflict;
pub mod demand;
pub mod event;
pub mod finding;
pub mod food;
pub mod household;
pub mod id;
pub mod kitchen;
pub mod law;
pub mod load;
pub mod meal;
pub mod menu;
pub mod plan;
pub mod production;
pub mod run;
pub mod service;
pub mod snapshot;
pub mod week;

pub use component::{
    Boil, Component, Equipment, Family, Freezing, Hygiene, Input, OvenRange, Serving, SizeLimits, SizeStep,
    Skill, Station, Step, StepAfter, StepSafety, Visit, Way, Yield,
};
pub use conflict::{Conflict, Stage};
pub use demand::{Demand, Draw};
pub use event::{
    Account, Clock, CookedFact, Event, Fact, Goods, LotCard, Measured, Moment, Move, Reading, Reported,
    ServedFact, WasteReason,
};
pub use finding::{Finding, Severity};
pub use food::{
    Allergen, CountUnit, Department, Food, FoodKind, Pack, PackSize, Presence, PriceBasis, Region, Sourced,
    StorageClass,
};
pub use household::{
    Appetite, Avoid, Caution, Contact, Diet, Eater, Household, ParItem, Physique, PriceEntry, Priority,
    Profile, Sex, StandingItem, StockItem, StockState, Wishes,
};
pub use id::{
    ActId, BatchId, BoxId, ComponentId, CookId, DeviceId, EaterId, ElementId, EventId, FoodId, LotId, MealId,
    RuleId, SessionId, ShopId, SittingId, StepId, WayId,
};
pub use kitchen::{BoxKind, Cook, Kitchen, Oven, Pot, Tray};
pub use law::{Law, Spread};
pub use load::LoadPlan;
pub use meal::{Element, ElementOption, Finish, Item, Meal, MealRule, Need, Occasion, Scales};
pub use menu::{Cover, CoverChoice, Fate, Menu, MenuChoice, Pick, Supply};
pub use plan::{Answer, Order, OrderLine, Purpose, Report, StockUse, WeekPlan, Work};
pub use production::{Batch, BatchInput, Carried, CoolingMethod, Keep, Lot, Place};
pub use run::{Act, ActKind, Lead, LeftOut, OvenSetting, Run, Standing};
pub use service::{Appliance, Plate, Portion, PortionSource, Service, ServiceStep, ServiceVerb};
pub use snapshot::{Snapshot, StoredLot};
pub use week::{DayRef, Packed, Session, SessionPattern, Shop, ShopPattern, Sitting, SittingPattern, Where};
