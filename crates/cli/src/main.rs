//! The program `valinch`: takes the arguments, runs one command, ends with its exit code.

mod arguments;
mod commands;
mod exit;
mod panel_text;
mod show;
mod talk;

fn main() -> std::process::ExitCode {
    arguments::run().into()
}
