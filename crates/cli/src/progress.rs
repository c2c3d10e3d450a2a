//! A sign of life on stderr while something takes longer than a second.

use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::Duration;

/// Does the work; from the second second on says every second that it is still going on.
pub(crate) fn while_working<T>(what: &str, work: impl FnOnce() -> T) -> T {
    thread::scope(|scope| {
        let (done, wait) = channel::<()>();
        scope.spawn(move || {
            let mut seconds = 0;
            while wait.recv_timeout(Duration::from_secs(1)) == Err(RecvTimeoutError::Timeout) {
                seconds += 1;
                eprintln!("{what}, {seconds} s");
            }
        });
        let result = work();
        drop(done);
        result
    })
}
