//! Whose answers are more alike than ability explains: evidence for a person to look at, with the
//! seats beside it, and never a verdict.
//!
//! Pairs that sat side by side where the seats are known, else all pairs. A pair is named by the
//! generalised binomial test, whose tail is exact given the curves, after Holm's adjustment over all
//! pairs, those without a figure counted as well: at an adjusted probability of at most [`NAMED`] (this
//! project's choice, strict because names are put beside it). Omega and the index of shared wrong
//! answers stand beside it, in both directions, and name nobody: omega's normal tail says 1 in 5 million
//! where the exact count says 1 in 40,000, which over thousands of pairs names people who worked alone.
//! Only questions that both were asked are compared, so neighbours with different forms mostly cannot
//! be. How often innocent pairs are named is simulated (`tests/benches/simulations`).

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;
use statistics::Refusal;
use statistics::similarity::answer_sheets::{AnswerSheets, Pair};
use statistics::similarity::generalised_binomial::{GeneralisedBinomial, generalised_binomial};
use statistics::similarity::k_index::{KIndex, k_index};
use statistics::similarity::many_pairs::many_pairs;
use statistics::similarity::nominal_fit::{NominalFit, nominal_fit};
use statistics::similarity::regressed_k_index::{Regression, regressed_k_index};
use statistics::similarity::wollack_omega::{WollackOmega, wollack_omega};

use super::responses::{Answer, Responses};
use super::smallest::Need;

/// The adjusted probability from which on a pair is named.
const NAMED: f64 = 0.01;
/// Questions that both were asked, below which a pair is not compared: omega's own smallest number.
const FEWEST_QUESTIONS: usize = 10;
/// Candidates with as many wrong answers, below which the K index leans on the line over all groups.
const FEWEST_ALIKE_WRONG: usize = 10;
/// Candidates above which not all pairs are looked at: their number grows with the square.
const MOST_FOR_ALL_PAIRS: usize = 600;

/// What is said wherever a pair is named, or could have been.
const CAUTION: &str = "This is evidence for a person to look at and never a verdict. Who learned \
together, who shares a wrong belief, and whoever meets a misprinted key answers alike as well. Look at \
the scripts, the seats and the proctor's notes, and hear both, before anybody is told anything.";

/// Which pairs were looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum PairsFrom {
    /// Those who sat side by side.
    Seats,
    /// Every pair.
    All,
}

/// Two candidates side by side, by their places in the list of candidates.
pub type SideBySide = (usize, usize);

/// One pair.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AlikePair {
    /// Their numbers.
    pub candidates: [String; 2],
    /// The sitting; empty where there is one.
    pub sitting: String,
    /// Questions that both answered.
    pub questions: usize,
    /// Answers that are the same.
    pub same: usize,
    /// How many were expected of two who work alone.
    pub expected: f64,
    /// The generalised binomial test.
    pub binomial: Result<GeneralisedBinomial, Refusal>,
    /// Omega: of the first against the second, and the other way round.
    pub omega: [Result<WollackOmega, Refusal>; 2],
    /// Shared wrong answers likewise; the K index, or its regressed form in small groups.
    pub shared_wrong: [Result<KIndex, Refusal>; 2],
    /// The probability of the binomial test after the adjustment for all pairs that were looked at.
    pub adjusted: f64,
    /// Whether it is small enough to be named.
    pub named: bool,
    /// In words.
    pub sentence: String,
}

/// All pairs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Alikeness {
    /// Which pairs.
    pub from: PairsFrom,
    /// Pairs that were looked at.
    pub looked_at: usize,
    /// Of these, pairs with fewer than ten questions that both answered.
    pub without: usize,
    /// Candidates.
    pub n: usize,
    /// Those that are named, and the next ones down to ten in all, the least probable first.
    pub pairs: Vec<AlikePair>,
    /// What to see.
    pub sentence: String,
    /// What it is not.
    pub caution: &'static str,
    /// What was refused.
    pub refused: Vec<String>,
}

