//! `valinch completions`.

use clap::Args;
use clap_complete::Shell;

use crate::exit::Exit;

/// Write the completions for a shell to standard output
///
/// Once they are where the shell looks for them, the tab key completes commands and options.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch completions bash > ~/.local/share/bash-completion/completions/valinch"
)]
pub(crate) struct CompletionsArguments {
    /// The shell
    shell: Shell,
}

pub(crate) fn run(given: &CompletionsArguments, mut program: clap::Command) -> Exit {
    let mut script = Vec::new();
    clap_complete::generate(given.shell, &mut program, "valinch", &mut script);
    // A closed pipe is no fault: whoever listened has heard enough.
    let _ = std::io::Write::write_all(&mut std::io::stdout().lock(), &script);
    Exit::Done
}
