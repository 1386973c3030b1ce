//! What an instructor should do about a question, in an instructor's words.
//!
//! The bounds are common practice without a source: a question below .10 with the rest is weak, one
//! that 95 of 100 have right tells nobody apart. Each sentence carries the counts it rests on.

use serde::Serialize;

use super::question_analysis::QuestionAnalysis;
use super::responses::AskedQuestion;
use super::smallest::Need;

/// One thing to do, worst kind first.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case", tag = "kind", content = "sentence")]
pub enum Finding {
    /// Nobody earned a mark.
    NobodyRight(String),
    /// The strong chose another option as often as the key.
    KeyInDoubt(String),
    /// Those who do well elsewhere do worse here.
    TurnsAround(String),
    /// As many are right as by guessing.
    LikeGuessing(String),
    /// It hardly goes with the rest.
    HardlyTells(String),
    /// Many left it out or did not reach it.
    LeftOut(String),
    /// Nearly everybody was right.
    NearlyAllRight(String),
    /// An option that nobody chose.
    IdleOption(String),
}

impl Finding {
    /// The sentence.
    #[must_use]
    pub fn sentence(&self) -> &str {
        match self {
            Self::NobodyRight(words)
            | Self::KeyInDoubt(words)
            | Self::TurnsAround(words)
            | Self::LikeGuessing(words)
            | Self::HardlyTells(words)
            | Self::LeftOut(words)
            | Self::NearlyAllRight(words)
            | Self::IdleOption(words) => words,
        }
    }

    /// Its rank, 0 the worst.
    const fn rank(&self) -> u8 {
        match self {
            Self::NobodyRight(_) => 0,
            Self::KeyInDoubt(_) => 1,
            Self::TurnsAround(_) => 2,
            Self::LikeGuessing(_) => 3,
            Self::HardlyTells(_) => 4,
            Self::LeftOut(_) => 5,
            Self::NearlyAllRight(_) => 6,
            Self::IdleOption(_) => 7,
        }
    }
}

/// Below this a correlation with the rest is weak.
const WEAK: f64 = 0.10;
/// From this share on nearly all are right.
const NEARLY_ALL: f64 = 0.95;
/// From this share on many left it out.
const MANY_LEFT_OUT: f64 = 0.2;
/// The fewest strong candidates whose choices are told.
const FEWEST_STRONG: f64 = 4.5;

pub(super) fn findings(made: &QuestionAnalysis, asked: &AskedQuestion) -> Vec<Finding> {
    let mut found = Vec::new();
    let Ok(difficulty) = &made.difficulty else {
        return found;
    };
    // A share means little from a handful; what is said then is only what is certain.
    if made.n < Need::Discrimination.row().least {
        return found;
    }
    let n = made.n;
    if difficulty.share == 0.0 {
        found.push(Finding::NobodyRight(format!(
            "Nobody of {n} earned a mark: is the key right, and was this taught?"
        )));
    }
    found.extend(key_in_doubt(made));
    if let Ok(figure) = &made.with_rest {
        let limits = match &figure.interval {
            Ok(limits) => format!("{:.2} to {:.2}", limits.lower, limits.upper),
            Err(_) => "no interval".to_owned(),
        };
        if figure.r < 0.0 {
            found.push(Finding::TurnsAround(format!(
                "Those who do well elsewhere do worse here (r = {:.2}, 95 % interval {limits}, n = {n}): \
                 look for a second right answer or a trap in the wording.",
                figure.r
            )));
        } else if figure.r < WEAK && difficulty.share > 0.05 && difficulty.share < NEARLY_ALL {
            found.push(Finding::HardlyTells(format!(
                "Right answers hardly go with the rest of the paper (r = {:.2}, 95 % interval {limits}, n = {n}): \
                 {}",
                figure.r,
                if figure.interval.as_ref().is_ok_and(|limits| limits.upper > 0.3) {
                    "with so few candidates this may be chance; watch it at the next sitting."
                } else {
                    "what does it ask that the others do not?"
                }
            )));
        }
    }
    let options = asked.options.len();
    if let (Some(_), true, Ok(limits)) = (asked.key, options >= 2, &difficulty.interval)
        && difficulty.share > 0.0
        && limits.lower <= 1.0 / options as f64
        && difficulty.share < 1.0 / options as f64 + 0.1
        // Where the strong know it, it is hard and no guesswork.
        && !made.with_rest.as_ref().is_ok_and(|figure| {
            figure.interval.as_ref().is_ok_and(|limits| limits.lower > WEAK)
        })
    {
        found.push(Finding::LikeGuessing(format!(
            "{:.0} % right of {n}; guessing among {options} options gives {:.0} %: either nobody knew it or the options mislead.",
            difficulty.share * 100.0,
            100.0 / options as f64
        )));
    }
    let open = made.omitted + made.not_reached;
    if open as f64 >= MANY_LEFT_OUT * n as f64 {
        found.push(Finding::LeftOut(if made.not_reached > made.omitted {
            format!(
                "{} of {n} did not reach it: was the time too short?",
                made.not_reached
            )
        } else {
            format!("{open} of {n} left it open: is it clear what is asked?")
        }));
    }
    if difficulty.share >= NEARLY_ALL {
        found.push(Finding::NearlyAllRight(format!(
            "{:.0} % of its marks were earned (n = {n}): it tells hardly anybody apart. Keep it only if everybody must know it.",
            difficulty.share * 100.0
        )));
    }
    if n >= Need::IdleOption.row().least && asked.key.is_some() {
        let idle: Vec<&str> = made
            .options
            .iter()
            .filter(|option| option.chosen == 0 && !option.key)
            .map(|option| option.option.as_str())
            .collect();
        if !idle.is_empty() && difficulty.share < NEARLY_ALL {
            found.push(Finding::IdleOption(format!(
                "Nobody of {n} chose {}: a better distractor, or one option fewer.",
                idle.join(" or ")
            )));
        }
    }
    found.sort_by_key(Finding::rank);
    found
}

