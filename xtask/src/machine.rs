//! The machine as the chores see it: environment, clock, programs. The only place in `xtask` that touches them,
//! so that the bans of the house are lifted in one file.

use std::ffi::OsString;
use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::time::Instant;

/// The folder of the whole workspace.
///
/// Cargo names this crate's folder when it runs us. What was true when we were built comes second: clones that
/// share a build folder share the built program too.
pub fn root() -> PathBuf {
    let own = setting("CARGO_MANIFEST_DIR").map_or_else(|| env!("CARGO_MANIFEST_DIR").into(), PathBuf::from);
    own.parent()
        .expect("this crate lies one folder below the workspace")
        .to_owned()
}

/// An environment variable, when it is set.
pub fn setting(name: &str) -> Option<OsString> {
    #[expect(
        clippy::disallowed_methods,
        reason = "chores are told by their caller's environment; no plan is"
    )]
    std::env::var_os(name)
}

/// A command for the Cargo that started us, working in the workspace and reading nothing from the keyboard.
pub fn cargo(args: &[&str]) -> Command {
    // Cargo names itself to the programs it runs.
    let program = setting("CARGO").unwrap_or_else(|| "cargo".into());
    let mut command = Command::new(program);
    command.args(args).current_dir(root()).stdin(Stdio::null());
    command
}

/// Runs a command with its output shown as it comes.
///
/// # Errors
/// A sentence naming the command, when it could not start or did not succeed.
pub fn run(command: &mut Command) -> Result<(), String> {
    let status = command
        .status()
        .map_err(|fault| format!("{}: {fault}", shown(command)))?;
    if status.success() {
        Ok(())
    } else {
        Err(format!("`{}` failed ({status})", shown(command)))
    }
}

/// What a command writes to its standard output; none when it could not start or did not succeed.
pub fn output(command: &mut Command) -> Option<String> {
    let output = command.stdin(Stdio::null()).output().ok()?;
    output
        .status
        .success()
        .then(|| String::from_utf8_lossy(&output.stdout).into_owned())
}

/// The command as one would type it.
pub fn shown(command: &Command) -> String {
    let program = PathBuf::from(command.get_program());
    let name = program
        .file_name()
        .unwrap_or(command.get_program())
        .to_string_lossy()
        .into_owned();
    command
        .get_args()
        .fold(name, |line, arg| line + " " + &arg.to_string_lossy())
}

/// A clock for reporting how long a chore took.
#[derive(Debug)]
pub struct Watch(Instant);

impl Watch {
    /// Starts the clock.
    pub fn start() -> Watch {
        #[expect(
            clippy::disallowed_methods,
            reason = "chores report how long they took; no plan sees it"
        )]
        Watch(Instant::now())
    }

    /// The time since the start, in microseconds.
    pub fn micros(&self) -> u128 {
        self.0.elapsed().as_micros()
    }

    /// The time since the start, in milliseconds.
    pub fn millis(&self) -> u128 {
        self.0.elapsed().as_millis()
    }
}

/// Milliseconds written as seconds with three decimals.
pub fn seconds(millis: u128) -> String {
    format!("{}.{:03} s", millis / 1000, millis % 1000)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn milliseconds_keep_their_leading_zeros() {
        assert_eq!(seconds(1_007), "1.007 s");
        assert_eq!(seconds(45), "0.045 s");
    }

    #[test]
    fn a_command_is_shown_without_the_folder_of_its_program() {
        let mut command = Command::new("/usr/bin/env");
        command.args(["true", "now"]);
        assert_eq!(shown(&command), "env true now");
    }

    #[test]
    fn a_failing_command_is_named() {
        let fault = run(Command::new("sh").args(["-c", "exit 3"])).expect_err("exit status 3 is a failure");
        assert!(fault.starts_with("`sh -c exit 3` failed"), "{fault}");
    }
}
