//! Shares scripts out to markers: who marks which answer, under which code, in which order.
//!
//! Each answer goes to two markers. Pairs of markers are taken in turn from a shuffled list of all
//! pairs, so that for every question any two markers share the same number of scripts up to one (a
//! balanced incomplete block design with blocks of two, as near as the number of scripts allows).
//! Scripts bear a code that says nothing of the candidate, and come one question at a time, for each
//! marker in another order. Codes and orders come from the exam seed: the same list of markers gives the
//! same sharing. What is shared out is every essay that was asked, answered or not, since that list
//! stands from the draw on: an answer that comes in late, or is taken out, moves no other's code.
//!
//! Nobody marks those whom they teach: a script goes to the pair that has had fewest of its question
//! among the pairs without a teacher of its writer. Scripts whose marks are known are mixed in under
//! codes of the same kind, at places of their own in each marker's list, from streams of their own,
//! so that they move no other's code either.

use std::collections::{BTreeMap, BTreeSet};

use base::stream::{Purpose, Stream};
use base::{CandidateNumber, ExamSeed, Marks, QuestionId};

/// One essay that was asked of one candidate, or one whose marks are known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Essay {
    /// Who wrote it; nobody of this sitting where its marks are known.
    pub candidate: Option<CandidateNumber>,
    /// To which question.
    pub question: QuestionId,
    /// What was written; blank for no answer.
    pub answer: String,
    /// The most marks.
    pub of: Marks,
}

/// An answer under its code, with its two markers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SharedScript {
    /// The code: `S-417`. Three digits or more, without a meaning.
    pub code: String,
    /// The answer, by place in the list that was shared out.
    pub essay: usize,
    /// Its markers, by place in the list of markers; two different ones.
    pub markers: [usize; 2],
}

/// Why scripts cannot be shared out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CannotShare {
    /// There are fewer than two markers.
    OneMarker,
    /// Two markers have the same name.
    SameName,
    /// All pairs of markers hold a teacher of this candidate.
    OnlyTeachers(CandidateNumber),
}

/// Shares answers out to markers, one question after the other. `teaches` says whether the marker of
/// this name teaches a candidate.
///
/// # Errors
/// With fewer than two markers, two of one name, or a candidate whom all pairs teach.
pub fn share_out(
    essays: &[Essay],
    markers: &[String],
    teaches: &dyn Fn(&str, &CandidateNumber) -> bool,
    seed: &ExamSeed,
) -> Result<Vec<SharedScript>, CannotShare> {
    if markers.len() < 2 {
        return Err(CannotShare::OneMarker);
    }
    for (place, marker) in markers.iter().enumerate() {
        if markers.iter().skip(place + 1).any(|other| other == marker) {
            return Err(CannotShare::SameName);
        }
    }
    let mut pairs: Vec<[usize; 2]> = (0..markers.len())
        .flat_map(|first| (first + 1..markers.len()).map(move |second| [first, second]))
        .collect();
    let mut stream = Stream::new(seed, Purpose::ScriptSharing, 0);
    stream.shuffle(&mut pairs);
    let mut numbers: Vec<u32> = (100..100 + room_for(essays.len())).collect();
    stream.shuffle(&mut numbers);
    let mut questions: Vec<&QuestionId> = essays.iter().map(|essay| &essay.question).collect();
    questions.sort();
    questions.dedup();
    let mut shared = Vec::with_capacity(essays.len());
    let mut codes = numbers.into_iter();
    for question in questions {
        let mut places: Vec<usize> = (0..essays.len())
            .filter(|place| {
                essays
                    .get(*place)
                    .is_some_and(|essay| essay.question == *question)
            })
            .collect();
        stream.shuffle(&mut places);
        // How many of this question each pair has.
        let mut turns = vec![0_usize; pairs.len()];
        for essay in places {
            let Some(number) = codes.next() else { break };
            let writer = essays.get(essay).and_then(|essay| essay.candidate.as_ref());
            let may = |pair: &[usize; 2]| {
                writer.is_none_or(|writer| {
                    let names = pair.iter().filter_map(|place| markers.get(*place));
                    !names.into_iter().any(|name| teaches(name, writer))
                })
            };
            let next = pairs
                .iter()
                .zip(turns.iter_mut())
                .filter(|(pair, _)| may(pair));
            let Some((pair, turn)) = next.min_by_key(|(_, turn)| **turn) else {
                // Only a writer can have teachers.
                return Err(writer.map_or(CannotShare::OneMarker, |writer| {
                    CannotShare::OnlyTeachers(writer.clone())
                }));
            };
            // Who marks first alternates with each round of all pairs.
            let mut markers = *pair;
            if *turn % 2 == 1 {
                markers.reverse();
            }
            *turn += 1;
            shared.push(SharedScript {
                code: format!("S-{number}"),
                essay,
                markers,
            });
        }
    }
    Ok(shared)
}

