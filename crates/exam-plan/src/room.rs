//! The room: tables with seats in a row, and tables that face each other.

use base::SeatName;

/// A checked room.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Room {
    /// Its name.
    pub name: String,
    /// Tables in the order of the text.
    pub tables: Vec<Table>,
    /// Pairs of tables (places in `tables`) that face each other.
    pub facing: Vec<(usize, usize)>,
    /// Whether next seats of a table are neighbours; not where the room is drawn.
    pub drawn: bool,
    /// Further neighbours by name: those of a drawing, and those that are listed.
    pub beside: Vec<(SeatName, SeatName)>,
    /// Seats near the door.
    pub near_door: Vec<SeatName>,
}

/// A table with its seats in a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// Its id, such as `a`.
    pub id: String,
    /// Its seats in order: `a1`, `a2`, …
    pub seats: Vec<SeatName>,
}

impl Room {
    /// All seats with their table (place in `tables`), in order.
    #[must_use]
    pub fn seats(&self) -> Vec<(usize, &SeatName)> {
        self.tables
            .iter()
            .enumerate()
            .flat_map(|(table, t)| t.seats.iter().map(move |seat| (table, seat)))
            .collect()
    }

    /// Pairs of seats from which one can read the other's paper: next to each other at a table,
    /// and opposite each other at facing tables. Places in the list of [`Room::seats`], the smaller
    /// first, each pair once, in order.
    #[must_use]
    pub fn neighbours(&self) -> Vec<(usize, usize)> {
        let mut first_seat = Vec::new();
        let mut total = 0;
        for table in &self.tables {
            first_seat.push(total);
            total += table.seats.len();
        }
        let mut pairs = Vec::new();
        for (table, &first) in self.tables.iter().zip(&first_seat) {
            if self.drawn {
                continue;
            }
            pairs.extend((1..table.seats.len()).map(|seat| (first + seat - 1, first + seat)));
        }
        for &(one, other) in &self.facing {
            if let (Some(a), Some(b)) = (self.tables.get(one), self.tables.get(other))
                && let (Some(first_a), Some(first_b)) = (first_seat.get(one), first_seat.get(other))
            {
                let opposite = a.seats.len().min(b.seats.len());
                pairs.extend((0..opposite).map(|seat| {
                    let (x, y) = (first_a + seat, first_b + seat);
                    (x.min(y), x.max(y))
                }));
            }
        }
        if !self.beside.is_empty() {
            let places: std::collections::BTreeMap<&SeatName, usize> = self
                .seats()
                .into_iter()
                .enumerate()
                .map(|(place, (_, seat))| (seat, place))
                .collect();
            pairs.extend(self.beside.iter().filter_map(|(one, other)| {
                let (x, y) = (*places.get(one)?, *places.get(other)?);
                (x != y).then_some((x.min(y), x.max(y)))
            }));
        }
        pairs.sort_unstable();
        pairs.dedup();
        pairs
    }
}
