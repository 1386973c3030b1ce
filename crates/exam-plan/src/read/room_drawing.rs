//! Reads a room that is drawn as text: each word a seat, a point a gap.
//!
//! Seats next to each other in a row, and above each other in a column, are neighbours; a point parts
//! them. A column is the place of a word in its line. Seats that begin with the same letters make a
//! table: `a1 a2`.

use base::tree::Tree;
use base::walk::{Walk, shortened};
use base::{Fault, SeatName};

use crate::room::Table;

/// What a drawing says.
pub(super) struct Drawing {
    pub(super) tables: Vec<Table>,
    /// Neighbours by name.
    pub(super) beside: Vec<(SeatName, SeatName)>,
}

/// The most seats a drawing may have.
const MOST_SEATS: usize = 2000;

pub(super) fn read_drawing<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Drawing> {
    let text = walk.text(tree)?;
    let mut rows: Vec<Vec<Option<SeatName>>> = Vec::new();
    let mut seen: Vec<SeatName> = Vec::new();
    let mut sound = true;
    let fault =
        |walk: &mut Walk<'t>, rule: &'static str, what: String| {
            let place = walk.place(&tree.bytes);
            walk.note(Fault::new(rule, place, what).allowed(
                "names of seats such as a1, parted by blanks; a point where there is a gap",
            ));
        };
    for line in text.lines().filter(|line| !line.trim().is_empty()) {
        let mut row = Vec::new();
        for word in line.split_whitespace() {
            if word.chars().all(|c| c == '.' || c == '-') {
                row.push(None);
                continue;
            }
            match SeatName::parse(word) {
                Ok(seat) if seen.contains(&seat) => {
                    sound = false;
                    fault(
                        walk,
                        "doubled-seat",
                        format!("the seat \"{seat}\" is drawn twice: it would neighbour itself"),
                    );
                    row.push(None);
                }
                Ok(seat) => {
                    seen.push(seat.clone());
                    row.push(Some(seat));
                }
                Err(_) => {
                    sound = false;
                    fault(
                        walk,
                        "bad-id",
                        format!("\"{}\" is no name of a seat", shortened(word)),
                    );
                    row.push(None);
                }
            }
        }
        rows.push(row);
    }
    if seen.is_empty() || seen.len() > MOST_SEATS {
        fault(
            walk,
            "empty-drawing",
            format!("{} seats are drawn", seen.len()),
        );
        return None;
    }
    let mut beside = Vec::new();
    for (number, row) in rows.iter().enumerate() {
        for (column, seat) in row.iter().enumerate() {
            let Some(seat) = seat else { continue };
            let right = row.get(column + 1).and_then(Option::as_ref);
            let below = rows
                .get(number + 1)
                .and_then(|next| next.get(column))
                .and_then(Option::as_ref);
            for other in [right, below].into_iter().flatten() {
                beside.push((seat.clone(), other.clone()));
            }
        }
    }
    let mut tables: Vec<Table> = Vec::new();
    for seat in seen {
        let letters: String = seat
            .as_str()
            .chars()
            .take_while(|c| !c.is_ascii_digit())
            .collect();
        let id = if letters.is_empty() {
            "room".to_owned()
        } else {
            letters.trim_end_matches('-').to_owned()
        };
        match tables.iter_mut().find(|table| table.id == id) {
            Some(table) => table.seats.push(seat),
            None => tables.push(Table {
                id,
                seats: vec![seat],
            }),
        }
    }
    sound.then_some(Drawing { tables, beside })
}
