//! The household's memory as the commands use it: where it lies, what time it is, how its faults are told.

use std::future::Future;
use std::path::{Path, PathBuf};

use clap::Args;
use etcetera::BaseStrategy;
use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use larderwright_app::HomeError;
use larderwright_app::home::{Home, Now};
use larderwright_model::DeviceId;
use larderwright_store::{Fault, StoreError};
use larderwright_store_sqlite::{FILE_NAME, SqliteStore};
use tokio::runtime::Runtime;

use crate::clock::{self, zone};
use crate::failure::Failure;
use crate::keep::read::{Moment, clock_or_moment};
use crate::said::before;

/// Which memory, and when.
#[derive(Clone, Debug, Args)]
pub(crate) struct MemoryArgs {
    /// The folder of the household's data; by default one in the platform's folder for data.
    #[arg(long, value_name = "DIR")]
    pub(crate) data: Option<PathBuf>,
    /// Rehearse: as if the clock on the kitchen wall stood there, as in `2026-12-03T17:45`.
    #[arg(long, value_name = "TIME")]
    pub(crate) clock: Option<DateTime>,
}

impl MemoryArgs {
    /// The folder that is meant.
    ///
    /// # Errors
    /// When none was named and the machine has no folder for data.
    pub(crate) fn folder(&self) -> Result<PathBuf, Failure> {
        match &self.data {
            Some(folder) => Ok(folder.clone()),
            None => usual_folder(),
        }
    }
}

/// Where a household's data lies when nobody says otherwise.
fn usual_folder() -> Result<PathBuf, Failure> {
    match etcetera::choose_base_strategy() {
        Ok(base) => Ok(base.data_dir().join("larderwright")),
        Err(_) => Err(Failure::usage(
            "this machine has no home folder to keep data in",
            "Name a folder with `--data DIR`.",
        )),
    }
}

/// When something happened that is told later.
#[derive(Clone, Debug, Args)]
pub(crate) struct When {
    /// When it happened: `17:45` for the last time the clock stood there, `2026-12-03T17:45`; now by default.
    #[arg(long, value_name = "TIME", value_parser = clock_or_moment)]
    pub(crate) at: Option<Moment>,
}

/// An open memory.
pub(crate) struct Memory {
    runtime: Runtime,
    pub(crate) home: Home<SqliteStore>,
    zone: TimeZone,
    rehearsed: Option<DateTime>,
}

impl Memory {
    /// Opens the memory that is there.
    ///
    /// # Errors
    /// When there is none, or it cannot be opened.
    pub(crate) fn open(args: &MemoryArgs) -> Result<Self, Failure> {
        let folder = args.folder()?;
        if !folder.join(FILE_NAME).exists() {
            return Err(Failure::usage(
                format!("there is no household's data in `{}`", folder.display()),
                "Plan a week first, as in `larderwright plan --household home.toml`, or name its folder with `--data`.",
            ));
        }
        Self::make(&folder, args.clock)
    }

    /// Opens the memory in a folder, and makes it where there is none.
    ///
    /// # Errors
    /// When it cannot be opened.
    pub(crate) fn make(folder: &Path, rehearsed: Option<DateTime>) -> Result<Self, Failure> {
        let runtime = tokio::runtime::Builder::new_multi_thread()
            .worker_threads(2)
            .enable_all()
            .build()
            .map_err(|error| Failure::fault(&error))?;
        let fresh = DeviceId::new(&format!("{:x}", clock::timestamp().as_millisecond()));
        let (home, zone) = runtime.block_on(async {
            let store = SqliteStore::open(folder).await.map_err(Failure::from)?;
            let home = Home::open(store, &fresh).await.map_err(Failure::from)?;
            let household = home.household().await;
            let zone = household.map_or_else(|_| Ok(TimeZone::UTC), |household| zone(&household.zone));
            zone.map(|zone| (home, zone))
        })?;
        Ok(Self {
            runtime,
            home,
            zone,
            rehearsed,
        })
    }

