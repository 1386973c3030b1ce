//! Tells a person what is kept of them, as a file of their own: nobody else's data, and no key before the
//! results are released.

use std::path::PathBuf;

use base::CandidateNumber;
use grader::Outcome;
use register::{Act, Details, Entry, RegisterError};
use results::regrade::item_name;
use serde_json::{Value, json};

use super::{CANDIDATE, PersonReport, PersonRequest, number_of, told};
use crate::failure::Failure;
use crate::open_sitting::OpenSitting;
use crate::people::people_of;
use crate::roles::{Doing, acting};
use crate::surroundings::Surroundings;

/// What is asked of an export.
#[derive(Debug, Clone, Default)]
pub struct ExportRequest {
    /// Whose data.
    pub person: PersonRequest,
    /// Where it goes.
    pub to: PathBuf,
}

/// Writes what is kept of one person.
///
/// # Errors
/// When nobody has the number, the names cannot be had, or the file cannot be written.
pub fn export_person(
    around: &dyn Surroundings,
    request: &ExportRequest,
) -> Result<PersonReport, Failure> {
    let asked = &request.person;
    let mut open = OpenSitting::open(around, &asked.folder)?;
    let by = acting(
        around,
        Some(&mut open.register),
        Doing::ExportPerson,
        asked.stated,
    )?;
    let number = number_of(&open, &asked.number)?;
    let people = people_of(around, &asked.folder, &open.register, &asked.names)?;
    let mut kept = kept_of(&open, &number)?;
    if let Value::Object(members) = &mut kept {
        members.insert("person".to_owned(), told(people.person(&number)));
    }
    let mut text =
        serde_json::to_vec_pretty(&kept).map_err(|error| Failure::Defect(error.to_string()))?;
    text.push(b'\n');
    let details = Details::from([(CANDIDATE.to_owned(), number.to_string())]);
    // Entered first: nothing is handed out of which the ledger does not know.
    let head = open.register.note(Act::PersonExported, &by, details)?;
    around.write_secret(&request.to, &text)?;
    open.register.close()?;
    Ok(PersonReport {
        candidate: Some(number.to_string()),
        written: vec![request.to.clone()],
        may_hold_names: Vec::new(),
        traces_gone: true,
        head: head.to_string(),
    })
}

/// What stands in the register under a number.
fn kept_of(open: &OpenSitting, number: &CandidateNumber) -> Result<Value, Failure> {
    let drawn = &open.drawn;
    let place = drawn.sitting.places.iter().find(|p| p.candidate == *number);
    let answers: Vec<Value> = open
        .register
        .answers()?
        .iter()
        .filter(|answer| answer.candidate == *number)
        .map(|answer| {
            json!({
                "item": answer.item,
                "answer": answer.answer,
                "from": answer.source,
                "line": answer.line,
                "again_in_line": answer.second_line,
                "sheet": answer.sheet,
            })
        })
        .collect();
    let released = open.register.is_released()?;
    let marks: Value = if released {
        let marks = open.register.marks()?;
        let own = marks.iter().filter(|award| award.candidate == *number);
        own.map(|award| {
            let (marks, why) = match &award.outcome {
                Outcome::Marked { marks, reason, .. } => (Some(marks.to_string()), reason),
                Outcome::ForAPerson { why, .. } => (None, why),
            };
            json!({
                "item": item_name(&award.item),
                "marks": marks,
                "of": award.of.to_string(),
                "why": why,
            })
        })
        .collect()
    } else {
        json!("not before the results are released")
    };
    let mut acts = Vec::new();
    for text in open.register.ledger()? {
        let entry = Entry::read(&text).map_err(RegisterError::Damaged)?;
        acts.extend(act_about(&entry, number.as_str()));
    }
    Ok(json!({
        "format": "valinch person 1",
        "exam": drawn.exam.plan.title,
        "date": drawn.exam.plan.date,
        "candidate": number.as_str(),
        "seat": place.and_then(|p| p.seat.as_ref()).map(ToString::to_string),
        "form": place.and_then(|p| p.form.as_ref()).map(ToString::to_string),
        "codes": place.map(|p| p.glasses.iter().map(|g| g.code.clone()).collect::<Vec<_>>()),
        "answers": answers,
        "marks": marks,
        "acts": acts,
    }))
}

/// An act, where it was about this number; of a correction of several people what is theirs.
fn act_about(entry: &Entry, number: &str) -> Option<Value> {
    let own = |words: &str| {
        let theirs = words.split("; ").filter(|part| {
            part.strip_prefix(number)
                .is_some_and(|rest| rest.starts_with(' '))
        });
        theirs.collect::<Vec<_>>().join("; ")
    };
    let details: Details = if entry.details.get(CANDIDATE).map(String::as_str) == Some(number) {
        entry.details.clone()
    } else if entry.act == Act::Corrected {
        let about: Details = ["marks", "decisions"]
            .into_iter()
            .filter_map(|name| Some((name.to_owned(), own(entry.details.get(name)?))))
            .filter(|(_, words)| !words.is_empty())
            .collect();
        if about.is_empty() {
            return None;
        }
        about
    } else {
        return None;
    };
    Some(json!({
        "entry": entry.number,
        "act": entry.act.word(),
        "time": entry.by.time.as_ref().map(register::Moment::as_str),
        "details": details,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use register::{By, Role};

    #[test]
    fn of_a_correction_a_person_is_told_what_is_theirs() {
        let mut entry = Entry {
            number: 7,
            previous: [0; 32],
            act: Act::Corrected,
            by: By::new(Role::ChiefExaminer, None),
            clock_set_back: false,
            details: Details::from([(
                "marks".to_owned(),
                "C-1 theory 1 from 0 to 1; C-10 theory 1 from 1 to 0".to_owned(),
            )]),
            before: register::ledger::States::new(),
            after: register::ledger::States::new(),
        };
        let told = act_about(&entry, "C-1").map(|value| value["details"]["marks"].clone());
        assert_eq!(told, Some(json!("C-1 theory 1 from 0 to 1")));
        assert_eq!(act_about(&entry, "C-2"), None);
        entry.act = Act::Incident;
        assert_eq!(act_about(&entry, "C-1"), None);
    }
}