/// Compares candidates; none where no question has options and a key. `beside` lists those who sat
/// side by side, none where no seats are known.
#[must_use]
pub fn alikeness(responses: &Responses, beside: Option<&[SideBySide]>) -> Option<Alikeness> {
    let questions: Vec<usize> = (0..responses.questions.len())
        .filter(|place| {
            let question = responses.questions.get(*place);
            question.is_some_and(|q| q.key.is_some() && q.options.len() >= 2)
        })
        .collect();
    if questions.is_empty() {
        return None;
    }
    let n = responses
        .candidates
        .iter()
        .filter(|c| c.answers.iter().any(|a| matches!(a, Answer::Given { .. })))
        .count();
    let mut made = Alikeness {
        from: if beside.is_some() {
            PairsFrom::Seats
        } else {
            PairsFrom::All
        },
        looked_at: 0,
        without: 0,
        n,
        pairs: Vec::new(),
        sentence: String::new(),
        caution: CAUTION,
        refused: Vec::new(),
    };
    if let Some(why) = Need::Alikeness.refused(n) {
        made.refused.push(why);
    } else if beside.is_none() && n > MOST_FOR_ALL_PAIRS {
        made.refused.push(format!(
            "No comparison of all pairs: {n} candidates make {} of them, and at most {MOST_FOR_ALL_PAIRS} candidates are compared so. Instead: --seats TABLE says who sat side by side.",
            n * (n - 1) / 2
        ));
    } else if questions.len() < FEWEST_QUESTIONS {
        made.refused.push(format!(
            "No comparison of answers: {} questions have options and a key, at least {FEWEST_QUESTIONS} are needed. Instead: the scripts side by side.",
            questions.len()
        ));
    } else if let Err(why) = compare(responses, &questions, beside, &mut made) {
        made.refused.push(format!(
            "No comparison of answers: {why}. Instead: the scripts side by side."
        ));
    }
    made.sentence = in_words(&made);
    Some(made)
}

/// What each pair of candidates shares: the questions, and the two.
type ByQuestions = BTreeMap<Vec<usize>, Vec<SideBySide>>;

fn compare(
    responses: &Responses,
    questions: &[usize],
    beside: Option<&[SideBySide]>,
    made: &mut Alikeness,
) -> Result<(), Refusal> {
    let all: Vec<Vec<Option<usize>>> = responses
        .candidates
        .iter()
        .map(|candidate| choices(&candidate.answers, questions))
        .collect();
    let key: Vec<usize> = questions
        .iter()
        .filter_map(|place| responses.questions.get(*place)?.key)
        .collect();
    let options: Vec<usize> = questions
        .iter()
        .filter_map(|place| Some(responses.questions.get(*place)?.options.len()))
        .collect();
    let fit = nominal_fit(&AnswerSheets::new(all.clone(), key.clone())?, &options)?;
    let pairs = wanted_pairs(responses, beside);
    made.looked_at = pairs.len();
    let asked: Vec<BTreeSet<usize>> = responses
        .candidates
        .iter()
        .map(|candidate| {
            let asked = |place: &usize| {
                let question = questions.get(*place);
                let answer = question.and_then(|q| candidate.answers.get(*q));
                answer.is_some_and(|answer| *answer != Answer::NotAsked)
            };
            (0..questions.len()).filter(asked).collect()
        })
        .collect();
    let mut by_questions = ByQuestions::new();
    for (one, other) in pairs {
        let (Some(a), Some(b)) = (asked.get(one), asked.get(other)) else {
            continue;
        };
        let both = a.intersection(b).copied().collect();
        by_questions.entry(both).or_default().push((one, other));
    }
    let mut found = Vec::new();
    for (both, pairs) in &by_questions {
        if both.len() < FEWEST_QUESTIONS {
            made.without += pairs.len();
            continue;
        }
        // The indices of wrong answers ask who did as well: those who had all these questions.
        let within: Vec<usize> = (0..all.len())
            .filter(|place| {
                asked
                    .get(*place)
                    .is_some_and(|asked| both.iter().all(|q| asked.contains(q)))
            })
            .collect();
        let pick = |row: &Vec<Option<usize>>| -> Vec<Option<usize>> {
            both.iter()
                .map(|q| row.get(*q).copied().flatten())
                .collect()
        };
        let sheets = AnswerSheets::new(
            within
                .iter()
                .filter_map(|place| all.get(*place))
                .map(pick)
                .collect(),
            both.iter().filter_map(|q| key.get(*q).copied()).collect(),
        )?;
        let items = both
            .iter()
            .filter_map(|q| fit.items.get(*q).cloned())
            .collect();
        let room = Room {
            responses,
            sheets,
            within,
            fit: NominalFit {
                items,
                ..fit.clone()
            },
        };
        for pair in pairs {
            match room.pair(*pair) {
                Some(one) => found.push(one),
                None => made.without += 1,
            }
        }
    }
    adjust(found, made)
}

