//! Reads a table that says who sat where: `candidate,table,seat`, seats numbered along each table; or
//! `candidate,beside`, a row for each pair that sat side by side.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use base::Fault;
use base::table::{Row, Table};
use results::analysis::{Responses, SideBySide};

use crate::failure::Failure;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};

/// Who sat beside whom.
#[derive(Debug, Default)]
pub(crate) struct SeatTable {
    /// Pairs of candidates; the smaller name first.
    pairs: BTreeSet<(String, String)>,
    /// All candidates that the table names.
    named: BTreeSet<String>,
}

/// The highest number of a seat.
const MOST_SEATS: usize = 100_000;

impl SeatTable {
    /// Reads the table.
    ///
    /// # Errors
    /// When it cannot be read, or has faults: all of them at once.
    pub(crate) fn read(around: &dyn Surroundings, path: &Path) -> Result<Self, Failure> {
        let mut faults = Vec::new();
        let mut sources = Sources::new();
        let mut made = Self::default();
        if let Some(text) = read_text(around, path, &mut faults)? {
            sources.insert(text.name.clone(), text.text.clone());
            match Table::read(&text) {
                Ok(table) => made.take(&table, &mut faults),
                Err(fault) => faults.push(*fault),
            }
        }
        if faults.iter().any(|fault| !fault.is_weakness()) {
            return Err(Failure::Faults { faults, sources });
        }
        Ok(made)
    }

    fn take(&mut self, table: &Table<'_>, faults: &mut Vec<Fault>) {
        let [candidate, beside, at, seat] =
            ["candidate", "beside", "table", "seat"].map(|name| table.column(name));
        match (candidate, beside, at, seat) {
            (Some(candidate), Some(beside), _, _) => {
                for row in table.rows() {
                    let [one, other] = [candidate, beside].map(|column| row.cell(column).text);
                    match who(table, row, one, faults) {
                        Some(one) if other == one => faults.push(Fault::new(
                            "own-neighbour",
                            table.place(row.bytes()),
                            format!("candidate {one} is said to sit beside themselves"),
                        )),
                        Some(one) if other.is_empty() => {
                            self.named.insert(one);
                        }
                        Some(one) => self.pair(one, other),
                        None => {}
                    }
                }
            }
            (Some(candidate), None, Some(at), Some(seat)) => {
                let mut seats: BTreeMap<(String, usize), String> = BTreeMap::new();
                for row in table.rows() {
                    let Some(one) = who(table, row, row.cell(candidate).text, faults) else {
                        continue;
                    };
                    let cell = row.cell(seat);
                    let number = cell.text.parse::<usize>().ok();
                    let Some(number) = number.filter(|n| (1..=MOST_SEATS).contains(n)) else {
                        faults.push(
                            Fault::new(
                                "no-seat",
                                table.place(if cell.text.is_empty() {
                                    row.bytes()
                                } else {
                                    &cell.bytes
                                }),
                                format!(
                                    "\"{}\" is no number of a seat",
                                    base::walk::shortened(&cell.text)
                                ),
                            )
                            .allowed(format!("whole numbers from 1 to {MOST_SEATS}"))
                            .hint("seats are numbered along each table: 3 sits between 2 and 4"),
                        );
                        continue;
                    };
                    self.named.insert(one.clone());
                    let place = (row.cell(at).text, number);
                    if let Some(there) = seats.insert(place, one) {
                        faults.push(Fault::new(
                            "doubled-seat",
                            table.place(row.bytes()),
                            format!("candidate {there} sits there already"),
                        ));
                    }
                }
                let pairs: Vec<(String, String)> = seats
                    .iter()
                    .filter_map(|((at, number), one)| {
                        let next = seats.get(&(at.clone(), number + 1))?;
                        Some((one.clone(), next.clone()))
                    })
                    .collect();
                for (one, other) in pairs {
                    self.pair(one, other);
                }
            }
            (None, ..) | (_, None, None, _) | (_, None, _, None) => faults.push(
                Fault::new(
                    "missing-column",
                    table.place(&table.header().first().map_or(0..0, |c| c.bytes.clone())),
                    "a table of seats says at which table and on which number each candidate sat, or who sat beside whom",
                )
                .allowed("candidate,table,seat or candidate,beside"),
            ),
        }
    }

    fn pair(&mut self, one: String, other: String) {
        self.named.extend([one.clone(), other.clone()]);
        if one != other {
            self.pairs.insert(if one < other {
                (one, other)
            } else {
                (other, one)
            });
        }
    }

    /// The pairs by their places among the candidates; how many candidates the table does not name.
    pub(crate) fn beside(&self, responses: &Responses) -> (Vec<SideBySide>, usize) {
        let mut places: BTreeMap<(&str, &str), usize> = BTreeMap::new();
        for (place, candidate) in responses.candidates.iter().enumerate() {
            places.insert((&candidate.sitting, &candidate.candidate), place);
        }
        let sittings: BTreeSet<&str> = places.keys().map(|(sitting, _)| *sitting).collect();
        let pairs = sittings
            .iter()
            .flat_map(|sitting| {
                let places = &places;
                self.pairs.iter().filter_map(move |(one, other)| {
                    let one = places.get(&(*sitting, one.as_str()))?;
                    Some((*one, *places.get(&(*sitting, other.as_str()))?))
                })
            })
            .collect();
        let without = responses
            .candidates
            .iter()
            .filter(|candidate| !self.named.contains(&candidate.candidate))
            .count();
        (pairs, without)
    }
}

/// The candidate of a row; a fault and none where nobody is named.
fn who(table: &Table<'_>, row: &Row, name: String, faults: &mut Vec<Fault>) -> Option<String> {
    if name.is_empty() {
        faults.push(Fault::new(
            "missing-candidate",
            table.place(row.bytes()),
            "this row names no candidate",
        ));
        return None;
    }
    Some(name)
}
