//! How much of the spread of marks is candidates, and how many such questions would do.
//!
//! Marks as shares of each question's full marks, so that questions count alike. Everybody asked the
//! same: the analysis of variance. Several forms: restricted maximum likelihood over all answers,
//! which takes gaps as they are.

use statistics::generalisability::decision_study::{DecisionStudy, ErrorPart, decision_study};
use statistics::generalisability::persons_by_items::{PersonsByItems, persons_by_items};
use statistics::generalisability::unbalanced_components::unbalanced_components;
use statistics::{Refusal, ScoreTable};

use super::super::responses::{QuestionSet, Responses};
use super::FurtherFigure;

/// What is wanted of a score that decides about a person (common practice, no source).
pub(super) const WANTED: f64 = 0.8;
/// Candidates and questions together above which forms are not brought into one analysis.
const MOST_LEVELS: usize = 700;

pub(super) fn figures(
    responses: &Responses,
    sets: &[QuestionSet],
    pass_mark: Option<f64>,
) -> Vec<FurtherFigure> {
    match sets {
        [] => Vec::new(),
        [one] => balanced(responses, one, pass_mark),
        [first, ..] => {
            let mut made = balanced(responses, first, pass_mark);
            made.extend(over_forms(responses, first));
            made
        }
    }
}

fn balanced(
    responses: &Responses,
    set: &QuestionSet,
    pass_mark: Option<f64>,
) -> Vec<FurtherFigure> {
    let n = set.candidates.len();
    let fitted = shares(responses, set).and_then(|table| persons_by_items(&table));
    let parts = fitted.map(|made| {
        [
            made.person_variance,
            made.item_variance,
            made.residual_variance,
        ]
    });
    let mut lines = study(&set.name, n, set.questions.len(), parts);
    if let (Ok(made), Some(cut)) = (fitted, pass_mark) {
        let at_cut = at_cut(&made, cut);
        lines.push(FurtherFigure::new(
            &set.name,
            "dependability at the cut, phi(lambda)",
            n,
            at_cut.map(|value| {
                (
                    value,
                    "How surely the paper tells candidates from the cut; it rises as the cut moves away from the mean."
                        .to_owned(),
                )
            }),
        ));
    }
    lines
}

fn at_cut(made: &PersonsByItems, cut: f64) -> Result<f64, Refusal> {
    made.decision_study(made.items)?
        .dependability_at_cut(cut, made.mean, made.variance_of_mean())
}

/// The lines of a decision study from the variances of candidates, questions and the rest.
fn study(
    of: &str,
    n: usize,
    questions: usize,
    parts: Result<[f64; 3], Refusal>,
) -> Vec<FurtherFigure> {
    let line = |figure: &str, made| FurtherFigure::new(of, figure, n, made);
    let phi = "dependability of a score, phi";
    let [person, item, rest] = match parts {
        Ok(parts) => parts,
        Err(why) => return vec![line(phi, Err(why))],
    };
    let whole = person.max(0.0) + item.max(0.0) + rest.max(0.0);
    let percent = |part: f64| format!("{:.0} %", part.max(0.0) / whole * 100.0);
    let with = |number: usize| -> Result<DecisionStudy, Refusal> {
        let part = |variance, with_persons| ErrorPart {
            variance,
            conditions: number as f64,
            with_persons,
        };
        decision_study(person, &[part(rest, true), part(item, false)])
    };
    let needed = with(1).map(|one| {
        let error = one.absolute_error * one.absolute_error;
        (WANTED / (1.0 - WANTED) * error / person - 1e-9)
            .ceil()
            .max(1.0)
    });
    vec![
        line(
            "spread of marks that is candidates",
            Ok((
                person.max(0.0) / whole,
                format!(
                    "Of the spread of single marks: candidates {}, questions {}, the two together and all else {}.",
                    percent(person),
                    percent(item),
                    percent(rest)
                ),
            )),
        ),
        line(
            "order of candidates, generalisability",
            with(questions).map(|made| {
                (
                    made.generalisability,
                    "For who is better than whom, with other questions of this kind; alpha is the same figure where all had the same questions."
                        .to_owned(),
                )
            }),
        ),
        line(
            phi,
            with(questions).map(|made| {
                (
                    made.dependability,
                    "For a score beside a cut: how hard the questions happen to be counts as error too."
                        .to_owned(),
                )
            }),
        ),
        line(
            "questions for a phi of .8",
            needed.map(|number| {
                let says = if number <= questions as f64 {
                    format!("There are {questions}, which is enough.")
                } else {
                    format!("There are {questions}: more of them, or questions that tell candidates apart better.")
                };
                (number, says)
            }),
        ),
    ]
}

