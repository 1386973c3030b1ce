//! Answers as an analysis takes them: candidates by questions, each cell an answer or why not.

use std::collections::{BTreeMap, BTreeSet};

use statistics::ScoreTable;

/// One question of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct AskedQuestion {
    /// Its name: the column, or the id in the bank.
    pub name: String,
    /// Its stem, shortened; empty where it is not known.
    pub stem: String,
    /// The option that is right, where options were chosen and one is.
    pub key: Option<usize>,
    /// The options by the words of the table; empty where none were chosen.
    pub options: Vec<String>,
    /// Full marks.
    pub full: f64,
    /// Whether it counts towards the total.
    pub counts: bool,
}

/// What stands in a cell.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Answer {
    /// The question was not put to this candidate.
    NotAsked,
    /// It was left out.
    Omitted,
    /// Time ran out before it.
    NotReached,
    /// It was answered.
    Given {
        /// Marks earned.
        marks: f64,
        /// The option chosen, where there are options.
        option: Option<usize>,
    },
}

impl Answer {
    /// The marks; none where it was not asked.
    #[must_use]
    pub const fn marks(self) -> Option<f64> {
        match self {
            Self::NotAsked => None,
            Self::Omitted | Self::NotReached => Some(0.0),
            Self::Given { marks, .. } => Some(marks),
        }
    }
}

/// One candidate's answers, in the order of the questions.
#[derive(Debug, Clone, PartialEq)]
pub struct CandidateAnswers {
    /// Number or name.
    pub candidate: String,
    /// The sitting; empty where there is one.
    pub sitting: String,
    /// The form; empty where there is one.
    pub form: String,
    /// The group for comparisons of groups; empty where none is named.
    pub group: String,
    /// As many as there are questions.
    pub answers: Vec<Answer>,
}

/// A table of answers.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Responses {
    /// Whose answers: `theory`, `tasting`, or a table's name.
    pub what: String,
    /// The questions.
    pub questions: Vec<AskedQuestion>,
    /// The candidates.
    pub candidates: Vec<CandidateAnswers>,
}

/// Candidates who were asked the same counted questions.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct QuestionSet {
    /// The forms, or "all".
    pub(super) name: String,
    /// Places of the questions.
    pub(super) questions: Vec<usize>,
    /// Places of the candidates.
    pub(super) candidates: Vec<usize>,
}

/// Marks had and marks to be had.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Total {
    pub(super) marks: f64,
    pub(super) full: f64,
}

impl Total {
    /// The share of the marks; 0 where there were none to be had.
    pub(super) fn share(self) -> f64 {
        if self.full > 0.0 {
            self.marks / self.full
        } else {
            0.0
        }
    }
}

impl Responses {
    /// Those who gave at least one answer, and how many others there are.
    pub(super) fn with_answers(&self) -> (Self, usize) {
        let gave = |candidate: &&CandidateAnswers| {
            let answers = &candidate.answers;
            answers.iter().any(|a| matches!(a, Answer::Given { .. }))
        };
        let candidates: Vec<_> = self.candidates.iter().filter(gave).cloned().collect();
        let without = self.candidates.len() - candidates.len();
        let made = Self {
            candidates,
            ..self.clone()
        };
        (made, without)
    }

    /// The sittings in order of their names; none where there is one without a name.
    pub(super) fn sittings(&self) -> Vec<String> {
        let names: BTreeSet<&str> = self.candidates.iter().map(|c| c.sitting.as_str()).collect();
        names
            .into_iter()
            .filter(|name| !name.is_empty())
            .map(str::to_owned)
            .collect()
    }

    /// How many candidates each named group has.
    #[must_use]
    pub fn groups(&self) -> BTreeMap<String, usize> {
        let mut made = BTreeMap::new();
        for candidate in self.candidates.iter().filter(|one| !one.group.is_empty()) {
            *made.entry(candidate.group.clone()).or_insert(0) += 1;
        }
        made
    }

