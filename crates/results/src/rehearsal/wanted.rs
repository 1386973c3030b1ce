//! What a school wants of an exam before it is given, and what of it a forecast does not show.

use serde::Serialize;
use statistics::Refusal;

use super::forecast::Forecast;
use crate::summary::coefficient;

/// What is wanted; what is not named is not looked at.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
pub struct Wanted {
    /// The least reliability of each part and of the total.
    pub reliability: Option<f64>,
    /// The largest chance of any kind of guesser to pass, as a share.
    pub guessers: Option<f64>,
    /// The largest share of candidates whose decision is wrong.
    pub wrong: Option<f64>,
}

/// Everything that is wanted and not forecast, in plain sentences; none where all is well. A figure
/// that cannot be given is not what was wanted.
#[must_use]
pub fn not_met(forecast: &Forecast, wanted: &Wanted) -> Vec<String> {
    let mut missed = Vec::new();
    if let Some(least) = wanted.reliability {
        for score in &forecast.scores {
            match &score.reliability {
                Ok(made) if made.value >= least => {}
                Ok(made) => missed.push(format!(
                    "Wanted: a reliability of {}; {} has {}.",
                    coefficient(least),
                    score.what,
                    coefficient(made.value)
                )),
                Err(refusal) => missed.push(unknown("reliability", score.what, refusal)),
            }
        }
    }
    if let Some(most) = wanted.guessers {
        for guesser in &forecast.guessers {
            match &guesser.passes {
                Ok(made) if made.share <= most => {}
                Ok(made) => missed.push(format!(
                    "Wanted: at most {:.2} % of guessers pass; {} passes {:.2} % of the time.",
                    most * 100.0,
                    guesser.guesser.words(),
                    made.share * 100.0
                )),
                Err(refusal) => {
                    missed.push(unknown("chance to pass", guesser.guesser.words(), refusal));
                }
            }
        }
    }
    if let Some(most) = wanted.wrong {
        match (
            &forecast.decisions.wrong_passes,
            &forecast.decisions.wrong_fails,
        ) {
            (Ok(passes), Ok(fails)) if passes.share + fails.share <= most => {}
            (Ok(passes), Ok(fails)) => missed.push(format!(
                "Wanted: at most {:.1} % wrong decisions; {:.1} % are forecast.",
                most * 100.0,
                (passes.share + fails.share) * 100.0
            )),
            (Err(refusal), _) | (_, Err(refusal)) => {
                missed.push(unknown("share of wrong decisions", "the exam", refusal));
            }
        }
    }
    missed
}

fn unknown(what: &str, of: &str, refusal: &Refusal) -> String {
    format!("Wanted: a {what}; that of {of} cannot be given: {refusal}.")
}
