//! Which column of a table is what.

use base::Fault;
use base::table::{Column, Table};

use super::TableOptions;

/// Where the answers stand.
#[derive(Debug)]
pub(super) enum Shape {
    /// One column for each question.
    Wide(Vec<(String, Column)>),
    /// One row for each answer.
    Long { question: Column, answer: Column },
}

/// The columns of one table.
#[derive(Debug)]
pub(super) struct Columns {
    pub(super) candidate: Option<Column>,
    pub(super) form: Option<Column>,
    pub(super) sitting: Option<Column>,
    pub(super) marker: Option<Column>,
    pub(super) count: Option<Column>,
    pub(super) group: Option<Column>,
    pub(super) shape: Shape,
}

/// Columns that are no questions wherever they stand.
const NEVER_A_QUESTION: [&str; 3] = ["name", "remark", "part"];

impl Columns {
    /// Finds the columns; a column that was named and is not there is a fault.
    pub(super) fn of(
        table: &Table<'_>,
        options: &TableOptions,
        faults: &mut Vec<Fault>,
    ) -> Option<Self> {
        let before = faults.len();
        let mut find = |asked: Option<&String>, usual: &[&str]| match asked {
            Some(name) => {
                let column = table.column(name);
                if column.is_none() {
                    faults.push(missing(table, name));
                }
                column
            }
            None => usual.iter().find_map(|name| table.column(name)),
        };
        let candidate = find(options.candidate.as_ref(), &["candidate"]);
        let form = find(options.form.as_ref(), &["form"]);
        let sitting = find(options.sitting.as_ref(), &["sitting"]);
        let marker = find(options.marker.as_ref(), &["marker"]);
        let count = find(options.count.as_ref(), &[]);
        let group = find(options.group.as_ref(), &[]);
        let question = find(options.question.as_ref(), &["question"]);
        let answer = find(options.answer.as_ref(), &["answer", "mark", "marks"]);
        for name in &options.leave_out {
            find(Some(name), &[]);
        }
        let special = [candidate, form, sitting, marker, count, group];
        let shape = match (question, answer) {
            (Some(question), Some(answer)) => Shape::Long { question, answer },
            _ => Shape::Wide(
                table
                    .header()
                    .iter()
                    .filter(|cell| {
                        let left_out = options.leave_out.iter().map(String::as_str);
                        let named = |name: &str| cell.text.eq_ignore_ascii_case(name);
                        let column = table.column(&cell.text);
                        !left_out.chain(NEVER_A_QUESTION).any(named)
                            && !special.iter().flatten().any(|other| Some(*other) == column)
                            && !cell.text.is_empty()
                    })
                    .filter_map(|cell| Some((cell.text.clone(), table.column(&cell.text)?)))
                    .collect(),
            ),
        };
        if let Shape::Wide(questions) = &shape {
            for (place, (name, _)) in questions.iter().enumerate() {
                let mut earlier = questions.iter().take(place);
                if earlier.any(|(other, _)| other.eq_ignore_ascii_case(name)) {
                    faults.push(Fault::new(
                        "doubled-column",
                        whole_header(table),
                        format!("the column \"{name}\" stands twice"),
                    ));
                }
            }
            if questions.is_empty() {
                faults.push(
                    Fault::new(
                        "no-questions",
                        whole_header(table),
                        "no column of this table is a question",
                    )
                    .hint(
                        "one column for each question, or columns candidate, question and answer",
                    ),
                );
            }
        }
        (faults.len() == before).then_some(Self {
            candidate,
            form,
            sitting,
            marker,
            count,
            group,
            shape,
        })
    }
}

fn whole_header(table: &Table<'_>) -> base::Place {
    let start = table.header().first().map_or(0, |cell| cell.bytes.start);
    let end = table.header().last().map_or(0, |cell| cell.bytes.end);
    table.place(&(start..end))
}

fn missing(table: &Table<'_>, name: &str) -> Fault {
    let names: Vec<&str> = table.header().iter().map(|c| c.text.as_str()).collect();
    let listed: Vec<&str> = names.iter().take(12).copied().collect();
    Fault::new(
        "missing-column",
        whole_header(table),
        format!("there is no column \"{}\"", base::walk::shortened(name)),
    )
    .allowed(listed.join(", "))
    .near(name, names)
}
