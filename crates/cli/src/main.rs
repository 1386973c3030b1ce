//! The program `valinch`: takes the arguments, runs one command, ends with its exit code.

mod arguments;
mod bank_picture;
mod commands;
mod exit;
mod show;
mod talk;

fn main() -> std::process::ExitCode {
    arguments::run().into()
}
