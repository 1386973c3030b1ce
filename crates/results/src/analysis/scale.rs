//! Questions and candidates on one scale (Rasch), and how precisely the paper measures at the pass
//! mark.
//!
//! Marginal maximum likelihood, so that candidates need not have had the same questions; candidates
//! are measured by Warm's weighted likelihood. Questions that everybody had right, or nobody, or
//! that have part marks, are left out and named.

use serde::Serialize;
use statistics::scaling::information::{TestInformation, test_information};
use statistics::scaling::item_curve::ItemCurve;
use statistics::scaling::item_fit::item_fit;
use statistics::scaling::person_measure::weighted_likelihood::weighted_likelihood;
use statistics::scaling::rasch_marginal::rasch_marginal;
use statistics::scaling::response_table::ResponseTable;
use statistics::scaling::two_parameter::two_parameter;

use super::LEVEL;
use super::further::FurtherFigure;
use super::further::on_the_scale::{Built, checks};
use super::responses::{Answer, Responses};
use super::score_bars::short;
use super::smallest::Need;

/// One question on the scale.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct QuestionOnScale {
    /// Its name.
    pub name: String,
    /// Difficulty in logits; 0 is a candidate in the middle of the class.
    pub difficulty: f64,
    /// Its standard error.
    pub standard_error: f64,
    /// Lower limit.
    pub lower: f64,
    /// Upper limit.
    pub upper: f64,
    /// Infit mean square; none where refused.
    pub infit: Option<f64>,
    /// Outfit mean square.
    pub outfit: Option<f64>,
    /// The curve that is drawn: with a slope of its own where n carries one.
    pub curve: ItemCurve,
}

/// How precisely the paper measures at an ability.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct ScaleAt {
    /// The ability, in logits.
    pub ability: f64,
    /// Expected share of the marks of the questions on the scale.
    pub expected_share: f64,
    /// Information.
    pub information: f64,
    /// Standard error of an ability there, in logits.
    pub standard_error: Option<f64>,
}

/// The scale.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Scale {
    /// Candidates.
    pub n: usize,
    /// The questions, easiest first.
    pub questions: Vec<QuestionOnScale>,
    /// Standard deviation of abilities in the population, in logits.
    pub deviation: f64,
    /// Each candidate's ability, in their order; none without an answer on the scale.
    pub abilities: Vec<Option<f64>>,
    /// Precision from -4 to 4.
    pub along: Vec<ScaleAt>,
    /// Precision at the cut.
    pub at_pass_mark: Option<ScaleAt>,
    /// Whether each question has a slope of its own in the curves.
    pub own_slopes: bool,
    /// What to see in the map of candidates and questions.
    pub map_sentence: String,
    /// What to see in the precision.
    pub precision_sentence: String,
    /// Whether it holds; these lines stand among the further figures.
    #[serde(skip)]
    pub checks: Vec<FurtherFigure>,
    /// What was left out or refused.
    pub refused: Vec<String>,
}

pub(super) fn scale(responses: &Responses, pass_mark: Option<f64>) -> Result<Scale, String> {
    let n = responses.candidates.len();
    if let Some(why) = Need::Rasch.refused(n) {
        return Err(why);
    }
    let mut refused = Vec::new();
    let fitting = fitting_questions(responses, &mut refused);
    if fitting.len() < 3 {
        return Err(
            "No common scale: fewer than three questions marked right or wrong tell candidates apart. \
             Instead: shares with their intervals."
                .to_owned(),
        );
    }
    build(responses, &fitting, pass_mark, refused).map_err(|refusal| {
        format!(
            "No common scale: {refusal}. Instead: shares of right answers with their intervals."
        )
    })
}

