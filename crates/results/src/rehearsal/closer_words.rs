//! The closer look in words an instructor uses.

use super::closer::{MovedCut, Spread};
use super::decision::Longer;
use super::forecast::{DecisionForecast, Difficulties, Forecast};
use crate::decide::Part;
use crate::summary::{capitalised, coefficient};

use super::verdict::{Topic, number_word};

/// Named idle things at most, before the rest is counted.
const NAMED: usize = 6;

/// All sentences with their topics.
pub(super) fn sentences(forecast: &Forecast) -> Vec<(Topic, String)> {
    let closer = &forecast.closer;
    let mut all = Vec::new();
    let guessed = |doubt: &&Difficulties| doubt.by_guess > 0;
    if let Some(doubt) = forecast.difficulties.as_ref().filter(guessed) {
        all.push((Topic::Scores, guesses(doubt)));
    }
    for at in &closer.error_at_cut {
        let told = format!(
            "{}: at the cut a result is uncertain by {:.1} marks (standard error; simulation error \
             {:.2}): who is within that of the cut could as well be on its other side.",
            capitalised(at.part.word()),
            at.error,
            at.simulation_error
        );
        all.push((Topic::Decisions, told));
    }
    for part in Part::ALL {
        let steps: Vec<&Longer> = closer.longer.iter().filter(|l| l.part == part).collect();
        all.extend(longer(&steps).map(|told| (Topic::Reliability, told)));
    }
    let mut cuts = closer.moved_cuts.chunks(2);
    while let Some([lower, higher]) = cuts.next() {
        all.extend(moved(forecast, lower, higher).map(|told| (Topic::Decisions, told)));
    }
    if let Some(made) = &forecast.by_people {
        let told = format!(
            "Essays carry {:.0} of {:.0} marks of the theory paper and are marked by people: their \
             severity alone moves a result by about {:.1} marks, as assumed of the markers.",
            made.marks, made.of, made.severity
        );
        all.push((Topic::Scores, told));
    }
    if let Some(extra) = &closer.extra_credit {
        let each = extra.passes_by_it * forecast.candidates as f64;
        let told = if extra.passes_by_it > 0.0 {
            format!(
                "Extra credit brings {:.2} marks on average and makes about {each:.1} of {} pass \
                 who would not without it.",
                extra.mean, forecast.candidates
            )
        } else {
            format!(
                "Extra credit brings {:.2} marks on average and makes nobody pass who would not \
                 without it.",
                extra.mean
            )
        };
        all.push((Topic::Scores, told));
    }
    for (what, spread) in [("Forms", &closer.forms), ("Serving orders", &closer.orders)] {
        let Some(spread) = spread else {
            continue;
        };
        let mut told = alike(what, spread);
        if what == "Forms" && forecast.by_lot && more_than_chance(spread) {
            told.push_str(
                " They are drawn by lot; \"draw: near-best\" in the plan would bring them nearer.",
            );
        }
        all.push((Topic::Alike, told));
    }
    for part in Part::ALL {
        let names: Vec<&str> = closer
            .idle
            .iter()
            .filter(|idle| idle.part == part)
            .map(|idle| idle.what.as_str())
            .collect();
        if names.is_empty() {
            continue;
        }
        let more = match names.len() {
            0..=NAMED => String::new(),
            n => format!(" and {} more", n - NAMED),
        };
        let (what, why) = match part {
            Part::Theory => (
                "questions",
                "nearly all have them right, or as many weak as strong candidates",
            ),
            Part::Tasting => ("samples", "they do not go together with the others"),
        };
        let named: Vec<&str> = names.iter().take(NAMED).copied().collect();
        let told = format!(
            "These {what} do no work ({why}): {}{more}.",
            named.join(", ")
        );
        all.push((Topic::Idle, told));
    }
    all
}

/// What is not known of the difficulties, and what that may do to a real paper.
fn guesses(doubt: &Difficulties) -> String {
    let told = if doubt.by_guess == doubt.questions {
        format!(
            "How hard the {} questions on the forms are is only their authors' guess",
            doubt.questions
        )
    } else {
        format!(
            "How hard {} of the {} questions on the forms are is only their authors' guess",
            doubt.by_guess, doubt.questions
        )
    };
    format!(
        "{told}: for that alone the mean of a real theory paper may lie {:.1} marks off.",
        doubt.error
    )
}

fn longer(steps: &[&Longer]) -> Option<String> {
    let (now, further) = steps.split_first()?;
    let (one, many) = match now.part {
        Part::Theory => ("question", "questions"),
        Part::Tasting => ("sample", "samples"),
    };
    let told: Vec<String> = further
        .iter()
        .take(2)
        .enumerate()
        .map(|(place, step)| {
            let noun = if step.more == 1 { one } else { many };
            let (more, to) = (number_word(step.more), coefficient(step.reliability));
            if place == 0 {
                let from = coefficient(now.reliability);
                format!("{more} more {noun} would raise the reliability from {from} to {to}")
            } else {
                format!("{more} more to {to}")
            }
        })
        .collect();
    if told.is_empty() {
        return None;
    }
    let study = match now.part {
        Part::Theory => "a study of the simulated marks that counts the luck of which are asked",
        Part::Tasting => "a study of the simulated marks",
    };
    let error = now.simulation_error.map_or_else(String::new, |error| {
        format!("; simulation error {error:.3}")
    });
    let sure = match (
        now.error_of_share,
        further.first().and_then(|step| step.error_of_share),
    ) {
        (Some(now), Some(then)) => format!(
            " A result that is uncertain by {:.1} per cent of the marks now would be so by {:.1} \
             after the first step.",
            now * 100.0,
            then * 100.0
        ),
        (Some(_) | None, _) => String::new(),
    };
    Some(format!(
        "{}: {} ({study}{error}).{sure}",
        capitalised(now.part.word()),
        told.join(", ")
    ))
}

fn moved(forecast: &Forecast, lower: &MovedCut, higher: &MovedCut) -> Option<String> {
    let people = forecast.candidates as f64;
    let wrong = |made: &DecisionForecast| -> Option<f64> {
        let (passes, fails) = (
            made.wrong_passes.as_ref().ok()?,
            made.wrong_fails.as_ref().ok()?,
        );
        Some((passes.share + fails.share) * people)
    };
    Some(format!(
        "A {} cut one mark lower changes the result of about {:.1} of {}, one mark higher of \
         {:.1}; about {:.1} and {:.1} decisions would be wrong then, now {:.1}.",
        lower.what,
        lower.changed * people,
        forecast.candidates,
        higher.changed * people,
        wrong(&lower.decisions)?,
        wrong(&higher.decisions)?,
        wrong(&forecast.decisions)?
    ))
}

/// Twice the error: what chance alone brings about one time in twenty for two groups.
fn more_than_chance(spread: &Spread) -> bool {
    spread.largest > 2.0 * spread.error
}

fn alike(what: &str, spread: &Spread) -> String {
    let judged = if more_than_chance(spread) {
        "more than chance"
    } else {
        "no more than the simulation error"
    };
    format!(
        "{what} differ by at most {:.2} marks on average (simulation error {:.2}): {judged}.",
        spread.largest, spread.error
    )
}
