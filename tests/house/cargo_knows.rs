//! What `cargo metadata` says of the members, read from its JSON.
//!
//! A library for this would turn on a feature of serde_json for the whole workspace and have the
//! page setter built twice: once for the tests and once for the README's command.

use std::path::PathBuf;
use std::process::Command;

use serde_json::Value;

use crate::project;

/// All members.
pub struct Metadata {
    pub packages: Vec<Package>,
}

/// One member.
pub struct Package {
    pub name: String,
    pub description: Option<String>,
    pub manifest_path: PathBuf,
    pub dependencies: Vec<Dependency>,
}

/// What a member declares to need.
pub struct Dependency {
    pub name: String,
    pub rename: Option<String>,
    pub kind: DependencyKind,
    /// Whether it is a member itself.
    pub path: Option<String>,
}

/// For what it is needed.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum DependencyKind {
    Normal,
    Development,
    Build,
}

/// Asks cargo; nothing is resolved, so no network is asked.
pub fn metadata() -> Metadata {
    let output = Command::new(env!("CARGO"))
        .args([
            "metadata",
            "--format-version",
            "1",
            "--no-deps",
            "--offline",
            "--manifest-path",
        ])
        .arg(project::path("Cargo.toml"))
        .output()
        .unwrap();
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    let told: Value = serde_json::from_slice(&output.stdout).unwrap();
    let packages: Vec<Package> = told["packages"]
        .as_array()
        .unwrap()
        .iter()
        .map(package)
        .collect();
    assert!(packages.len() > 10, "cargo names hardly any member");
    Metadata { packages }
}

fn words(value: &Value) -> Option<String> {
    value.as_str().map(str::to_owned)
}

fn package(told: &Value) -> Package {
    Package {
        name: words(&told["name"]).unwrap(),
        description: words(&told["description"]),
        manifest_path: PathBuf::from(words(&told["manifest_path"]).unwrap()),
        dependencies: told["dependencies"]
            .as_array()
            .unwrap()
            .iter()
            .map(dependency)
            .collect(),
    }
}

fn dependency(told: &Value) -> Dependency {
    Dependency {
        name: words(&told["name"]).unwrap(),
        rename: words(&told["rename"]),
        kind: match told["kind"].as_str() {
            None => DependencyKind::Normal,
            Some("dev") => DependencyKind::Development,
            Some("build") => DependencyKind::Build,
            Some(other) => panic!("cargo tells of a new kind of dependency: {other}"),
        },
        path: words(&told["path"]),
    }
}
