//! `open`: serves the pages of a saved week to this machine, or to the home network when asked to.

use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::sync::Arc;

use clap::Args;
use jiff::civil::DateTime;
use jiff::tz::TimeZone;
use larderwright_web::{Opening, open};

use crate::failure::Failure;
use crate::memory::MemoryArgs;

/// What to open, and for whom.
#[derive(Debug, Args)]
pub(crate) struct OpenArgs {
    /// Which household.
    #[command(flatten)]
    memory: MemoryArgs,
    /// Address and port.
    #[arg(long, value_name = "ADDR", default_value = "127.0.0.1:8787")]
    listen: SocketAddr,
    /// Lets other devices of the home network in: listens on every address of this machine. There is no password.
    #[arg(long)]
    lan: bool,
}

impl OpenArgs {
    /// Where to listen.
    fn address(&self) -> SocketAddr {
        if self.lan && self.listen.ip().is_loopback() {
            SocketAddr::new(IpAddr::V4(Ipv4Addr::UNSPECIFIED), self.listen.port())
        } else {
            self.listen
        }
    }
}

/// Serves until somebody stops it.
pub(crate) fn run(args: &OpenArgs) -> Result<String, Failure> {
    let listen = args.address();
    if !listen.ip().is_loopback() && !args.lan {
        return Err(Failure::usage(
            format!("`{listen}` can be reached by other devices"),
            "Add `--lan` if that is meant; there is no password, so only at home.",
        ));
    }
    let opening = Opening {
        folder: args.memory.folder()?,
        listen,
        clock: Arc::new(wall),
        started: started(),
        ready: Box::new(move |address| told(address, listen)),
    };
    open(opening).map_err(|error| Failure::fault(&error))?;
    Ok(String::new())
}

/// Says where the pages are.
fn told(address: SocketAddr, asked: SocketAddr) {
    let shown = if asked.ip().is_unspecified() {
        SocketAddr::new(IpAddr::V4(Ipv4Addr::LOCALHOST), address.port())
    } else {
        address
    };
    eprintln!("Larderwright is open at http://{shown}/ (Ctrl-C ends it)");
    if asked.ip().is_unspecified() {
        eprintln!(
            "Other devices at home: this machine's address, port {}",
            address.port()
        );
    }
}

/// The local time in a zone, to the second; `None` when there is no such zone.
fn wall(zone: &str) -> Option<DateTime> {
    let zone = TimeZone::get(zone).ok()?;
    #[expect(
        clippy::disallowed_methods,
        reason = "the composition root reads the clock and hands the time on"
    )]
    let now = jiff::Timestamp::now();
    let local = zone.to_datetime(now);
    Some(local.date().at(local.hour(), local.minute(), local.second(), 0))
}

/// What tells this start of the program from all others.
fn started() -> String {
    #[expect(
        clippy::disallowed_methods,
        reason = "the composition root reads the clock and hands the time on"
    )]
    let now = jiff::Timestamp::now();
    format!("{:x}", now.as_millisecond())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(listen: &str, lan: bool) -> String {
        let args = OpenArgs {
            memory: MemoryArgs {
                data: Some("nowhere".into()),
                clock: None,
            },
            listen: listen.parse().expect("an address"),
            lan,
        };
        args.address().to_string()
    }

    #[test]
    fn only_this_machine_is_let_in_unless_asked() {
        assert_eq!(check("127.0.0.1:8787", false), "127.0.0.1:8787");
        assert_eq!(check("127.0.0.1:8787", true), "0.0.0.0:8787");
        assert_eq!(check("192.168.1.5:80", true), "192.168.1.5:80");
    }

    #[test]
    fn an_address_for_others_has_to_be_meant() {
        let args = OpenArgs {
            memory: MemoryArgs {
                data: Some("nowhere".into()),
                clock: None,
            },
            listen: "0.0.0.0:0".parse().expect("an address"),
            lan: false,
        };
        assert_eq!(run(&args).expect_err("refused").exit_code(), 2.into());
    }

    #[test]
    fn the_clock_knows_zones_and_nothing_else() {
        assert!(wall("America/Chicago").is_some());
        assert_eq!(wall("Atlantis/Centre"), None);
    }
}
