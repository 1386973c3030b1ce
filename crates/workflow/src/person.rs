//! What a person may ask about their own data: to be told it, to have it put right, to have it erased;
//! and the end of the time for which names are kept. Each is an act of the chief examiner with an entry
//! in the ledger, which stays sound, since no name ever stood in it.
//!
//! Answers, marks and what was decided stay under the number: the marks of a sitting rest on them, and
//! so do the figures of everybody else. When nobody is behind the number any more, they are nobody's.

use std::path::{Path, PathBuf};

use base::{CandidateNumber, SourceText};
use exam_plan::read::{read_numbers, read_plan, with_person, without_people};
use exam_plan::{IdentityKept, People, Person};
use jiff::ToSpan;
use jiff::civil::Date;
use register::{Act, Commitment, Details, Head, Identity, Register};
use serde::Serialize;

use crate::failure::Failure;
use crate::open_sitting::OpenSitting;
use crate::people::{
    Names, as_entered, changed, lock_up, names_file, opened, read_names, stored_roster,
};
use crate::roles::{Doing, Stated, acting};
use crate::surroundings::Surroundings;

mod export;

pub use export::{ExportRequest, export_person};

/// The detail of an entry that says whose data it was.
const CANDIDATE: &str = "candidate";

/// What is asked about one person.
#[derive(Debug, Clone, Default)]
pub struct PersonRequest {
    /// The exam's folder.
    pub folder: PathBuf,
    /// The person's number.
    pub number: String,
    /// Where names are, or what opens them.
    pub names: Names,
    /// In which role it is done, and who agrees.
    pub stated: Stated,
}

/// What is put right.
#[derive(Debug, Clone, Default)]
pub struct PersonCorrection {
    /// The name; as it was where none is given.
    pub name: Option<String>,
    /// The note; as it was where none is given, and empty to take it away.
    pub note: Option<String>,
}

/// What an act on personal data did.
#[derive(Debug, Clone, Serialize)]
pub struct PersonReport {
    /// Whose data it was; none where it was everybody's.
    pub candidate: Option<String>,
    /// Files that were written anew, or put down.
    pub written: Vec<PathBuf>,
    /// What this program made before and does not touch: it may hold names.
    pub may_hold_names: Vec<PathBuf>,
    /// Whether what was deleted is gone from the register's file. Another program that was reading it
    /// may hold it; the next act of this kind, or `results retention` again, takes it away.
    pub traces_gone: bool,
    /// The head of the ledger after the act.
    pub head: String,
}

/// People as an act finds them, and where the new state goes.
struct Found {
    /// Who is behind the numbers.
    people: People,
    /// Where they were.
    was: Identity,
    /// The table with the names where it is kept apart: its place and its text.
    file: Option<(PathBuf, SourceText)>,
}

/// Finds people for an act on `number`: in the file what is said of others must be as it was entered.
fn find(
    around: &dyn Surroundings,
    open: &OpenSitting,
    request: &PersonRequest,
    number: &CandidateNumber,
) -> Result<Found, Failure> {
    let was = open.register.identity()?;
    let found = match &was {
        Identity::Locked(locked) => (opened(locked, &request.names)?, None),
        Identity::Removed => {
            return Failure::refused(
                "names are not kept any more: their time was over",
                "nothing is left to be changed; what is kept stands under numbers",
            );
        }
        Identity::SeparateFile(entered) => {
            let path = names_file(&request.folder, &request.names);
            let (text, people) = read_names(around, &path)?;
            let mut others = changed(entered, &people);
            others.retain(|other| other != number);
            as_entered(&path, &request.folder, &others)?;
            (people, Some((path, text)))
        }
        Identity::InTexts => moved_out(open, request)?,
    };
    Ok(Found {
        people: found.0,
        file: found.1,
        was,
    })
}

