//! Reads a roster: columns `candidate`, `name` and, where wanted, `service`, `note`, `seat`,
//! `teacher`, `tasting` and `brings`.

use std::str::FromStr;

use base::table::Table;
use base::{CandidateNumber, Checked, Fault, SourceText};

use crate::part::Part;
use crate::people::{People, Person};
use crate::roster::{BroughtPart, Candidate, Roster, SeatWish, Service, TastingWay};

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
const OPTIONAL: [&str; 6] = ["service", "note", "seat", "teacher", "tasting", "brings"];

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
    let (seat_column, teacher_column) = (table.column("seat"), table.column("teacher"));
    let (way_column, brings_column) = (table.column("tasting"), table.column("brings"));
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
        let teachers = teacher_column.map_or_else(Vec::new, |column| {
            let cell = row.cell(column).text;
            let names = cell.split([';', '/']).map(str::trim);
            names
                .filter(|name| !name.is_empty())
                .map(str::to_owned)
                .collect()
        });
        let way = way_column.map_or(TastingWay::Full, |column| {
            tasting_way(&table, &row.cell(column), &mut faults)
        });
        let brings =
            brings_column.and_then(|column| brought(&table, &row.cell(column), &mut faults));
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
                    teachers,
                    way,
                    brings,
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

/// How a candidate meets the glasses: `full` or `nosing`.
fn tasting_way(table: &Table<'_>, cell: &base::table::Cell, faults: &mut Vec<Fault>) -> TastingWay {
    match cell.text.to_ascii_lowercase().as_str() {
        "" | "full" => TastingWay::Full,
        "nosing" => TastingWay::NosingOnly,
        other => {
            faults.push(
                Fault::new(
                    "unknown-word",
                    table.place(&cell.bytes),
                    format!("\"{}\" is no way to taste", base::walk::shortened(other)),
                )
                .allowed("full, nosing")
                .near(other, ["full", "nosing"]),
            );
            TastingWay::Full
        }
    }
}

/// A part brought along: `theory 2026-06-12 68.5`, the part, the day of its sitting, per cent.
fn brought(
    table: &Table<'_>,
    cell: &base::table::Cell,
    faults: &mut Vec<Fault>,
) -> Option<BroughtPart> {
    if cell.text.trim().is_empty() {
        return None;
    }
    let read = read_brought(&cell.text);
    if read.is_none() {
        faults.push(
            Fault::new(
                "brought-part",
                table.place(&cell.bytes),
                format!(
                    "\"{}\" does not say which part was passed, when and with how many per cent",
                    base::walk::shortened(&cell.text)
                ),
            )
            .allowed("one part, its day and its per cent: theory 2026-06-12 68.5"),
        );
    }
    read
}

fn read_brought(text: &str) -> Option<BroughtPart> {
    let words: Vec<&str> = text
        .split_whitespace()
        .filter(|word| *word != "%")
        .collect();
    let [part, day, share] = words.as_slice() else {
        return None;
    };
    let part = Part::ALL
        .into_iter()
        .find(|known| known.word().eq_ignore_ascii_case(part))?;
    let sound = day.len() == 10 && jiff::civil::Date::from_str(day).is_ok();
    // A percentage with at most one decimal is a number of marks in tenths.
    let share = share.trim_end_matches('%').replace(',', ".");
    let tenths = base::Marks::from_str(&share).ok()?.thousandths();
    let per_mille = u32::try_from(tenths / 100).ok()?;
    (sound && tenths % 100 == 0 && per_mille <= 1000).then(|| BroughtPart {
        part,
        passed_on: (*day).to_owned(),
        per_mille,
    })
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
        let roster = read("candidate,name,teacher\nC-1,Ada,IP; AB\nC-2,Bo,\n").value;
        let teachers = roster.map(|named| named.roster.candidates.into_iter().map(|c| c.teachers));
        let teachers: Vec<Vec<String>> = teachers.into_iter().flatten().collect();
        assert_eq!(
            teachers,
            [vec!["IP".to_owned(), "AB".to_owned()], Vec::new()]
        );
    }

    #[test]
    fn who_noses_only_and_who_brings_a_part_is_read() {
        let text = "candidate,name,tasting,brings\nC-1,Ada,nosing,\nC-2,Bo,,theory 2026-06-12 68.5\nC-3,Cy,full,Tasting 2026-06-12 70 %\n";
        let candidates = read(text).value.unwrap().roster.candidates;
        assert_eq!(candidates[0].way, TastingWay::NosingOnly);
        assert_eq!(
            candidates[1].brings.as_ref().unwrap().in_words(),
            "theory of 2026-06-12 with 68.5 %"
        );
        assert_eq!(candidates[2].brings.as_ref().unwrap().per_mille, 700);
        for odd in [
            "smell 2026-06-12 60",
            "theory 2026-13-12 60",
            "theory 2026-06-12",
            "theory 2026-06-12 101",
            "theory 2026-06-12 -1",
            "theory 2026-06-12 60.25",
        ] {
            let faults = read(&format!("candidate,name,brings\nC-1,Ada,{odd}\n")).faults;
            assert_eq!(faults.len(), 1, "{odd}");
            assert_eq!(faults[0].rule, "brought-part", "{odd}");
        }
        let faults = read("candidate,name,tasting\nC-1,Ada,smelling\n").faults;
        assert_eq!(faults[0].rule, "unknown-word");
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
