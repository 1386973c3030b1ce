//! Reads a roster: columns `candidate`, `name` and, where wanted, `service`, `note` and `seat`.

use base::table::Table;
use base::{CandidateNumber, Checked, Fault, SourceText};

use crate::people::{People, Person};
use crate::roster::{Candidate, Roster, SeatWish, Service};

/// A roster as it is written: numbers, and who is behind them.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct NamedRoster {
    /// The numbers, with where they sit.
    pub roster: Roster,
    /// The people.
    pub people: People,
}

/// Whether each number must have a name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Names {
    Wanted,
    MayBeMissing,
}

/// The columns that may be left out.
const OPTIONAL: [&str; 3] = ["service", "note", "seat"];

/// Reads a roster in which everybody has a name.
#[must_use]
pub fn read_roster(source: &SourceText) -> Checked<NamedRoster> {
    read(source, Names::Wanted)
}

/// Reads a roster in which names may be missing: parted from its people, or some of them erased.
#[must_use]
pub fn read_numbers(source: &SourceText) -> Checked<NamedRoster> {
    read(source, Names::MayBeMissing)
}

fn read(source: &SourceText, names: Names) -> Checked<NamedRoster> {
    let table = match Table::read(source) {
        Ok(table) => table,
        Err(fault) => return Checked::new(None, vec![*fault]),
    };
    let mut faults = Vec::new();
    let columns = match names {
        Names::Wanted => table
            .columns(["candidate", "name"], &OPTIONAL, &mut faults)
            .map(|[number, name]| (number, Some(name))),
        Names::MayBeMissing => {
            let optional = [&["name"], &OPTIONAL[..]].concat();
            table
                .columns(["candidate"], &optional, &mut faults)
                .map(|[number]| (number, table.column("name")))
        }
    };
    let Some((number_column, name_column)) = columns else {
        return Checked::new(None, faults);
    };
    let mut people = People::nobody();
    let (service_column, note_column) = (table.column("service"), table.column("note"));
    let seat_column = table.column("seat");
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
        let name = name_column.map(|column| row.cell(column));
        if let Some(name) = &name
            && name.text.is_empty()
            && names == Names::Wanted
        {
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
        let wishes = seat_column.map_or_else(Vec::new, |column| {
            wishes(&table, &row.cell(column), &mut faults)
        });
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
                let name = name.map_or_else(String::new, |cell| cell.text);
                if !name.is_empty() || note.is_some() {
                    people.put(number.clone(), Person { name, note });
                }
                candidates.push(Candidate {
                    number,
                    service,
                    place,
                    wishes,
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
    let roster = Roster { candidates };
    Checked::new(Some(NamedRoster { roster, people }), faults)
}

/// Wishes of one cell: `door`, `with E-02`, `apart E-05`, parted by semicolons.
fn wishes(table: &Table<'_>, cell: &base::table::Cell, faults: &mut Vec<Fault>) -> Vec<SeatWish> {
    let mut found = Vec::new();
    for part in cell.text.split([';', '/']).map(str::trim) {
        if part.is_empty() {
            continue;
        }
        let (word, other) = part.split_once(' ').unwrap_or((part, ""));
        let number = || CandidateNumber::parse(other.trim()).ok();
        let wish = match word.to_ascii_lowercase().as_str() {
            "door" if other.is_empty() => Some(SeatWish::NearDoor),
            "with" => number().map(SeatWish::With),
            "apart" => number().map(SeatWish::Apart),
            _ => None,
        };
        match wish {
            Some(wish) => found.push(wish),
            None => faults.push(
                Fault::new(
                    "seat-wish",
                    table.place(&cell.bytes),
                    format!("\"{}\" is no wish for a seat", base::walk::shortened(part)),
                )
                .allowed("door, with CANDIDATE, apart CANDIDATE; parted by semicolons"),
            ),
        }
    }
    found
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn read(text: &str) -> Checked<NamedRoster> {
        read_roster(&SourceText::new("roster.csv", text))
    }

    #[test]
    fn service_and_note_may_be_left_out() {
        let roster = read("candidate,name\nC-1,Ada\n").value.unwrap().roster;
        assert_eq!(roster.candidates[0].service, Service::Room);
        let NamedRoster { roster, people } =
            read("name;candidate;service;note\nBo;C/2;Kit;abroad\n")
                .value
                .unwrap();
        assert_eq!(roster.candidates[0].number.as_str(), "C/2");
        assert_eq!(roster.candidates[0].service, Service::Kit);
        let person = people.person(&roster.candidates[0].number).unwrap();
        assert_eq!(
            (person.name.as_str(), person.note.as_deref()),
            ("Bo", Some("abroad"))
        );
    }

    #[test]
    fn faults_are_named() {
        let faults =
            read("candidate,name,service\nC-1,Ada,\nC-1,Bo,\n,Cy,\nC-3,,\nC-4,Di,home\n").faults;
        let rules: Vec<_> = faults.iter().map(|fault| fault.rule).collect();
        assert_eq!(
            rules,
            ["doubled-candidate", "bad-id", "empty-name", "unknown-word"]
        );
        assert_eq!(read("candidate,name\n").faults[0].rule, "empty-roster");
        assert_eq!(read("number,name\nC-1,Ada\n").faults.len(), 2);
    }

    #[test]
    fn names_may_be_missing_where_people_were_parted_or_erased() {
        let read = |text| read_numbers(&SourceText::new("roster.csv", text));
        let parted = read("candidate,seat\nC-1,door\n");
        assert!(parted.faults.is_empty(), "{:?}", parted.faults);
        let parted = parted.value.unwrap();
        assert_eq!(parted.people, People::nobody());
        assert_eq!(parted.roster.candidates[0].wishes, [SeatWish::NearDoor]);
        let erased = read("candidate,name\nC-1,\nC-2,Ada\n").value.unwrap();
        assert_eq!(erased.people.all().count(), 1);
        assert_eq!(
            erased.people.name(&erased.roster.candidates[1].number),
            "Ada"
        );
        assert_eq!(read("name\nAda\n").faults[0].rule, "missing-column");
    }

    proptest::proptest! {
        #[test]
        fn any_text_is_a_roster_or_faults(text in "candidate,name\n[A-Za-z0-9,;\"\n -]{0,80}") {
            let checked = read(&text);
            proptest::prop_assert!(checked.value.is_some() || !checked.faults.is_empty());
        }
    }
}