/// The options chosen, question by question.
fn choices(answers: &[Answer], questions: &[usize]) -> Vec<Option<usize>> {
    questions
        .iter()
        .map(|place| match answers.get(*place) {
            Some(Answer::Given { option, .. }) => *option,
            Some(Answer::NotAsked | Answer::Omitted | Answer::NotReached) | None => None,
        })
        .collect()
}

/// The pairs that are looked at, the smaller place first, each once; never of two sittings.
fn wanted_pairs(responses: &Responses, beside: Option<&[SideBySide]>) -> Vec<SideBySide> {
    let gave = |place: usize| {
        let candidate = responses.candidates.get(place);
        candidate.is_some_and(|c| c.answers.iter().any(|a| matches!(a, Answer::Given { .. })))
    };
    let sitting = |place: usize| responses.candidates.get(place).map(|c| c.sitting.as_str());
    let fits = |(one, other): &SideBySide| {
        one != other && gave(*one) && gave(*other) && sitting(*one) == sitting(*other)
    };
    let pairs: BTreeSet<SideBySide> = match beside {
        Some(pairs) => pairs
            .iter()
            .map(|(one, other)| (*one.min(other), *one.max(other)))
            .filter(fits)
            .collect(),
        None => (0..responses.candidates.len())
            .flat_map(|one| (one + 1..responses.candidates.len()).map(move |other| (one, other)))
            .filter(fits)
            .collect(),
    };
    pairs.into_iter().collect()
}

/// The candidates who had the same questions, with the curves of these.
struct Room<'r> {
    responses: &'r Responses,
    sheets: AnswerSheets,
    within: Vec<usize>,
    fit: NominalFit,
}

impl Room<'_> {
    /// The figures of one pair; none where fewer than ten questions were answered by both.
    fn pair(&self, (one, other): SideBySide) -> Option<AlikePair> {
        let place = |who| self.within.binary_search(&who).ok();
        let (copier, source) = (place(one)?, place(other)?);
        let ability = |who: usize| self.fit.abilities.get(who).copied().flatten();
        let (first, second) = (ability(one)?, ability(other)?);
        let both = [
            Pair { copier, source },
            Pair {
                copier: source,
                source: copier,
            },
        ];
        let items = &self.fit.items;
        let binomial = generalised_binomial(&self.sheets, both[0], items, [first, second]);
        let answered = binomial.as_ref().map_or(0, |made| made.questions);
        if answered < FEWEST_QUESTIONS {
            return None;
        }
        let omega = [
            wollack_omega(&self.sheets, both[0], items, first),
            wollack_omega(&self.sheets, both[1], items, second),
        ];
        let shared_wrong = both.map(|pair| self.shared_wrong(pair));
        let name = |who: usize| {
            self.responses
                .candidates
                .get(who)
                .map(|c| c.candidate.clone())
        };
        Some(AlikePair {
            candidates: [name(one)?, name(other)?],
            sitting: self.responses.candidates.get(one)?.sitting.clone(),
            questions: answered,
            same: binomial.as_ref().map_or(0, |made| made.matches),
            expected: binomial.as_ref().map_or(0.0, |made| made.expected),
            adjusted: 1.0,
            named: false,
            sentence: String::new(),
            binomial,
            omega,
            shared_wrong,
        })
    }

    fn shared_wrong(&self, pair: Pair) -> Result<KIndex, Refusal> {
        match k_index(&self.sheets, pair) {
            Ok(made) if made.group >= FEWEST_ALIKE_WRONG => Ok(made),
            // Too few did as badly: the line over all numbers of wrong answers stands in for them.
            Ok(_) | Err(Refusal::TooFew { .. }) => {
                regressed_k_index(&self.sheets, pair, Regression::Line)
            }
            Err(why) => Err(why),
        }
    }
}

