//! Questions and candidates on one scale by a model that was asked for: slopes, guessing, several
//! categories, and each candidate's ability in four ways.
//!
//! Marks become categories by their order: marks that nobody had are passed over, so half marks and
//! steps of five do no harm. What was left out earns nothing; what was not asked takes no part.
//! Candidates who had nothing right, or everything, have no ability of maximum likelihood.

use std::collections::BTreeSet;

use serde::Serialize;
use statistics::Refusal;
use statistics::scaling::ability_prior::AbilityPrior;
use statistics::scaling::estimate::Estimate;
use statistics::scaling::generalised_partial_credit::generalised_partial_credit;
use statistics::scaling::graded_response::graded_response;
use statistics::scaling::item_curve::ItemCurve;
use statistics::scaling::normal_ogive::normal_ogive;
use statistics::scaling::partial_credit_conditional::partial_credit_conditional;
use statistics::scaling::partial_credit_marginal::partial_credit_marginal;
use statistics::scaling::person_measure::PersonMeasure;
use statistics::scaling::person_measure::expected_posterior::expected_posterior;
use statistics::scaling::person_measure::maximum_likelihood::maximum_likelihood;
use statistics::scaling::person_measure::maximum_posterior::maximum_posterior;
use statistics::scaling::person_measure::weighted_likelihood::weighted_likelihood;
use statistics::scaling::rasch_conditional::rasch_conditional;
use statistics::scaling::rasch_joint::rasch_joint;
use statistics::scaling::rasch_marginal::rasch_marginal;
use statistics::scaling::response_table::ResponseTable;
use statistics::scaling::three_parameter::{ThreeParameterPriors, three_parameter};
use statistics::scaling::two_parameter::two_parameter;

use super::responses::Responses;

/// A model that can be asked for by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ScaleModel {
    /// Rasch, by the conditional likelihood.
    RaschConditional,
    /// Rasch, by the marginal likelihood.
    RaschMarginal,
    /// Rasch, by the joint likelihood.
    RaschJoint,
    /// A slope for each question.
    TwoParameters,
    /// A slope for each question, on the normal curve.
    NormalOgive,
    /// Slope and guessing, with priors.
    ThreeParameters,
    /// Several categories, by the conditional likelihood.
    PartialCreditConditional,
    /// Several categories, by the marginal likelihood.
    PartialCredit,
    /// Several categories and slopes, next to each other.
    GeneralisedPartialCredit,
    /// Several categories and slopes, at least so many marks.
    Graded,
}

impl ScaleModel {
    /// All of them.
    pub const ALL: [Self; 10] = [
        Self::RaschConditional,
        Self::RaschMarginal,
        Self::RaschJoint,
        Self::TwoParameters,
        Self::NormalOgive,
        Self::ThreeParameters,
        Self::PartialCreditConditional,
        Self::PartialCredit,
        Self::GeneralisedPartialCredit,
        Self::Graded,
    ];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::RaschConditional => "rasch-conditional",
            Self::RaschMarginal => "rasch-marginal",
            Self::RaschJoint => "rasch-joint",
            Self::TwoParameters => "two-parameters",
            Self::NormalOgive => "normal-ogive",
            Self::ThreeParameters => "three-parameters",
            Self::PartialCreditConditional => "partial-credit-conditional",
            Self::PartialCredit => "partial-credit",
            Self::GeneralisedPartialCredit => "generalised-partial-credit",
            Self::Graded => "graded",
        }
    }
}

/// One question by the model.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct QuestionByModel {
    /// Its name.
    pub name: String,
    /// Its slope; none where all share one.
    pub slope: Option<Estimate>,
    /// Its difficulty, or the thresholds of its categories; of slopes and categories the intercepts.
    pub places: Vec<Estimate>,
    /// Guessing, where the model has it.
    pub guessing: Option<Estimate>,
}

/// One candidate by the model.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CandidateByModel {
    /// Who.
    pub candidate: String,
    /// Weighted likelihood.
    pub weighted: Result<PersonMeasure, Refusal>,
    /// Maximum likelihood; none for who had nothing right, or everything.
    pub likelihood: Result<PersonMeasure, Refusal>,
    /// The top of what is thought with the population known.
    pub posterior_top: Result<PersonMeasure, Refusal>,
    /// The mean of that.
    pub posterior_mean: Result<PersonMeasure, Refusal>,
}

