//! A marker's table: one row for each criterion of each script, written out and taken in again.

use std::collections::{BTreeMap, BTreeSet};

use base::table::Table;
use base::table_out::{table, unguarded};
use base::{Fault, Marks, SourceText};
use grader::script_sharing::{Essay, SharedScript};

const HEADER: [&str; 6] = ["script", "question", "criterion", "most", "marks", "answer"];
/// The table for third markers says in addition who cannot be one.
const NOT_BY: &str = "not_by";

/// What the rows of a table are made from.
pub(super) struct Sheet<'s> {
    pub(super) essays: &'s [Essay],
    /// Criteria of an answer's question with their most marks.
    pub(super) rubric: &'s dyn Fn(&Essay) -> Vec<(String, Marks)>,
    /// Who cannot be the third marker of a script, where the table is for third markers.
    pub(super) third_readers: Option<&'s dyn Fn(&SharedScript) -> String>,
}

/// Marks that came in: by script, for each criterion in the order of the rubric.
#[derive(Debug, Clone, Default)]
pub(super) struct GivenMarks {
    by_script: BTreeMap<String, Vec<Option<Marks>>>,
    /// Codes of the scripts that stand in a table, marked or not, each with its place, from 0.
    held: BTreeMap<String, usize>,
}

impl GivenMarks {
    /// Whether a script stands in a table.
    pub(super) fn holds(&self, code: &str) -> bool {
        self.held.contains_key(code)
    }
    /// Notes that scripts stand in a table.
    pub(super) fn hold<'c>(&mut self, codes: impl Iterator<Item = &'c str>) {
        for code in codes {
            let next = self.held.len();
            self.held.entry(code.to_owned()).or_insert(next);
        }
    }
    /// Where a script stands in the table, from 0.
    pub(super) fn place(&self, code: &str) -> Option<usize> {
        self.held.get(code).copied()
    }
    /// The sum of a script's criteria; none while one is missing.
    pub(super) fn total(&self, code: &str) -> Option<Marks> {
        let criteria = self.by_script.get(code)?;
        criteria.iter().copied().sum::<Option<Marks>>()
    }
    /// The marks of a script's criteria that are given, with the place of each criterion.
    pub(super) fn criteria(&self, code: &str) -> Vec<(usize, Marks)> {
        let given = self.by_script.get(code).into_iter().flatten().enumerate();
        given
            .filter_map(|(place, marks)| Some((place, (*marks)?)))
            .collect()
    }
    /// The marks for one criterion of a script.
    pub(super) fn of(&self, code: &str, criterion: usize) -> Option<Marks> {
        *self.by_script.get(code)?.get(criterion)?
    }
}

