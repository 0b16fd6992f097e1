//! The one place where outcomes become exit codes and errors become text.

use std::process::ExitCode;

use crate::diagnostics::wrapped;

/// How a command ended.
pub(crate) enum Outcome {
    /// Fine.
    Fine,
    /// The plan is impossible, or a verdict is broken.
    Broken,
}

/// Why a command could not be carried out: the whole message, ready to print.
pub(crate) struct BadInput(pub(crate) String);

impl BadInput {
    /// A message in the four parts every message has.
    pub(crate) fn new(found: &str, expected: &str, do_now: &str) -> Self {
        Self(
            [
                ("  × ", found),
                ("    expected: ", expected),
                ("    do now:   ", do_now),
            ]
            .map(|(lead, text)| wrapped(lead, text))
            .concat(),
        )
    }
}

/// Prints text. A reader that went away (`saltern … | head`) is no error of ours; a full disk is.
pub(crate) fn say(text: &str) {
    use std::io::{ErrorKind, Write};
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            eprint!(
                "{}",
                BadInput::new(
                    &format!("the output cannot be written: {error}"),
                    "room to write to",
                    "free some room and run it again"
                )
                .0
            );
            std::process::exit(2);
        }
        _ => {}
    }
}

/// Prints an error once and gives the exit code: 0 fine, 1 impossible or broken, 2 bad input.
pub(crate) fn report(outcome: Result<Outcome, BadInput>) -> ExitCode {
    match outcome {
        Ok(Outcome::Fine) => ExitCode::SUCCESS,
        Ok(Outcome::Broken) => ExitCode::from(1),
        Err(BadInput(message)) => {
            eprint!("{message}");
            ExitCode::from(2)
        }
    }
}
