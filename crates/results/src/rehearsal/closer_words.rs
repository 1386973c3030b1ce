//! The closer look in words an instructor uses.

use super::closer::{MovedCut, Spread};
use super::decision::Longer;
use super::forecast::Forecast;
use crate::decide::Part;
use crate::summary::{capitalised, coefficient};

use super::verdict::number_word;

/// Named idle things at most, before the rest is counted.
const NAMED: usize = 6;

/// All sentences.
pub(super) fn sentences(forecast: &Forecast) -> Vec<String> {
    let closer = &forecast.closer;
    let mut all = Vec::new();
    let guessed = |doubt: &&super::Difficulties| doubt.by_guess > 0;
    if let Some(doubt) = forecast.difficulties.as_ref().filter(guessed) {
        all.push(format!(
            "Of {} questions on the forms {} are as hard as their authors guess, and nobody has \
             seen: for that alone the mean of a real theory paper may lie {:.1} marks off.",
            doubt.questions, doubt.by_guess, doubt.error
        ));
    }
    for at in &closer.error_at_cut {
        all.push(format!(
            "{}: at the cut a result is uncertain by {:.1} marks (standard error; simulation error \
             {:.2}): who is within that of the cut could as well be on its other side.",
            capitalised(at.part.word()),
            at.error,
            at.simulation_error
        ));
    }
    for part in Part::ALL {
        let steps: Vec<&Longer> = closer.longer.iter().filter(|l| l.part == part).collect();
        all.extend(longer(&steps));
    }
    let mut cuts = closer.moved_cuts.chunks(2);
    while let Some([lower, higher]) = cuts.next() {
        all.extend(moved(forecast, lower, higher));
    }
    if let Some(made) = &forecast.by_people {
        all.push(format!(
            "Essays carry {:.0} of {:.0} marks of the theory paper and are marked by people: their \
             severity alone moves a result by about {:.1} marks, as assumed of the markers.",
            made.marks, made.of, made.severity
        ));
    }
    if let Some(extra) = &closer.extra_credit {
        let each = extra.passes_by_it * forecast.candidates as f64;
        all.push(if extra.passes_by_it > 0.0 {
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
        });
    }
    for (what, spread) in [("Forms", &closer.forms), ("Serving orders", &closer.orders)] {
        all.extend(spread.as_ref().map(|spread| alike(what, spread)));
        let more_than_chance = |spread: &&Spread| spread.largest > 2.0 * spread.error;
        if what == "Forms" && forecast.by_lot && spread.as_ref().filter(more_than_chance).is_some()
        {
            all.push(
                "Forms drawn by lot: \"draw: near-best\" in the plan would bring them nearer."
                    .to_owned(),
            );
        }
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
        all.push(format!(
            "These {what} do no work ({why}): {}{more}.",
            named.join(", ")
        ));
    }
    all
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
        .map(|step| {
            let noun = if step.more == 1 { one } else { many };
            format!(
                "{} more {noun} would raise the reliability to {}",
                number_word(step.more),
                coefficient(step.reliability)
            )
        })
        .collect();
    if told.is_empty() {
        return None;
    }
    let error = now.simulation_error.map_or_else(String::new, |error| {
        format!("; simulation error {error:.3}")
    });
    let sure = match (
        now.error_of_share,
        further.first().and_then(|s| s.error_of_share),
    ) {
        (Some(now), Some(then)) => format!(
            " With the first step a result is uncertain by {:.1} per cent of the marks, now by {:.1}.",
            then * 100.0,
            now * 100.0
        ),
        (Some(_) | None, _) => String::new(),
    };
    Some(format!(
        "{}: {} (from {}, by a study of the simulated marks{error}).{sure}",
        capitalised(now.part.word()),
        told.join(", "),
        coefficient(now.reliability)
    ))
}

fn moved(forecast: &Forecast, lower: &MovedCut, higher: &MovedCut) -> Option<String> {
    let people = forecast.candidates as f64;
    let wrong = |cut: &MovedCut| -> Option<f64> {
        let made = &cut.decisions;
        let (passes, fails) = (
            made.wrong_passes.as_ref().ok()?,
            made.wrong_fails.as_ref().ok()?,
        );
        Some((passes.share + fails.share) * people)
    };
    Some(format!(
        "A {} cut one mark lower changes the result of about {:.1} of {}, one mark higher of \
         {:.1}; about {:.1} and {:.1} decisions would be wrong then.",
        lower.what,
        lower.changed * people,
        forecast.candidates,
        higher.changed * people,
        wrong(lower)?,
        wrong(higher)?
    ))
}

fn alike(what: &str, spread: &Spread) -> String {
    // Twice the error: what chance alone brings about one time in twenty for two groups.
    let judged = if spread.largest <= 2.0 * spread.error {
        "no more than the simulation error"
    } else {
        "more than chance"
    };
    format!(
        "{what} differ by at most {:.2} marks on average (simulation error {:.2}): {judged}.",
        spread.largest, spread.error
    )
}
