//! The picture of the house in DEVELOPERS.md: a table of crates with their job and their doors.

use std::collections::{BTreeMap, BTreeSet};

use crate::project;

/// The head of the table that is compared.
pub const HEAD: &str = "| crate | its one job | knows |";

/// One row of the table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Room {
    pub job: String,
    pub knows: BTreeSet<String>,
}

/// The table of a text.
pub fn table_of(text: &str) -> BTreeMap<String, Room> {
    let mut rooms = BTreeMap::new();
    let rows = text
        .lines()
        .skip_while(|line| *line != HEAD)
        .skip(2)
        .take_while(|line| line.starts_with('|'));
    for row in rows {
        let cells: Vec<String> = row
            .trim_matches('|')
            .split('|')
            .map(|cell| cell.trim().replace('`', ""))
            .collect();
        let [name, job, knows] = cells.as_slice() else {
            panic!("this row has not three cells: {row}");
        };
        let knows = knows
            .split(", ")
            .filter(|known| *known != "nothing")
            .map(str::to_owned)
            .collect();
        let room = Room {
            job: job.clone(),
            knows,
        };
        assert!(
            rooms.insert(name.clone(), room).is_none(),
            "{name} stands twice in the table"
        );
    }
    rooms
}

/// The table of the project.
pub fn table() -> BTreeMap<String, Room> {
    let rooms = table_of(&project::text("DEVELOPERS.md"));
    assert!(!rooms.is_empty(), "DEVELOPERS.md has no table \"{HEAD}\"");
    rooms
}

#[test]
fn a_table_is_read() {
    let text = format!(
        "words\n{HEAD}\n|---|---|---|\n| a | does x | nothing |\n| `b-c` | `y` | a |\n\n| d | no | a |\n"
    );
    let rooms = table_of(&text);
    assert_eq!(rooms.keys().collect::<Vec<_>>(), ["a", "b-c"]);
    assert!(rooms["a"].knows.is_empty());
    assert_eq!(rooms["b-c"].knows, BTreeSet::from(["a".to_owned()]));
    assert_eq!(rooms["b-c"].job, "y");
}