/// The scale.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ByModel {
    /// The model.
    pub model: ScaleModel,
    /// What the places of a question are called.
    pub places_are: &'static str,
    /// Candidates.
    pub n: usize,
    /// The logarithm of the likelihood.
    pub log_likelihood: f64,
    /// The questions.
    pub questions: Vec<QuestionByModel>,
    /// The candidates.
    pub candidates: Vec<CandidateByModel>,
    /// What was left out, and what to know.
    pub sentences: Vec<String>,
}

/// Fits the model to the counted questions.
///
/// # Errors
/// In a sentence: what the answers do not carry.
pub fn by_model(responses: &Responses, model: ScaleModel) -> Result<ByModel, String> {
    let (present, _) = responses.with_answers();
    let mut left_out = Vec::new();
    let (places, rows) = categories(&present, &mut left_out);
    let refused = |why: Refusal| format!("No scale by {}: {why}.", model.name());
    let table = ResponseTable::new(&rows).map_err(refused)?;
    let fitted = fit(&table, model, &present, &places).map_err(refused)?;
    let population = AbilityPrior::new(fitted.mean, fitted.deviation).map_err(refused)?;
    let questions = places
        .iter()
        .zip(fitted.questions)
        .filter_map(|(place, made)| {
            Some(QuestionByModel {
                name: present.questions.get(*place)?.name.clone(),
                ..made
            })
        })
        .collect();
    let candidates = present
        .candidates
        .iter()
        .zip(&rows)
        .map(|(candidate, row)| CandidateByModel {
            candidate: candidate.candidate.clone(),
            weighted: weighted_likelihood(&fitted.curves, row),
            likelihood: maximum_likelihood(&fitted.curves, row),
            posterior_top: maximum_posterior(&fitted.curves, row, population),
            posterior_mean: expected_posterior(&fitted.curves, row, population),
        })
        .collect();
    let mut sentences = Vec::new();
    if !left_out.is_empty() {
        sentences.push(format!(
            "Left out, since all had the same mark there: {}.",
            left_out.join(", ")
        ));
    }
    sentences.push(fitted.told);
    Ok(ByModel {
        model,
        places_are: fitted.places_are,
        n: rows.len(),
        log_likelihood: fitted.log_likelihood,
        questions,
        candidates,
        sentences,
    })
}

/// The counted questions in which marks differ, and each candidate's categories there.
fn categories(
    responses: &Responses,
    left_out: &mut Vec<String>,
) -> (Vec<usize>, Vec<Vec<Option<u8>>>) {
    let mut kept = Vec::new();
    let mut columns: Vec<Vec<Option<u8>>> = Vec::new();
    for (place, question) in responses.questions.iter().enumerate() {
        if !question.counts {
            continue;
        }
        let marks: Vec<Option<f64>> = responses
            .candidates
            .iter()
            .map(|candidate| candidate.answers.get(place)?.marks())
            .collect();
        // Marks are thousandths, so whole numbers of them are compared.
        let thousandths = |mark: f64| (mark * 1000.0).round() as i64;
        let seen: BTreeSet<i64> = marks
            .iter()
            .flatten()
            .map(|mark| thousandths(*mark))
            .collect();
        let order: Vec<i64> = seen.into_iter().collect();
        if order.len() < 2 {
            left_out.push(question.name.clone());
            continue;
        }
        let column = marks
            .iter()
            .map(|mark| {
                let place = order.binary_search(&thousandths((*mark)?)).ok()?;
                u8::try_from(place).ok()
            })
            .collect();
        kept.push(place);
        columns.push(column);
    }
    let rows = (0..responses.candidates.len())
        .map(|who| {
            columns
                .iter()
                .map(|column| column.get(who).copied().flatten())
                .collect()
        })
        .collect();
    (kept, rows)
}

/// A model as it was fitted.
struct Fitted {
    questions: Vec<QuestionByModel>,
    curves: Vec<ItemCurve>,
    log_likelihood: f64,
    mean: f64,
    deviation: f64,
    places_are: &'static str,
    told: String,
}

