//! No reference file lies unused, and each says where it comes from.

use crate::project::{self, none};

const REFERENCE: &str = "tests/published/reference/";

/// The reference files below their folder, the lists of sources left out.
fn reference_files() -> Vec<&'static str> {
    let found: Vec<&str> = project::files()
        .iter()
        .filter_map(|name| name.strip_prefix(REFERENCE))
        .filter(|name| !name.contains("SOURCES"))
        .collect();
    assert!(!found.is_empty(), "there are no reference files");
    found
}

fn file_name(path: &str) -> &str {
    path.rsplit('/').next().unwrap_or(path)
}

#[test]
fn every_reference_file_is_named_by_a_check() {
    let checks: Vec<String> = project::rust_files("tests/published/")
        .into_iter()
        .map(project::code)
        .collect();
    let lists: Vec<String> = reference_files()
        .into_iter()
        .filter(|name| name.contains("/expected/"))
        .map(|name| project::text(&format!("{REFERENCE}{name}")))
        .collect();
    let mut complaints = Vec::new();
    for name in reference_files() {
        let file = file_name(name);
        let stem = format!(
            "\"{}\"",
            file.rsplit_once('.').map_or(file, |(stem, _)| stem)
        );
        let named = checks
            .iter()
            .any(|check| check.contains(file) || check.contains(&stem));
        // A data set is read by the check of the record that names it.
        let through_a_record = name.contains("/data/")
            && lists
                .iter()
                .any(|list| list.contains(&format!("\"data/{file}\"")));
        if !named && !through_a_record {
            complaints.push(format!("no check reads {name}"));
        }
    }
    none(complaints);
}

/// Whether an entry of the list of sources means this file: names, perhaps with a star at the end.
fn covers(listed: &str, file: &str) -> bool {
    listed.split(", ").any(|name| {
        name.strip_suffix('*')
            .map_or(name == file, |start| file.starts_with(start))
    })
}

#[test]
fn every_reference_file_has_its_source() {
    let sources = project::text(&format!("{REFERENCE}SOURCES.md"));
    let sets = project::text(&format!(
        "{REFERENCE}examination-statistics/data/SOURCES.tsv"
    ));
    let mut complaints = Vec::new();
    for name in reference_files() {
        let folder = name.rsplit_once('/').map_or("", |(folder, _)| folder);
        let known = if folder.ends_with("/data") {
            sets.lines()
                .filter_map(|line| line.split('\t').next())
                .any(|listed| covers(listed, file_name(name)))
        } else {
            sources.contains(name) || sources.contains(&format!("{folder}/*"))
        };
        if !known {
            complaints.push(format!("{name} has no source beside it"));
        }
    }
    none(complaints);
}
