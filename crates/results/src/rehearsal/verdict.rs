//! The forecast in words an instructor uses; what should change comes first.

use exam_plan::Exam;

use super::forecast::{Forecast, GuesserForecast, MinutesForecast, ScoreForecast};
use crate::decide::Part;
use crate::decision_words::percent;
use crate::summary::{capitalised, coefficient};

/// Below this a part cannot tell candidates apart; common practice, no source.
const TOO_LOW: f64 = 0.5;
/// From this a part is fit for single decisions in a small exam; common practice, no source.
const GOOD: f64 = 0.7;
/// A guesser may pass at most once in a thousand; common practice, no source.
const GUESSERS_AT_MOST: f64 = 0.001;

/// All sentences: what should change, then what is well, then the figures.
pub(super) fn sentences(exam: &Exam, forecast: &Forecast) -> Vec<String> {
    let (mut change, mut well) = (Vec::new(), Vec::new());
    let mut say = |good: bool, sentence: String| {
        if good {
            well.push(sentence);
        } else {
            change.push(sentence);
        }
    };
    for score in &forecast.scores {
        if let Some((good, sentence)) = reliability(exam, score) {
            say(good, sentence);
        }
    }
    for guesser in &forecast.guessers {
        if let Some((good, sentence)) = guessing(guesser) {
            say(good, sentence);
        }
    }
    for minutes in &forecast.minutes {
        let (good, sentence) = time(minutes);
        say(good, sentence);
    }
    let mut all = change;
    all.extend(well);
    all.extend(forecast.scores.iter().filter_map(distribution));
    all.extend(decisions(forecast));
    all.extend(super::closer_words::sentences(forecast));
    all.extend(alpha(forecast));
    all.push(format!(
        "This is a simulation of {} sittings of {} invented candidates; the spread of abilities \
         and the way tasters write are assumptions, not findings.",
        forecast.extent.sittings, forecast.candidates
    ));
    all
}

fn reliability(exam: &Exam, score: &ScoreForecast) -> Option<(bool, String)> {
    let made = score.reliability.as_ref().ok()?;
    let what = capitalised(score.what);
    let value = coefficient(made.value);
    // As printed: .70 in the sentence is .70 for the verdict.
    let printed = (made.value * 100.0).round() / 100.0;
    if printed >= GOOD {
        return Some((
            true,
            format!(
                "{what}: reliability {value}; it tells candidates apart well enough to decide by."
            ),
        ));
    }
    // Spearman and Brown 1910: a part k times as long has reliability k r / (1 + (k - 1) r).
    let longer = GOOD * (1.0 - made.value) / (made.value * (1.0 - GOOD));
    let advice = match score.what {
        "theory" => exam.plan.theory.as_ref().map(|part| {
            lengthened(
                f64::from(part.counted()),
                longer,
                made.value,
                "questions",
                "question",
            )
        }),
        "tasting" => exam.plan.tasting.as_ref().map(|part| {
            lengthened(
                part.samples.len() as f64,
                longer,
                made.value,
                "samples",
                "sample",
            )
        }),
        _ => None,
    };
    let judged = if made.value < TOO_LOW {
        format!("{what}: reliability {value}; it cannot tell a good candidate from a lucky one.")
    } else {
        format!("{what}: reliability {value}; decisions near the cut are partly luck.")
    };
    Some((
        false,
        [Some(judged), advice]
            .into_iter()
            .flatten()
            .collect::<Vec<_>>()
            .join(" "),
    ))
}

fn lengthened(now: f64, times: f64, value: f64, many: &str, one: &str) -> String {
    if value <= 0.05 {
        return format!("More {many} of this kind would not help; look at what is asked.");
    }
    let wanted = (now * times).ceil();
    let noun = if now == 1.0 { one } else { many };
    format!(
        "With {now} {noun} now, about {wanted} of the same kind would bring it to {} (Spearman and \
         Brown).",
        coefficient(GOOD)
    )
}

fn share_with_care(share: f64) -> String {
    if share > 0.0 && share < 0.001 {
        format!("{:.2} %", share * 100.0)
    } else {
        format!("{:.1} %", share * 100.0)
    }
}

