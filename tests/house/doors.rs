//! Doors open one way only: the table of DEVELOPERS.md against what cargo knows.

use std::collections::BTreeSet;

use crate::cargo_knows::{DependencyKind, Metadata, Package, metadata};
use crate::picture;
use crate::project::{self, none};

/// All members but those below tests/, which may go everywhere.
fn rooms(metadata: &Metadata) -> impl Iterator<Item = &Package> {
    metadata
        .packages
        .iter()
        .filter(|package| folder_of(package).starts_with("crates/"))
}

/// The rooms to which this one has a door of this kind.
fn doors(package: &Package, kind: DependencyKind) -> BTreeSet<String> {
    package
        .dependencies
        .iter()
        .filter(|d| d.path.is_some() && d.kind == kind)
        .map(|d| d.name.clone())
        .collect()
}

#[test]
fn the_table_and_the_manifests_name_the_same_rooms() {
    let metadata = metadata();
    let built: BTreeSet<String> = rooms(&metadata).map(|p| p.name.to_string()).collect();
    let drawn: BTreeSet<String> = picture::table().into_keys().collect();
    let only_drawn: Vec<_> = drawn.difference(&built).collect();
    let only_built: Vec<_> = built.difference(&drawn).collect();
    assert!(
        only_drawn.is_empty() && only_built.is_empty(),
        "only in the table: {only_drawn:?}; only in crates/: {only_built:?}"
    );
}

#[test]
fn every_door_of_the_manifests_is_in_the_table_and_every_door_of_the_table_is_open() {
    let table = picture::table();
    let mut complaints = Vec::new();
    for package in rooms(&metadata()) {
        let Some(room) = table.get(package.name.as_str()) else {
            continue;
        };
        let open = doors(package, DependencyKind::Normal);
        let name = &package.name;
        for door in open.difference(&room.knows) {
            complaints.push(format!(
                "{name} opens a door to {door} that the table has not"
            ));
        }
        for door in room.knows.difference(&open) {
            complaints.push(format!(
                "{name} knows {door} by the table, but not by its manifest"
            ));
        }
    }
    none(complaints);
}

#[test]
fn unit_tests_open_no_further_door() {
    let mut complaints = Vec::new();
    for package in rooms(&metadata()) {
        let open = doors(package, DependencyKind::Normal);
        for kind in [DependencyKind::Development, DependencyKind::Build] {
            for door in doors(package, kind).difference(&open) {
                complaints.push(format!("{} opens a side door to {door}", package.name));
            }
        }
    }
    none(complaints);
}

#[test]
fn a_manifest_says_of_its_job_what_the_table_says() {
    let table = picture::table();
    let mut complaints = Vec::new();
    for package in rooms(&metadata()) {
        let job = table.get(package.name.as_str()).map(|room| &room.job);
        if job != package.description.as_ref() {
            complaints.push(format!(
                "{}: the table says {job:?}, the manifest {:?}",
                package.name, package.description
            ));
        }
    }
    none(complaints);
}

#[test]
fn what_is_declared_is_used() {
    let metadata = metadata();
    let folders: Vec<String> = metadata.packages.iter().map(folder_of).collect();
    let mut complaints = Vec::new();
    for package in &metadata.packages {
        let folder = folder_of(package);
        // A package that lies below another one is looked at by itself.
        let inner: Vec<&String> = folders
            .iter()
            .filter(|other| **other != folder && other.starts_with(&folder))
            .collect();
        for dependency in &package.dependencies {
            let name = dependency.rename.as_ref().unwrap_or(&dependency.name);
            let word = name.replace('-', "_");
            // What is shipped is looked for where it is shipped from.
            let (below, kind) = match dependency.kind {
                DependencyKind::Normal if folder.starts_with("crates/") => {
                    (format!("{folder}src/"), "dependency")
                }
                DependencyKind::Normal => (folder.clone(), "dependency"),
                DependencyKind::Development | DependencyKind::Build => {
                    (folder.clone(), "dependency of the tests")
                }
            };
            let used = project::rust_files(&below)
                .into_iter()
                .filter(|file| !inner.iter().any(|other| file.starts_with(*other)))
                .any(|file| names_crate(&project::code(file), &word));
            if !used {
                complaints.push(format!(
                    "{}: the {kind} {name} is declared and not used",
                    package.name
                ));
            }
        }
    }
    none(complaints);
}

/// The folder of a member, from the top, with a slash.
fn folder_of(package: &Package) -> String {
    let top = project::path("").canonicalize().unwrap();
    let manifest = package.manifest_path.canonicalize().unwrap();
    let folder = manifest.parent().unwrap().strip_prefix(top).unwrap();
    format!("{}/", folder.to_str().unwrap().replace('\\', "/"))
}

/// Whether code goes into this crate: `word::`, or `use word;`, `use word as`.
fn names_crate(code: &str, word: &str) -> bool {
    code.match_indices(word).any(|(at, _)| {
        let before = code[..at].chars().next_back();
        let after = &code[at + word.len()..];
        let starts = before.is_none_or(|c| !c.is_alphanumeric() && c != '_' && c != ':');
        let leading_colons = code[..at].ends_with("::")
            && !code[..at - 2].ends_with(|c: char| c.is_alphanumeric() || c == '>' || c == '_');
        let used_whole = code[..at].ends_with("use ") && after.starts_with([';', ' ']);
        (starts || leading_colons) && (after.starts_with("::") || used_whole)
    })
}

#[test]
fn a_crate_named_in_code_is_found_and_nothing_else() {
    assert!(names_crate("use serde::Serialize;", "serde"));
    assert!(names_crate("let x = libm::log(2.0);", "libm"));
    assert!(names_crate("::csv::Reader", "csv"));
    assert!(names_crate("use comemo;", "comemo"));
    assert!(!names_crate("use serde_json::Value;", "serde"));
    assert!(!names_crate("use crate::base::x;", "base"));
    assert!(!names_crate("let base = 3;", "base"));
    assert!(!names_crate("database::open()", "base"));
}

fn is_room(name: &str) -> bool {
    project::folders_in("crates/").contains(name)
}

#[test]
fn what_the_workspace_offers_somebody_uses() {
    let metadata = metadata();
    let used: BTreeSet<String> = metadata
        .packages
        .iter()
        .flat_map(|p| &p.dependencies)
        .map(|d| d.rename.as_ref().unwrap_or(&d.name).clone())
        .collect();
    let manifest = project::text("Cargo.toml");
    let unused: Vec<String> = manifest
        .lines()
        .skip_while(|line| *line != "[workspace.dependencies]")
        .skip(1)
        .take_while(|line| !line.starts_with('['))
        .filter_map(|line| line.split_once(" = "))
        .map(|(name, _)| name.to_owned())
        // The rooms themselves are offered to all, whether or not anybody goes there.
        .filter(|name| !name.starts_with('#') && !used.contains(name) && !is_room(name))
        .map(|name| format!("the workspace offers {name}, and no member takes it"))
        .collect();
    none(unused);
}