fn question(slope: Option<&Estimate>, places: Vec<Estimate>) -> QuestionByModel {
    QuestionByModel {
        name: String::new(),
        slope: slope.copied(),
        places,
        guessing: None,
    }
}

const STANDARD: &str = "Abilities are standard normal: 0 is a candidate in the middle of the class, 1 one deviation above.";
const QUESTIONS_ZERO: &str = "0 is the mean of the questions. The spread of abilities for the last two columns is 1.5 logits, an assumption, since this likelihood does not estimate it.";

fn fit(
    table: &ResponseTable,
    model: ScaleModel,
    responses: &Responses,
    places: &[usize],
) -> Result<Fitted, Refusal> {
    let single = |estimates: &[Estimate]| -> Vec<QuestionByModel> {
        estimates
            .iter()
            .map(|one| question(None, vec![*one]))
            .collect()
    };
    let several = |thresholds: &[Vec<Estimate>]| -> Vec<QuestionByModel> {
        thresholds
            .iter()
            .map(|own| question(None, own.clone()))
            .collect()
    };
    let sloped = |slopes: &[Estimate], of: &[Vec<Estimate>]| -> Vec<QuestionByModel> {
        slopes
            .iter()
            .zip(of)
            .map(|(slope, own)| question(Some(slope), own.clone()))
            .collect()
    };
    let fitted =
        |questions, curves, log_likelihood, deviation: f64, places_are, told: &str| Fitted {
            questions,
            curves,
            log_likelihood,
            mean: 0.0,
            deviation,
            places_are,
            told: told.to_owned(),
        };
    Ok(match model {
        ScaleModel::RaschConditional => {
            let m = rasch_conditional(table)?;
            fitted(
                single(&m.difficulties),
                m.curves(),
                m.log_likelihood,
                1.5,
                "difficulty",
                QUESTIONS_ZERO,
            )
        }
        ScaleModel::RaschMarginal => {
            let m = rasch_marginal(table)?;
            let difficulties: Vec<Estimate> = m
                .intercepts
                .iter()
                .map(|one| Estimate {
                    value: -one.value,
                    standard_error: one.standard_error,
                })
                .collect();
            let deviation = m.ability_variance.value.sqrt();
            let told = format!(
                "0 is a candidate in the middle of the class; abilities spread by {deviation:.2} logits."
            );
            fitted(
                single(&difficulties),
                m.curves(),
                m.log_likelihood,
                deviation,
                "difficulty",
                &told,
            )
        }
        ScaleModel::RaschJoint => {
            let m = rasch_joint(table)?;
            let curves = m.corrected.iter().map(|b| ItemCurve::rasch(*b)).collect();
            let corrected: Vec<Estimate> = m
                .difficulties
                .iter()
                .zip(&m.corrected)
                .map(|(one, value)| Estimate {
                    value: *value,
                    standard_error: one.standard_error,
                })
                .collect();
            let told = format!(
                "{QUESTIONS_ZERO} Difficulties are corrected by (k − 1)/k; the joint likelihood stretches them otherwise."
            );
            fitted(
                single(&corrected),
                curves,
                m.log_likelihood,
                1.5,
                "difficulty",
                &told,
            )
        }
        ScaleModel::TwoParameters => {
            let m = two_parameter(table)?;
            let of: Vec<Vec<Estimate>> = m.difficulties.iter().map(|one| vec![*one]).collect();
            fitted(
                sloped(&m.slopes, &of),
                m.curves(),
                m.log_likelihood,
                1.0,
                "difficulty",
                STANDARD,
            )
        }
        ScaleModel::NormalOgive => {
            let m = normal_ogive(table)?;
            let of: Vec<Vec<Estimate>> = m.intercepts.iter().map(|one| vec![*one]).collect();
            fitted(
                sloped(&m.slopes, &of),
                m.curves(),
                m.log_likelihood,
                1.0,
                "intercept",
                STANDARD,
            )
        }
        ScaleModel::ThreeParameters => {
            let options = places
                .iter()
                .filter_map(|place| responses.questions.get(*place))
                .map(|question| question.options.len())
                .filter(|number| *number >= 2)
                .max()
                .unwrap_or(4);
            let m = three_parameter(table, ThreeParameterPriors::for_options(options)?)?;
            let of: Vec<Vec<Estimate>> = m.intercepts.iter().map(|one| vec![*one]).collect();
            let mut questions = sloped(&m.slopes, &of);
            for (question, guessing) in questions.iter_mut().zip(&m.guessing) {
                question.guessing = Some(*guessing);
            }
            let told = format!("{STANDARD} Priors hold guessing near 1 in {options}.");
            fitted(
                questions,
                m.curves(),
                m.log_likelihood,
                1.0,
                "intercept",
                &told,
            )
        }
        ScaleModel::PartialCreditConditional => {
            let m = partial_credit_conditional(table)?;
            fitted(
                several(&m.thresholds),
                m.curves(),
                m.log_likelihood,
                1.5,
                "thresholds",
                QUESTIONS_ZERO,
            )
        }
        ScaleModel::PartialCredit => {
            let m = partial_credit_marginal(table)?;
            let deviation = m.ability_variance.value.sqrt();
            let told = format!(
                "0 is a candidate in the middle of the class; abilities spread by {deviation:.2} logits."
            );
            fitted(
                several(&m.thresholds),
                m.curves(),
                m.log_likelihood,
                deviation,
                "thresholds",
                &told,
            )
        }
        ScaleModel::GeneralisedPartialCredit => {
            let m = generalised_partial_credit(table)?;
            fitted(
                sloped(&m.slopes, &m.thresholds),
                m.curves(),
                m.log_likelihood,
                1.0,
                "thresholds",
                STANDARD,
            )
        }
        ScaleModel::Graded => {
            let m = graded_response(table)?;
            fitted(
                sloped(&m.slopes, &m.intercepts),
                m.curves(),
                m.log_likelihood,
                1.0,
                "intercepts",
                STANDARD,
            )
        }
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::responses::Answer;
    use super::super::responses::tests::right_or_wrong;
    use super::*;

    fn answers(n: u32, most: u32) -> Responses {
        let rows: Vec<Vec<u8>> = (0..n)
            .map(|c| {
                (0..8_u32)
                    .map(|q| {
                        let mixed = (c * 37 + q * q * 61 + c * q * 13 + c / 7) % 97;
                        let reach = 25 + c * 60 / n;
                        (0..most).filter(|step| mixed + step * 25 < reach).count() as u8
                    })
                    .collect()
            })
            .collect();
        let rows: Vec<&[u8]> = rows.iter().map(Vec::as_slice).collect();
        right_or_wrong(&rows)
    }

    #[test]
    fn each_model_has_a_scale_or_says_by_name_what_it_lacks() {
        for model in ScaleModel::ALL {
            for (n, most) in [(300, 1), (300, 2), (29, 1), (1, 1)] {
                match by_model(&answers(n, most), model) {
                    Ok(made) => {
                        assert!(n == 300 && made.log_likelihood.is_finite(), "{model:?} {n}");
                        let places = made.questions.iter().flat_map(|q| &q.places);
                        for place in
                            places.chain(made.questions.iter().filter_map(|q| q.slope.as_ref()))
                        {
                            assert!(place.value.is_finite() && place.standard_error.is_finite());
                        }
                        let of_all = made
                            .candidates
                            .iter()
                            .flat_map(|c| [&c.weighted, &c.posterior_mean]);
                        assert!(of_all.flatten().all(|m| m.ability.is_finite()));
                    }
                    Err(why) => assert!(why.contains(model.name()), "{why}"),
                }
            }
        }
        assert!(by_model(&answers(300, 1), ScaleModel::TwoParameters).is_ok());
        assert!(by_model(&answers(300, 2), ScaleModel::Graded).is_ok());
    }

    #[test]
    fn marks_that_nobody_had_are_passed_over() {
        let mut made = answers(300, 2);
        for candidate in &mut made.candidates {
            for answer in &mut candidate.answers {
                if let Answer::Given { marks, .. } = answer {
                    *marks *= 2.5;
                }
            }
        }
        let (one, other) = (
            by_model(&made, ScaleModel::PartialCredit).unwrap(),
            by_model(&answers(300, 2), ScaleModel::PartialCredit).unwrap(),
        );
        assert_eq!(one.questions, other.questions);
    }
}