fn guessing(guesser: &GuesserForecast) -> Option<(bool, String)> {
    let made = guesser.passes.as_ref().ok()?;
    let who = capitalised(guesser.guesser.words());
    let parts: Vec<String> = guesser
        .by_part
        .iter()
        .filter_map(|(part, reached)| {
            let reached = reached.as_ref().ok()?;
            Some(format!("{part} alone {}", share_with_care(reached.share)))
        })
        .collect();
    let parts = if parts.is_empty() {
        String::new()
    } else {
        format!("; {}", parts.join(", "))
    };
    if made.successes == 0 {
        return Some((
            true,
            format!(
                "{who} passed in none of {} trials (chance below {}){parts}.",
                made.n,
                share_with_care(made.interval.upper)
            ),
        ));
    }
    Some((
        made.share <= GUESSERS_AT_MOST,
        format!(
            "{who} passes {} times in {} trials ({}; 95 % interval {} to {}){parts}.",
            made.successes,
            made.n,
            share_with_care(made.share),
            share_with_care(made.interval.lower),
            share_with_care(made.interval.upper)
        ),
    ))
}

fn time(minutes: &MinutesForecast) -> (bool, String) {
    let good = minutes.needed <= f64::from(minutes.given);
    let part = capitalised(minutes.part.word());
    let per = match minutes.part {
        Part::Theory => "question",
        Part::Tasting => "glass",
    };
    let judged = if good { "enough" } else { "too short" };
    (
        good,
        format!(
            "{part}: {} minutes given, about {:.0} needed at the usual pace for each {per}: {judged}.",
            minutes.given, minutes.needed
        ),
    )
}

fn distribution(score: &ScoreForecast) -> Option<String> {
    let (Ok(mean), Ok(error), Ok(deviation)) = (&score.mean, &score.mean_error, &score.deviation)
    else {
        return None;
    };
    Some(format!(
        "{}: expect a mean of {mean:.1} of {} marks (simulation error {error:.2}) and a standard \
         deviation of {deviation:.1}.",
        capitalised(score.what),
        score.of
    ))
}

fn decisions(forecast: &Forecast) -> Option<String> {
    let made = &forecast.decisions;
    let (Ok(passes), Ok(wrong_passes), Ok(wrong_fails)) =
        (&made.passes, &made.wrong_passes, &made.wrong_fails)
    else {
        return None;
    };
    let each = |share: f64| share * forecast.candidates as f64;
    Some(format!(
        "Of {} candidates about {:.0} pass. Wrong decisions: about {:.1} of them pass although \
         their true score is below the cut ({}), about {:.1} fail although it is above ({}).",
        forecast.candidates,
        each(passes.share),
        each(wrong_passes.share),
        share_with_care(wrong_passes.share),
        each(wrong_fails.share),
        share_with_care(wrong_fails.share)
    ))
}

fn alpha(forecast: &Forecast) -> Option<String> {
    let made = forecast.alpha.as_ref()?;
    let mean = made.mean.as_ref().ok()?;
    Some(match made.single_sittings {
        Some((low, high)) => format!(
            "Theory: alpha {} over all sittings; in a single sitting it will mostly come out \
             between {} and {}.",
            coefficient(*mean),
            coefficient(low),
            coefficient(high)
        ),
        None => format!("Theory: alpha {} over all sittings.", coefficient(*mean)),
    })
}

/// The pass rule in words, for the head of a forecast.
#[must_use]
pub fn pass_rule_in_words(exam: &Exam) -> String {
    match exam.plan.pass.join {
        exam_plan::plan::Join::Conjunctive { theory, tasting } => format!(
            "Each part by itself: theory {}, tasting {}.",
            percent(theory),
            percent(tasting)
        ),
        exam_plan::plan::Join::Compensatory {
            total,
            theory_weight,
        } => format!(
            "Both parts together: {}, theory weighing {}.",
            percent(total),
            percent(theory_weight)
        ),
    }
}
