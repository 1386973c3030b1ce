//! How far scores of candidates who had the same questions can be told from chance.

use serde::Serialize;
use statistics::Refusal;
use statistics::reliability::cronbach_alpha::{CronbachAlpha, cronbach_alpha};
use statistics::reliability::guttman_lambdas::{GuttmanLambdas, guttman_lambdas};
use statistics::reliability::omega::{Omega, omega};
use statistics::reliability::standard_error::{
    StandardErrorOfMeasurement, standard_error_of_measurement,
};

use super::LEVEL;
use super::responses::{QuestionSet, Responses};
use super::smallest::Need;

/// Reliability of one set of questions.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SetReliability {
    /// The form, or how many questions.
    pub set: String,
    /// Candidates.
    pub n: usize,
    /// Questions.
    pub questions: usize,
    /// Full marks.
    pub full: f64,
    /// Alpha; KR-20 where all marks are 0 or 1.
    pub alpha: Option<CronbachAlpha>,
    /// Whether all marks are 0 or 1.
    pub right_or_wrong: bool,
    /// Guttman's bounds.
    pub lambdas: Option<GuttmanLambdas>,
    /// Omega of one factor.
    pub omega: Option<Omega>,
    /// The error of a total, in marks.
    pub error: Option<StandardErrorOfMeasurement>,
    /// In words.
    pub sentence: String,
    /// What was refused.
    pub refused: Vec<String>,
}

/// Each set, the largest first.
pub(super) fn by_set(responses: &Responses, sets: &[QuestionSet]) -> Vec<SetReliability> {
    sets.iter().map(|set| of_set(responses, set)).collect()
}

fn of_set(responses: &Responses, set: &QuestionSet) -> SetReliability {
    let n = set.candidates.len();
    let full = set
        .questions
        .iter()
        .filter_map(|place| responses.questions.get(*place))
        .map(|question| question.full)
        .sum();
    let mut made = SetReliability {
        set: set.name.clone(),
        n,
        questions: set.questions.len(),
        full,
        alpha: None,
        right_or_wrong: false,
        lambdas: None,
        omega: None,
        error: None,
        sentence: String::new(),
        refused: Vec::new(),
    };
    if let Some(why) = Need::Reliability.refused(n) {
        made.sentence = format!("{}: {why}", made.set);
        made.refused.push(made.sentence.clone());
        return made;
    }
    match figures(responses, set, &mut made) {
        Ok(()) => made.sentence = in_words(&made),
        Err(refusal) => {
            made.sentence = format!("No reliability of {}: {refusal}.", made.set);
            made.refused.push(made.sentence.clone());
        }
    }
    made
}

fn figures(
    responses: &Responses,
    set: &QuestionSet,
    made: &mut SetReliability,
) -> Result<(), Refusal> {
    let table = responses.score_table(set)?;
    made.right_or_wrong = table.is_right_or_wrong();
    let alpha = cronbach_alpha(&table, LEVEL)?;
    made.lambdas = guttman_lambdas(&table).ok();
    match Need::Omega.refused(made.n) {
        Some(why) => made.refused.push(format!("{}: {why}", made.set)),
        None => match omega(&table) {
            Ok(figure) => made.omega = Some(figure),
            Err(why) => made.refused.push(format!(
                "No omega of {}: {why}. Instead: alpha and lambda 2.",
                made.set
            )),
        },
    }
    match standard_error_of_measurement(&table.totals(), alpha.alpha) {
        Ok(error) => made.error = Some(error),
        Err(_) => made.refused.push(format!(
            "No error of measurement of {}: alpha is {:.2}, and no reliability lies below 0. \
             The questions have nothing in common, or there are too few of them.",
            made.set, alpha.alpha
        )),
    }
    made.alpha = Some(alpha);
    Ok(())
}

fn in_words(made: &SetReliability) -> String {
    let Some(alpha) = &made.alpha else {
        return String::new();
    };
    let name = if made.right_or_wrong {
        "KR-20"
    } else {
        "alpha"
    };
    let mut words = format!(
        "{}: reliability ({name}) {:.2}, 95 % interval {:.2} to {:.2} (n = {}).",
        made.set, alpha.alpha, alpha.interval.lower, alpha.interval.upper, made.n
    );
    if let Some(error) = &made.error {
        words.push_str(&format!(
            " A total is uncertain by {:.1} of {} marks (one standard error).",
            error.marks, made.full
        ));
    }
    words.push_str(if alpha.interval.lower >= 0.8 {
        " That carries a decision about a person."
    } else if alpha.alpha >= 0.8 {
        " That would carry a decision about a person, were it certain; the interval says it is not."
    } else if alpha.alpha >= 0.7 {
        " That carries a class average; near the cut look at more than this score."
    } else {
        " That is little to rest a decision on: more questions, or better ones."
    });
    words
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::responses::tests::right_or_wrong;
    use super::*;

    #[test]
    fn four_candidates_are_refused_by_name_and_six_have_an_interval() {
        let few = right_or_wrong(&[&[1, 0, 1], &[1, 1, 1], &[0, 0, 1], &[0, 0, 0]]);
        let made = by_set(&few, &few.sets());
        assert!(made[0].alpha.is_none() && made[0].refused[0].contains("at least 5"));
        let rows: [&[u8]; 6] = [
            &[1, 0, 1],
            &[1, 1, 1],
            &[0, 0, 1],
            &[0, 0, 0],
            &[1, 1, 0],
            &[1, 1, 1],
        ];
        let more = right_or_wrong(&rows);
        let made = by_set(&more, &more.sets());
        assert!(
            made[0]
                .alpha
                .as_ref()
                .unwrap()
                .interval
                .contains(made[0].alpha.as_ref().unwrap().alpha)
        );
        assert!(made[0].sentence.contains("KR-20"));
    }

    #[test]
    fn everybody_right_is_told_and_is_no_number() {
        let rows: Vec<&[u8]> = vec![&[1, 1]; 8];
        let all = right_or_wrong(&rows);
        let made = by_set(&all, &all.sets());
        assert!(made[0].alpha.is_none());
        assert!(
            made[0].sentence.contains("no variance"),
            "{}",
            made[0].sentence
        );
    }
}
