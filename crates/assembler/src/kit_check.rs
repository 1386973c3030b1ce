//! Kits filled one sample at a time, checked bottle by bottle by a second person, and closed with a
//! strip that has a code.
//!
//! Kits differ in their codes, so that a wrong bottle is seen by nobody afterwards: all bottles are
//! checked, not some by lot. A seal's code is six random digits and their check digit (Damm 2004),
//! different for every kit; memorable ones are of no harm here. Purpose "kit seal", index 0.

use std::collections::BTreeSet;

use base::{CandidateNumber, ExamSeed, Purpose, SampleId, Stream};
use exam_plan::{Exam, Service};

use crate::check_digit::check_digit;
use crate::sitting::{CandidatePlace, Sitting, WARM_UP_LABEL};

/// One sample's turn: this bottle alone is open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Filling {
    /// What is open.
    pub sample: SampleId,
    /// Whose small bottle is filled, with the code on it.
    pub bottles: Vec<(CandidateNumber, String)>,
}

/// One kit with its seal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SealedKit {
    /// Whose.
    pub candidate: CandidateNumber,
    /// The code on its strip: `482 137 5`.
    pub seal: String,
    /// The bottles in serving order: code, and what must be in it.
    pub bottles: Vec<(String, SampleId)>,
}

fn kits(sitting: &Sitting) -> impl Iterator<Item = &CandidatePlace> {
    let places = sitting.places.iter();
    places.filter(|place| place.service == Service::Kit && place.tastes())
}

/// What is open when: the warm-up, then sample by sample in the order of the plan, within a sample
/// kit by kit.
#[must_use]
pub fn fillings(exam: &Exam, sitting: &Sitting) -> Vec<Filling> {
    let part = exam.plan.tasting.as_ref();
    let warm_up = part.and_then(|part| part.warm_up.as_ref());
    let first = warm_up.map(|(sample, _)| Filling {
        sample: sample.clone(),
        bottles: kits(sitting)
            .map(|place| (place.candidate.clone(), WARM_UP_LABEL.to_owned()))
            .collect(),
    });
    let flight = part
        .into_iter()
        .flat_map(|part| &part.samples)
        .map(|(sample, _)| Filling {
            sample: sample.clone(),
            bottles: kits(sitting)
                .flat_map(|place| place.glasses.iter().map(move |glass| (place, glass)))
                .filter(|(_, glass)| glass.sample == *sample)
                .map(|(place, glass)| (place.candidate.clone(), glass.code.clone()))
                .collect(),
        });
    first
        .into_iter()
        .chain(flight)
        .filter(|filling| !filling.bottles.is_empty())
        .collect()
}

/// The kits with the codes of their seals, in the order of the roster.
#[must_use]
pub fn sealed_kits(sitting: &Sitting, seed: &ExamSeed) -> Vec<SealedKit> {
    let mut stream = Stream::new(seed, Purpose::KitSeal, 0);
    let mut taken = BTreeSet::new();
    kits(sitting)
        .map(|place| {
            // A sitting has far fewer kits than there are numbers.
            let number = loop {
                let number = stream.below(900_000) + 100_000;
                if taken.insert(number) || taken.len() >= 900_000 {
                    break number;
                }
            };
            let digits = number.to_string();
            let check = check_digit(&digits).map(String::from).unwrap_or_default();
            let (first, last) = digits.split_at(digits.len() / 2);
            SealedKit {
                candidate: place.candidate.clone(),
                seal: format!("{first} {last} {check}"),
                bottles: place
                    .glasses
                    .iter()
                    .map(|glass| (glass.code.clone(), glass.sample.clone()))
                    .collect(),
            }
        })
        .collect()
}