/// Places of the counted questions marked right or wrong that some had right and some not.
fn fitting_questions(responses: &Responses, refused: &mut Vec<String>) -> Vec<usize> {
    let (mut fitting, mut constant, mut part) = (Vec::new(), Vec::new(), Vec::new());
    for (place, question) in responses.questions.iter().enumerate() {
        if !question.counts {
            continue;
        }
        let marks: Vec<f64> = responses
            .candidates
            .iter()
            .filter_map(|c| c.answers.get(place).copied().and_then(Answer::marks))
            .collect();
        let right = marks.iter().filter(|mark| **mark == question.full).count();
        let wrong = marks.iter().filter(|mark| **mark == 0.0).count();
        if right + wrong < marks.len() {
            part.push(question.name.as_str());
        } else if right == 0 || wrong == 0 {
            constant.push(question.name.as_str());
        } else {
            fitting.push(place);
        }
    }
    if !constant.is_empty() {
        refused.push(format!(
            "Not on the scale, since all had the same mark there: {}.",
            constant.join(", ")
        ));
    }
    if !part.is_empty() {
        refused.push(format!(
            "Not on the scale, since there are part marks: {}.",
            part.join(", ")
        ));
    }
    fitting
}

fn build(
    responses: &Responses,
    fitting: &[usize],
    pass_mark: Option<f64>,
    mut refused: Vec<String>,
) -> Result<Scale, statistics::Refusal> {
    let rows: Vec<Vec<Option<u8>>> = responses
        .candidates
        .iter()
        .map(|candidate| {
            fitting
                .iter()
                .map(|place| {
                    let answer = candidate.answers.get(*place)?;
                    answer.marks().map(|marks| u8::from(marks > 0.0))
                })
                .collect()
        })
        .collect();
    let table = ResponseTable::new(&rows)?;
    let made = rasch_marginal(&table)?;
    let curves = made.curves();
    let abilities: Vec<Option<f64>> = rows
        .iter()
        .map(|row| weighted_likelihood(&curves, row).ok().map(|m| m.ability))
        .collect();
    let fit = match item_fit(&table, &curves, &abilities) {
        Ok(fit) => fit.into_iter().map(Some).collect(),
        Err(why) => {
            refused.push(format!("No fit of the questions to the scale: {why}."));
            vec![None; fitting.len()]
        }
    };
    let n = responses.candidates.len();
    let slopes = if Need::TwoParameter.refused(n).is_none() {
        match two_parameter(&table) {
            Ok(made) => Some(made.curves()),
            Err(why) => {
                refused.push(format!(
                    "No slope for each question: {why}. Instead: Rasch."
                ));
                None
            }
        }
    } else {
        None
    };
    let drawn = slopes.as_ref().unwrap_or(&curves);
    let mut questions: Vec<QuestionOnScale> = fitting
        .iter()
        .zip(&made.intercepts)
        .zip(fit.iter().zip(drawn))
        .filter_map(|((place, intercept), (fit, curve))| {
            let limits = intercept.interval(LEVEL);
            Some(QuestionOnScale {
                name: responses.questions.get(*place)?.name.clone(),
                difficulty: -intercept.value,
                standard_error: intercept.standard_error,
                lower: -limits.upper,
                upper: -limits.lower,
                infit: fit.as_ref().map(|fit| fit.infit),
                outfit: fit.as_ref().map(|fit| fit.outfit),
                curve: curve.clone(),
            })
        })
        .collect();
    questions.sort_by(|a, b| a.difficulty.total_cmp(&b.difficulty));
    let full = fitting.len() as f64;
    let at = |information: &TestInformation| ScaleAt {
        ability: information.ability,
        expected_share: information.expected_score / full,
        information: information.test,
        standard_error: information.standard_error,
    };
    let steps: Vec<f64> = (-40..=40).map(|step| f64::from(step) / 10.0).collect();
    let along: Vec<ScaleAt> = test_information(&curves, &steps)?.iter().map(at).collect();
    let at_pass_mark = match pass_mark {
        Some(share) if share > 0.0 && share < 1.0 => {
            let ability = ability_of(&curves, share * full)?;
            test_information(&curves, &[ability])?.first().map(at)
        }
        Some(_) | None => None,
    };
    let deviation = made.ability_variance.value.max(0.0).sqrt();
    let names: Vec<&str> = fitting
        .iter()
        .filter_map(|place| responses.questions.get(*place))
        .map(|question| question.name.as_str())
        .collect();
    let checks = checks(&Built {
        table: &table,
        curves: &curves,
        abilities: &abilities,
        deviation,
        names: &names,
    });
    Ok(Scale {
        n,
        map_sentence: map_sentence(&questions, &abilities),
        precision_sentence: precision_sentence(&along, at_pass_mark),
        questions,
        deviation,
        abilities,
        along,
        at_pass_mark,
        own_slopes: slopes.is_some(),
        checks,
        refused,
    })
}

