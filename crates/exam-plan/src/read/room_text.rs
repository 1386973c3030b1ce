//! Reads a room.

use base::tree::{Tree, read_tree};
use base::walk::Walk;
use base::{Checked, Fault, SeatName, SourceText};

use crate::room::{Room, Table};

/// Reads a room.
#[must_use]
pub fn read_room(source: &SourceText) -> Checked<Room> {
    let tree = match read_tree(source) {
        Ok(tree) => tree,
        Err(fault) => return Checked::new(None, vec![*fault]),
    };
    let mut walk = Walk::new(source);
    let room = room(&mut walk, &tree);
    Checked::new(room, walk.finish())
}

/// Reads what stands in the text.
pub(super) fn room<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Room> {
    let mut fields = walk.fields(tree, "a room")?;
    let name = fields.required(walk, "room").and_then(|t| walk.text(t));
    let list = fields.required(walk, "tables");
    let mut tables: Vec<Table> = Vec::new();
    for item in list.map_or(&[][..], |t| walk.list(t, "the tables")) {
        let Some(mut detail) = walk.fields(item, "a table") else {
            continue;
        };
        let id_tree = detail.required(walk, "id");
        let id = id_tree.and_then(|t| walk.id::<SeatName>(t));
        let seats = detail
            .required(walk, "seats")
            .and_then(|t| walk.whole(t, 1..=100));
        detail.finish(walk);
        let (Some(id), Some(seats), Some(id_tree)) = (id, seats, id_tree) else {
            continue;
        };
        if tables.iter().any(|t| t.id == id.as_str()) {
            let place = walk.place(&id_tree.bytes);
            walk.note(Fault::new(
                "doubled-table",
                place,
                format!("the table \"{id}\" stands twice"),
            ));
            continue;
        }
        // An id that ends in a digit would make seats ambiguous: table a1 seat 1, table a seat 11.
        let join = if id.as_str().ends_with(|c: char| c.is_ascii_digit()) {
            "-"
        } else {
            ""
        };
        let seats = (1..=seats)
            .filter_map(|seat| SeatName::parse(&format!("{id}{join}{seat}")).ok())
            .collect();
        tables.push(Table {
            id: id.as_str().to_owned(),
            seats,
        });
    }
    let mut facing = Vec::new();
    if let Some(list) = fields.optional("facing") {
        for pair in walk.list(list, "pairs of tables that face each other") {
            let names = walk.texts(pair, "a pair of tables");
            let places: Vec<_> = names
                .iter()
                .filter_map(|name| tables.iter().position(|t| t.id == *name))
                .collect();
            match (places.as_slice(), names.len()) {
                ([one, other], 2) if one != other => facing.push((*one, *other)),
                _ => {
                    let place = walk.place(&pair.bytes);
                    let known: Vec<_> = tables.iter().map(|t| t.id.as_str()).collect();
                    walk.note(
                        Fault::new(
                            "bad-pair",
                            place,
                            format!(
                                "[{}] are not two different tables of this room",
                                names.join(", ")
                            ),
                        )
                        .allowed(format!("two of: {}", known.join(", "))),
                    );
                }
            }
        }
    }
    fields.finish(walk);
    Some(Room {
        name: name?,
        tables,
        facing,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn neighbours_sit_beside_and_opposite() {
        let text = "room: Upper\ntables:\n  - { id: a, seats: 3 }\n  - { id: b, seats: 2 }\nfacing: [[a, b]]\n";
        let room = read_room(&SourceText::new("room.yaml", text))
            .value
            .unwrap();
        let seats: Vec<_> = room
            .seats()
            .iter()
            .map(|(_, seat)| seat.to_string())
            .collect();
        assert_eq!(seats, ["a1", "a2", "a3", "b1", "b2"]);
        assert_eq!(room.neighbours(), [(0, 1), (0, 3), (1, 2), (1, 4), (3, 4)]);
    }

    #[test]
    fn a_table_that_ends_in_a_digit_parts_its_seats_by_a_hyphen() {
        let text = "room: Upper\ntables: [{ id: t1, seats: 1 }]\n";
        let room = read_room(&SourceText::new("room.yaml", text))
            .value
            .unwrap();
        assert_eq!(room.tables[0].seats[0].as_str(), "t1-1");
    }

    #[test]
    fn faults_are_named() {
        let text = "room: Upper\ntables:\n  - { id: a, seats: 0 }\n  - { id: b, seats: 2 }\n  - { id: b, seats: 2 }\nfacing: [[b, c], [b, b]]\n";
        let faults = read_room(&SourceText::new("room.yaml", text)).faults;
        let rules: Vec<_> = faults.iter().map(|fault| fault.rule).collect();
        assert_eq!(
            rules,
            ["out-of-range", "doubled-table", "bad-pair", "bad-pair"]
        );
    }
}
