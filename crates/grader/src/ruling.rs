//! What a person decided about a word or an answer, kept as a rule of the sitting: every script
//! that has the same words of the same question is marked again by it.
//!
//! A word that stands for a known one is marked exactly as that word would be. A word judged to be
//! nothing earns nothing and keeps its place among the words that count, so that writing nonsense
//! moves no later word into the count. Marks given to a whole answer are the person's own.

use std::collections::{BTreeMap, BTreeSet};

use base::{CandidateNumber, Marks, Place};
use question_bank::word_match::fold;

use crate::award::{Award, Item, Outcome, UnknownWord};
use crate::for_a_person::Subject;
use crate::sentences::{Line, Sentences, Value};

/// The rule's stable name for marks that a person gave.
pub const RULE: &str = "decision";

/// What was decided.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Judgement {
    /// The word stands for this known one.
    StandsFor(String),
    /// The word or answer earns nothing.
    Nothing,
    /// The whole answer earns these marks.
    Earns(Marks),
}

/// One decision.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ruling {
    /// Of what.
    pub subject: Subject,
    /// The one script it is for, where it is not for all.
    pub script: Option<CandidateNumber>,
    /// The word or answer as it was written.
    pub written: String,
    /// What was decided.
    pub judgement: Judgement,
    /// Why, in the person's words.
    pub why: String,
    /// By whom: a role or initials.
    pub by: String,
    /// Where it was read, where it was read anywhere.
    pub place: Option<Place>,
}

/// The decisions of a sitting. Two words are the same when they fold alike; a decision for one
/// script goes before one for all.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Rulings {
    rulings: Vec<Ruling>,
    place: BTreeMap<(Subject, Option<CandidateNumber>, String), usize>,
}

impl Rulings {
    /// Adds a decision. Gives back the earlier one about the same words, which stays.
    ///
    /// # Errors
    /// The earlier decision, where there is one that says something else.
    pub fn add(&mut self, ruling: Ruling) -> Result<(), Box<Ruling>> {
        let key = (
            ruling.subject.clone(),
            ruling.script.clone(),
            fold(&ruling.written),
        );
        if let Some(earlier) = self.place.get(&key).and_then(|at| self.rulings.get(*at)) {
            return if earlier.judgement == ruling.judgement {
                Ok(())
            } else {
                Err(Box::new(earlier.clone()))
            };
        }
        self.place.insert(key, self.rulings.len());
        self.rulings.push(ruling);
        Ok(())
    }
    /// All decisions, in the order in which they were added.
    #[must_use]
    pub fn all(&self) -> &[Ruling] {
        &self.rulings
    }
    /// Whether nothing was decided.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.rulings.is_empty()
    }

    fn about(
        &self,
        subject: &Subject,
        script: &CandidateNumber,
        written: &str,
    ) -> Option<(usize, &Ruling)> {
        let written = fold(written);
        let for_one = (subject.clone(), Some(script.clone()), written.clone());
        let for_all = (subject.clone(), None, written);
        let at = *self
            .place
            .get(&for_one)
            .or_else(|| self.place.get(&for_all))?;
        Some((at, self.rulings.get(at)?))
    }

    /// The award with every decision that is about it. `again` marks another answer to the same
    /// item; the places of the decisions that were of use go into `used`. The answer itself stays
    /// as it was written.
    #[must_use]
    pub fn settle(
        &self,
        mut award: Award,
        again: &dyn Fn(&str) -> Outcome,
        sentences: &Sentences,
        used: &mut BTreeSet<usize>,
    ) -> Award {
        if self.is_empty() {
            return award;
        }
        let subject = subject_of(&award.item);
        let mut read_as = award.answer.clone();
        let mut said: Vec<String> = Vec::new();
        // Each round replaces one word, and a word that is not known afterwards ends it.
        for _ in 0..MOST_ROUNDS {
            let Outcome::ForAPerson { words, .. } = &award.outcome else {
                break;
            };
            let found = words.iter().find_map(|unknown| {
                let (at, ruling) = self.about(&subject, &award.candidate, &unknown.word)?;
                match &ruling.judgement {
                    Judgement::StandsFor(known) => Some((at, ruling, known, &unknown.word)),
                    Judgement::Nothing | Judgement::Earns(_) => None,
                }
            });
            let Some((at, ruling, known, word)) = found else {
                break;
            };
            let Some(replaced) = with_word_replaced(&read_as, word, known) else {
                break;
            };
            let [word, known, by, why] = [word, known, &ruling.by, &ruling.why];
            let values = [word, known, by, why].map(|text| Value::words(text));
            said.push(sentences.fill(Line::CountsAs, &values));
            used.insert(at);
            let outcome = again(&replaced);
            let still = still_unknown(&outcome, known);
            read_as = replaced;
            award.outcome = outcome;
            if still {
                break;
            }
        }
        award.outcome = match award.outcome.clone() {
            Outcome::ForAPerson {
                why,
                near,
                provisional,
                words,
            } => {
                let waiting = Waiting {
                    why,
                    near,
                    provisional,
                    words,
                };
                self.end((&subject, &award), waiting, sentences, &mut said, used)
            }
            marked @ Outcome::Marked { .. } => marked,
        };
        if !said.is_empty()
            && let Outcome::Marked { reason, .. } = &mut award.outcome
        {
            *reason = format!("{reason}; {}", said.join("; "));
        }
        award
    }

    /// Ends what still waits, where a person gave marks or judged all that is left to be nothing.
    fn end(
        &self,
        (subject, award): (&Subject, &Award),
        waiting: Waiting,
        sentences: &Sentences,
        said: &mut Vec<String>,
        used: &mut BTreeSet<usize>,
    ) -> Outcome {
        // Marks for the whole answer.
        if let Some((at, ruling)) = self.about(subject, &award.candidate, award.answer.trim()) {
            let given = match &ruling.judgement {
                Judgement::Earns(marks) => Some(*marks),
                Judgement::Nothing => Some(Marks::ZERO),
                Judgement::StandsFor(_) => None,
            };
            if let Some(marks) = given {
                used.insert(at);
                return if marks > award.of {
                    waiting.with_why(format!(
                        "the decision of {} gives {marks} marks, and {} is the most here",
                        ruling.by, award.of
                    ))
                } else {
                    Outcome::Marked {
                        marks,
                        reason: sentences.fill(
                            Line::ByDecision,
                            &[
                                Value::decimal(marks),
                                Value::decimal(award.of),
                                Value::words(&ruling.by),
                                Value::words(&ruling.why),
                            ],
                        ),
                        rule: RULE.into(),
                    }
                };
            }
        }
        let judged: Vec<(usize, &Ruling)> = waiting
            .words
            .iter()
            .filter_map(|unknown| self.about(subject, &award.candidate, &unknown.word))
            .filter(|(_, ruling)| ruling.judgement == Judgement::Nothing)
            .collect();
        if waiting.words.is_empty() || judged.len() < waiting.words.len() {
            return waiting.into_outcome();
        }
        for ((at, ruling), unknown) in judged.iter().zip(&waiting.words) {
            used.insert(*at);
            let values = [&unknown.word, &ruling.by, &ruling.why].map(|text| Value::words(text));
            said.push(sentences.fill(Line::CountsForNothing, &values));
        }
        Outcome::Marked {
            marks: waiting.provisional,
            reason: waiting.why,
            rule: RULE.into(),
        }
    }
}