/// The ability at which this total is expected.
fn ability_of(curves: &[ItemCurve], total: f64) -> Result<f64, statistics::Refusal> {
    let (mut low, mut high) = (-12.0, 12.0);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        let here = test_information(curves, &[middle])?;
        if here.first().is_some_and(|at| at.expected_score < total) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(f64::midpoint(low, high))
}

fn map_sentence(questions: &[QuestionOnScale], abilities: &[Option<f64>]) -> String {
    let (Some(easiest), Some(hardest)) = (questions.first(), questions.last()) else {
        return String::new();
    };
    let known: Vec<f64> = abilities.iter().flatten().copied().collect();
    let below = known
        .iter()
        .filter(|ability| **ability < easiest.difficulty)
        .count();
    let above = known
        .iter()
        .filter(|ability| **ability > hardest.difficulty)
        .count();
    let count = |number: usize| match number {
        0 => "no candidate".to_owned(),
        1 => "1 candidate".to_owned(),
        many => format!("{many} candidates"),
    };
    format!(
        "Questions run from {} ({:.1}, the easiest) to {} ({:.1}, the hardest); {} below the easiest and {} above the hardest, where the paper hardly tells candidates apart.",
        easiest.name,
        easiest.difficulty,
        hardest.name,
        hardest.difficulty,
        lies(below, &count(below)),
        lies(above, &count(above)),
    )
}

fn lies(number: usize, words: &str) -> String {
    format!("{words} {}", if number > 1 { "lie" } else { "lies" })
}

fn precision_sentence(along: &[ScaleAt], at_pass_mark: Option<ScaleAt>) -> String {
    let Some(best) = along
        .iter()
        .max_by(|a, b| a.information.total_cmp(&b.information))
    else {
        return String::new();
    };
    let mut words = format!(
        "The paper measures best around {} logits, where {:.0} % of the marks are expected",
        short(best.ability),
        best.expected_share * 100.0
    );
    match at_pass_mark {
        Some(at) => {
            let share = at.information / best.information;
            words.push_str(&format!(
                "; at the cut ({} logits) it has {:.0} % of that information{}.",
                short(at.ability),
                share * 100.0,
                if share >= 0.8 {
                    ": it measures where decisions are made"
                } else {
                    ": questions nearer to the cut would make decisions surer"
                }
            ));
        }
        None => words.push('.'),
    }
    words
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::responses::tests::right_or_wrong;
    use super::*;

    fn table(n: u32) -> Responses {
        // A fixed pattern of mixed answers: candidate c has question q right where a whole-number
        // mixture of both falls below a bound that rises with c.
        let rows: Vec<Vec<u8>> = (0..n)
            .map(|c| {
                (0..8_u32)
                    .map(|q| u8::from((c * 37 + q * q * 61 + c * q * 13) % 97 < 20 + c * 60 / n))
                    .collect()
            })
            .collect();
        let rows: Vec<&[u8]> = rows.iter().map(Vec::as_slice).collect();
        right_or_wrong(&rows)
    }

    #[test]
    fn twenty_nine_are_refused_by_name_and_sixty_have_a_scale() {
        let why = scale(&table(29), None).unwrap_err();
        assert!(
            why.contains("at least 30") && why.contains("Instead"),
            "{why}"
        );
        let made = scale(&table(60), Some(0.5)).unwrap();
        assert_eq!(made.abilities.len(), 60);
        let at = made.at_pass_mark.unwrap();
        assert!((at.expected_share - 0.5).abs() < 1e-9);
        assert!(!made.own_slopes);
    }
}