/// Codes for so many scripts whose marks are known: of the kind of the others, and none of theirs.
#[must_use]
pub fn codes_of_known(shared: &[SharedScript], known: usize, seed: &ExamSeed) -> Vec<String> {
    let taken: BTreeSet<&str> = shared.iter().map(|script| script.code.as_str()).collect();
    let all = 100..100 + room_for(shared.len().saturating_add(known));
    let mut free: Vec<String> = all
        .map(|number| format!("S-{number}"))
        .filter(|code| !taken.contains(code.as_str()))
        .collect();
    Stream::new(seed, Purpose::ScriptSharing, 1).shuffle(&mut free);
    free.truncate(known);
    free
}

/// The list of a marker: a question at a time, in an order of the marker's own, so that what one
/// marker does from first to last is not mistaken for another's; scripts whose marks are known are
/// shuffled in among those of their question.
#[must_use]
pub fn list_of<'s>(
    own: &[&'s SharedScript],
    known: &[&'s SharedScript],
    question_of: &dyn Fn(&SharedScript) -> Option<QuestionId>,
    marker: usize,
    seed: &ExamSeed,
) -> Vec<&'s SharedScript> {
    let index = u64::try_from(marker).unwrap_or(u64::MAX).saturating_add(2);
    let mut stream = Stream::new(seed, Purpose::ScriptSharing, index);
    let mut questions: BTreeMap<Option<QuestionId>, Vec<&'s SharedScript>> = BTreeMap::new();
    for script in own.iter().chain(known) {
        questions
            .entry(question_of(script))
            .or_default()
            .push(script);
    }
    for scripts in questions.values_mut() {
        stream.shuffle(scripts);
    }
    questions.into_values().flatten().collect()
}

