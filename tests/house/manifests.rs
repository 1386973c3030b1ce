//! Versions, lints and profiles are set once, in the workspace's manifest.

use crate::project::{self, none};

/// What each member takes from the workspace.
const SHARED: [&str; 5] = ["version", "edition", "rust-version", "license", "publish"];

/// The manifests of all members.
fn manifests() -> Vec<String> {
    let found: Vec<String> = project::files()
        .iter()
        // The fuzz targets are a workspace of their own.
        .filter(|name| name.ends_with("/Cargo.toml") && !name.starts_with("tests/fuzz/"))
        .cloned()
        .collect();
    assert!(found.len() > 2, "the manifests were not found");
    found
}

/// The lines of a manifest with the section each stands in, comments and empty lines left out.
fn lines_with_section(text: &str) -> Vec<(String, String)> {
    let mut section = String::new();
    let mut found = Vec::new();
    for line in text.lines().map(str::trim) {
        if line.starts_with('[') {
            section = line.to_owned();
        } else if !line.is_empty() && !line.starts_with('#') {
            found.push((section.clone(), line.to_owned()));
        }
    }
    found
}

#[test]
fn members_take_everything_from_the_workspace() {
    let mut complaints = Vec::new();
    for manifest in manifests() {
        let text = project::text(&manifest);
        let lines = lines_with_section(&text);
        let has = |section: &str, wanted: &str| {
            lines.iter().any(|(s, line)| s == section && line == wanted)
        };
        for field in SHARED {
            if !has("[package]", &format!("{field}.workspace = true")) {
                complaints.push(format!("{manifest}: {field} is not the workspace's"));
            }
        }
        if !has("[lints]", "workspace = true") {
            complaints.push(format!("{manifest}: the lints are not the workspace's"));
        }
        for (section, line) in &lines {
            if section.ends_with("dependencies]") && !line.contains("workspace = true") {
                complaints.push(format!("{manifest}: a version of its own: {line}"));
            }
        }
        for line in text.lines() {
            let own = [
                "[profile",
                "[lints.",
                "[patch",
                "[features",
                "[dependencies.",
                "[target.",
            ]
            .iter()
            .any(|start| line.starts_with(start));
            if own {
                complaints.push(format!("{manifest}: {line} belongs into the workspace"));
            }
        }
    }
    none(complaints);
}

#[test]
fn the_workspace_sets_lints_profiles_and_one_edition() {
    let text = project::text("Cargo.toml");
    for wanted in [
        "[workspace.lints.rust]",
        "[workspace.lints.clippy]",
        "unsafe_code = \"forbid\"",
        "[profile.release]",
        "edition = \"2024\"",
    ] {
        assert!(
            text.lines().any(|line| line == wanted),
            "the workspace's manifest has no line {wanted}"
        );
    }
    // The reason stands beside the name that is not what it was.
    let at = text.find("package = \"serde-saphyr\"").unwrap();
    assert!(text[..at].contains("no longer maintained"));
}
