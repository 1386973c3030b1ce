//! Parts a roster from its people, and changes who is behind a number: the same table without the columns
//! that say who somebody is, or with other words in them.

use base::table::Table;
use base::table_out::quoted;
use base::{CandidateNumber, SourceText};

use crate::people::Person;

/// The columns that say who somebody is.
const PERSONAL: [&str; 2] = ["name", "note"];

/// The table without the columns that say who somebody is: everything the draw looks at, and nobody's
/// name. The same table gives the same text. None where it is no table.
#[must_use]
pub fn without_people(source: &SourceText) -> Option<String> {
    let table = Table::read(source).ok()?;
    let kept: Vec<(usize, String)> = table
        .header()
        .iter()
        .enumerate()
        .map(|(place, cell)| (place, cell.text.to_ascii_lowercase()))
        .filter(|(_, name)| !PERSONAL.contains(&name.as_str()))
        .collect();
    let line = |cells: Vec<String>| cells.join(",") + "\n";
    let mut text = line(kept.iter().map(|(_, name)| quoted(name)).collect());
    for row in table.rows() {
        let cell = |place: usize| row.cells().get(place).map_or("", |cell| &cell.text);
        text.push_str(&line(
            kept.iter().map(|(place, _)| quoted(cell(*place))).collect(),
        ));
    }
    Some(text)
}

/// The table with this person behind a number, or with nobody; other rows and other columns stay as
/// they are. None where it is no table of numbers.
#[must_use]
pub fn with_person(
    source: &SourceText,
    number: &CandidateNumber,
    person: Option<&Person>,
) -> Option<String> {
    let table = Table::read(source).ok()?;
    let mut head: Vec<String> = table
        .header()
        .iter()
        .map(|cell| cell.text.to_ascii_lowercase())
        .collect();
    let own = head.iter().position(|name| name == "candidate")?;
    for (name, wanted) in [
        ("name", person.is_some()),
        ("note", person.is_some_and(|person| person.note.is_some())),
    ] {
        if wanted && !head.iter().any(|column| column == name) {
            head.push(name.to_owned());
        }
    }
    let line = |cells: &[String]| {
        let cells: Vec<String> = cells.iter().map(|cell| quoted(cell)).collect();
        cells.join(",") + "\n"
    };
    let mut text = line(&head);
    for row in table.rows() {
        let mut cells: Vec<String> = row.cells().iter().map(|cell| cell.text.clone()).collect();
        cells.resize(head.len().max(cells.len()), String::new());
        if cells.get(own).map(String::as_str) == Some(number.as_str()) {
            for (column, cell) in head.iter().zip(&mut cells) {
                match column.as_str() {
                    "name" => *cell = person.map_or_else(String::new, |p| p.name.clone()),
                    "note" => *cell = person.and_then(|p| p.note.clone()).unwrap_or_default(),
                    _ => {}
                }
            }
        }
        text.push_str(&line(&cells));
    }
    Some(text)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::read::{read_numbers, read_roster};

    fn parted(text: &str) -> String {
        without_people(&SourceText::new("roster.csv", text)).unwrap()
    }

    #[test]
    fn names_and_notes_go_and_the_rest_stays() {
        let text = "\u{feff}Name;candidate;Service;NOTE;seat\nAda;C-1;room;hears badly;door\n\"Bo; B\";C-2;;;apart C-1\n";
        assert_eq!(
            parted(text),
            "candidate,service,seat\nC-1,room,door\nC-2,,apart C-1\n"
        );
        assert_eq!(parted(&parted(text)), parted(text));
    }

    #[test]
    fn one_person_is_changed_or_taken_away_and_the_rest_stays() {
        let source = SourceText::new("roster.csv", "Name;candidate;seat\nAda;C-1;door\nBo;C-2;\n");
        let number = CandidateNumber::parse("C-2").unwrap();
        let person = Person {
            name: "Bo, the younger".to_owned(),
            note: Some("late".to_owned()),
        };
        let changed = with_person(&source, &number, Some(&person)).unwrap();
        assert_eq!(
            changed,
            "name,candidate,seat,note\nAda,C-1,door,\n\"Bo, the younger\",C-2,,late\n"
        );
        let changed = SourceText::new("roster.csv", &changed);
        assert_eq!(
            read_roster(&changed).value.unwrap().people.person(&number),
            Some(&person)
        );
        let gone = with_person(&changed, &number, None).unwrap();
        assert!(
            !gone.contains("Bo") && !gone.contains("late") && gone.contains("Ada"),
            "{gone}"
        );
    }

    proptest::proptest! {
        #[test]
        fn what_is_drawn_from_is_the_same(text in "candidate,name,service,seat\n([A-C]-[0-9],[A-Za-z]{1,4},(room|kit|),(door|)\n){1,6}") {
            let source = SourceText::new("roster.csv", &text);
            let alone = SourceText::new("roster.csv", &parted(&text));
            if let (Some(whole), []) = (read_roster(&source).value, &*read_roster(&source).faults) {
                let numbers = read_numbers(&alone);
                proptest::prop_assert_eq!(&numbers.faults, &[]);
                let seen = |roster: &crate::Roster| -> Vec<_> {
                    let all = roster.candidates.iter();
                    all.map(|c| (c.number.clone(), c.service, c.wishes.clone())).collect()
                };
                let numbers = numbers.value.unwrap();
                proptest::prop_assert_eq!(seen(&numbers.roster), seen(&whole.roster));
                proptest::prop_assert_eq!(numbers.people.all().count(), 0);
            }
        }
    }
}
