//! The week and the household before anything happens: the household's file, changes of one week, drafts and the plan
//! that the house goes by.

use jiff::civil::{Date, DateTime, Time};
use larderwright_app::changes::{Changes, SessionChange, SittingChange};
use larderwright_app::dates;
use larderwright_app::home::HOUSEHOLD;
use larderwright_model::{MealId, Session, SessionId};
use larderwright_store::{PlanHead, Store};
use serde_json::json;

use crate::args::{ChangeArgs, ChooseArgs, Format, HouseholdArgs, PlansArgs};
use crate::failure::Failure;
use crate::memory::Memory;
use crate::planning::{check, household_text, week_of};

/// Shows or keeps the household's file.
///
/// # Errors
/// Every mistake in the file.
pub(crate) fn household(args: &HouseholdArgs, format: Format) -> Result<String, Failure> {
    let Some(path) = &args.file else {
        let memory = Memory::open(&args.memory)?;
        memory.wait(memory.home.household())?;
        let document = memory.wait(memory.home.household_file())?;
        let text = document.map_or_else(String::new, |document| document.text);
        return Ok(match format {
            Format::Text => text,
            Format::Json => format!("{:#}\n", json!({ "household": text, "format": "toml" })),
        });
    };
    let (file, text) = household_text(path)?;
    check(&file, &text)?;
    let mut memory = Memory::make(&args.memory.folder()?, args.memory.clock)?;
    memory.keep_household(&file, &text)?;
    let version = memory.wait_for_store(memory.home.store().document(HOUSEHOLD))?;
    let version = version.map_or(0, |document| document.version);
    Ok(match format {
        Format::Text => {
            format!("kept `{file}` as version {version}; `larderwright plan` goes by it from now on\n")
        }
        Format::Json => format!("{:#}\n", json!({ "status": "kept", "version": version })),
    })
}

/// Notes what is different in a week.
///
/// # Errors
/// When something is named that is not there.
pub(crate) fn change(args: &ChangeArgs, format: Format) -> Result<String, Failure> {
    let memory = Memory::open(&args.memory)?;
    let now = memory.now()?;
    let household = memory.wait(memory.home.household())?;
    let monday = match &args.week {
        Some(week) => week_of(week)?,
        None => match memory.wait(memory.home.this_week(&now)) {
            Ok(week) => week.head.monday,
            Err(_) => dates::next_to_plan(&household, now.minute()),
        },
    };
    let (mut changes, version) = memory.wait(memory.home.changes(monday))?;
    let before = changes.clone();
    for meal in args.off.iter().chain(&args.not).chain(&args.meal) {
        known_meal(meal)?;
    }
    changes.off.extend(args.off.iter().cloned());
    changes.trips.extend(args.trip.iter().copied());
    if let Some(name) = &args.sitting {
        let sitting = memory.wait(memory.home.sitting_in(monday, name, &now))?;
        for eater in &args.away {
            if household.eater(&eater.as_str().into()).is_none() {
                let ids: Vec<&str> = household.eaters.iter().map(|eater| eater.id.as_str()).collect();
                return Err(Failure::usage(
                    format!("there is no eater `{eater}`"),
                    format!("There are {}.", ids.join(", ")),
                ));
            }
        }
        let slot = changes.sitting(&sitting.id);
        apply(slot, args, sitting.at);
        if *slot == SittingChange::default() {
            changes.sittings.remove(sitting.id.as_str());
        }
    }
    if let Some(name) = &args.session {
        let sessions = dates::sessions(&household, monday);
        let session = session_of(&sessions, name)?;
        let window = args
            .window
            .as_deref()
            .map(|text| window(text, session))
            .transpose()?;
        *changes.session(&session.id) = window.unwrap_or_default();
    }
    if changes == before {
        return Err(Failure::usage(
            "nothing is different so",
            "Say what is, as in `larderwright change thu-dinner --guests 2`; `larderwright change --help` shows all.",
        ));
    }
    memory.wait(memory.home.keep_changes(monday, &changes, version))?;
    Ok(match format {
        Format::Text => {
            "noted; `larderwright plan --rest` plans the week anew, with `--draft` beside the one you have\n"
                .to_owned()
        }
        Format::Json => format!(
            "{:#}\n",
            json!({ "status": "noted", "monday": monday.to_string(), "changes": value_of(&changes) })
        ),
    })
}

fn value_of(changes: &Changes) -> serde_json::Value {
    serde_json::from_str(&changes.text()).unwrap_or_default()
}

fn apply(slot: &mut SittingChange, args: &ChangeArgs, at: DateTime) {
    if args.usual {
        *slot = SittingChange::default();
    }
    slot.skipped |= args.skip;
    slot.away.extend(args.away.iter().cloned());
    slot.not.extend(args.not.iter().cloned());
    if let Some(guests) = args.guests {
        slot.guests = guests;
    }
    if let Some(time) = args.time {
        slot.at = Some(at.date().to_datetime(time));
    }
    if args.minutes.is_some() {
        slot.minutes = args.minutes;
    }
    if let Some(meal) = &args.meal {
        slot.not.remove(meal);
        slot.meal = Some(meal.clone());
    }
}

