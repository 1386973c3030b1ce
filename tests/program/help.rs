//! The help: every command has one, with an example; exit codes are listed.

use tests::Room;

const COMMANDS: &[&str] = &[
    "analyse",
    "assemble",
    "bank",
    "check",
    "completions",
    "cut",
    "dilute",
    "equate",
    "mark",
    "moderate",
    "panel",
    "pour",
    "practise",
    "print",
    "rehearse",
    "results",
    "seal",
    "verify",
];

#[test]
fn every_command_shows_an_example() {
    let room = Room::empty();
    for command in COMMANDS {
        room.run(&[command, "--help"])
            .exits(0)
            .gives("Example:")
            .gives(&format!("valinch {command}"));
    }
}

#[test]
fn the_help_lists_all_commands_and_exit_codes() {
    let outcome = Room::empty().run(&["--help"]).exits(0).gives("Exit codes:");
    let mut listed: Vec<&str> = outcome
        .out
        .lines()
        .skip_while(|line| !line.starts_with("Commands:"))
        .skip(1)
        .take_while(|line| !line.is_empty())
        // A longer description goes on in a line of its own, further in.
        .filter_map(|line| {
            line.strip_prefix("  ")
                .filter(|rest| !rest.starts_with(' '))
        })
        .filter_map(|line| line.split_whitespace().next())
        .collect();
    // The list above is in the order of letters; the help is in the order of an exam.
    listed.pop();
    listed.sort_unstable();
    assert_eq!(listed, COMMANDS);
}

#[test]
fn completions_know_every_command() {
    let room = Room::empty();
    for shell in ["bash", "zsh", "fish"] {
        let script = room.run(&["completions", shell]).exits(0).out;
        for command in COMMANDS {
            assert!(script.contains(command), "{shell}: {command}");
        }
    }
    room.run(&["completions", "bosh"]).exits(2).says("bash");
}

#[test]
fn wrong_arguments_have_their_own_code() {
    let room = Room::empty();
    room.run(&["chek"]).exits(2).says("check");
    room.run(&["assemble", "x", "--seed", "12"])
        .exits(2)
        .says("64 hexadecimal digits");
    room.run(&["rehearse", "x", "--theory-mean", "many"])
        .exits(2)
        .says("a number from -6 to 6");
    room.run(&[]).exits(2);
}
