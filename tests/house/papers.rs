//! README, DEVELOPERS and CHANGELOG say what is there.

use std::collections::BTreeSet;

use crate::project::{self, none};

/// The commands of the program, from its list.
fn commands() -> BTreeSet<String> {
    let arguments = project::code("crates/cli/src/arguments.rs");
    let found: BTreeSet<String> = arguments
        .lines()
        .skip_while(|line| !line.starts_with("enum Command"))
        .skip(1)
        .take_while(|line| !line.starts_with('}'))
        .filter_map(|line| line.trim().split_once('('))
        .map(|(name, _)| name.to_lowercase())
        .collect();
    assert!(
        found.contains("check"),
        "the list of commands was not found"
    );
    found
}

/// The words in backquotes that begin the rows of the table with this head.
fn first_cells(text: &str, head: &str) -> BTreeSet<String> {
    text.lines()
        .skip_while(|line| !line.starts_with(head))
        .skip(2)
        .take_while(|line| line.starts_with('|'))
        .filter_map(|row| row.trim_matches('|').split('|').next())
        .map(|cell| cell.trim().trim_matches('`').to_owned())
        .collect()
}

#[test]
fn the_readme_names_every_command_and_no_other() {
    let readme = project::text("README.md");
    let named: BTreeSet<String> = first_cells(&readme, "| command |")
        .into_iter()
        .filter_map(|cell| cell.split_whitespace().next().map(str::to_owned))
        .collect();
    assert_eq!(named, commands());
}

#[test]
fn the_readme_lists_the_exit_codes() {
    let codes: BTreeSet<String> = project::code("crates/cli/src/exit.rs")
        .lines()
        .skip_while(|line| !line.contains("enum Exit"))
        .take_while(|line| !line.starts_with('}'))
        .filter_map(|line| line.trim().trim_end_matches(',').split_once(" = "))
        .map(|(_, code)| code.to_owned())
        .collect();
    assert!(codes.contains("70"), "the list of codes was not found");
    let named = first_cells(&project::text("README.md"), "| exit code |");
    assert_eq!(named, codes);
}

#[test]
fn the_two_commands_stand_in_both_papers_and_lead_somewhere() {
    for paper in ["README.md", "DEVELOPERS.md"] {
        let text = project::text(paper);
        for line in [
            "cargo run --release -- rehearse examples/certificate",
            "./tests/run",
        ] {
            assert!(
                text.lines().any(|other| other.trim() == line),
                "{paper} has no line: {line}"
            );
        }
    }
    for file in ["examples/certificate/plan.yaml", "tests/run"] {
        assert!(project::files().contains(file), "{file} is missing");
    }
}

#[test]
fn links_lead_to_files() {
    let mut complaints = Vec::new();
    let papers = project::files().iter().filter(|n| n.ends_with(".md"));
    for paper in papers {
        let folder = paper.rsplit_once('/').map_or("", |(folder, _)| folder);
        for target in links(&project::text(paper)) {
            let file = target.split('#').next().unwrap_or("");
            let outside = target.contains("://") || target.starts_with("mailto:");
            if !outside && !file.is_empty() && !project::path(folder).join(file).exists() {
                complaints.push(format!("{paper} links to {file}, which is not there"));
            }
        }
    }
    none(complaints);
}

/// The targets of links and pictures: `](target)`.
fn links(text: &str) -> Vec<&str> {
    text.split("](")
        .skip(1)
        .filter_map(|rest| rest.split_once(')'))
        .map(|(target, _)| target)
        .collect()
}

#[test]
fn a_change_to_marks_is_told_first() {
    let changes = project::text("CHANGELOG.md");
    let mut headings = changes.lines().filter(|line| line.starts_with("##"));
    assert_eq!(headings.next(), Some("## Unreleased"));
    let mut after_release = true;
    for heading in std::iter::once("## Unreleased").chain(headings) {
        if after_release && heading.starts_with("### ") {
            assert_eq!(heading, "### Changes to marks, forms or draws");
        }
        after_release = heading.starts_with("## ");
    }
}

#[test]
fn decisions_have_reasons_and_recipes_name_files_that_are_there() {
    let text = project::text("DEVELOPERS.md");
    let decisions: Vec<&str> = text
        .lines()
        .skip_while(|line| *line != "## Decisions")
        .skip(1)
        .take_while(|line| !line.starts_with("## "))
        .filter(|line| line.starts_with("**"))
        .collect();
    assert!(decisions.len() >= 7, "{decisions:?}");
    for decision in decisions {
        assert!(
            decision.contains("?**"),
            "a decision is a question and its answer: {decision}"
        );
    }
    // Every path in backquotes is a file or folder of the project.
    let mut complaints = Vec::new();
    for word in text.split('`').skip(1).step_by(2) {
        let is_path = [
            "crates/",
            "tests/",
            "templates/",
            "examples/",
            "question-banks/",
        ]
        .iter()
        .any(|top| word.starts_with(top));
        let written_for_any = word.contains(|c: char| c.is_whitespace() || "*…<>".contains(c))
            || word.contains("NAME")
            || word.contains("ID.");
        if is_path && !written_for_any && !project::path(word).exists() {
            complaints.push(format!("DEVELOPERS.md names {word}, which is not there"));
        }
    }
    none(complaints);
}
