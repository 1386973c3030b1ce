//! Reads judges' tables, scores and difficulties; all faults at once.

use std::path::Path;

use base::table::{Cell, Column, Table};
use base::{Fault, SourceText};
use results::cut_meeting::{EbelRow, HofsteeRow, PageRow, Ratings, ScoredCandidate, SetBy};

use super::{CutRequest, CutWay, Found};
use crate::failure::Failure;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};

/// Tables under reading.
pub(super) struct Tables<'w> {
    around: &'w dyn Surroundings,
    faults: Vec<Fault>,
    sources: Sources,
}

/// A name of a column, and others by which it is known.
type Names = &'static [&'static str];

/// Difficulties by question.
pub(super) type Difficulties = Vec<(String, f64)>;

impl<'w> Tables<'w> {
    pub(super) fn new(around: &'w dyn Surroundings) -> Self {
        Self {
            around,
            faults: Vec::new(),
            sources: Sources::new(),
        }
    }

    pub(super) fn finish(self) -> Found {
        (self.faults, self.sources)
    }

    fn text(&mut self, path: &Path) -> Result<Option<SourceText>, Failure> {
        let text = read_text(self.around, path, &mut self.faults)?;
        if let Some(text) = &text {
            self.sources.insert(text.name.clone(), text.text.clone());
        }
        Ok(text)
    }

    fn column(&mut self, table: &Table<'_>, names: &[&str]) -> Option<Column> {
        let found = names.iter().find_map(|name| table.column(name));
        if found.is_none() {
            let first = names.first().copied().unwrap_or_default();
            let there: Vec<&str> = table.header().iter().map(|c| c.text.as_str()).collect();
            let bytes = table.header().first().map_or(0..0, |c| c.bytes.clone());
            self.faults.push(
                Fault::new(
                    "missing-column",
                    table.place(&bytes),
                    format!("there is no column \"{first}\""),
                )
                .allowed(there.join(", "))
                .near(first, there),
            );
        }
        found
    }

    /// A number from `least` to `most`; a fault and none for anything else.
    fn number(&mut self, table: &Table<'_>, cell: &Cell, least: f64, most: f64) -> Option<f64> {
        let text = cell.text.trim_end_matches('%').trim().replace(',', ".");
        let number = text
            .parse::<f64>()
            .ok()
            .filter(|n| (least..=most).contains(n));
        if number.is_none() {
            self.faults.push(
                Fault::new(
                    "no-number",
                    table.place(&cell.bytes),
                    if cell.text.is_empty() {
                        "this cell is empty".to_owned()
                    } else {
                        format!(
                            "\"{}\" cannot stand here",
                            base::walk::shortened(&cell.text)
                        )
                    },
                )
                .allowed(format!("numbers from {least} to {most}"))
                .hint("every judge fills in every row; a judge who left is left out as a column"),
            );
        }
        number
    }

