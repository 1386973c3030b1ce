//! Each estimator stands in DEVELOPERS.md with the commands that reach it, and they do.

use std::collections::{BTreeMap, BTreeSet};

use crate::project::{self, none};

const STATISTICS: &str = "crates/statistics/src/";
/// What is said of an estimator that no command shows.
const LIBRARY: &str = "library";

/// The public estimators: group and file, without what only others are built from.
fn estimators() -> BTreeSet<String> {
    project::rust_files(STATISTICS)
        .into_iter()
        .filter_map(|name| name.strip_prefix(STATISTICS))
        .filter(|name| name.contains('/') && !name.ends_with("mod.rs"))
        .filter_map(|name| name.strip_suffix(".rs"))
        .filter(|name| {
            let (group, module) = name.rsplit_once('/').unwrap_or(("", name));
            let list = project::text(&format!("{STATISTICS}{group}/mod.rs"));
            list.contains(&format!("\npub mod {module};"))
        })
        .map(str::to_owned)
        .collect()
}

/// The rows of the table: estimator and commands.
fn rows() -> BTreeMap<String, String> {
    let text = project::text("DEVELOPERS.md");
    let begin = text.find("### Which command reaches which figure").unwrap();
    let rest = &text[begin..];
    let end = rest[4..].find("\n##").map_or(rest.len(), |at| at + 4);
    rest[..end]
        .lines()
        .filter_map(|line| line.strip_prefix("| `"))
        .filter_map(|line| {
            let (group, rest) = line.split_once('`')?;
            let mut cells = rest.trim_start_matches(" |").split('|');
            let commands = cells.next()?.trim().to_owned();
            let files = cells.next()?.to_owned();
            Some((group.to_owned(), commands, files))
        })
        .flat_map(|(group, commands, files)| {
            files
                .split(',')
                .map(|file| (format!("{group}/{}", file.trim()), commands.clone()))
                .collect::<Vec<_>>()
        })
        .collect()
}

fn says(code: &str, word: &str) -> bool {
    let part = |c: char| c.is_alphanumeric() || c == '_';
    code.match_indices(word)
        .any(|(at, _)| !code[..at].ends_with(part) && !code[at + word.len()..].starts_with(part))
}

/// Estimators that the rooms above statistics use, or that one of these is built from.
fn reached(all: &BTreeSet<String>) -> BTreeSet<String> {
    let above: Vec<String> = [
        "results",
        "workflow",
        "question-bank",
        "grader",
        "assembler",
    ]
    .iter()
    .flat_map(|room| project::rust_files(&format!("crates/{room}/src/")))
    .map(project::code)
    .collect();
    let path = |name: &str| name.replace('/', "::");
    let mut reached: BTreeSet<String> = all
        .iter()
        .filter(|name| {
            let whole = format!("statistics::{}", path(name));
            above.iter().any(|code| says(code, &whole))
        })
        .cloned()
        .collect();
    loop {
        let more: Vec<String> = all
            .iter()
            .filter(|name| !reached.contains(*name))
            .filter(|name| {
                let module = name.rsplit('/').next().unwrap();
                reached.iter().any(|user| {
                    let code = project::code(&format!("{STATISTICS}{user}.rs"));
                    let code = code.split("#[cfg(test)]").next().unwrap();
                    says(code, &format!("{module}::{module}")) || says(code, &path(name))
                })
            })
            .cloned()
            .collect();
        if more.is_empty() {
            return reached;
        }
        reached.extend(more);
    }
}

#[test]
fn the_table_of_figures_is_true() {
    let (all, rows) = (estimators(), rows());
    assert!(all.len() > 100, "{}", all.len());
    let reached = reached(&all);
    let mut complaints = Vec::new();
    for name in &all {
        match rows.get(name) {
            None => complaints.push(format!(
                "{name} stands in no row; it is {}",
                if reached.contains(name) {
                    "reached"
                } else {
                    "not reached"
                }
            )),
            Some(commands) if commands == LIBRARY && reached.contains(name) => {
                complaints.push(format!("{name} is reached, and the table says it is not"));
            }
            Some(commands) if commands != LIBRARY && !reached.contains(name) => {
                complaints.push(format!(
                    "{name} is said to be reached by {commands}, and nothing uses it"
                ));
            }
            Some(_) => {}
        }
    }
    for name in rows.keys().filter(|name| !all.contains(*name)) {
        complaints.push(format!("the table has {name}, which is no estimator"));
    }
    none(complaints);
}
