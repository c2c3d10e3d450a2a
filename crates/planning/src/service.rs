//! Service: the minutes before a sitting, on the appliances the kitchen has.
//!
//! List scheduling: lots come out first, the longest warming starts first on whatever appliance
//! ends soonest, plates are put together when the last item is warm. One pair of hands.

use larderwright_model::{Appliance, Cover, Finish, Item, Kitchen, LotId, ServiceStep, ServiceVerb};
use larderwright_quantity::{Mass, Seconds};

use crate::practice::{FRY, MICROWAVE_PORTION, PAN_REHEAT, Practice, TAKE_OUT, TOAST_PAIR};

/// An item to be finished for some covers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Warm {
    /// What.
    pub item: Item,
    /// How much altogether.
    pub mass: Mass,
    /// For whom.
    pub covers: Vec<Cover>,
    /// How.
    pub finish: Finish,
}

/// What has to be done before a sitting.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Work {
    /// Lots to take out.
    pub lots: Vec<LotId>,
    /// Items to finish.
    pub warm: Vec<Warm>,
    /// Hands for putting plates together.
    pub assemble: Seconds,
}

struct Appliances {
    units: Vec<(Appliance, i64)>,
    hands: i64,
}

impl Appliances {
    fn of(kitchen: &Kitchen, from: i64) -> Self {
        let mut units = vec![(Appliance::Microwave, from); kitchen.microwaves as usize];
        units.extend(vec![(Appliance::Burner, from); kitchen.burners as usize]);
        if kitchen.toaster {
            units.push((Appliance::Toaster, from));
        }
        Self { units, hands: from }
    }

    /// The unit of a wanted appliance on which the work ends soonest.
    fn soonest(&mut self, lengths: &[(Appliance, i64)]) -> Option<(Appliance, i64, i64)> {
        let ends = self
            .units
            .iter()
            .enumerate()
            .filter_map(|(ix, &(appliance, free))| {
                let length = lengths.iter().find(|(wanted, _)| *wanted == appliance)?.1;
                Some((free + length, ix, length))
            });
        let (end, ix, length) = ends.min()?;
        self.units[ix].1 = end;
        Some((self.units[ix].0, end - length, length))
    }
}

fn secs(practice: Practice, count: usize, mass: Mass) -> i64 {
    practice
        .seconds(i64::try_from(count).expect("a table seats few"), mass)
        .secs()
}

/// How long an item takes on each appliance that could finish it.
fn lengths(warm: &Warm) -> Vec<(Appliance, i64)> {
    let covers = warm.covers.len();
    match warm.finish {
        Finish::Reheat => {
            let fixed = MICROWAVE_PORTION.fixed_s * i64::try_from(covers).expect("a table seats few");
            let whole = fixed
                + secs(
                    Practice {
                        fixed_s: 0,
                        ..MICROWAVE_PORTION
                    },
                    0,
                    warm.mass,
                );
            vec![
                (Appliance::Microwave, whole),
                (Appliance::Burner, secs(PAN_REHEAT, 0, warm.mass)),
            ]
        }
        Finish::Toast => {
            let toaster = secs(TOAST_PAIR, covers.div_ceil(2), Mass::ZERO);
            vec![(Appliance::Toaster, toaster), (Appliance::Burner, toaster * 2)]
        }
        Finish::Fry => vec![(Appliance::Burner, secs(FRY, covers, Mass::ZERO))],
        Finish::Cold | Finish::Raw => Vec::new(),
    }
}

fn verb(warm: &Warm) -> ServiceVerb {
    match warm.finish {
        Finish::Toast => ServiceVerb::Toast(warm.item.clone(), warm.mass),
        Finish::Fry => ServiceVerb::Fry(warm.item.clone(), warm.mass),
        Finish::Reheat | Finish::Cold | Finish::Raw => ServiceVerb::Reheat(warm.item.clone(), warm.mass),
    }
}

/// The steps of a service by start, or the item that no appliance in this kitchen can finish.
///
/// # Errors
/// The item that cannot be finished.
pub fn schedule(kitchen: &Kitchen, work: &Work) -> Result<Vec<ServiceStep>, Item> {
    let mut steps = Vec::new();
    let mut clock = 0;
    for lot in &work.lots {
        let length = secs(TAKE_OUT, 1, Mass::ZERO);
        steps.push(step(ServiceVerb::TakeOut(lot.clone()), (clock, length), 1, None));
        clock += length;
    }
    let mut appliances = Appliances::of(kitchen, clock);
    let mut ready = clock;
    for warm in longest_first(&work.warm) {
        let hands = u32::from(warm.finish == Finish::Fry);
        if hands > 0 {
            let free = appliances.hands;
            for unit in &mut appliances.units {
                unit.1 = unit.1.max(free);
            }
        }
        let found = appliances
            .soonest(&lengths(warm))
            .ok_or_else(|| warm.item.clone())?;
        let (appliance, start, length) = found;
        if hands > 0 {
            appliances.hands = start + length;
        }
        ready = ready.max(start + length);
        steps.push(ServiceStep {
            covers: warm.covers.clone(),
            ..step(verb(warm), (start, length), hands, Some(appliance))
        });
    }
    let assemble = work.assemble.secs();
    let start = appliances.hands.max(ready - assemble / 2);
    steps.push(step(ServiceVerb::Assemble, (start, assemble), 1, None));
    steps.sort_by_key(|step| (step.start, step.length));
    Ok(steps)
}

/// Fried items first, since they want hands; then the longest on its slowest appliance.
fn longest_first(warm: &[Warm]) -> Vec<&Warm> {
    let mut order: Vec<&Warm> = warm.iter().filter(|warm| !lengths(warm).is_empty()).collect();
    order.sort_by_key(|warm| {
        let longest = lengths(warm).iter().map(|(_, length)| *length).max().unwrap_or(0);
        (
            std::cmp::Reverse(warm.finish == Finish::Fry),
            std::cmp::Reverse(longest),
            warm.item.clone(),
        )
    });
    order
}

fn step(
    verb: ServiceVerb,
    (start, length): (i64, i64),
    hands: u32,
    appliance: Option<Appliance>,
) -> ServiceStep {
    ServiceStep {
        verb,
        start: Seconds::from_secs(start),
        length: Seconds::from_secs(length),
        hands,
        appliance,
        covers: Vec::new(),
    }
}

/// From the first step to plates on the table.
#[must_use]
pub fn length(steps: &[ServiceStep]) -> Seconds {
    steps
        .iter()
        .map(|step| step.start + step.length)
        .max()
        .unwrap_or(Seconds::from_secs(0))
}