/// People of a register of before version 6, whose roster names them: from there they go where the plan
/// of the sitting says.
fn moved_out(
    open: &OpenSitting,
    request: &PersonRequest,
) -> Result<(People, Option<(PathBuf, SourceText)>), Failure> {
    let Some(text) = stored_roster(&open.register)? else {
        return Failure::refused(
            "this register holds no roster, so it names nobody",
            "there is nothing to change",
        );
    };
    let people = read_numbers(&text)
        .value
        .map_or_else(People::nobody, |read| read.people);
    let path = names_file(&request.folder, &request.names);
    Ok((people, Some((path, text))))
}

impl Found {
    /// What the register holds after the act, where `people` are those who are left and `salts` is a
    /// secret that is kept nowhere.
    fn after(
        &self,
        open: &OpenSitting,
        names: &Names,
        salts: &base::ExamSeed,
    ) -> Result<Identity, Failure> {
        let locked = match &self.was {
            Identity::Locked(_) => true,
            Identity::InTexts => {
                open.drawn.exam.plan.personal_data.identity == IdentityKept::Locked
            }
            Identity::SeparateFile(_) | Identity::Removed => false,
        };
        match (&names.passphrase, &self.was) {
            (Some(passphrase), _) if locked => lock_up(&self.people, passphrase),
            (_, Identity::SeparateFile(entered)) => {
                // Who did not change keeps the commitment that was entered.
                let all = self.people.all().filter_map(|(number, person)| {
                    let kept = entered.iter().find(|bound| bound.candidate == *number)?;
                    Some(if kept.is_of(person) {
                        kept.clone()
                    } else {
                        Commitment::to(number, person, salts)
                    })
                });
                Ok(Identity::SeparateFile(all.collect()))
            }
            (_, _) => Ok(Identity::beside(&self.people, salts)),
        }
    }

    /// The file anew, where there is one.
    fn file_after(&self, number: &CandidateNumber) -> Result<Option<(&Path, String)>, Failure> {
        let Some((path, text)) = &self.file else {
            return Ok(None);
        };
        let person = self.people.person(number);
        match with_person(text, number, person) {
            Some(text) => Ok(Some((path, text))),
            None => Err(Failure::Defect("a table that was read is none".to_owned())),
        }
    }
}

/// The number of somebody who sat the exam.
fn number_of(open: &OpenSitting, words: &str) -> Result<CandidateNumber, Failure> {
    let places = open.drawn.sitting.places.iter();
    let known: Vec<&CandidateNumber> = places.map(|place| &place.candidate).collect();
    if let Some(number) = known.iter().find(|known| known.as_str() == words) {
        return Ok((*number).clone());
    }
    let near = base::near::nearest(words, known.iter().map(|known| known.as_str()));
    Failure::refused(
        format!(
            "nobody with the number \"{}\" sits this exam",
            base::walk::shortened(words)
        ),
        match near.first() {
            Some(near) => format!("did you mean \"{near}\"?"),
            None => "the roster has the numbers".to_owned(),
        },
    )
}

/// Puts a person's name or note right.
///
/// # Errors
/// When one role acts alone, nobody has the number, the person was erased, or what is kept cannot be
/// read or written.
pub fn correct_person(
    around: &dyn Surroundings,
    request: &PersonRequest,
    right: &PersonCorrection,
) -> Result<PersonReport, Failure> {
    let mut open = OpenSitting::open(around, &request.folder)?;
    let by = acting(
        around,
        Some(&mut open.register),
        Doing::CorrectPerson,
        request.stated,
    )?;
    let number = number_of(&open, &request.number)?;
    let name = right.name.as_deref().map(str::trim);
    if name.is_some_and(|name| name.is_empty() || name.chars().any(char::is_control)) {
        return Failure::refused(
            "a name has at least one letter and stands in one line",
            "to take a name away: valinch results person erase",
        );
    }
    if name.is_none() && right.note.is_none() {
        return Failure::refused("nothing is put right", "give --name, --note or both");
    }
    let mut found = find(around, &open, request, &number)?;
    let erased = match &found.was {
        Identity::SeparateFile(entered) => !entered.iter().any(|b| b.candidate == number),
        Identity::Locked(_) | Identity::InTexts | Identity::Removed => {
            found.people.person(&number).is_none()
        }
    };
    if erased {
        return Failure::refused(
            format!("{number} was erased: nobody is behind this number any more"),
            "nothing was changed",
        );
    }
    let mut person = found.people.person(&number).cloned().unwrap_or_default();
    let mut what = Vec::new();
    if let Some(name) = name {
        name.clone_into(&mut person.name);
        what.push("name");
    }
    if let Some(note) = &right.note {
        let note = note.trim();
        person.note = (!note.is_empty()).then(|| note.to_owned());
        what.push("note");
    }
    found.people.put(number.clone(), person);
    let details = Details::from([
        (CANDIDATE.to_owned(), number.to_string()),
        ("corrected".to_owned(), what.join(", ")),
    ]);
    put(
        around,
        open,
        request,
        &found,
        &number,
        (Act::PersonCorrected, details),
        &by,
    )
}

