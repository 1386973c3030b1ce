//! The project as files: which there are, and what stands in them.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

/// The path of a file or folder, named from the top of the project.
pub fn path(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .unwrap()
        .join(name)
}

/// The text of a file.
pub fn text(name: &str) -> String {
    std::fs::read_to_string(path(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// Every file that belongs to the project or is about to: tracked, or new and not ignored. Named
/// from the top of the project, with slashes.
pub fn files() -> &'static BTreeSet<String> {
    static FILES: OnceLock<BTreeSet<String>> = OnceLock::new();
    FILES.get_or_init(|| {
        let found = from_git().unwrap_or_else(from_disk);
        assert!(found.contains("Cargo.toml"), "the project was not found");
        found
    })
}

fn from_git() -> Option<BTreeSet<String>> {
    let output = Command::new("git")
        .args([
            "ls-files",
            "-z",
            "--cached",
            "--others",
            "--exclude-standard",
        ])
        .current_dir(path(""))
        .output()
        .ok()
        .filter(|output| output.status.success())?;
    let names = String::from_utf8(output.stdout).ok()?;
    let found: BTreeSet<String> = names
        .split('\0')
        // A file that is tracked and was taken away is no file of the project any more.
        .filter(|name| !name.is_empty() && path(name).is_file())
        .map(str::to_owned)
        .collect();
    found.contains("Cargo.toml").then_some(found)
}

/// Without git, as in an unpacked archive: all files but those of builds and runs.
fn from_disk() -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let mut folders = vec![String::new()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(path(&folder)).unwrap() {
            let entry = entry.unwrap();
            let name = entry.file_name().into_string().unwrap();
            let full = format!("{folder}{name}");
            if name == ".git" || name.starts_with("target") || is_output(&full) {
                continue;
            }
            if entry.path().is_dir() {
                folders.push(format!("{full}/"));
            } else {
                found.insert(full);
            }
        }
    }
    found
}

/// What a run leaves in an example's folder.
fn is_output(name: &str) -> bool {
    name.strip_prefix("examples/")
        .and_then(|rest| rest.split_once('/'))
        .is_some_and(|(_, rest)| {
            ["rehearsal", "papers", "results", "pages"].contains(&rest)
                || rest.starts_with("sitting.register")
        })
}

/// The Rust files of a folder and below.
pub fn rust_files(folder: &str) -> Vec<&'static str> {
    files()
        .iter()
        .map(String::as_str)
        .filter(|name| name.starts_with(folder) && name.ends_with(".rs"))
        .collect()
}

/// A Rust text without its comment lines.
pub fn code(name: &str) -> String {
    text(name)
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .collect::<Vec<_>>()
        .join("\n")
}

/// The names of the folders right below a folder, as far as a file lies in them.
pub fn folders_in(folder: &str) -> BTreeSet<String> {
    files()
        .iter()
        .filter_map(|name| name.strip_prefix(folder)?.split_once('/'))
        .map(|(first, _)| first.to_owned())
        .collect()
}

/// Fails with all complaints at once.
#[track_caller]
pub fn none(complaints: Vec<String>) {
    assert!(complaints.is_empty(), "\n{}\n", complaints.join("\n"));
}
