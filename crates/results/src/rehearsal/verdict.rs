//! The forecast in words an instructor uses; what should change comes first.

use exam_plan::Exam;

use super::decision::needed_for;
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

/// What a sentence of the forecast is about: what should change stands under [`Topic::Verdict`],
/// whatever it is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Topic {
    /// Whether the exam can do its work, what should change, how well it tells candidates apart and
    /// how often it decides wrongly.
    Verdict,
    /// What more questions or samples would buy, and alpha.
    Reliability,
    /// Who passes without knowing anything.
    Guessers,
    /// Minutes.
    Time,
    /// Marks to expect.
    Scores,
    /// Uncertainty at the cuts, and cuts that move.
    Decisions,
    /// Forms and serving orders.
    Alike,
    /// Questions and samples that do no work.
    Idle,
    /// What the figures rest on.
    Basis,
}

/// All sentences with their topics: what should change, then what is well, then the figures.
#[must_use]
pub fn sentences_by_topic(forecast: &Forecast) -> Vec<(Topic, String)> {
    let (mut change, mut well) = (Vec::new(), Vec::new());
    let mut say = |topic: Topic, good: bool, sentence: String| {
        if good {
            well.push((topic, sentence));
        } else {
            change.push((Topic::Verdict, sentence));
        }
    };
    for score in &forecast.scores {
        if let Some((good, sentence)) = reliability(forecast, score) {
            say(Topic::Verdict, good, sentence);
        }
    }
    for guesser in &forecast.guessers {
        if let Some((good, sentence)) = guessing(guesser) {
            say(Topic::Guessers, good, sentence);
        }
    }
    for minutes in &forecast.minutes {
        let (good, sentence) = time(minutes);
        say(Topic::Time, good, sentence);
    }
    let head = match change.len() {
        0 => "The exam can do its work as it is planned.".to_owned(),
        1 => "One thing should change before this exam is given; it comes first.".to_owned(),
        n => format!(
            "{} things should change before this exam is given; they come first.",
            capitalised(&number_word(n))
        ),
    };
    let mut all = vec![(Topic::Verdict, head)];
    all.extend(change);
    all.extend(well);
    let scores = forecast.scores.iter().filter_map(distribution);
    all.extend(scores.map(|sentence| (Topic::Scores, sentence)));
    all.extend(decisions(forecast).map(|sentence| (Topic::Verdict, sentence)));
    all.extend(super::closer_words::sentences(forecast));
    all.extend(alpha(forecast).map(|sentence| (Topic::Reliability, sentence)));
    all.push((
        Topic::Basis,
        format!(
            "This is a simulation of {} sittings of {} invented candidates; the spread of \
             abilities and the way tasters write are assumptions, not findings.",
            forecast.extent.sittings, forecast.candidates
        ),
    ));
    all
}

/// The sentences alone.
pub(super) fn sentences(forecast: &Forecast) -> Vec<String> {
    let all = sentences_by_topic(forecast);
    all.into_iter().map(|(_, sentence)| sentence).collect()
}

fn reliability(forecast: &Forecast, score: &ScoreForecast) -> Option<(bool, String)> {
    let made = score.reliability.as_ref().ok()?;
    let value = coefficient(made.value);
    // As printed: .70 in the sentence is .70 for the verdict.
    let printed = (made.value * 100.0).round() / 100.0;
    let (with, part) = with_how_much(forecast, score.what);
    if printed >= GOOD {
        return Some((
            true,
            format!(
                "{with} tells candidates apart well enough to decide by (reliability {value})."
            ),
        ));
    }
    let judged = if made.value < TOO_LOW {
        let (good, lucky) = match part {
            Some(Part::Tasting) => ("a good taster", "a lucky one"),
            Some(Part::Theory) | None => ("a good candidate", "a lucky one"),
        };
        format!("{with} cannot tell {good} from {lucky} (reliability {value})")
    } else {
        format!("{with} leaves decisions near the cut partly to luck (reliability {value})")
    };
    let advice = part.map_or_else(String::new, |part| longer(forecast, part));
    Some((false, format!("{judged}{advice}.")))
}

/// "With one blind sample the tasting part", and which part that is; the total has none.
fn with_how_much(forecast: &Forecast, what: &str) -> (String, Option<Part>) {
    let part = Part::ALL.into_iter().find(|part| part.word() == what);
    let now = forecast
        .closer
        .longer
        .iter()
        .find(|longer| Some(longer.part) == part)
        .map(|longer| longer.now);
    let with = match (part, now) {
        (Some(part @ Part::Theory), Some(now)) => {
            let noun = if now == 1 { "question" } else { "questions" };
            format!("With {} {noun} the {part} part", number_word(now))
        }
        (Some(part @ Part::Tasting), Some(now)) => {
            let noun = if now == 1 { "sample" } else { "samples" };
            format!("With {} blind {noun} the {part} part", number_word(now))
        }
        (Some(part), None) => format!("The {part} part"),
        (None, _) => "Taken together, the exam".to_owned(),
    };
    (with, part)
}

/// What more of the same kind would give.
fn longer(forecast: &Forecast, part: Part) -> String {
    let steps: Vec<_> = forecast
        .closer
        .longer
        .iter()
        .filter(|longer| longer.part == part)
        .collect();
    let (one, many) = match part {
        Part::Theory => ("question", "questions"),
        Part::Tasting => ("sample", "samples"),
    };
    let Some(now) = steps.first() else {
        return String::new();
    };
    if now.reliability <= 0.05 {
        return format!("; more {many} of this kind would not help, so look at what is asked");
    }
    // Two more samples, ten more questions: the first step that is worth the trouble.
    let step = match part {
        Part::Theory => steps.get(1),
        Part::Tasting => steps.get(2),
    };
    let mut told = step.map_or_else(String::new, |step| {
        format!(
            "; {} {many} give {}",
            number_word(step.now + step.more),
            coefficient(step.reliability)
        )
    });
    if let Some(needed) = needed_for(now, GOOD) {
        let noun = if needed == 1 { one } else { many };
        told.push_str(&format!(
            ", and about {} {noun} would reach {}",
            number_word(needed),
            coefficient(GOOD)
        ));
    }
    told
}

/// Small numbers as words.
pub(super) fn number_word(number: usize) -> String {
    const WORDS: [&str; 13] = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
        "eleven", "twelve",
    ];
    WORDS
        .get(number)
        .map_or_else(|| number.to_string(), |word| (*word).to_owned())
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
    let judged = match (good, minutes.needed > 0.95 * f64::from(minutes.given)) {
        (false, _) => "too short",
        (true, true) => "enough, with none to spare",
        (true, false) => "enough",
    };
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