/// Marks of a set as shares of full marks.
fn shares(responses: &Responses, set: &QuestionSet) -> Result<ScoreTable, Refusal> {
    let rows: Vec<Vec<f64>> = set
        .candidates
        .iter()
        .filter_map(|place| responses.candidates.get(*place))
        .map(|candidate| {
            set.questions
                .iter()
                .filter_map(|place| {
                    let question = responses.questions.get(*place)?;
                    let marks = candidate.answers.get(*place)?.marks()?;
                    Some(marks / question.full)
                })
                .collect()
        })
        .collect();
    ScoreTable::new(&rows)
}

/// All forms in one analysis.
fn over_forms(responses: &Responses, first: &QuestionSet) -> Vec<FurtherFigure> {
    let of = "all forms together";
    let n = responses.candidates.len();
    let (mut values, mut persons, mut questions) = (Vec::new(), Vec::new(), Vec::new());
    for (person, candidate) in responses.candidates.iter().enumerate() {
        let cells = responses
            .questions
            .iter()
            .zip(&candidate.answers)
            .enumerate();
        for (place, (question, answer)) in cells {
            if let (true, Some(marks)) = (question.counts, answer.marks()) {
                values.push(marks / question.full);
                persons.push(person);
                questions.push(place);
            }
        }
    }
    let mut asked = questions.clone();
    asked.sort_unstable();
    asked.dedup();
    let parts = if n + asked.len() > MOST_LEVELS {
        Err(Refusal::OutOfRange {
            of: "number of candidates and questions of all forms",
            value: (n + asked.len()) as f64,
            allowed: "at most 700 in one analysis; the largest form stands above",
        })
    } else {
        unbalanced_components(&values, &[persons, questions]).map(|made| {
            let effect = |place: usize| made.effects.get(place).map_or(0.0, |one| one.variance);
            [effect(0), effect(1), made.residual.variance]
        })
    };
    study(of, n, first.questions.len(), parts)
}

#[cfg(test)]
#[allow(clippy::expect_used)]
mod tests {
    use super::super::super::responses::Answer;
    use super::super::super::responses::tests::right_or_wrong;
    use super::*;

    fn answers() -> Responses {
        let rows: Vec<Vec<u8>> = (0..24_u32)
            .map(|c| {
                (0..8_u32)
                    .map(|q| u8::from((c * 37 + q * q * 29 + c * q * 13) % 97 < 40 + c * 3 - q * 5))
                    .collect()
            })
            .collect();
        let rows: Vec<&[u8]> = rows.iter().map(Vec::as_slice).collect();
        right_or_wrong(&rows)
    }

    fn value(lines: &[FurtherFigure], figure: &str) -> f64 {
        let line = lines.iter().find(|line| line.figure.contains(figure));
        line.and_then(|line| line.value).unwrap_or(f64::NAN)
    }

    #[test]
    fn with_one_form_generalisability_is_alpha_and_restricted_likelihood_says_the_same() {
        let made = answers();
        let sets = made.sets();
        let lines = figures(&made, &sets, Some(0.5));
        let table = made.score_table(&sets[0]).expect("a table");
        let alpha = statistics::reliability::cronbach_alpha::cronbach_alpha(
            &table,
            super::super::super::LEVEL,
        )
        .expect("alpha");
        assert!((value(&lines, "generalisability") - alpha.alpha).abs() < 1e-9);
        assert!(value(&lines, "phi(lambda)").is_finite());
        let unbalanced = over_forms(&made, &sets[0]);
        assert!(
            (value(&unbalanced, "phi") - value(&lines, "dependability of a score")).abs() < 1e-6
        );
    }

    #[test]
    fn two_forms_stand_in_one_analysis_and_gaps_are_taken_as_they_are() {
        let mut made = answers();
        for (place, candidate) in made.candidates.iter_mut().enumerate() {
            candidate.answers[if place % 2 == 0 { 0 } else { 7 }] = Answer::NotAsked;
        }
        let sets = made.sets();
        assert_eq!(sets.len(), 2);
        let lines = figures(&made, &sets, None);
        let all: Vec<&FurtherFigure> = lines
            .iter()
            .filter(|l| l.of.contains("all forms"))
            .collect();
        assert_eq!(all.len(), 4);
        assert!(all.iter().all(|line| line.value.is_some()), "{all:?}");
    }
}
