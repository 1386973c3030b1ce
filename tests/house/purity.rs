//! Pure rooms open no files and read no clock: each carries the clippy.toml that forbids it.

use std::collections::BTreeSet;

use crate::project::{self, none};

/// Rooms that take values and give values.
const PURE: [&str; 10] = [
    "base",
    "alcoholometry",
    "statistics",
    "question-bank",
    "exam-plan",
    "assembler",
    "grader",
    "results",
    "sheet-layout",
    "renderer",
];

/// Rooms at the edge, which touch the world.
const EDGE: [&str; 3] = ["register", "workflow", "cli"];

/// What no pure room may name: the types as well as the functions, since a ban on reading a text
/// lets an opened file through.
const BANNED: [&str; 8] = [
    "std::fs::File",
    "std::fs::OpenOptions",
    "std::time::SystemTime",
    "std::time::Instant",
    "std::fs::read",
    "std::fs::read_to_string",
    "std::fs::write",
    "std::env::var",
];

#[test]
fn every_room_is_either_pure_or_at_the_edge() {
    let listed: BTreeSet<String> = PURE.iter().chain(&EDGE).map(|&n| n.to_owned()).collect();
    assert_eq!(listed, project::folders_in("crates/"));
}

#[test]
fn pure_rooms_carry_the_ban() {
    let mut complaints = Vec::new();
    for room in PURE {
        let name = format!("crates/{room}/clippy.toml");
        if !project::files().contains(&name) {
            complaints.push(format!("{name} is missing"));
            continue;
        }
        let text = project::text(&name);
        for banned in BANNED {
            if !text.contains(&format!("path = \"{banned}\"")) {
                complaints.push(format!("{name} does not ban {banned}"));
            }
        }
    }
    none(complaints);
}

#[test]
fn the_bans_are_errors_where_the_test_command_looks() {
    let manifest = project::text("Cargo.toml");
    for lint in [
        "disallowed_methods",
        "disallowed_types",
        "iter_over_hash_type",
        "print_stdout",
        "print_stderr",
    ] {
        assert!(
            manifest.contains(&format!("{lint} = \"warn\"")),
            "{lint} is not set in the workspace"
        );
    }
    let run = project::text("tests/run");
    assert!(
        run.lines()
            .any(|line| line.contains("cargo clippy") && line.contains("-D warnings")),
        "a plain build checks no ban: tests/run must run clippy with warnings as errors"
    );
}