fn known_meal(id: &str) -> Result<(), Failure> {
    let larder = larderwright_app::catalogue::built_in();
    if larder.is_ok_and(|larder| larder.meals.contains_key(&MealId::new(id))) {
        return Ok(());
    }
    Err(Failure::usage(
        format!("there is no meal `{id}`"),
        "The sheet `menu` and the page of recipes name them all.",
    ))
}

fn session_of<'a>(sessions: &'a [Session], name: &str) -> Result<&'a Session, Failure> {
    let weekday = |session: &Session| session.from.strftime("%a").to_string().to_lowercase();
    let found = sessions
        .iter()
        .find(|session| session.id == SessionId::new(name) || weekday(session) == name.to_lowercase());
    found.ok_or_else(|| {
        let ids: Vec<&str> = sessions.iter().map(|session| session.id.as_str()).collect();
        Failure::usage(
            format!("there is no session `{name}` that week"),
            format!("There are {}.", ids.join(", ")),
        )
    })
}

/// `10:00-13:30` on the session's day, or `none`.
fn window(text: &str, session: &Session) -> Result<SessionChange, Failure> {
    if text == "none" {
        return Ok(SessionChange {
            skipped: true,
            window: None,
        });
    }
    let read = |part: &str| part.trim().parse::<Time>().ok();
    let times = text
        .split_once('-')
        .and_then(|(from, to)| Some((read(from)?, read(to)?)));
    match times {
        Some((from, to)) if from < to => {
            let day = session.from.date();
            Ok(SessionChange {
                skipped: false,
                window: Some((day.to_datetime(from), day.to_datetime(to))),
            })
        }
        _ => Err(Failure::usage(
            format!("`{text}` is no window"),
            "Write `10:00-13:30`, or `none`.",
        )),
    }
}

/// Lists the plans that are kept.
///
/// # Errors
/// When they cannot be read.
pub(crate) fn plans(args: &PlansArgs, format: Format) -> Result<String, Failure> {
    let memory = Memory::open(&args.memory)?;
    let store = memory.home.store();
    let weeks = match &args.week {
        Some(week) => vec![week_of(week)?],
        None => memory.wait_for_store(store.weeks())?,
    };
    let mut lines = Vec::new();
    let mut values = Vec::new();
    for monday in weeks {
        let current = memory.wait(memory.home.current(monday))?;
        for head in memory.wait_for_store(store.plans(monday))? {
            let state = match &current {
                Some(week) if week.head.hash == head.hash => week.state.word(),
                _ => "draft or earlier",
            };
            lines.push(format!(
                "{}  week of {monday}  made {}  {state}",
                short(&head),
                head.made_at.strftime("%Y-%m-%d %H:%M")
            ));
            values.push(json!({
                "plan": head.hash,
                "parent": head.parent,
                "monday": monday.to_string(),
                "made_at": head.made_at.to_string(),
                "state": state,
            }));
        }
    }
    if lines.is_empty() {
        lines.push("there is no plan yet".to_owned());
    }
    Ok(match format {
        Format::Text => lines.join("\n") + "\n",
        Format::Json => format!("{:#}\n", json!({ "plans": values })),
    })
}

fn short(head: &PlanHead) -> &str {
    head.hash.get(..12).unwrap_or(&head.hash)
}

/// Makes a draft the plan that the house goes by.
///
/// # Errors
/// When there is no such draft, or another plan was chosen meanwhile.
pub(crate) fn choose(args: &ChooseArgs, format: Format) -> Result<String, Failure> {
    let memory = Memory::open(&args.memory)?;
    let head = find(&memory, &args.plan)?;
    memory.wait(memory.home.choose(head.monday, &head.hash))?;
    let folder = args.memory.folder()?;
    if let Some(week) = memory.wait(memory.home.kept(&head.hash))? {
        let planned = larderwright_app::Planned {
            json: larderwright_records::plan::plan_to_json(&week.plan),
            plan: week.plan,
        };
        larderwright_app::save(&folder, &week.snapshot, &planned)?;
    }
    Ok(match format {
        Format::Text => format!("the house goes by {} from now on\n", short(&head)),
        Format::Json => format!(
            "{:#}\n",
            json!({ "status": "chosen", "plan": head.hash, "monday": head.monday.to_string() })
        ),
    })
}

/// The one plan whose hash begins so.
fn find(memory: &Memory, beginning: &str) -> Result<PlanHead, Failure> {
    let store = memory.home.store();
    let mut found = Vec::new();
    let mondays: Vec<Date> = memory.wait_for_store(store.weeks())?;
    for monday in mondays {
        let heads = memory.wait_for_store(store.plans(monday))?;
        found.extend(heads.into_iter().filter(|head| head.hash.starts_with(beginning)));
    }
    match found.len() {
        1 => Ok(found.swap_remove(0)),
        0 => Err(Failure::usage(
            format!("there is no plan `{beginning}`"),
            "`larderwright plans` lists them.",
        )),
        _ => Err(Failure::usage(
            format!("several plans begin with `{beginning}`"),
            "Write more of it, as `larderwright plans` shows it.",
        )),
    }
}
