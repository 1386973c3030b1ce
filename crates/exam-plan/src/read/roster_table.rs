//! Reads a roster: columns `candidate`, `name` and, where wanted, `service` and `note`.

use base::table::Table;
use base::{CandidateNumber, Checked, Fault, SourceText};

use crate::roster::{Candidate, Roster, Service};

/// Reads a roster.
#[must_use]
pub fn read_roster(source: &SourceText) -> Checked<Roster> {
    let table = match Table::read(source) {
        Ok(table) => table,
        Err(fault) => return Checked::new(None, vec![*fault]),
    };
    let mut faults = Vec::new();
    let Some([number_column, name_column]) =
        table.columns(["candidate", "name"], &["service", "note"], &mut faults)
    else {
        return Checked::new(None, faults);
    };
    let (service_column, note_column) = (table.column("service"), table.column("note"));
    let mut candidates: Vec<Candidate> = Vec::new();
    for row in table.rows() {
        let number = row.cell(number_column);
        let place = table.place(&number.bytes);
        let parsed = CandidateNumber::parse(&number.text);
        if parsed.is_err() {
            faults.push(
                Fault::new(
                    "bad-id",
                    place.clone(),
                    if number.text.is_empty() {
                        "this row has no candidate number".to_owned()
                    } else {
                        format!(
                            "\"{}\" is no candidate number",
                            base::walk::shortened(&number.text)
                        )
                    },
                )
                .allowed(CandidateNumber::ALLOWED),
            );
        }
        let name = row.cell(name_column);
        if name.text.is_empty() {
            faults.push(
                Fault::new(
                    "empty-name",
                    table.place(&name.bytes),
                    format!("candidate {} has no name", number.text),
                )
                .hint("write the name; markers and proctors never see it"),
            );
        }
        let service = match service_column.map(|column| row.cell(column)) {
            None => Service::Room,
            Some(cell) => match cell.text.to_ascii_lowercase().as_str() {
                "" | "room" => Service::Room,
                "kit" => Service::Kit,
                other => {
                    faults.push(
                        Fault::new(
                            "unknown-word",
                            table.place(&cell.bytes),
                            format!("\"{}\" is no kind of service", base::walk::shortened(other)),
                        )
                        .allowed("room, kit")
                        .near(other, ["room", "kit"]),
                    );
                    Service::Room
                }
            },
        };
        let note = note_column
            .map(|column| row.cell(column).text)
            .filter(|text| !text.is_empty());
        if let Ok(number) = parsed {
            if let Some(first) = candidates.iter().find(|c| c.number == number) {
                faults.push(
                    Fault::new(
                        "doubled-candidate",
                        place,
                        format!(
                            "candidate {number} stands twice: first in line {}",
                            first.place.line
                        ),
                    )
                    .hint("give each person a number of their own, or take one row out"),
                );
            } else {
                candidates.push(Candidate {
                    number,
                    name: name.text,
                    service,
                    note,
                    place,
                });
            }
        }
    }
    if candidates.is_empty() && faults.is_empty() {
        faults.push(
            Fault::new(
                "empty-roster",
                base::Place::whole(&source.name),
                "this roster names nobody",
            )
            .hint("one row for each candidate: number, name"),
        );
    }
    Checked::new(Some(Roster { candidates }), faults)
}
