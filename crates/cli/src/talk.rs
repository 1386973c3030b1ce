//! The two doors out: data to standard output, talk to standard error.

use std::io::{IsTerminal, Write};

/// Where a command speaks. A closed pipe is no fault: whoever listened has heard enough.
#[derive(Debug)]
pub(crate) struct Talk {
    colour: bool,
}

impl Talk {
    /// Colour only where standard error is a terminal and nobody asked for none (`NO_COLOR`).
    pub(crate) fn new() -> Self {
        let wanted = std::env::var_os("NO_COLOR").is_none();
        Self {
            colour: wanted && std::io::stderr().is_terminal(),
        }
    }
    /// Whether talk may be coloured.
    pub(crate) fn colour(&self) -> bool {
        self.colour
    }
    /// The width of the terminal in characters; 100 where there is none.
    pub(crate) fn width(&self) -> usize {
        std::env::var("COLUMNS")
            .ok()
            .and_then(|w| w.parse().ok())
            .filter(|w| *w >= 40)
            .unwrap_or(100)
    }
    /// A piece of the result.
    pub(crate) fn data(&self, text: &str) {
        put(&mut std::io::stdout().lock(), text);
    }
    /// A word to the person.
    pub(crate) fn say(&self, text: &str) {
        put(&mut std::io::stderr().lock(), text);
    }
    /// Asks a question and takes a line; none at the end of the input.
    pub(crate) fn ask(&self, prompt: &str) -> Option<String> {
        let mut out = std::io::stdout().lock();
        // A prompt that cannot be shown is seen at the next line.
        let _ = write!(out, "{prompt}");
        let _ = out.flush();
        drop(out);
        let mut line = String::new();
        match std::io::stdin().read_line(&mut line) {
            Ok(0) | Err(_) => None,
            Ok(_) => Some(line.trim().to_owned()),
        }
    }
}

fn put(out: &mut dyn Write, text: &str) {
    // See the type's comment: a closed pipe is no fault.
    let _ = writeln!(out, "{}", text.trim_end_matches('\n'));
}
