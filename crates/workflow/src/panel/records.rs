//! The sample records of a folder: of an exam's flight, or of a bank.

use std::path::Path;

use base::Fault;
use exam_plan::flight_rules::FlightRules;
use question_bank::panel_support::KeyFloor;
use question_bank::{Lexicon, SampleRecord};

use crate::failure::Failure;
use crate::load;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, Texts};

/// The panel weight from which a word is required, where no plan says it.
pub const USUAL_THRESHOLD: f64 = 0.25;

/// Records with what the plan says about their keys.
#[derive(Debug, Clone)]
pub struct Records {
    /// In the order of the flight, or of their ids.
    pub records: Vec<SampleRecord>,
    /// The words.
    pub lexicon: Lexicon,
    /// Weight from which a word is required.
    pub threshold: f64,
    /// What a panel must have.
    pub floor: KeyFloor,
    /// The texts, for the snippets of messages.
    pub sources: Sources,
}

impl Records {
    /// Reads the records of a folder; a threshold that is given goes before the plan's.
    ///
    /// # Errors
    /// When the folder is neither an exam nor a bank, or its texts cannot be understood. Faults that
    /// concern other things than the texts' reading (such as a weak key) do not stand in the way.
    pub fn load(
        around: &dyn Surroundings,
        folder: &Path,
        threshold: Option<f64>,
    ) -> Result<Self, Failure> {
        let mut faults = Vec::new();
        let texts = if around.has_file(&folder.join("plan.yaml")) {
            Texts::of_exam(around, folder, &mut faults)?
        } else if around.has_file(&folder.join("bank.yaml")) {
            Texts::of_bank(around, folder, &mut faults)?
        } else {
            return Err(Failure::Refused {
                what: format!("{} is neither an exam nor a bank", folder.display()),
                hint: "an exam's folder holds plan.yaml, a bank's folder bank.yaml".to_owned(),
            });
        };
        let read = Self::of_texts(&texts, threshold, &mut faults);
        match read {
            Some(records) if faults.iter().all(Fault::is_weakness) => Ok(records),
            Some(_) | None => {
                faults.sort();
                faults.dedup();
                Err(Failure::Faults {
                    faults,
                    sources: texts.sources(),
                })
            }
        }
    }

    fn of_texts(texts: &Texts, threshold: Option<f64>, faults: &mut Vec<Fault>) -> Option<Self> {
        let bank = load::bank(texts, faults)?;
        let plan = texts
            .get("plan.yaml")
            .map(|text| exam_plan::read::read_plan(text).collect_into(faults));
        let own = question_bank::read_samples(
            &texts.samples("samples/"),
            &bank.lexicon,
            &bank.categories,
            &bank.regions,
        )
        .collect_into(faults)?;
        let (records, planned, rules) = match plan {
            Some(plan) => {
                let part = plan?.tasting?;
                let records = part
                    .samples
                    .iter()
                    .filter_map(|(id, _)| own.get(id).or_else(|| bank.samples.get(id)))
                    .cloned()
                    .collect();
                (records, part.threshold, part.rules)
            }
            None => (
                bank.samples.values().cloned().collect(),
                USUAL_THRESHOLD,
                FlightRules::default(),
            ),
        };
        Some(Self {
            records,
            lexicon: bank.lexicon,
            threshold: threshold.unwrap_or(planned),
            floor: rules.floor,
            sources: texts.sources(),
        })
    }
}