    /// Keeps a household's file and goes by its time zone from now on.
    ///
    /// # Errors
    /// Every mistake in the file.
    pub(crate) fn keep_household(&mut self, file: &str, text: &str) -> Result<(), Failure> {
        let household = match self.runtime.block_on(self.home.keep_household(text)) {
            Ok(household) => household,
            Err(HomeError::Household(problems)) => {
                return Err(Failure::Input {
                    file: file.into(),
                    problems,
                });
            }
            Err(error) => return Err(error.into()),
        };
        self.zone = zone(&household.zone)?;
        let now = self.now()?;
        self.wait(self.home.take_in_stock(&now))?;
        Ok(())
    }

    /// What time it is.
    ///
    /// # Errors
    /// When the rehearsed time does not exist.
    pub(crate) fn now(&self) -> Result<Now, Failure> {
        let instant = match self.rehearsed {
            None => clock::timestamp(),
            Some(local) => self.instant(local)?,
        };
        Ok(self.at(instant))
    }

    /// When something happened that is told now.
    ///
    /// # Errors
    /// When the time lies ahead.
    pub(crate) fn when(&self, when: &When) -> Result<Now, Failure> {
        let now = self.now()?;
        let local = now.moment.at;
        let meant = match when.at {
            None => return Ok(now),
            Some(moment) => before(moment, local),
        };
        let told = self.at(self.instant(meant)?);
        if told.moment.instant_s() > now.moment.instant_s() {
            return Err(Failure::usage(
                format!("{} has not come yet", meant.strftime("%Y-%m-%dT%H:%M")),
                "Say what happened once it has happened.",
            ));
        }
        Ok(Now {
            ms: now.ms,
            moment: told.moment,
        })
    }

    fn instant(&self, local: DateTime) -> Result<Timestamp, Failure> {
        self.zone
            .to_timestamp(local)
            .map_err(|_| Failure::usage(format!("there is no time {local}"), "Name another time."))
    }

    fn at(&self, instant: Timestamp) -> Now {
        clock::now_of(&self.zone, instant)
    }

    /// Waits for an answer.
    ///
    /// # Errors
    /// What the memory says.
    pub(crate) fn wait<T>(&self, work: impl Future<Output = Result<T, HomeError>>) -> Result<T, Failure> {
        self.runtime.block_on(work).map_err(Failure::from)
    }

    /// Waits while pages are served.
    ///
    /// # Errors
    /// Why they could not be.
    pub(crate) fn wait_for_pages(
        &self,
        work: impl Future<Output = Result<(), Failure>>,
    ) -> Result<(), Failure> {
        self.runtime.block_on(work)
    }

    /// Waits for an answer of the store itself.
    ///
    /// # Errors
    /// What the store says.
    pub(crate) fn wait_for_store<T>(
        &self,
        work: impl Future<Output = Result<T, StoreError>>,
    ) -> Result<T, Failure> {
        self.runtime.block_on(work).map_err(Failure::from)
    }
}

impl Drop for Memory {
    /// Folds the log into the file, so that the folder holds one file while nobody is at work.
    fn drop(&mut self) {
        let store = self.home.store().clone();
        self.runtime.block_on(store.close());
    }
}

impl From<HomeError> for Failure {
    fn from(error: HomeError) -> Self {
        match error {
            HomeError::Store(error) => error.into(),
            HomeError::Household(problems) => Self::Input {
                file: "the household's file".into(),
                problems,
            },
            HomeError::Refused(refusal) => Self::Refused(*refusal),
            HomeError::Unknown { .. } => Self::usage(error.to_string(), error.help()),
            HomeError::Overtaken => Self::no(error.to_string(), error.help()),
            HomeError::Record(_) | HomeError::Document { .. } => Self::fault(&error),
        }
    }
}

impl From<StoreError> for Failure {
    fn from(error: StoreError) -> Self {
        let words = match Self::fault(&error) {
            Self::Fault(words) => words,
            other => return other,
        };
        match error.fault {
            Fault::BadInput(_) | Fault::WrongFile(_) => Self::usage(error.to_string(), error.help()),
            _ => Self::Fault(format!("{words}\n  {}", error.help())),
        }
    }
}