/// How many numbers codes are drawn from: at least four times as many as there are scripts.
fn room_for(scripts: usize) -> u32 {
    u32::try_from(scripts.saturating_mul(4))
        .unwrap_or(u32::MAX / 2)
        .max(900)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn essays(count: usize, questions: usize) -> Vec<Essay> {
        (0..count)
            .map(|place| Essay {
                candidate: CandidateNumber::parse(&format!("C-{place:03}")).ok(),
                question: QuestionId::parse(&format!("essay-{}", place % questions)).unwrap(),
                answer: String::new(),
                of: Marks::ONE,
            })
            .collect()
    }
    fn nobody(_: &str, _: &CandidateNumber) -> bool {
        false
    }
    fn names(count: usize) -> Vec<String> {
        (0..count).map(|n| format!("M{n}")).collect()
    }

    #[test]
    fn one_marker_or_two_of_one_name_are_refused() {
        let seed = ExamSeed::from_bytes([7; 32]);
        assert_eq!(
            share_out(&essays(3, 1), &names(1), &nobody, &seed),
            Err(CannotShare::OneMarker)
        );
        let twice = vec!["A".to_owned(), "A".to_owned()];
        assert_eq!(
            share_out(&essays(3, 1), &twice, &nobody, &seed),
            Err(CannotShare::SameName)
        );
    }

    proptest! {
        #[test]
        fn every_script_has_two_markers_and_every_pair_its_share(
            scripts in 1_usize..40, questions in 1_usize..4, markers in 2_usize..6, seed in any::<[u8; 32]>(),
        ) {
            let essays = essays(scripts, questions);
            let shared = share_out(&essays, &names(markers), &nobody, &ExamSeed::from_bytes(seed)).unwrap();
            prop_assert_eq!(shared.len(), scripts);
            let codes: BTreeSet<&str> = shared.iter().map(|s| s.code.as_str()).collect();
            let places: BTreeSet<usize> = shared.iter().map(|s| s.essay).collect();
            prop_assert_eq!((codes.len(), places.len()), (scripts, scripts));
            let mut of_pair: BTreeMap<(&QuestionId, [usize; 2]), usize> = BTreeMap::new();
            for script in &shared {
                prop_assert_ne!(script.markers[0], script.markers[1]);
                let mut pair = script.markers;
                pair.sort_unstable();
                *of_pair.entry((&essays[script.essay].question, pair)).or_default() += 1;
            }
            for question in essays.iter().map(|e| &e.question) {
                let of = essays.iter().filter(|e| e.question == *question).count();
                let pairs = markers * (markers - 1) / 2;
                for count in of_pair.iter().filter(|((q, _), _)| *q == question).map(|(_, n)| *n) {
                    prop_assert!(count == of / pairs || count == of / pairs + 1);
                }
            }
        }
    }

    /// The first marker teaches every third candidate.
    fn teaches(marker: &str, candidate: &CandidateNumber) -> bool {
        let number: usize = candidate.as_str()[2..].parse().unwrap();
        marker == "M0" && number.is_multiple_of(3)
    }

    #[test]
    fn nobody_marks_those_whom_they_teach() {
        let essays = essays(30, 2);
        let seed = ExamSeed::from_bytes([9; 32]);
        let shared = share_out(&essays, &names(3), &teaches, &seed).unwrap();
        assert_eq!(shared.len(), 30);
        let mut of_first = 0;
        for script in &shared {
            let writer = essays[script.essay].candidate.as_ref().unwrap();
            let by_first = script.markers.contains(&0);
            assert!(!(by_first && teaches("M0", writer)), "{script:?}");
            of_first += usize::from(by_first);
        }
        // Twenty are left to the first marker, of sixty marks in all.
        assert!((18..=20).contains(&of_first), "{of_first}");
        // Without teachers the sharing is what it was, code by code.
        let plain = share_out(&essays, &names(3), &nobody, &seed).unwrap();
        let codes = |all: &[SharedScript]| -> BTreeMap<usize, String> {
            all.iter().map(|s| (s.essay, s.code.clone())).collect()
        };
        assert_eq!(codes(&plain), codes(&shared));
        // Two markers, one of whom is the teacher: there is nobody else.
        let refused = share_out(&essays, &names(2), &teaches, &seed);
        assert!(matches!(refused, Err(CannotShare::OnlyTeachers(_))));
    }

    #[test]
    fn known_scripts_have_codes_and_places_like_any_other() {
        let essays = essays(20, 2);
        let seed = ExamSeed::from_bytes([9; 32]);
        let shared = share_out(&essays, &names(3), &nobody, &seed).unwrap();
        let codes = codes_of_known(&shared, 4, &seed);
        let taken: BTreeSet<&str> = shared.iter().map(|s| s.code.as_str()).collect();
        let own: BTreeSet<&str> = codes.iter().map(String::as_str).collect();
        assert!(own.len() == 4 && own.is_disjoint(&taken));
        assert!(codes.iter().all(|code| code.len() == 5), "{codes:?}");
        let known: Vec<SharedScript> = codes
            .into_iter()
            .zip(0..)
            .map(|(code, place)| SharedScript {
                code,
                essay: place,
                markers: [0, 1],
            })
            .collect();
        let question_of = |script: &SharedScript| Some(essays[script.essay].question.clone());
        let list_of = |marker: usize| {
            let own: Vec<&SharedScript> = shared
                .iter()
                .filter(|s| s.markers.contains(&marker))
                .collect();
            let known: Vec<&SharedScript> = known.iter().collect();
            let list = list_of(&own, &known, &question_of, marker, &seed);
            assert_eq!(list.len(), own.len() + 4);
            assert!(own.iter().chain(&known).all(|script| list.contains(script)));
            let questions: Vec<_> = list.iter().map(|s| question_of(s)).collect();
            assert!(questions.is_sorted(), "a question at a time");
            list.iter().map(|s| s.code.clone()).collect::<Vec<_>>()
        };
        assert_ne!(list_of(0), list_of(1));
        assert_eq!(list_of(2), list_of(2));
    }
}
