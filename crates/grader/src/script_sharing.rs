//! Shares scripts out to markers: who marks which answer, under which code, in which order.
//!
//! Each answer goes to two markers. Pairs of markers are taken in turn from a shuffled list of all
//! pairs, so that for every question any two markers share the same number of scripts up to one (a
//! balanced incomplete block design with blocks of two, as near as the number of scripts allows).
//! Scripts bear a code that says nothing of the candidate, and come one question at a time in an
//! order of their own. Codes and orders come from the exam seed: the same list of markers gives the
//! same sharing. What is shared out is every essay that was asked, answered or not, since that list
//! stands from the draw on: an answer that comes in late, or is taken out, moves no other's code.

use base::stream::{Purpose, Stream};
use base::{CandidateNumber, ExamSeed, Marks, QuestionId};

/// One essay that was asked of one candidate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Essay {
    /// Who wrote it.
    pub candidate: CandidateNumber,
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
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CannotShare {
    /// There are fewer than two markers.
    OneMarker,
    /// Two markers have the same name.
    SameName,
}

/// Shares answers out to markers, one question after the other.
///
/// # Errors
/// With fewer than two markers, or two of one name.
pub fn share_out(
    essays: &[Essay],
    markers: &[String],
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
        for (turn, (essay, markers)) in places.into_iter().zip(pairs.iter().cycle()).enumerate() {
            let Some(number) = codes.next() else { break };
            // Who marks first alternates with each round of all pairs.
            let mut markers = *markers;
            if (turn / pairs.len()) % 2 == 1 {
                markers.reverse();
            }
            shared.push(SharedScript {
                code: format!("S-{number}"),
                essay,
                markers,
            });
        }
    }
    Ok(shared)
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
    use std::collections::{BTreeMap, BTreeSet};

    fn essays(count: usize, questions: usize) -> Vec<Essay> {
        (0..count)
            .map(|place| Essay {
                candidate: CandidateNumber::parse(&format!("C-{place:03}")).unwrap(),
                question: QuestionId::parse(&format!("essay-{}", place % questions)).unwrap(),
                answer: String::new(),
                of: Marks::ONE,
            })
            .collect()
    }
    fn names(count: usize) -> Vec<String> {
        (0..count).map(|n| format!("M{n}")).collect()
    }

    #[test]
    fn one_marker_or_two_of_one_name_are_refused() {
        let seed = ExamSeed::from_bytes([7; 32]);
        assert_eq!(
            share_out(&essays(3, 1), &names(1), &seed),
            Err(CannotShare::OneMarker)
        );
        let twice = vec!["A".to_owned(), "A".to_owned()];
        assert_eq!(
            share_out(&essays(3, 1), &twice, &seed),
            Err(CannotShare::SameName)
        );
    }

    proptest! {
        #[test]
        fn every_script_has_two_markers_and_every_pair_its_share(
            scripts in 1_usize..40, questions in 1_usize..4, markers in 2_usize..6, seed in any::<[u8; 32]>(),
        ) {
            let essays = essays(scripts, questions);
            let shared = share_out(&essays, &names(markers), &ExamSeed::from_bytes(seed)).unwrap();
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
}
