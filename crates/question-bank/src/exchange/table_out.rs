//! Questions as a table, one row each, for those kinds that fit into a row.

use std::collections::BTreeMap;

use base::{QuestionId, Text};

use super::cell::guarded;
use super::columns::{self, BETWEEN_FORMS, OPTION};
use crate::question::Question;
use crate::question_kind::{AnswerOption, MultipleResponseRule, OrderingRule, QuestionKind};
use crate::read::evidence_word;

/// A table of questions.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TableOut {
    /// CSV with a byte order mark, by which spreadsheets know UTF-8.
    pub text: String,
    /// How many questions stand in it.
    pub rows: usize,
    /// Those that do not fit into a row.
    pub left_out: Vec<LeftOut>,
}

/// A question that does not stand in the table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// Which.
    pub id: QuestionId,
    /// Why, in words.
    pub why: String,
}

type Row = BTreeMap<&'static str, String>;

/// Questions as a table. What cannot come back without loss is left out and told.
pub fn to_table<'q>(questions: impl IntoIterator<Item = &'q Question>) -> TableOut {
    let columns = columns::all();
    let mut out = TableOut {
        text: format!("\u{feff}{}\n", columns.join(",")),
        rows: 0,
        left_out: Vec::new(),
    };
    for question in questions {
        match row(question) {
            Ok(row) => {
                let cells: Vec<String> = columns
                    .iter()
                    .map(|column| quoted(&guarded(row.get(column).map_or("", |cell| cell))))
                    .collect();
                out.text.push_str(&cells.join(","));
                out.text.push('\n');
                out.rows += 1;
            }
            Err(why) => out.left_out.push(LeftOut {
                id: question.id.clone(),
                why,
            }),
        }
    }
    out
}

/// A cell of CSV (RFC 4180).
fn quoted(cell: &str) -> String {
    if cell.contains([',', ';', '\t', '"', '\n', '\r']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}

fn row(question: &Question) -> Result<Row, String> {
    // Taken apart whole, so that a new field cannot be forgotten here.
    let Question {
        id,
        place: _,
        cell,
        level,
        difficulty,
        state,
        reviewed_by,
        source,
        verified,
        marks,
        enemies,
        anchor,
        practice_only,
        live,
        waived,
        kind,
        set,
        picture,
        translations,
    } = question;
    if set.is_some() {
        return Err("the text it shares with others does not fit into a row".to_owned());
    }
    if picture.is_some() {
        return Err("its picture does not fit into a row".to_owned());
    }
    if !translations.is_empty() {
        return Err("its translations do not fit into a row".to_owned());
    }
    let yes = |flag: &bool| if *flag { "yes" } else { "" }.to_owned();
    let mut row = Row::from([
        ("id", id.to_string()),
        ("kind", kind.name().to_owned()),
        ("cell", cell.to_string()),
        ("level", level.word().to_owned()),
        ("difficulty", difficulty.word().to_owned()),
        ("state", state.word().to_owned()),
        (
            "reviewed_by",
            reviewed_by.as_deref().unwrap_or_default().to_owned(),
        ),
        ("work", source.work.to_string()),
        (
            "clause",
            source.clause.as_deref().unwrap_or_default().to_owned(),
        ),
        ("evidence", evidence_word(source.evidence).to_owned()),
        ("verified", verified.to_string()),
        ("marks", marks.to_string()),
        (
            "enemies",
            enemies
                .iter()
                .map(QuestionId::as_str)
                .collect::<Vec<_>>()
                .join(" "),
        ),
        ("anchor", yes(anchor)),
        ("practice_only", yes(practice_only)),
        ("live", yes(live)),
        ("stem", kind.stem().to_owned()),
    ]);
    let mut reasons = Vec::new();
    for waiver in waived {
        if waiver.because.contains('\n') {
            return Err("a reason for a waived rule runs over several lines".to_owned());
        }
        reasons.push(format!("{}: {}", waiver.rule.number(), waiver.because));
    }
    row.insert("waive", reasons.join("\n"));
    kind_cells(kind, &mut row)?;
    Ok(row)
}

fn kind_cells(kind: &QuestionKind, row: &mut Row) -> Result<(), String> {
    let yes = |flag: bool| if flag { "yes" } else { "" }.to_owned();
    match kind {
        QuestionKind::BestAnswer(kind) => {
            options(&kind.options, row);
            row.insert("keep_order", yes(kind.keep_order));
        }
        QuestionKind::MultipleResponse(kind) => {
            options(&kind.options, row);
            row.insert("keep_order", yes(kind.keep_order));
            row.insert("rule", word_of(&MultipleResponseRule::ALL, kind.rule));
        }
        QuestionKind::Numeric(kind) => {
            row.insert("answer", kind.answer_as_written.to_string());
            row.insert("unit", kind.unit.to_string());
            row.insert("tolerance", kind.tolerance.to_string());
            if let Some(half) = kind.half_within {
                row.insert("half_within", half.to_string());
            }
            row.insert("why", kind.why.to_string());
        }
        QuestionKind::Ordering(kind) => {
            for (names, step) in OPTION.iter().zip(&kind.steps) {
                row.insert(names[0], step.to_string());
            }
            row.insert("rule", word_of(&OrderingRule::ALL, kind.rule));
            row.insert("why", kind.why.to_string());
        }
        QuestionKind::ShortAnswer(kind) => {
            row.insert("answer", forms(&kind.accept)?);
            row.insert("why", kind.why.to_string());
        }
        QuestionKind::List(kind) => {
            let entries: Result<Vec<String>, String> =
                kind.accept.iter().map(|entry| forms(entry)).collect();
            row.insert("answer", entries?.join("\n"));
            row.insert("wanted", kind.wanted.to_string());
            row.insert("why", kind.why.to_string());
        }
        QuestionKind::Matching(_) | QuestionKind::Variant(_) | QuestionKind::Essay(_) => {
            return Err(format!("{} does not fit into a row", kind.name()));
        }
    }
    Ok(())
}

/// The forms of one answer in one cell.
fn forms(forms: &[Text]) -> Result<String, String> {
    if forms
        .iter()
        .any(|form| form.contains([BETWEEN_FORMS, '\n']))
    {
        return Err("an accepted form holds a semicolon or a new line".to_owned());
    }
    Ok(forms.join(&format!("{BETWEEN_FORMS} ")))
}

fn options(options: &[AnswerOption], row: &mut Row) {
    for ([text, key, why], option) in OPTION.into_iter().zip(options) {
        row.insert(text, option.text.to_string());
        row.insert(key, if option.key { "yes" } else { "" }.to_owned());
        row.insert(why, option.why.to_string());
    }
}

fn word_of<T: PartialEq>(all: &[(&'static str, T)], wanted: T) -> String {
    all.iter()
        .find(|(_, one)| *one == wanted)
        .map_or_else(String::new, |(word, _)| (*word).to_owned())
}
