//! `open`: serves the pages of a household’s memory to this machine, or to the home network when asked to.

use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::sync::Arc;

use clap::Args;
use jiff::civil::DateTime;
use larderwright_app::home::Home;
use larderwright_app::{Options, Threads};
use larderwright_model::DeviceId;
use larderwright_web::{Clock, Opening, open};

use crate::clock::{now_of, timestamp, zone};
use crate::failure::Failure;
use crate::memory::{Memory, MemoryArgs};

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
    let memory = Memory::make(&args.memory.folder()?, None)?;
    let device = DeviceId::new(&started());
    memory.wait_for_pages(async {
        let home = Home::open(memory.home.store().clone(), &device)
            .await
            .map_err(Failure::from)?;
        let opening = Opening {
            home,
            listen,
            clock: clock_of(args.memory.clock),
            search: (Options::default(), Threads::Two),
            started: started(),
            ready: Box::new(move |address| told(address, listen)),
        };
        open(opening).await.map_err(|error| Failure::fault(&error))
    })?;
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

/// What time it is in the kitchens of a zone: real, or from a rehearsed time on.
fn clock_of(rehearsed: Option<DateTime>) -> Clock {
    let opened = timestamp();
    Arc::new(move |name| {
        let zone = zone(name).ok()?;
        let now = timestamp();
        let instant = match rehearsed {
            None => now,
            Some(local) => zone.to_timestamp(local).ok()?.checked_add(now - opened).ok()?,
        };
        Some(now_of(&zone, instant))
    })
}

/// What tells this start of the program from all others.
fn started() -> String {
    format!("{:x}", timestamp().as_millisecond())
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
    fn a_rehearsed_clock_begins_where_it_was_set_and_goes_on() {
        let set = jiff::civil::date(2026, 12, 3).at(17, 45, 0, 0);
        let now = clock_of(Some(set))("Europe/Vienna").expect("the zone is known");
        assert!(now.moment.at >= set && now.minute().date() == set.date());
        assert_eq!(now.moment.offset_s, 3600);
    }

    #[test]
    fn the_clock_knows_zones_and_nothing_else() {
        let clock = clock_of(None);
        assert!(clock("America/Chicago").is_some());
        assert_eq!(clock("Atlantis/Centre"), None);
    }
}
