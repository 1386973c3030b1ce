//! The closer look in words an instructor uses.

use super::closer::{Longer, MovedCut, Spread};
use super::forecast::Forecast;
use crate::decide::Part;
use crate::summary::{capitalised, coefficient};

/// Named idle things at most, before the rest is counted.
const NAMED: usize = 6;

/// All sentences.
pub(super) fn sentences(forecast: &Forecast) -> Vec<String> {
    let closer = &forecast.closer;
    let mut all = Vec::new();
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
    if let Some(extra) = &closer.extra_credit {
        let each = extra.passes_by_it * forecast.candidates as f64;
        all.push(format!(
            "Extra credit brings {:.2} marks on average and makes about {each:.1} of {} pass who \
             would not without it.",
            extra.mean, forecast.candidates
        ));
    }
    for (what, spread) in [("Forms", &closer.forms), ("Serving orders", &closer.orders)] {
        all.extend(spread.as_ref().map(|spread| alike(what, spread)));
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
    let first = steps.first()?;
    let noun = match first.part {
        Part::Theory => "questions",
        Part::Tasting => "samples",
    };
    let told: Vec<String> = steps
        .iter()
        .filter_map(|step| {
            let value = step.reliability.as_ref().ok()?;
            Some(format!(
                "{} {noun} give {}",
                step.now + step.more,
                coefficient(*value)
            ))
        })
        .collect();
    (!told.is_empty()).then(|| {
        format!(
            "{}: {} (Spearman and Brown).",
            capitalised(first.part.word()),
            told.join(", ")
        )
    })
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
