//! Reads a room.

use base::tree::{Tree, read_tree};
use base::walk::Walk;
use base::{Checked, Fault, SeatName, SourceText};

use super::room_drawing::read_drawing;
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
    fields.exactly_one(walk, &["tables", "drawing"]);
    let drawing = fields.optional("drawing");
    let list = if drawing.is_some() {
        None
    } else {
        fields.required(walk, "tables")
    };
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
    let mut beside = Vec::new();
    if let Some(tree) = drawing {
        let drawn = read_drawing(walk, tree);
        if let Some(drawn) = drawn {
            tables = drawn.tables;
            beside = drawn.beside;
        }
    }
    let known: Vec<SeatName> = tables.iter().flat_map(|t| t.seats.clone()).collect();
    if let Some(list) = fields.optional("neighbours") {
        for pair in walk.list(list, "pairs of seats") {
            let names = walk.texts(pair, "a pair of seats");
            beside.extend(neighbours(walk, pair, &names, &known));
        }
    }
    let near_door = fields
        .optional("near_door")
        .map_or_else(Vec::new, |t| named_seats(walk, t, &known));
    fields.finish(walk);
    let room = Room {
        name: name?,
        tables,
        facing,
        drawn: drawing.is_some(),
        beside,
        near_door,
    };
    if let Some(tree) = drawing {
        lonely(walk, tree, &room);
    }
    Some(room)
}

/// Two different seats of the room, or a fault.
fn neighbours<'t>(
    walk: &mut Walk<'t>,
    pair: &'t Tree,
    names: &[String],
    known: &[SeatName],
) -> Option<(SeatName, SeatName)> {
    let seat = |name: &String| known.iter().find(|seat| seat.as_str() == name).cloned();
    let place = walk.place(&pair.bytes);
    match names {
        [one, other] if one == other => {
            walk.note(
                Fault::new(
                    "own-neighbour",
                    place,
                    format!("the seat \"{one}\" is said to neighbour itself"),
                )
                .hint("name two seats, or take this pair out"),
            );
            None
        }
        [one, other] => match (seat(one), seat(other)) {
            (Some(one), Some(other)) => Some((one, other)),
            (None, _) | (_, None) => {
                walk.note(Fault::new(
                    "unknown-seat",
                    place,
                    format!("[{one}, {other}] are not two seats of this room"),
                ));
                None
            }
        },
        _ => {
            walk.note(Fault::new("bad-pair", place, "these are not two seats").allowed("[a1, b1]"));
            None
        }
    }
}

/// Seats by their names; a fault for each that the room has not.
fn named_seats<'t>(walk: &mut Walk<'t>, tree: &'t Tree, known: &[SeatName]) -> Vec<SeatName> {
    let mut seats = Vec::new();
    for item in walk.list(tree, "seats") {
        let Some(name) = walk.text(item) else {
            continue;
        };
        match known.iter().find(|seat| seat.as_str() == name) {
            Some(seat) => seats.push(seat.clone()),
            None => {
                let place = walk.place(&item.bytes);
                let words = known.iter().map(SeatName::as_str);
                walk.note(
                    Fault::new(
                        "unknown-seat",
                        place,
                        format!("the room has no seat \"{}\"", base::walk::shortened(&name)),
                    )
                    .near(&name, words),
                );
            }
        }
    }
    seats
}

/// Tells of drawn seats with nobody beside them: mostly a slip of the drawing.
fn lonely<'t>(walk: &mut Walk<'t>, tree: &'t Tree, room: &Room) {
    let pairs = room.neighbours();
    for (place, (_, seat)) in room.seats().into_iter().enumerate() {
        if !pairs.iter().any(|&(a, b)| a == place || b == place) {
            let at = walk.place(&tree.bytes);
            walk.note(
                Fault::weakness(
                    "lonely-seat",
                    at,
                    format!("the seat \"{seat}\" has no neighbour in the drawing"),
                )
                .hint("right for a seat by itself; else look at the columns of the drawing"),
            );
        }
    }
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

    #[test]
    fn a_drawn_room_is_read() {
        let text = "room: Upper\ndrawing: |\n  a1 a2 . b1\n  a3 .  . b2\nneighbours: [[a2, b1]]\nnear_door: [b2]\n";
        let room = read_room(&SourceText::new("room.yaml", text))
            .value
            .unwrap();
        let seats: Vec<_> = room
            .seats()
            .iter()
            .map(|(table, seat)| format!("{table}:{seat}"))
            .collect();
        assert_eq!(seats, ["0:a1", "0:a2", "0:a3", "1:b1", "1:b2"]);
        assert_eq!(room.neighbours(), [(0, 1), (0, 2), (1, 3), (3, 4)]);
        assert_eq!(room.near_door[0].as_str(), "b2");
    }

    #[test]
    fn slips_of_a_drawing_are_named() {
        let text = "room: Upper\ndrawing: |\n  a1 a1 . b1\n  . ?? .\nneighbours: [[a1, a1], [a1, z9], [a1]]\nnear_door: [q1]\n";
        let rules: Vec<_> = read_room(&SourceText::new("room.yaml", text))
            .faults
            .iter()
            .map(|fault| fault.rule)
            .collect();
        for rule in [
            "doubled-seat",
            "bad-id",
            "own-neighbour",
            "bad-pair",
            "unknown-seat",
        ] {
            assert!(rules.contains(&rule), "{rule} in {rules:?}");
        }
        let alone = "room: Upper\ndrawing: |\n  a1 . a2 a3\n";
        let found = read_room(&SourceText::new("room.yaml", alone)).faults;
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].rule, "lonely-seat");
    }
}
