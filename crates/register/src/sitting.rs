//! The assembled sitting in the register.

use assembler::{CandidatePlace, Form, FormQuestion, Glass, Sitting};
use base::{CandidateNumber, FormName, QuestionId, SampleId, SeatName};
use exam_plan::Service;
use question_bank::{DrawnNumbers, PrintedOrder};
use rusqlite::{Connection, params};

use crate::error::RegisterError;

pub(crate) fn write(connection: &Connection, sitting: &Sitting) -> Result<(), RegisterError> {
    let mut question = connection.prepare(
        "INSERT INTO form_question (form, form_place, number, question, printed_order, counts, drawn)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
    )?;
    for (form_place, form) in sitting.forms.iter().enumerate() {
        for (number, q) in form.questions.iter().enumerate() {
            let order: Vec<String> = q.order.places().iter().map(ToString::to_string).collect();
            question.execute(params![
                form.name.as_str(),
                form_place as i64,
                number as i64 + 1,
                q.question.as_str(),
                order.join(" "),
                q.counts,
                q.drawn.to_string()
            ])?;
        }
    }
    let mut candidate = connection.prepare(
        "INSERT INTO candidate (place, number, service, seat, form) VALUES (?1, ?2, ?3, ?4, ?5)",
    )?;
    let mut glass = connection
        .prepare("INSERT INTO glass (candidate, place, code, sample) VALUES (?1, ?2, ?3, ?4)")?;
    for (place, c) in sitting.places.iter().enumerate() {
        candidate.execute(params![
            place as i64,
            c.candidate.as_str(),
            service_word(c.service),
            c.seat.as_ref().map(SeatName::as_str),
            c.form.as_ref().map(FormName::as_str)
        ])?;
        for (place, g) in c.glasses.iter().enumerate() {
            glass.execute(params![
                c.candidate.as_str(),
                place as i64 + 1,
                g.code,
                g.sample.as_str()
            ])?;
        }
    }
    let mut shortfall =
        connection.prepare("INSERT INTO shortfall (place, sentence) VALUES (?1, ?2)")?;
    for (place, sentence) in sitting.shortfalls.iter().enumerate() {
        shortfall.execute(params![place as i64, sentence])?;
    }
    Ok(())
}

const fn service_word(service: Service) -> &'static str {
    match service {
        Service::Room => "room",
        Service::Kit => "kit",
    }
}

/// Turns the refusal of a stored word into a damage report.
fn sound<T, E: std::fmt::Display>(read: Result<T, E>) -> Result<T, RegisterError> {
    read.map_err(|why| RegisterError::Damaged(why.to_string()))
}

pub(crate) fn read(connection: &Connection) -> Result<Sitting, RegisterError> {
    let mut sitting = Sitting {
        forms: Vec::new(),
        places: Vec::new(),
        shortfalls: Vec::new(),
    };
    let mut select = connection.prepare(
        "SELECT form, question, printed_order, counts, drawn FROM form_question
         ORDER BY form_place, number",
    )?;
    let rows = select.query_map([], |row| {
        Ok((
            row.get::<_, String>(0)?,
            row.get::<_, String>(1)?,
            row.get::<_, String>(2)?,
            row.get::<_, bool>(3)?,
            row.get::<_, String>(4)?,
        ))
    })?;
    for row in rows {
        let (form, question, order, counts, drawn) = row?;
        let name = sound(FormName::parse(&form))?;
        let places: Result<Vec<usize>, _> = order.split_whitespace().map(str::parse).collect();
        let order = PrintedOrder::from_places(sound(places)?).ok_or_else(|| {
            RegisterError::Damaged(format!("\"{order}\" is no order of printed options"))
        })?;
        let question = FormQuestion {
            question: sound(QuestionId::parse(&question))?,
            order,
            drawn: DrawnNumbers::parse(&drawn).ok_or_else(|| {
                RegisterError::Damaged(format!("\"{drawn}\" are no drawn numbers"))
            })?,
            counts,
        };
        match sitting.forms.last_mut() {
            Some(form) if form.name == name => form.questions.push(question),
            Some(_) | None => sitting.forms.push(Form {
                name,
                questions: vec![question],
            }),
        }
    }
    let mut select =
        connection.prepare("SELECT number, service, seat, form FROM candidate ORDER BY place")?;
    let rows = select.query_map([], |row| {
        Ok((
            row.get::<_, String>(0)?,
            row.get::<_, String>(1)?,
            row.get::<_, Option<String>>(2)?,
            row.get::<_, Option<String>>(3)?,
        ))
    })?;
    let mut glasses =
        connection.prepare("SELECT code, sample FROM glass WHERE candidate = ?1 ORDER BY place")?;
    for row in rows {
        let (number, service, seat, form) = row?;
        let mut served = Vec::new();
        let found = glasses.query_map([&number], |row| {
            Ok((row.get::<_, String>(0)?, row.get::<_, String>(1)?))
        })?;
        for glass in found {
            let (code, sample) = glass?;
            served.push(Glass {
                code,
                sample: sound(SampleId::parse(&sample))?,
            });
        }
        sitting.places.push(CandidatePlace {
            candidate: sound(CandidateNumber::parse(&number))?,
            service: match service.as_str() {
                "room" => Service::Room,
                "kit" => Service::Kit,
                other => {
                    return Err(RegisterError::Damaged(format!(
                        "\"{other}\" is no kind of service"
                    )));
                }
            },
            seat: sound(seat.as_deref().map(SeatName::parse).transpose())?,
            form: sound(form.as_deref().map(FormName::parse).transpose())?,
            glasses: served,
        });
    }
    let mut select = connection.prepare("SELECT sentence FROM shortfall ORDER BY place")?;
    for sentence in select.query_map([], |row| row.get(0))? {
        sitting.shortfalls.push(sentence?);
    }
    Ok(sitting)
}
