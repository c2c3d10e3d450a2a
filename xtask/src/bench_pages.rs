//! How fast the pages are: started as a cook starts them, on the demonstration week and on the same house with a past of
//! a hundred thousand events. It measures and prints, with the goals beside; it judges nothing.

use std::collections::BTreeSet;
use std::fs;
use std::io::{BufRead, BufReader, Read};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStderr, Command, Stdio};

use crate::bench::built;
use crate::machine::{Watch, cargo, run};

const PAGES: [&str; 13] = [
    "/week",
    "/shopping",
    "/sessions/2026-11-29",
    "/larder",
    "/sittings/2026-11-30-dinner",
    "/sheets/production",
    "/sheets/prep",
    "/recipes",
    "/foods",
    "/household",
    "/review",
    "/plans",
    "/sources",
];
/// How often each page is asked: enough for the slowest hundredth.
const ASKED: usize = 300;
/// How often the program is started.
const STARTS: usize = 7;
/// When the pages are looked at: in the middle of the first session.
const CLOCK: &str = "2026-11-29T13:00";

/// A program that serves pages; it ends with its owner.
struct Served {
    child: Child,
    /// Kept open, so that the program can go on writing.
    _errors: BufReader<ChildStderr>,
    address: String,
    started: u128,
}

impl Drop for Served {
    fn drop(&mut self) {
        // It may have ended already.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Builds the program, fills two houses, asks for every page.
///
/// # Errors
/// A sentence naming the step that failed.
pub fn run_all() -> Result<(), String> {
    let (binary, folder) = built("bench-pages")?;
    let (demo, past) = (folder.join("demo"), folder.join("past"));
    for house in [&demo, &past] {
        let mut plan = Command::new(&binary);
        plan.args(["demo", "--out"]).arg(house);
        run(plan.stdout(Stdio::null()).stderr(Stdio::null()))?;
    }
    let mut fill = cargo(&[
        "run",
        "--locked",
        "--quiet",
        "--package",
        "larderwright-store-sqlite",
        "--example",
        "hundred_thousand",
        "--",
    ]);
    run(fill.arg(&past))?;
    house("the demonstration week", (&binary, &demo), 10)?;
    house("the same after 100,000 events", (&binary, &past), 25)?;
    fs::remove_dir_all(&folder).map_err(|fault| format!("{}: {fault}", folder.display()))
}

fn house(name: &str, (binary, folder): (&Path, &Path), goal_ms: u128) -> Result<(), String> {
    println!("\n{name}");
    let mut starts = Vec::new();
    for _ in 0..STARTS {
        starts.push(serve(binary, folder)?.started);
    }
    starts.sort_unstable();
    println!(
        "  start to first page      {:>7} ms  (goal: under 150)",
        starts[STARTS / 2] / 1000
    );
    let served = serve(binary, folder)?;
    let agent = agent();
    for page in PAGES {
        let mut taken = Vec::with_capacity(ASKED);
        for _ in 0..ASKED {
            let watch = Watch::start();
            ask(&agent, &served.address, page)?;
            taken.push(watch.micros());
        }
        taken.sort_unstable();
        println!(
            "  {page:<28} median {:>7}  p99 {:>7}  (goal: under {goal_ms} ms)",
            millis(taken[ASKED / 2]),
            millis(taken[ASKED * 99 / 100]),
        );
    }
    weigh(&agent, &served.address)?;
    println!(
        "  memory at its most       {:>7} MB  (goal: under 80)",
        memory_kb(served.child.id()) / 1024
    );
    Ok(())
}

fn millis(micros: u128) -> String {
    format!("{}.{:02}", micros / 1000, micros % 1000 / 10)
}

/// Starts the program and waits for its first page.
fn serve(binary: &Path, folder: &Path) -> Result<Served, String> {
    let watch = Watch::start();
    let mut command = Command::new(binary);
    command
        .args(["open", "--listen", "127.0.0.1:0", "--clock", CLOCK, "--data"])
        .arg(folder);
    let mut child = command
        .stderr(Stdio::piped())
        .spawn()
        .map_err(|fault| format!("{}: {fault}", binary.display()))?;
    let mut errors = BufReader::new(child.stderr.take().expect("it is piped"));
    let mut line = String::new();
    let mut said = String::new();
    while !line.contains("http://") {
        line.clear();
        if errors.read_line(&mut line).map_err(|fault| fault.to_string())? == 0 {
            return Err(format!("`larderwright open` ended: {said}"));
        }
        said.push_str(&line);
    }
    let from = line.find("http://").expect("it was seen");
    let address = line[from..].split('/').take(3).collect::<Vec<_>>().join("/");
    ask(&agent(), &address, "/week")?;
    Ok(Served {
        child,
        _errors: errors,
        address,
        started: watch.micros(),
    })
}

fn agent() -> ureq::Agent {
    ureq::Agent::new_with_defaults()
}

/// A page as it comes over the wire, packed.
fn ask(agent: &ureq::Agent, address: &str, path: &str) -> Result<Vec<u8>, String> {
    let fault = |fault: &dyn std::fmt::Display| format!("{path}: {fault}");
    let request = agent
        .get(format!("{address}{path}"))
        .header("accept-encoding", "br, gzip");
    let mut answer = request.call().map_err(|error| fault(&error))?;
    let mut bytes = Vec::new();
    answer
        .body_mut()
        .as_reader()
        .read_to_end(&mut bytes)
        .map_err(|error| fault(&error))?;
    Ok(bytes)
}

/// What the first page weighs with everything that it asks for.
fn weigh(agent: &ureq::Agent, address: &str) -> Result<(), String> {
    let plain = agent
        .get(format!("{address}/week"))
        .header("accept-encoding", "identity");
    let mut answer = plain.call().map_err(|error| error.to_string())?;
    let page = answer
        .body_mut()
        .read_to_string()
        .map_err(|error| error.to_string())?;
    let mut whole = ask(agent, address, "/week")?.len();
    let (mut scripts, mut fonts) = (0, 0);
    for asset in assets(&page) {
        let bytes = ask(agent, address, &asset)?.len();
        let kind = PathBuf::from(asset.split('?').next().unwrap_or_default());
        match kind.extension().and_then(|kind| kind.to_str()) {
            Some("woff2") => fonts += bytes,
            Some("js") => {
                scripts += bytes;
                whole += bytes;
            }
            _ => whole += bytes,
        }
    }
    println!(
        "  first page, packed       {whole:>7} bytes (goal: under 60,000; fonts apart: {fonts}, kept by the browser)"
    );
    println!("  of it script             {scripts:>7} bytes (goal: at most 25,000)");
    Ok(())
}

/// Styles, scripts, fonts and pictures that a page names.
fn assets(page: &str) -> BTreeSet<String> {
    let named = |attribute: &str| -> Vec<String> {
        let parts = page.split(attribute).skip(1);
        parts
            .filter_map(|rest| rest.split('"').next())
            .map(str::to_owned)
            .collect()
    };
    let all = [named("href=\""), named("src=\"")].concat();
    let is_asset = |link: &String| {
        [".css", ".js", ".woff2", ".svg", ".png", ".webmanifest"]
            .iter()
            .any(|kind| link.contains(kind))
    };
    all.into_iter().filter(is_asset).collect()
}

/// The most memory that a program has held, where the system tells; else zero.
fn memory_kb(process: u32) -> u64 {
    let status = fs::read_to_string(format!("/proc/{process}/status")).unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmHWM"));
    line.and_then(|line| line.split_whitespace().nth(1)?.parse().ok())
        .unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_page_names_is_found_once() {
        let page = "<link href=\"/a/base.css\"><script src=\"/a/live.js\"></script><a href=\"/week\"><link href=\"/a/base.css\">";
        let found: Vec<String> = assets(page).into_iter().collect();
        assert_eq!(found, ["/a/base.css", "/a/live.js"]);
    }
}