/// Erases who is behind a number.
///
/// # Errors
/// As `correct_person`.
pub fn erase_person(
    around: &dyn Surroundings,
    request: &PersonRequest,
) -> Result<PersonReport, Failure> {
    let mut open = OpenSitting::open(around, &request.folder)?;
    let by = acting(
        around,
        Some(&mut open.register),
        Doing::ErasePerson,
        request.stated,
    )?;
    let number = number_of(&open, &request.number)?;
    let mut found = find(around, &open, request, &number)?;
    found.people.take(&number);
    let details = Details::from([(CANDIDATE.to_owned(), number.to_string())]);
    put(
        around,
        open,
        request,
        &found,
        &number,
        (Act::PersonErased, details),
        &by,
    )
}

/// Enters an act on one person and writes what is kept apart. Entered first: where the disk then takes
/// no file, the same act again writes it.
fn put(
    around: &dyn Surroundings,
    mut open: OpenSitting,
    request: &PersonRequest,
    found: &Found,
    number: &CandidateNumber,
    (act, details): (Act, Details),
    by: &register::By,
) -> Result<PersonReport, Failure> {
    let after = found.after(&open, &request.names, &around.fresh_seed()?)?;
    let seen = seen(&open)?;
    let file = match &after {
        Identity::Locked(_) => None,
        Identity::SeparateFile(_) | Identity::InTexts | Identity::Removed => {
            found.file_after(number)?
        }
    };
    let head = open
        .register
        .put_identity(act, details, &after, &seen, by)?;
    let mut written = Vec::new();
    if let Some((path, text)) = file {
        around.write_secret(path, text.as_bytes())?;
        written.push(path.to_owned());
    }
    let traces_gone = open.register.forget_what_was_deleted()?;
    open.register.close()?;
    Ok(PersonReport {
        candidate: Some(number.to_string()),
        written,
        may_hold_names: may_hold_names(around, &request.folder)?,
        traces_gone,
        head: head.to_string(),
    })
}

fn seen(open: &OpenSitting) -> Result<Head, Failure> {
    match open.drawn.custody.head {
        Some(seen) => Ok(seen),
        None => Ok(open.register.head()?),
    }
}

/// What is asked of the end of the time for which names are kept.
#[derive(Debug, Clone, Default)]
pub struct RetentionRequest {
    /// The exam's folder.
    pub folder: PathBuf,
    /// Where names are.
    pub names: Names,
    /// In which role it is done, and who agrees.
    pub stated: Stated,
}