/// Among the strongest group another option was chosen at least as often as the key.
fn key_in_doubt(made: &QuestionAnalysis) -> Option<Finding> {
    let groups = made.groups.as_ref()?;
    let strong = *groups.sizes.last()? as f64;
    if strong < FEWEST_STRONG {
        return None;
    }
    let count = |line: usize| -> f64 {
        let share = groups.shares.get(line).and_then(|line| line.last());
        (share.copied().unwrap_or(0.0) * strong).round()
    };
    let (key, _) = made.options.iter().enumerate().find(|(_, o)| o.key)?;
    let (rival, option) = made
        .options
        .iter()
        .enumerate()
        .filter(|(_, option)| !option.key)
        .max_by(|a, b| count(a.0).total_cmp(&count(b.0)).then(b.0.cmp(&a.0)))?;
    let key_name = &made.options.get(key)?.option;
    (count(rival) >= count(key) && count(rival) > 0.0).then(|| {
        Finding::KeyInDoubt(format!(
            "Of the strongest {strong:.0}, {:.0} chose {} and {:.0} the key {key_name}: read the key again.",
            count(rival),
            option.option,
            count(key)
        ))
    })
}

/// Places of the questions with findings: the worst finding first, then the weaker correlation.
pub(super) fn worst_first(questions: &[QuestionAnalysis]) -> Vec<usize> {
    let mut order: Vec<(u8, f64, usize)> = questions
        .iter()
        .enumerate()
        .filter_map(|(place, question)| {
            let rank = question.findings.iter().map(Finding::rank).min()?;
            let r = question.with_rest.as_ref().map_or(0.0, |figure| figure.r);
            Some((rank, r, place))
        })
        .collect();
    order.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)));
    order.into_iter().map(|(_, _, place)| place).collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::question_analysis::questions;
    use super::super::responses::{Answer, CandidateAnswers, Responses};
    use super::*;

    /// 24 candidates on two helper questions that order them, and one with options A (key) to C.
    fn with_choices(choose: impl Fn(usize) -> usize) -> Vec<QuestionAnalysis> {
        let plain = |name: &str, full: f64| AskedQuestion {
            name: name.to_owned(),
            stem: String::new(),
            key: None,
            options: Vec::new(),
            full,
            counts: true,
        };
        let chosen = AskedQuestion {
            key: Some(0),
            options: ["A", "B", "C"].map(str::to_owned).to_vec(),
            ..plain("q1", 1.0)
        };
        let candidates = (0..24)
            .map(|n| {
                let option = choose(n);
                CandidateAnswers {
                    candidate: n.to_string(),
                    sitting: String::new(),
                    form: String::new(),
                    group: String::new(),
                    answers: vec![
                        Answer::Given {
                            marks: if option == 0 { 1.0 } else { 0.0 },
                            option: Some(option),
                        },
                        Answer::Given {
                            marks: n as f64,
                            option: None,
                        },
                    ],
                }
            })
            .collect();
        questions(&Responses {
            what: "t".to_owned(),
            questions: vec![chosen, plain("rest", 24.0)],
            candidates,
        })
    }

    #[test]
    fn a_key_that_the_strong_do_not_choose_is_to_be_read_again() {
        let made = with_choices(|n| if n >= 16 { 2 } else { n % 3 });
        let words = made[0].findings[0].sentence();
        assert_eq!(
            words,
            "Of the strongest 8, 8 chose C and 0 the key A: read the key again."
        );
        assert!(matches!(made[0].findings[1], Finding::TurnsAround(_)));
        assert_eq!(worst_first(&made)[0], 0);
    }

    #[test]
    fn a_sound_question_has_nothing_to_do_about() {
        let made = with_choices(|n| if n >= 10 { 0 } else { 1 + n % 2 });
        assert_eq!(made[0].findings, []);
        assert!(worst_first(&made).is_empty());
    }

    #[test]
    fn everybody_right_is_said_with_its_number() {
        let made = with_choices(|_| 0);
        assert!(
            matches!(&made[0].findings[..], [Finding::NearlyAllRight(words)] if words.contains("n = 24"))
        );
    }
}