impl Sheet<'_> {
    /// The table for these scripts, with the marks that were given already.
    pub(super) fn written(&self, scripts: &[&SharedScript], given: &GivenMarks) -> String {
        let mut rows = Vec::new();
        for script in scripts {
            let Some(essay) = self.essays.get(script.essay) else {
                continue;
            };
            for (place, (criterion, most)) in (self.rubric)(essay).into_iter().enumerate() {
                let marks = given.of(&script.code, place);
                rows.push([
                    script.code.clone(),
                    essay.question.to_string(),
                    criterion,
                    most.to_string(),
                    marks.map(|marks| marks.to_string()).unwrap_or_default(),
                    // Once is enough: the rows of a script stand together.
                    if place == 0 {
                        essay.answer.clone()
                    } else {
                        String::new()
                    },
                ]);
            }
        }
        match self.third_readers {
            None => table(HEADER, rows),
            Some(not_by) => {
                let of_code: BTreeMap<&str, String> = scripts
                    .iter()
                    .map(|script| (script.code.as_str(), not_by(script)))
                    .collect();
                let [script, question, criterion, most, marks, answer] = HEADER;
                let head = [script, question, criterion, most, marks, NOT_BY, answer];
                let rows = rows.into_iter().map(|row| {
                    let not_by = of_code.get(row[0].as_str()).cloned().unwrap_or_default();
                    let [script, question, criterion, most, marks, answer] = row;
                    [script, question, criterion, most, marks, not_by, answer]
                });
                table(head, rows)
            }
        }
    }

    /// Adds the marks of a table to those that are there. What is to nothing, out of bounds or given
    /// twice is told and left out, and so is all of a script that was marked on another answer.
    pub(super) fn take(
        &self,
        source: &SourceText,
        own: &[&SharedScript],
        given: &mut GivenMarks,
        faults: &mut Vec<Fault>,
    ) {
        let table = match Table::read(source) {
            Ok(table) => table,
            Err(fault) => {
                faults.push(*fault);
                return;
            }
        };
        let mut changed: BTreeSet<String> = BTreeSet::new();
        let answer_column = table.column("answer");
        let Some([script, criterion, marks]) = table.columns(
            ["script", "criterion", "marks"],
            &["question", "most", NOT_BY, "answer"],
            faults,
        ) else {
            return;
        };
        for row in table.rows() {
            let [code, name, said] = [script, criterion, marks].map(|column| row.cell(column));
            let fault = |cell: &base::table::Cell, rule: &'static str, words: String| {
                Fault::new(rule, table.place(&cell.bytes), words)
            };
            let known = own.iter().find(|script| script.code == code.text);
            let Some(essay) = known.and_then(|script| self.essays.get(script.essay)) else {
                faults.push(
                    fault(
                        &code,
                        "unknown-script",
                        format!(
                            "\"{}\" is no script of this table",
                            base::walk::shortened(&code.text)
                        ),
                    )
                    .near(&code.text, own.iter().map(|script| script.code.as_str())),
                );
                continue;
            };
            given.hold(std::iter::once(code.text.as_str()));
            if let Some(cell) = answer_column.map(|column| row.cell(column))
                && !cell.text.is_empty()
                && !same_words(&cell.text, &essay.answer)
            {
                changed.insert(code.text.clone());
                faults.push(
                    fault(
                        &cell,
                        "changed-answer",
                        format!(
                            "script {} has another answer now than when it was given out",
                            code.text
                        ),
                    )
                    .hint("its marks are not taken: read the answer as it stands now, then correct this cell and the marks"),
                );
            }
            let rubric = (self.rubric)(essay);
            let Some((place, (_, most))) = rubric
                .iter()
                .enumerate()
                .find(|(_, (criterion, _))| criterion == unguarded(&name.text))
            else {
                faults.push(
                    fault(
                        &name,
                        "unknown-criterion",
                        format!(
                            "\"{}\" is no criterion of this question",
                            base::walk::shortened(&name.text)
                        ),
                    )
                    .near(
                        &name.text,
                        rubric.iter().map(|(criterion, _)| criterion.as_str()),
                    ),
                );
                continue;
            };
            if said.text.is_empty() {
                continue;
            }
            let number = said.text.replace(',', ".").parse::<Marks>().ok();
            let Some(number) = number.filter(|n| Marks::ZERO <= *n && n <= most) else {
                faults.push(
                    fault(
                        &said,
                        "marks-out-of-range",
                        format!(
                            "\"{}\" cannot be given here",
                            base::walk::shortened(&said.text)
                        ),
                    )
                    .allowed(format!("0 to {most}, at most three places after the point")),
                );
                continue;
            };
            let criteria = given
                .by_script
                .entry(code.text.clone())
                .or_insert_with(|| vec![None; rubric.len()]);
            match criteria.get_mut(place) {
                Some(Some(earlier)) if *earlier != number => faults.push(
                    fault(
                        &said,
                        "marked-twice",
                        format!(
                            "script {} has {earlier} for this criterion already",
                            code.text
                        ),
                    )
                    .hint("the earlier row stands; take one of the two out"),
                ),
                Some(free) => *free = Some(number),
                None => {}
            }
        }
        given.by_script.retain(|code, _| !changed.contains(code));
    }
}

/// Whether two answers say the same, whatever a spreadsheet did to their spaces.
fn same_words(cell: &str, answer: &str) -> bool {
    unguarded(cell)
        .split_whitespace()
        .eq(answer.split_whitespace())
}