/// Adjusts over everything, names pairs and keeps the first of them.
fn adjust(mut found: Vec<AlikePair>, made: &mut Alikeness) -> Result<(), Refusal> {
    let probability = |pair: &AlikePair| {
        let made = pair.binomial.as_ref();
        made.map_or(1.0, |made| made.p_value.probability.clamp(0.0, 1.0))
    };
    let own: Vec<f64> = found.iter().map(probability).collect();
    let adjusted = many_pairs(&own, made.looked_at)?;
    for (pair, adjusted) in found.iter_mut().zip(adjusted) {
        pair.adjusted = adjusted;
        pair.named = adjusted <= NAMED;
        pair.sentence = pair_in_words(pair, made);
    }
    found.sort_by(|a, b| {
        let by_chance = probability(a).total_cmp(&probability(b));
        by_chance.then_with(|| a.candidates.cmp(&b.candidates))
    });
    let named = found.iter().filter(|pair| pair.named).count();
    found.truncate(named.max(10));
    made.pairs = found;
    Ok(())
}

/// A small probability as people say it.
fn one_in(probability: f64) -> String {
    if probability >= 0.1 {
        return format!("about {:.0} in 100", probability * 100.0);
    }
    let times = 1.0 / probability.max(1e-12);
    if times >= 1e6 {
        return "less than 1 in a million".to_owned();
    }
    // Two leading digits; a chance is no more certain than that.
    let mut scale = 1.0;
    while times / scale >= 100.0 {
        scale *= 10.0;
    }
    format!("about 1 in {:.0}", (times / scale).round() * scale)
}

fn pair_in_words(pair: &AlikePair, made: &Alikeness) -> String {
    let [one, other] = &pair.candidates;
    let sat = match made.from {
        PairsFrom::Seats => " sat side by side and",
        PairsFrom::All => "",
    };
    let wrong = pair
        .shared_wrong
        .iter()
        .flatten()
        .next()
        .map_or_else(String::new, |k| {
            format!(", {} of them wrong on both sides", k.shared)
        });
    format!(
        "{one} and {other}{sat} gave the same answer to {} of {} questions{wrong}; of two who work alone {:.1} were expected. That one of {} pairs comes out so by accident: {}.",
        pair.same,
        pair.questions,
        pair.expected,
        made.looked_at,
        one_in(pair.adjusted)
    )
}

fn in_words(made: &Alikeness) -> String {
    if let Some(why) = made.refused.first() {
        return why.clone();
    }
    let pairs = match made.from {
        PairsFrom::Seats => "pairs who sat side by side",
        PairsFrom::All => "pairs",
    };
    if made.looked_at == 0 {
        return format!("There are no {pairs} whose answers could be compared.");
    }
    let without = match made.without {
        0 => String::new(),
        number if number == made.looked_at => {
            return format!(
                "None of {} {pairs} answered ten questions or more that both had: different forms leave nothing to copy, and nothing to compare.",
                made.looked_at
            );
        }
        number => format!(
            " {number} of them have fewer than ten answered questions in common and could not be compared."
        ),
    };
    let named = made.pairs.iter().filter(|pair| pair.named).count();
    let found = match named {
        0 => "no answers are more alike than ability and accident explain".to_owned(),
        1 => "the answers of 1 pair are more alike than ability and accident explain".to_owned(),
        many => {
            format!("the answers of {many} pairs are more alike than ability and accident explain")
        }
    };
    format!("Of {} {pairs} {found}.{without}", made.looked_at)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests;
