//! What a simulated candidate writes beside a glass.
//!
//! Model: a noisy member of the panel. Each word of the panel is found with probability
//! logistic(ability + slope · (weight − middle)), heaviest first; a word that is missed, or that the
//! taster has not at command, may come out as another of its group; empty places fill with common words. Category, region, producer
//! and fault are known with probability logistic(ability − a step), else a sibling or any leaf is
//! named; how sure somebody is agrees with how often they are right; numbers carry a normal error that shrinks with ability. Assumed throughout, no source.

use base::Stream;
use exam_plan::Asked;
use exam_plan::confidence::Confidence;
use exam_plan::plan::{AgeAnswer, band_names};
use question_bank::sample_record::Age;

use super::draws::{by_weight, happens, logistic, normal};
use super::population::{Guesser, Taster};
use super::prepared::{Names, PanelKeyWord, Prepared, PreparedSample};
use super::theory_answers::any_text;

/// By how much harder than the category the region and the producer are, on the ability scale.
const REGION_STEP: f64 = 0.5;
const PRODUCER_STEP: f64 = 1.5;
/// Of those who miss a place in a tree, how many name a sibling.
const NAMES_SIBLING: f64 = 0.5;

/// The answer of a taster of this ability.
pub(super) fn answer(
    stream: &mut Stream,
    prepared: &Prepared<'_>,
    sample: &PreparedSample<'_>,
    asked: &Asked,
    ability: f64,
    taster: &Taster,
) -> String {
    // From 2 (knows nothing) to 0 (never errs), 1 in the middle.
    let blur = 2.0 * (1.0 - logistic(ability));
    let record = sample.record;
    let scale = |stream: &mut Stream, truth: Option<u32>, low: u32, high: u32| {
        let middle = f64::from(low + high) / 2.0;
        around(stream, truth.map_or(middle, f64::from), blur, low, high)
    };
    match asked {
        Asked::Aroma { words } => {
            found_words(stream, prepared, &sample.neat, *words, ability, taster)
        }
        Asked::Water { words } => {
            found_words(stream, prepared, &sample.water, *words, ability, taster)
        }
        Asked::Category => category(stream, prepared, sample, ability, taster.colour_led),
        Asked::Region => placed(
            stream,
            &sample.region,
            &prepared.regions,
            ability - REGION_STEP,
        ),
        Asked::Age(kind) => age(stream, kind, record.age, blur),
        Asked::Strength { .. } => {
            let bottled = record.strength;
            let served = prepared
                .tasting
                .map_or(bottled, |part| part.pour.served(bottled));
            format!("{:.1}", served + 2.0 * blur * normal(stream))
        }
        Asked::Colour => scale(stream, record.colour, 0, 10),
        Asked::Body => scale(stream, record.body, 1, 5),
        Asked::Finish => scale(stream, record.finish, 1, 5),
        Asked::Quality => {
            let truth = sample.mean_quality;
            format!(
                "{:.1}",
                (truth + 1.5 * blur * normal(stream)).clamp(0.0, 10.0)
            )
        }
        Asked::Fault { from } => {
            if happens(stream, logistic(ability)) {
                record.fault.clone().unwrap_or_else(|| "none".to_owned())
            } else {
                any_text(stream, from)
            }
        }
        Asked::Confidence(asked) => beliefs(stream, asked, sample.right_belief, ability),
        Asked::Producer { from } => {
            if happens(stream, logistic(ability - PRODUCER_STEP)) {
                record.producer.clone()
            } else {
                any_text(stream, from)
            }
        }
    }
}

/// The answer of somebody who has not tasted.
pub(super) fn guess(
    stream: &mut Stream,
    prepared: &Prepared<'_>,
    asked: &Asked,
    guesser: Guesser,
) -> String {
    let whole =
        |stream: &mut Stream, low: u64, high: u64| (low + stream.below(high - low + 1)).to_string();
    match asked {
        Asked::Aroma { words } | Asked::Water { words } => {
            guessed_words(stream, prepared, *words, guesser)
        }
        Asked::Category => any_text(stream, &prepared.categories.leaves),
        Asked::Region => any_text(stream, &prepared.regions.leaves),
        Asked::Age(AgeAnswer::Band { from }) => any_text(stream, &band_names(from)),
        Asked::Age(AgeAnswer::Range) => {
            let first = stream.below(20);
            format!("{first}-{}", first + 4)
        }
        Asked::Strength { .. } => whole(stream, 37, 60),
        Asked::Colour | Asked::Quality => whole(stream, 0, 10),
        Asked::Body | Asked::Finish => whole(stream, 1, 5),
        Asked::Confidence(asked) => stated(asked, 0, 0),
        Asked::Fault { from } | Asked::Producer { from } => any_text(stream, from),
    }
}

/// A name, right with a chance that grows with ability, and that chance as the parts it is given:
/// simulated candidates know how often they are right.
fn beliefs(stream: &mut Stream, asked: &Confidence, right: Option<usize>, ability: f64) -> String {
    let chance = logistic(ability);
    let right = right.unwrap_or(0);
    let names = asked.from.len().max(1);
    let meant = if happens(stream, chance) {
        right
    } else {
        // Any of the others.
        (right + 1 + stream.index((names - 1).max(1))) % names
    };
    // Between the same for each name and nearly all, a whole number after the rounding.
    let parts = (chance * 100.0).round().clamp(0.0, 97.0) as u32;
    stated(asked, meant, parts)
}