/// The most words of one answer that decisions are about; no plan counts more.
const MOST_ROUNDS: usize = 50;

/// What of an outcome still waits.
struct Waiting {
    why: String,
    near: Vec<String>,
    provisional: Marks,
    words: Vec<UnknownWord>,
}

impl Waiting {
    fn into_outcome(self) -> Outcome {
        Outcome::ForAPerson {
            why: self.why,
            near: self.near,
            provisional: self.provisional,
            words: self.words,
        }
    }
    fn with_why(mut self, why: String) -> Outcome {
        self.why = why;
        self.into_outcome()
    }
}

fn still_unknown(outcome: &Outcome, known: &str) -> bool {
    match outcome {
        Outcome::Marked { .. } => false,
        Outcome::ForAPerson { words, .. } => {
            let known = fold(known);
            words.iter().any(|unknown| fold(&unknown.word) == known)
        }
    }
}

/// What a decision about this item would be of.
#[must_use]
pub fn subject_of(item: &Item) -> Subject {
    match item {
        Item::Theory { question, .. } => Subject::Theory(question.clone()),
        Item::Tasting { sample, asked, .. } => Subject::Tasting(sample.clone(), asked.clone()),
    }
}

/// The answer with the first whole occurrence of a word replaced.
fn with_word_replaced(answer: &str, word: &str, by: &str) -> Option<String> {
    let is_part = |c: char| c.is_alphanumeric();
    answer.match_indices(word).find_map(|(start, _)| {
        let (before, rest) = answer.split_at_checked(start)?;
        let after = rest.get(word.len()..)?;
        let whole = !before.chars().next_back().is_some_and(is_part)
            && !after.chars().next().is_some_and(is_part);
        whole.then(|| format!("{before}{by}{after}"))
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests {
    use super::*;
    use crate::example::{Glass, in_words, marks};
    use base::SampleId;
    use exam_plan::Asked;
    use proptest::prelude::*;

    fn subject() -> Subject {
        Subject::Tasting(SampleId::parse("s").unwrap(), "aroma".to_owned())
    }
    fn ruling(written: &str, judgement: Judgement) -> Ruling {
        Ruling {
            subject: subject(),
            script: None,
            written: written.to_owned(),
            judgement,
            why: "the trade says so".to_owned(),
            by: "CE".to_owned(),
            place: None,
        }
    }
    fn mark(answer: &str) -> Outcome {
        Glass::new()
            .mark(Asked::Aroma { words: 4 }, "2", answer)
            .told(Sentences::english())
    }
    fn award(answer: &str) -> Award {
        Award {
            candidate: CandidateNumber::parse("C-1").unwrap(),
            item: Item::Tasting {
                glass: 1,
                code: "417".to_owned(),
                sample: SampleId::parse("s").unwrap(),
                asked: "aroma".to_owned(),
            },
            answer: answer.to_owned(),
            outcome: mark(answer),
            of: marks("2"),
            counts: true,
            extra: false,
        }
    }
    fn settled(rulings: &[Ruling], answer: &str) -> (Award, usize) {
        let mut all = Rulings::default();
        for ruling in rulings {
            all.add(ruling.clone()).unwrap();
        }
        let mut used = BTreeSet::new();
        (
            all.settle(
                award(answer),
                &|answer| mark(answer),
                Sentences::english(),
                &mut used,
            ),
            used.len(),
        )
    }

    #[test]
    fn a_word_that_stands_for_a_known_one_is_marked_as_it() {
        let rule = ruling("Tropic bent", Judgement::StandsFor("banana".to_owned()));
        let (found, used) = settled(&[rule], "tropic  bent; oak");
        // Two spaces are another writing of the same words, but the text must be found to be replaced.
        assert!(found.outcome.waits() || found.marks() == mark("banana; oak").marks());
        let rule = ruling("Tropic bent", Judgement::StandsFor("banana".to_owned()));
        let (found, used_now) = settled(&[rule], "tropic bent; oak");
        assert_eq!(found.marks(), mark("banana; oak").marks());
        assert_eq!((found.answer.as_str(), used_now), ("tropic bent; oak", 1));
        let (_, reason) = in_words(&found.outcome);
        assert!(
            reason.ends_with(
                "\"tropic bent\" counts as \"banana\" by decision of CE (the trade says so)"
            ),
            "{reason}"
        );
        assert!(used <= 1);
    }

    #[test]
    fn a_word_judged_to_be_nothing_keeps_its_place() {
        let rule = ruling("zzyx", Judgement::Nothing);
        let answer = "zzyx; banana; oak; raisin; peat";
        let (found, _) = settled(std::slice::from_ref(&rule), answer);
        assert!(!found.outcome.waits());
        // Four words count and the unknown one is the first of them: peat is left off.
        assert_eq!(found.marks(), mark(answer).marks());
        assert!(
            in_words(&found.outcome)
                .1
                .contains("counts for nothing by decision of CE")
        );
        // One word that nobody judged keeps the answer waiting.
        let (found, _) = settled(&[rule], "zzyx; qqrw; oak");
        assert!(found.outcome.waits());
    }

    #[test]
    fn marks_for_a_whole_answer_have_their_bounds_and_one_script_goes_first() {
        let whole = ruling("zzyx", Judgement::Earns(marks("1.5")));
        let mut for_one = ruling("zzyx", Judgement::Earns(marks("0.5")));
        for_one.script = Some(CandidateNumber::parse("C-1").unwrap());
        assert_eq!(
            settled(std::slice::from_ref(&whole), " zzyx").0.marks(),
            marks("1.5")
        );
        assert_eq!(settled(&[whole, for_one], "zzyx").0.marks(), marks("0.5"));
        let too_much = ruling("zzyx", Judgement::Earns(marks("3")));
        let (found, _) = settled(&[too_much], "zzyx");
        assert!(in_words(&found.outcome).1.contains("2 is the most here"));
    }

    #[test]
    fn two_decisions_about_one_word_do_not_stand_together() {
        let mut all = Rulings::default();
        all.add(ruling("Zzyx", Judgement::Nothing)).unwrap();
        all.add(ruling("zzyx", Judgement::Nothing)).unwrap();
        assert_eq!(all.all().len(), 1);
        assert!(
            all.add(ruling("zzyx", Judgement::StandsFor("oak".to_owned())))
                .is_err()
        );
    }

    #[test]
    fn a_word_that_stands_for_an_unknown_one_still_waits() {
        let rule = ruling("zzyx", Judgement::StandsFor("qqrw".to_owned()));
        assert!(settled(&[rule], "zzyx; oak").0.outcome.waits());
    }

    proptest! {
        #[test]
        fn settled_marks_stay_in_their_bounds(
            answer in "(zzyx|qqrw|oak|banana|[a-z]{2,6})(; (zzyx|qqrw|oak|peat)){0,5}",
            which in 0_usize..4,
        ) {
            let judgement = [
                Judgement::StandsFor("banana".to_owned()),
                Judgement::StandsFor("zzyx".to_owned()),
                Judgement::Nothing,
                Judgement::Earns(marks("1")),
            ];
            let rules = [ruling("zzyx", judgement[which].clone()), ruling("qqrw", Judgement::Nothing)];
            let (found, _) = settled(&rules, &answer);
            prop_assert!(Marks::ZERO <= found.marks() && found.marks() <= marks("2"));
        }
    }
}
