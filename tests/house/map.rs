//! The map of folders in DEVELOPERS.md and the folders as they are.

use std::collections::BTreeSet;

use crate::project::{self, none};

/// What lies at the top, and nothing else but dotfiles.
const TOP: [&str; 11] = [
    "CHANGELOG.md",
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "README.md",
    "crates",
    "examples",
    "licences",
    "question-banks",
    "templates",
    "tests",
];

/// The folders that the map names: in its block, each line begins with one.
fn folders_on_the_map() -> BTreeSet<String> {
    let text = project::text("DEVELOPERS.md");
    let found: BTreeSet<String> = text
        .lines()
        .skip_while(|line| *line != "## Folder map")
        .skip_while(|line| !line.starts_with("```"))
        .skip(1)
        .take_while(|line| !line.starts_with("```"))
        .filter_map(|line| line.split_whitespace().next()?.strip_suffix('/'))
        .map(str::to_owned)
        .collect();
    assert!(
        !found.is_empty(),
        "DEVELOPERS.md has no block below \"## Folder map\""
    );
    found
}

#[test]
fn the_top_holds_what_it_may_and_nothing_else() {
    let top: BTreeSet<&str> = project::files()
        .iter()
        .map(|name| name.split_once('/').map_or(name.as_str(), |(top, _)| top))
        .filter(|name| !name.starts_with('.'))
        .collect();
    assert_eq!(top, BTreeSet::from(TOP));
    assert!(project::files().contains(".ci/run"));
}

#[test]
fn every_folder_on_the_map_is_there() {
    let gone: Vec<String> = folders_on_the_map()
        .into_iter()
        .filter(|folder| {
            let below = format!("{folder}/");
            !project::files().iter().any(|name| name.starts_with(&below))
        })
        .map(|folder| format!("{folder} is on the map only"))
        .collect();
    none(gone);
}

#[test]
fn every_room_and_every_folder_of_tests_is_on_the_map() {
    let map = folders_on_the_map();
    let mut complaints = Vec::new();
    for above in ["", "crates/", "tests/"] {
        for name in project::folders_in(above) {
            let folder = format!("{above}{name}");
            if !folder.starts_with('.') && !map.contains(&folder) {
                complaints.push(format!("{folder} is not on the map"));
            }
        }
    }
    none(complaints);
}