    fn table<'t>(&mut self, text: &'t SourceText) -> Option<Table<'t>> {
        match Table::read(text) {
            Ok(table) => Some(table),
            Err(fault) => {
                self.faults.push(*fault);
                None
            }
        }
    }

    /// Difficulties: `question,difficulty`.
    pub(super) fn difficulties(&mut self, path: &Path) -> Result<Option<Difficulties>, Failure> {
        let Some(text) = self.text(path)? else {
            return Ok(None);
        };
        let Some(table) = self.table(&text) else {
            return Ok(None);
        };
        let question = self.column(&table, &["question", "item"]);
        let difficulty = self.column(&table, &["difficulty", "b"]);
        let (Some(question), Some(difficulty)) = (question, difficulty) else {
            return Ok(None);
        };
        let mut made = Vec::new();
        for row in table.rows() {
            let value = self.number(&table, &row.cell(difficulty), -50.0, 50.0);
            made.extend(value.map(|value| (row.cell(question).text, value)));
        }
        Ok(Some(made))
    }

    /// Scores, with grades and judged competence where the columns are there.
    pub(super) fn scores(
        &mut self,
        path: &Path,
        request: &CutRequest,
    ) -> Result<Vec<ScoredCandidate>, Failure> {
        let Some(text) = self.text(path)? else {
            return Ok(Vec::new());
        };
        let Some(table) = self.table(&text) else {
            return Ok(Vec::new());
        };
        let Some(score) = self.column(&table, &[request.score_column.as_str()]) else {
            return Ok(Vec::new());
        };
        let needs_grade = matches!(
            request.way,
            CutWay::BorderlineGroup | CutWay::BorderlineRegression
        );
        let grade = if needs_grade {
            self.column(&table, &[request.grade_column.as_str()])
        } else {
            None
        };
        let competent = if request.way == CutWay::ContrastingGroups {
            self.column(&table, &[request.competent_column.as_str()])
        } else {
            None
        };
        let mut made = Vec::new();
        for row in table.rows() {
            // Whoever has no score did not sit.
            if row.cell(score).text.is_empty() {
                continue;
            }
            let Some(own) = self.number(&table, &row.cell(score), -1e6, 1e6) else {
                continue;
            };
            let mut optional = |column: Option<Column>, most: f64| {
                let cell = row.cell(column?);
                if cell.text.is_empty() {
                    None
                } else {
                    self.number(&table, &cell, 0.0, most)
                }
            };
            made.push(ScoredCandidate {
                score: own,
                grade: optional(grade, 1e6),
                competent: optional(competent, 1.0).map(|value| value > 0.5),
            });
        }
        Ok(made)
    }

    /// What the cut is set by.
    pub(super) fn set_by(
        &mut self,
        request: &CutRequest,
        difficulties: Option<Difficulties>,
    ) -> Result<Option<SetBy>, Failure> {
        let wants_ratings = matches!(
            request.way,
            CutWay::Angoff | CutWay::Ebel | CutWay::Hofstee | CutWay::Bookmark | CutWay::Matching
        );
        if wants_ratings == request.ratings.is_empty() {
            return Err(Failure::Refused {
                what: if wants_ratings {
                    format!("{} needs the judges' table", request.way.name())
                } else {
                    format!("{} takes scores and no judges' table", request.way.name())
                },
                hint: if wants_ratings {
                    "--ratings TABLE"
                } else {
                    "--scores TABLE"
                }
                .to_owned(),
            });
        }
        if !wants_ratings && request.scores.is_none()
            || request.way == CutWay::Hofstee && request.scores.is_none()
        {
            return Err(Failure::Refused {
                what: format!("{} needs candidates' scores", request.way.name()),
                hint: "--scores TABLE".to_owned(),
            });
        }
        if request.way != CutWay::Angoff && request.ratings.len() > 1 {
            return Err(Failure::Refused {
                what: format!("{} takes one table of ratings", request.way.name()),
                hint: "only Angoff has rounds".to_owned(),
            });
        }
        let mut texts = Vec::new();
        for path in &request.ratings {
            texts.extend(self.text(path)?);
        }
        if texts.len() < request.ratings.len() {
            return Ok(None);
        }
        Ok(match request.way {
            CutWay::Angoff => self.angoff(&texts, difficulties),
            CutWay::Ebel => texts.first().and_then(|text| self.ebel(text)),
            CutWay::Hofstee => texts.first().and_then(|text| self.hofstee(text)),
            CutWay::Bookmark => {
                let Some(difficulties) = difficulties else {
                    return Err(Failure::Refused {
                        what: "a booklet from easy to hard needs difficulties".to_owned(),
                        hint: "--difficulties TABLE, as analyse gives them from 30 candidates on"
                            .to_owned(),
                    });
                };
                texts.first().and_then(|text| {
                    Some(SetBy::Bookmark {
                        pages: self.pages(text)?,
                        difficulties: difficulties.into_iter().map(|(_, b)| b).collect(),
                        response_probability: request.response_probability,
                    })
                })
            }
            CutWay::BorderlineGroup => Some(SetBy::BorderlineGroup {
                grade: request.borderline,
            }),
            CutWay::BorderlineRegression => Some(SetBy::BorderlineRegression {
                grade: request.borderline,
            }),
            CutWay::ContrastingGroups => Some(SetBy::ContrastingGroups),
            CutWay::Cohen => Some(SetBy::Cohen(request.best_of_class)),
            CutWay::Matching => {
                let Some(difficulties) = difficulties else {
                    return Err(Failure::Refused {
                        what: "levels are set beside how hard each question is".to_owned(),
                        hint: "--difficulties TABLE, as analyse gives them from 30 candidates on"
                            .to_owned(),
                    });
                };
                let placed = texts.first().and_then(|text| self.judged(text, 1.0, 20.0));
                placed.map(|placed| SetBy::Matching {
                    difficulties: self.in_order(&placed.questions, &difficulties),
                    placed,
                    level: request.level,
                })
            }
        })
    }

    /// A table with a row for each question and a column for each judge.
    fn judged(&mut self, text: &SourceText, least: f64, most: f64) -> Option<Ratings> {
        let table = self.table(text)?;
        let question = self.column(&table, &["question", "item"])?;
        let judges: Vec<(String, Column)> = table
            .header()
            .iter()
            .filter(|cell| {
                let special = ["question", "item", "number", "stem", "key"];
                !cell.text.is_empty() && !special.iter().any(|n| cell.text.eq_ignore_ascii_case(n))
            })
            .filter_map(|cell| Some((cell.text.clone(), table.column(&cell.text)?)))
            .collect();
        let mut made = Ratings {
            questions: Vec::new(),
            judges: judges.iter().map(|(name, _)| name.clone()).collect(),
            estimates: Vec::new(),
        };
        for row in table.rows() {
            let mut estimates = Vec::with_capacity(judges.len());
            for (_, column) in &judges {
                estimates.extend(self.number(&table, &row.cell(*column), least, most));
            }
            made.questions.push(row.cell(question).text);
            made.estimates.push(estimates);
        }
        Some(made)
    }

    /// The difficulties in the order of the questions; a fault for each question without one.
    fn in_order(&mut self, questions: &[String], list: &Difficulties) -> Vec<f64> {
        let mut in_order = Vec::new();
        for question in questions {
            match list.iter().find(|(name, _)| name == question) {
                Some((_, value)) => in_order.push(*value),
                None => self.faults.push(Fault::new(
                    "missing-difficulty",
                    None,
                    format!("question {question} has no difficulty"),
                )),
            }
        }
        in_order
    }

    fn angoff(
        &mut self,
        texts: &[SourceText],
        difficulties: Option<Difficulties>,
    ) -> Option<SetBy> {
        let mut rounds: Vec<Ratings> = Vec::new();
        for text in texts {
            let mut made = self.judged(text, 0.0, 100.0)?;
            // All shares, or all per cents: a table is one or the other.
            if made
                .estimates
                .iter()
                .flatten()
                .any(|estimate| *estimate > 1.0)
            {
                for estimate in made.estimates.iter_mut().flatten() {
                    *estimate /= 100.0;
                }
            }
            if let Some(first) = rounds.first()
                && first.questions != made.questions
            {
                self.faults.push(
                    Fault::new(
                        "other-questions",
                        base::Place::whole(&text.name),
                        "this round has other questions than the first, or another order",
                    )
                    .hint("print one sheet and fill it in for each round"),
                );
            }
            rounds.push(made);
        }
        let difficulties = match difficulties {
            Some(list) => {
                let questions = rounds.first().map_or(&[][..], |round| &round.questions);
                Some(self.in_order(questions, &list))
            }
            None => None,
        };
        Some(SetBy::Angoff {
            rounds,
            difficulties,
        })
    }

    fn ebel(&mut self, text: &SourceText) -> Option<SetBy> {
        const ITEMS: Names = &["questions", "n_items"];
        const SHARE: Names = &["percent", "borderline_pct_correct"];
        let table = self.table(text)?;
        let items = self.column(&table, ITEMS);
        let share = self.column(&table, SHARE);
        let (items, share, judge) = (items?, share?, table.column("judge"));
        let mut rows = Vec::new();
        for row in table.rows() {
            let number = self.number(&table, &row.cell(items), 0.0, 10_000.0);
            let percent = self.number(&table, &row.cell(share), 0.0, 100.0);
            if let (Some(number), Some(percent)) = (number, percent) {
                rows.push(EbelRow {
                    judge: judge
                        .map(|column| row.cell(column).text)
                        .unwrap_or_default(),
                    items: number as usize,
                    share: percent / 100.0,
                });
            }
        }
        Some(SetBy::Ebel(rows))
    }

    fn hofstee(&mut self, text: &SourceText) -> Option<SetBy> {
        let table = self.table(text)?;
        let columns = [
            self.column(&table, &["lowest_cut", "min_cut_pct"]),
            self.column(&table, &["highest_cut", "max_cut_pct"]),
            self.column(&table, &["lowest_fail", "min_fail_pct"]),
            self.column(&table, &["highest_fail", "max_fail_pct"]),
        ];
        let mut rows = Vec::new();
        for row in table.rows() {
            let mut own = Vec::new();
            for column in columns {
                own.extend(self.number(&table, &row.cell(column?), 0.0, 100.0));
            }
            if let [lowest_cut, highest_cut, lowest_fail, highest_fail] = own[..] {
                rows.push(HofsteeRow {
                    lowest_cut,
                    highest_cut,
                    lowest_fail,
                    highest_fail,
                });
            }
        }
        Some(SetBy::Hofstee(rows))
    }

    fn pages(&mut self, text: &SourceText) -> Option<Vec<PageRow>> {
        let table = self.table(text)?;
        let column = self.column(&table, &["page"])?;
        let mut pages = Vec::new();
        for row in table.rows() {
            let page = self.number(&table, &row.cell(column), 1.0, 10_000.0);
            pages.extend(page.map(|page| PageRow {
                page: page as usize,
            }));
        }
        Some(pages)
    }
}
