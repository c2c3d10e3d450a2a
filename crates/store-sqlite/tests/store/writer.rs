//! The writer in a process of its own: the test binary calls itself with the name of the ignored test below and hands it
//! its orders on the standard input. It says what it is about to do and, once the store has acknowledged it, that it is
//! done.

use std::io::{BufRead, BufReader, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

use larderwright_store::exchange::export;
use larderwright_store::{Store, StoreError};
use larderwright_store_sqlite::SqliteStore;

use crate::fresh::run;
use crate::script::{Script, Write, apply};

/// What a writer is to do.
#[derive(Clone, Debug)]
pub(crate) struct Orders {
    /// Where everything lies: the store in `home`, backups in `copies`, exports in `exports`.
    pub(crate) folder: PathBuf,
    pub(crate) seed: u64,
    pub(crate) events: usize,
    /// The steps to do.
    pub(crate) from: u64,
    pub(crate) to: u64,
    /// Tells the files of this writer from those of the one before.
    pub(crate) attempt: u64,
    /// Whether another one writes at the same time.
    pub(crate) is_shared: bool,
}

/// What a writer says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Told {
    Opened,
    /// It is about to do this step.
    Doing(u64),
    /// The store has acknowledged it.
    Done(u64, String),
    /// The store has refused it: the step, the answer and the advice.
    Refused(u64, String),
    /// What was acknowledged could be read all the same.
    Read(usize),
    /// It has come to its end.
    End,
}

const MARK: &str = "writer:";

impl Told {
    fn line(&self) -> String {
        match self {
            Self::Opened => format!("{MARK} opened"),
            Self::Doing(step) => format!("{MARK} doing {step}"),
            Self::Done(step, answer) => format!("{MARK} done {step} {answer}"),
            Self::Refused(step, answer) => format!("{MARK} refused {step} {answer}"),
            Self::Read(count) => format!("{MARK} read {count}"),
            Self::End => format!("{MARK} end"),
        }
    }

    /// A line that was cut off is none.
    fn parse(line: &str) -> Option<Self> {
        let rest = line.strip_suffix('\n')?.strip_prefix(MARK)?.trim_start();
        let (word, rest) = rest.split_once(' ').unwrap_or((rest, ""));
        let (number, text) = rest.split_once(' ').unwrap_or((rest, ""));
        match word {
            "opened" => Some(Self::Opened),
            "doing" => number.parse().ok().map(Self::Doing),
            "done" => number.parse().ok().map(|step| Self::Done(step, text.into())),
            "refused" => number.parse().ok().map(|step| Self::Refused(step, text.into())),
            "read" => number.parse().ok().map(Self::Read),
            "end" => Some(Self::End),
            _ => None,
        }
    }
}

/// A writer at work.
pub(crate) struct Writer {
    child: Child,
    /// Kept open: a writer whose orders end waits for nothing.
    _orders: ChildStdin,
    lines: BufReader<ChildStdout>,
}

impl Writer {
    /// Starts a writer; `shell` is put before it where it is to live under a limit.
    pub(crate) fn start(orders: &Orders, shell: Option<&str>) -> Self {
        let own = std::env::current_exe().expect("a test knows its own program");
        let mut command = match shell {
            None => Command::new(own),
            Some(script) => {
                let mut command = Command::new("sh");
                command
                    .args(["-c", &format!("{script}; exec \"$0\" \"$@\"")])
                    .arg(own);
                command
            }
        };
        command.args(["--exact", "writer::writes_by_order", "--ignored", "--nocapture"]);
        command
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null());
        let mut child = command.spawn().expect("the writer can be started");
        let mut input = child.stdin.take().expect("its input is a pipe");
        let output = child.stdout.take().expect("its output is a pipe");
        let folder = orders
            .folder
            .to_str()
            .expect("temporary folders have plain names");
        let Orders {
            seed,
            events,
            from,
            to,
            attempt,
            ..
        } = orders;
        let is_shared = u64::from(orders.is_shared);
        let line = format!("{seed} {events} {from} {to} {attempt} {is_shared} {folder}\n");
        // A writer that never came to life closes its input; what it does not say is noticed.
        let _ = input.write_all(line.as_bytes());
        Self {
            child,
            _orders: input,
            lines: BufReader::new(output),
        }
    }

    /// The next thing it says; `None` once it is gone.
    pub(crate) fn next(&mut self) -> Option<Told> {
        loop {
            let mut line = String::new();
            let length = self.lines.read_line(&mut line).ok()?;
            if length == 0 {
                return None;
            }
            if let Some(told) = Told::parse(&line) {
                return Some(told);
            }
        }
    }

    /// Ends it without a warning (SIGKILL), and hears what it still had said.
    pub(crate) fn kill(mut self) -> Vec<Told> {
        // It may have come to its end already.
        let _ = self.child.kill();
        self.rest()
    }

    /// Everything it still says until it is gone.
    pub(crate) fn rest(&mut self) -> Vec<Told> {
        let told = std::iter::from_fn(|| self.next()).collect();
        self.child.wait().expect("a child can be waited for");
        told
    }
}

