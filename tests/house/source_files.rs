//! Every source file says its one job, is not too long, and leaves nothing undone.

use crate::project::{self, none};

/// The length from which a file wants a second look.
const LONGEST: usize = 600;

/// Files that had the second look: name and reason.
const LONG: [(&str, &str); 0] = [];

#[test]
fn every_file_opens_with_its_one_job() {
    let mut complaints = Vec::new();
    for file in project::rust_files("") {
        let text = project::text(file);
        let first = text.lines().next().unwrap_or("");
        if !first.starts_with("//! ") || first.len() < 12 {
            complaints.push(format!("{file}: the first line does not say its one job"));
        }
    }
    none(complaints);
}

#[test]
fn no_file_is_too_long() {
    let mut complaints = Vec::new();
    for file in project::rust_files("") {
        let lines = project::text(file).lines().count();
        let listed = LONG.iter().any(|(name, _)| *name == file);
        match (lines > LONGEST, listed) {
            (true, false) => complaints.push(format!("{file} has {lines} lines")),
            (false, true) => {
                complaints.push(format!("{file} is short again: take it off the list"))
            }
            (true, true) | (false, false) => {}
        }
    }
    for (name, reason) in LONG {
        assert!(reason.len() > 20, "{name}: no reason");
        assert!(
            project::files().contains(name),
            "{name} is on the list only"
        );
    }
    none(complaints);
}

#[test]
fn nothing_is_left_undone_and_no_test_is_asleep() {
    // Put together here, so that this file does not speak of itself.
    let words = [
        ["to", "do!("].concat(),
        ["unimple", "mented!("].concat(),
        ["db", "g!("].concat(),
        ["#[ig", "nore"].concat(),
    ];
    let mut complaints = Vec::new();
    for file in project::rust_files("") {
        let code = project::code(file);
        for word in &words {
            if code.contains(word) {
                complaints.push(format!("{file}: {word}"));
            }
        }
    }
    none(complaints);
}

#[test]
fn lib_and_mod_files_hold_no_logic() {
    let mut complaints = Vec::new();
    for file in project::rust_files("crates/") {
        if !file.ends_with("/lib.rs") && !file.ends_with("/mod.rs") {
            continue;
        }
        for line in project::code(file).lines() {
            let line = line.trim_start();
            let bare = line
                .trim_start_matches("pub(crate) ")
                .trim_start_matches("pub(super) ")
                .trim_start_matches("pub ")
                .trim_start_matches("const ");
            if bare.starts_with("fn ") || bare.starts_with("impl") {
                complaints.push(format!("{file}: {line}"));
            }
        }
    }
    none(complaints);
}