/// A hundred parts in the order of the list: so many at least for one name, the rest spread evenly.
fn stated(asked: &Confidence, meant: usize, parts: u32) -> String {
    let names = u32::try_from(asked.from.len()).unwrap_or(1).max(1);
    let others = (100 - parts.min(100).max(100 / names)) / names.saturating_sub(1).max(1);
    let of = |place: usize| {
        if place == meant {
            100 - others * (names - 1)
        } else {
            others
        }
    };
    let all = (0..asked.from.len()).map(|place| of(place).to_string());
    all.collect::<Vec<_>>().join(" ")
}

fn guessed_words(
    stream: &mut Stream,
    prepared: &Prepared<'_>,
    words: u32,
    guesser: Guesser,
) -> String {
    let wanted = usize::try_from(words).unwrap_or(usize::MAX);
    match guesser {
        Guesser::Blind | Guesser::Copier => {
            let all = &prepared.words.all;
            let mut named: Vec<&str> = Vec::new();
            // Different words, as a person would write; a lexicon smaller than that is used up.
            while named.len() < wanted.min(all.len()) {
                let Some(word) = all.get(stream.index(all.len())) else {
                    break;
                };
                if !named.contains(word) {
                    named.push(word);
                }
            }
            named.join("; ")
        }
        Guesser::Lister => {
            let common = prepared.words.commonest.iter().take(wanted);
            common.copied().collect::<Vec<_>>().join("; ")
        }
    }
}

fn found_words(
    stream: &mut Stream,
    prepared: &Prepared<'_>,
    panel: &[PanelKeyWord],
    words: u32,
    ability: f64,
    taster: &Taster,
) -> String {
    let places = usize::try_from(words).unwrap_or(usize::MAX);
    let mut named: Vec<&str> = Vec::new();
    for key in panel {
        if named.len() >= places {
            break;
        }
        let log_odds = ability + taster.weight_slope * (key.weight - taster.middle_weight);
        let word = if happens(stream, logistic(log_odds)) {
            // Nothing is drawn where all words are at command.
            if taster.vocabulary < 1.0 && !happens(stream, taster.vocabulary) {
                super::draws::any_of(stream, &key.group).map(String::as_str)
            } else {
                Some(key.word.as_str())
            }
        } else if happens(stream, taster.near_miss) {
            key.group
                .get(stream.index(key.group.len()))
                .map(String::as_str)
        } else {
            None
        };
        named.extend(word.filter(|word| !named.contains(word)));
    }
    let empty = places
        .min(prepared.words.all.len())
        .saturating_sub(named.len());
    for _ in 0..empty {
        if happens(stream, taster.filler) {
            let drawn = by_weight(stream, &prepared.words.cumulative);
            let word = prepared.words.all.get(drawn).copied();
            named.extend(word.filter(|word| !named.contains(word)));
        }
    }
    named.join("; ")
}

/// The category; who does not know it may be led by the colour.
fn category(
    stream: &mut Stream,
    prepared: &Prepared<'_>,
    sample: &PreparedSample<'_>,
    ability: f64,
    colour_led: f64,
) -> String {
    // Nothing is drawn where nobody is led, so that older rehearsals stay as they were.
    if colour_led <= 0.0 {
        return placed(stream, &sample.category, &prepared.categories, ability);
    }
    let by_colour = sample.record.colour.and_then(|seen| {
        let near = |(colour, _): &&(u32, String)| colour.abs_diff(seen);
        prepared.by_colour.iter().min_by_key(near)
    });
    match by_colour {
        Some((_, name)) if !happens(stream, logistic(ability)) && happens(stream, colour_led) => {
            name.clone()
        }
        Some(_) | None => placed(stream, &sample.category, &prepared.categories, ability),
    }
}

fn placed(stream: &mut Stream, truth_and_siblings: &[String], any: &Names, ability: f64) -> String {
    if happens(stream, logistic(ability)) {
        return truth_and_siblings.first().cloned().unwrap_or_default();
    }
    match truth_and_siblings.get(1..) {
        Some(siblings) if !siblings.is_empty() && happens(stream, NAMES_SIBLING) => {
            any_text(stream, siblings)
        }
        Some(_) | None => any_text(stream, &any.leaves),
    }
}

/// A whole number near the truth, within the scale.
fn around(stream: &mut Stream, truth: f64, blur: f64, low: u32, high: u32) -> String {
    let sensed = (truth + 1.5 * blur * normal(stream)).round();
    format!("{:.0}", sensed.clamp(f64::from(low), f64::from(high)))
}

fn age(stream: &mut Stream, kind: &AgeAnswer, age: Age, blur: f64) -> String {
    match kind {
        AgeAnswer::Band { from } => {
            let names = band_names(from);
            let truth = match age {
                Age::Stated(years) => from.iter().filter(|first| **first <= years).count(),
                Age::NotStated | Age::Unknown => 0,
            };
            let last = names.len().saturating_sub(1) as f64;
            let sensed = (truth as f64 + blur * normal(stream))
                .round()
                .clamp(0.0, last);
            // A clamped whole number in the range of the list.
            names.get(sensed as usize).cloned().unwrap_or_default()
        }
        AgeAnswer::Range => {
            let truth = match age {
                Age::Stated(years) => f64::from(years),
                Age::NotStated | Age::Unknown => 3.0,
            };
            let middle = (truth + 3.0 * blur * normal(stream)).round().max(2.0);
            format!("{:.0}-{:.0}", middle - 2.0, middle + 2.0)
        }
    }
}