    /// The counted total of a candidate, one question left out where it is named.
    pub(super) fn total(&self, candidate: &CandidateAnswers, without: Option<usize>) -> Total {
        let mut total = Total {
            marks: 0.0,
            full: 0.0,
        };
        let cells = self.questions.iter().zip(&candidate.answers).enumerate();
        for (place, (question, answer)) in cells {
            if !question.counts || Some(place) == without {
                continue;
            }
            if let Some(marks) = answer.marks() {
                total.marks += marks;
                total.full += question.full;
            }
        }
        total
    }

    /// Candidates in groups that were asked the same counted questions; the largest group first.
    pub(super) fn sets(&self) -> Vec<QuestionSet> {
        let mut groups: BTreeMap<Vec<usize>, Vec<usize>> = BTreeMap::new();
        for (place, candidate) in self.candidates.iter().enumerate() {
            let asked = self
                .questions
                .iter()
                .zip(&candidate.answers)
                .enumerate()
                .filter(|(_, (question, answer))| question.counts && answer.marks().is_some())
                .map(|(place, _)| place)
                .collect();
            groups.entry(asked).or_default().push(place);
        }
        let one = groups.len() == 1;
        let mut sets: Vec<QuestionSet> = groups
            .into_iter()
            .map(|(questions, candidates)| {
                let forms: BTreeSet<&str> = candidates
                    .iter()
                    .filter_map(|place| self.candidates.get(*place))
                    .map(|candidate| candidate.form.as_str())
                    .filter(|form| !form.is_empty())
                    .collect();
                let name = if one || forms.is_empty() {
                    format!("{} questions", questions.len())
                } else {
                    let forms: Vec<&str> = forms.into_iter().collect();
                    format!("form {}", forms.join(", "))
                };
                QuestionSet {
                    name,
                    questions,
                    candidates,
                }
            })
            .collect();
        sets.sort_by_key(|set| std::cmp::Reverse(set.candidates.len()));
        sets
    }

    /// The marks of a set without gaps.
    pub(super) fn score_table(&self, set: &QuestionSet) -> Result<ScoreTable, statistics::Refusal> {
        let rows: Vec<Vec<f64>> = set
            .candidates
            .iter()
            .filter_map(|place| self.candidates.get(*place))
            .map(|candidate| {
                set.questions
                    .iter()
                    .map(|place| {
                        let answer = candidate.answers.get(*place);
                        answer.and_then(|a| a.marks()).unwrap_or(0.0)
                    })
                    .collect()
            })
            .collect();
        ScoreTable::new(&rows)
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    /// Marks of 0 and 1 as a table with one form.
    pub(crate) fn right_or_wrong(rows: &[&[u8]]) -> Responses {
        let questions = rows.first().map_or(0, |row| row.len());
        Responses {
            what: "answers".to_owned(),
            questions: (1..=questions)
                .map(|number| AskedQuestion {
                    name: format!("q{number}"),
                    stem: String::new(),
                    key: None,
                    options: Vec::new(),
                    full: 1.0,
                    counts: true,
                })
                .collect(),
            candidates: rows
                .iter()
                .enumerate()
                .map(|(place, row)| CandidateAnswers {
                    candidate: (place + 1).to_string(),
                    sitting: String::new(),
                    form: String::new(),
                    group: String::new(),
                    answers: row
                        .iter()
                        .map(|mark| match mark {
                            9 => Answer::NotAsked,
                            8 => Answer::Omitted,
                            _ => Answer::Given {
                                marks: f64::from(*mark),
                                option: None,
                            },
                        })
                        .collect(),
                })
                .collect(),
        }
    }

    #[test]
    fn a_question_that_was_not_asked_takes_no_part_and_one_left_out_earns_nothing() {
        let made = right_or_wrong(&[&[1, 9, 1], &[1, 1, 8], &[8, 8, 8]]);
        let (present, without) = made.with_answers();
        assert_eq!((present.candidates.len(), without), (2, 1));
        let shares: Vec<f64> = present
            .candidates
            .iter()
            .map(|candidate| present.total(candidate, None).share())
            .collect();
        assert_eq!(shares, [1.0, 2.0 / 3.0]);
        assert_eq!(present.sets().len(), 2);
    }
}