/// Removes everybody's name and note, when the time is over for which the plan keeps them.
///
/// # Errors
/// When the plan sets no time, it is not over or no clock tells, or what is kept cannot be written.
pub fn end_retention(
    around: &dyn Surroundings,
    request: &RetentionRequest,
) -> Result<PersonReport, Failure> {
    let mut open = OpenSitting::open(around, &request.folder)?;
    let by = acting(
        around,
        Some(&mut open.register),
        Doing::EndRetention,
        request.stated,
    )?;
    let plan = &open.drawn.exam.plan;
    let Some(months) = plan.personal_data.months else {
        return Failure::refused(
            "the plan of this sitting does not say how long names are kept",
            "retention: { months: 24 } in a plan says it for the next sitting; here: valinch results person erase",
        );
    };
    let end = end_of(&plan.date, months)?;
    let Some(now) = &by.time else {
        return Failure::refused(
            "no clock says whether the time is over for which names are kept",
            "set the clock of this machine",
        );
    };
    let today = now.as_str().get(..10).unwrap_or_default();
    if *today < *end {
        return Failure::refused(
            format!("names are kept until {end}, and today is {today}"),
            "nothing was removed; one person is erased by: valinch results person erase",
        );
    }
    let file = names_file(&request.folder, &request.names);
    let file = around.has_file(&file).then_some(file);
    let text = match &file {
        Some(path) => Some(read_names(around, path)?.0),
        None => None,
    };
    let details = Details::from([
        ("kept until".to_owned(), end),
        ("months".to_owned(), months.to_string()),
    ]);
    let seen = seen(&open)?;
    let head = open
        .register
        .put_identity(Act::Expired, details, &Identity::Removed, &seen, &by)?;
    let mut written = Vec::new();
    if let Some((path, text)) = file.zip(text) {
        let text = without_people(&text)
            .ok_or_else(|| Failure::Defect("a table that was read is none".to_owned()))?;
        around.write_secret(&path, text.as_bytes())?;
        written.push(path);
    }
    let traces_gone = open.register.forget_what_was_deleted()?;
    open.register.close()?;
    Ok(PersonReport {
        candidate: None,
        written,
        may_hold_names: may_hold_names(around, &request.folder)?,
        traces_gone,
        head: head.to_string(),
    })
}

/// Since when the names of a register should have been removed, where they still are; the register is
/// not changed. What cannot be read of it is told where it is checked.
pub(crate) fn overdue(around: &dyn Surroundings, register: &Path) -> Option<String> {
    let (identity, texts) = Register::people_and_texts(register).ok()?;
    if identity == Identity::Removed {
        return None;
    }
    let plan = texts.iter().find(|text| text.name == "plan.yaml")?;
    let plan = read_plan(&SourceText::new(&plan.name, &plan.text)).value?;
    let end = end_of(&plan.date, plan.personal_data.months?).ok()?;
    let now = around.now()?;
    (now.as_str().get(..10)? >= end.as_str()).then_some(end)
}

/// The first day on which names are not kept any more.
fn end_of(day: &str, months: u32) -> Result<String, Failure> {
    let begun: Option<Date> = day.parse().ok();
    begun
        .and_then(|day| day.checked_add(i64::from(months).months()).ok())
        .map(|end| end.to_string())
        .ok_or_else(|| Failure::Defect(format!("{months} months after {day} is no day")))
}

/// What lies in the folder with names in it and is not written anew by these acts.
fn may_hold_names(around: &dyn Surroundings, folder: &Path) -> Result<Vec<PathBuf>, Failure> {
    let mut found = Vec::new();
    for below in [
        "papers",
        "results",
        "results/reports",
        "rehearsal",
        "persons",
        "answers",
    ] {
        let path = folder.join(below);
        let told = found.iter().any(|above| path.starts_with(above));
        if !told && !around.files_in(&path)?.is_empty() {
            found.push(path);
        }
    }
    Ok(found)
}

/// Whether a person is behind a number at all, for what is told of them.
fn told(person: Option<&Person>) -> serde_json::Value {
    match person {
        Some(person) => serde_json::json!({ "name": person.name, "note": person.note }),
        None => serde_json::Value::Null,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn the_end_of_the_time_is_a_day_of_the_calendar() {
        for (day, months, end) in [
            ("2027-06-12", 24, "2029-06-12"),
            ("2027-08-31", 6, "2028-02-29"),
            ("2027-01-31", 1, "2027-02-28"),
        ] {
            assert_eq!(end_of(day, months).unwrap(), end);
        }
        assert!(end_of("no day", 1).is_err());
    }
}
