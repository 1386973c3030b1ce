//! The project speaks of itself alone.

use crate::project::{self, none};

/// Words that belong to no file of the project, with the reason. Put together from pieces, so that
/// this file does not speak of itself.
fn unwanted() -> Vec<(String, &'static str)> {
    [
        (["seed", " document"], "a paper outside the project"),
        (["/wo", "rk/"], "a folder of one machine"),
        (
            ["/tm", "p/"],
            "a folder of one machine: ask for a fresh one",
        ),
        (["../sha", "red"], "a folder outside the project"),
        (["shared/", "design"], "a folder outside the project"),
        (["shared/", "reference"], "a folder outside the project"),
        (["shared/", "style"], "a folder outside the project"),
        (["index.crates", ".io"], "a host of a registry"),
        (["static.crates", ".io"], "a host of a registry"),
        (["pypi", ".org"], "a host of a registry"),
        (["files.python", "hosted"], "a host of a registry"),
        (["deb.deb", "ian.org"], "a host of a registry"),
    ]
    .map(|(pieces, why)| (pieces.concat(), why))
    .to_vec()
}

#[test]
fn no_file_speaks_of_what_is_outside() {
    let mut complaints = Vec::new();
    for name in project::files() {
        // Fonts and pictures are no texts.
        let Ok(text) = std::fs::read_to_string(project::path(name)) else {
            continue;
        };
        let lower = text.to_lowercase();
        for (word, why) in unwanted() {
            for (number, line) in lower.lines().enumerate() {
                if line.contains(&word) {
                    complaints.push(format!("{name}:{}: \"{word}\": {why}", number + 1));
                }
            }
        }
    }
    none(complaints);
}

#[test]
fn texts_end_their_lines_alike() {
    let mut complaints = Vec::new();
    for name in project::files() {
        let readable = [".rs", ".md", ".toml", ".yaml", ".jinja"]
            .iter()
            .any(|ending| name.ends_with(ending));
        if !readable {
            continue;
        }
        let text = project::text(name);
        if text.contains('\r') {
            complaints.push(format!("{name}: lines end as on another system"));
        }
        if !text.ends_with('\n') {
            complaints.push(format!("{name}: the last line does not end"));
        }
    }
    none(complaints);
}