/// The newest backup: names rise with attempts and steps.
pub(crate) fn newest_copy(folder: &Path) -> Option<PathBuf> {
    let entries = std::fs::read_dir(folder.join("copies")).ok()?;
    let paths = entries.filter_map(|entry| entry.ok().map(|entry| entry.path()));
    paths
        .filter(|path| path.extension().is_some_and(|suffix| suffix == "db"))
        .max()
}

pub(crate) fn copy_name(attempt: u64, step: u64) -> String {
    format!("copies/{attempt:03}-{step:05}.db")
}

pub(crate) fn export_name(attempt: u64, step: u64) -> String {
    format!("exports/{attempt:03}-{step:05}")
}

fn say(told: &Told) {
    let mut out = std::io::stdout().lock();
    // Nobody listens any more: the writer has no other purpose.
    if writeln!(out, "{}", told.line())
        .and_then(|()| out.flush())
        .is_err()
    {
        std::process::exit(0);
    }
}

fn read_orders() -> Option<Orders> {
    let mut line = String::new();
    std::io::stdin().lock().read_line(&mut line).ok()?;
    let mut words = line.trim_end().splitn(7, ' ');
    let mut number = || words.next()?.parse::<u64>().ok();
    let (seed, events) = (number()?, number()?);
    let (from, to, attempt) = (number()?, number()?, number()?);
    let is_shared = number()? == 1;
    Some(Orders {
        folder: words.next()?.into(),
        events: events as usize,
        seed,
        from,
        to,
        attempt,
        is_shared,
    })
}

#[test]
#[ignore = "the other half of tests that start it; alone it has no orders"]
fn writes_by_order() {
    if let Some(orders) = read_orders() {
        run(work(&orders));
    }
}

async fn work(orders: &Orders) {
    let home = orders.folder.join("home");
    let mut store = match SqliteStore::open(&home).await {
        Ok(store) => store,
        Err(error) => return say(&refused(orders.from, &error)),
    };
    say(&Told::Opened);
    let script = match orders.is_shared {
        true => Script::shared(orders.seed, orders.events),
        false => Script::new(orders.seed, orders.events),
    };
    for step in orders.from..orders.to {
        let write = script.write(step);
        say(&Told::Doing(step));
        if matches!(write, Write::Restore) {
            match restore(store, orders).await {
                Ok(reopened) => store = reopened,
                Err(error) => return say(&refused(step, &error)),
            }
            say(&Told::Done(step, String::new()));
            continue;
        }
        match do_one(&store, orders, (step, &write)).await {
            Ok(answer) => say(&Told::Done(step, answer)),
            Err(error) => {
                say(&refused(step, &error));
                let kept = store.all_events(0, usize::MAX).await;
                return say(&Told::Read(kept.map_or(usize::MAX, |kept| kept.len())));
            }
        }
    }
    store.close().await;
    say(&Told::End);
}

fn refused(step: u64, error: &StoreError) -> Told {
    Told::Refused(step, format!("{error} {}", error.help()))
}

async fn do_one(
    store: &SqliteStore,
    orders: &Orders,
    (step, write): (u64, &Write),
) -> Result<String, StoreError> {
    let place = |name: String| orders.folder.join(name);
    match write {
        Write::Backup => {
            let file = place(copy_name(orders.attempt, step));
            store.backup(&file).await.map(|()| String::new())
        }
        Write::Export => {
            let folder = place(export_name(orders.attempt, step));
            export(store, &folder).await.map(|_| String::new())
        }
        other => apply(store, other).await,
    }
}

/// Without a backup there is nothing to restore.
async fn restore(store: SqliteStore, orders: &Orders) -> Result<SqliteStore, StoreError> {
    let Some(copy) = newest_copy(&orders.folder) else {
        return Ok(store);
    };
    let home = orders.folder.join("home");
    store.close().await;
    SqliteStore::restore(&home, &copy, "test").await?;
    SqliteStore::open(&home).await
}
