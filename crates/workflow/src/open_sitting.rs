//! Opens the sitting of an exam folder: everything comes from the register, as it was assembled.

use std::path::Path;

use assembler::Sitting;
use base::{ExamSeed, Fault};
use exam_plan::Exam;
use grader::Sentences;
use register::{Head, Register, Sealed};
use results::marker::Marker;

use crate::assemble::REGISTER;
use crate::failure::Failure;
use crate::load;
use crate::own_sentences::sentences_for;
use crate::surroundings::Surroundings;
use crate::texts::Texts;

/// A register with the sitting that stands in it.
#[derive(Debug)]
pub struct OpenSitting {
    /// The register.
    pub register: Register,
    /// The sitting.
    pub drawn: DrawnSitting,
}

/// A sitting with everything it was made from. Shared between threads, unlike the register.
#[derive(Debug)]
pub struct DrawnSitting {
    /// The exam as it was assembled.
    pub exam: Exam,
    /// The sitting as it was drawn.
    pub sitting: Sitting,
    /// The exam seed.
    pub seed: ExamSeed,
    /// The texts.
    pub texts: Texts,
    /// What sheets say of the sitting's custody.
    pub custody: Custody,
    /// The sentences in which reasons are given.
    pub sentences: Sentences,
}

/// What sheets say of a sitting's custody; nothing in a rehearsal, which has none.
#[derive(Debug, Clone, Default)]
pub struct Custody {
    /// The head of the ledger when the sitting was opened.
    pub head: Option<Head>,
    /// The root of the seal; none where the key is not sealed.
    pub seal: Option<Sealed>,
}

impl Custody {
    /// The head as it is printed; empty where there is none.
    #[must_use]
    pub fn head_in_words(&self) -> String {
        self.head.map_or_else(String::new, |head| head.to_string())
    }
}

impl OpenSitting {
    /// Opens the sitting of an exam folder.
    ///
    /// # Errors
    /// When the exam is not assembled yet, or the register cannot be used.
    pub fn open(around: &dyn Surroundings, folder: &Path) -> Result<Self, Failure> {
        let path = folder.join(REGISTER);
        if !around.has_file(&path) {
            return Err(Failure::Refused {
                what: format!("{} is not assembled yet", folder.display()),
                hint: format!("valinch assemble {}", folder.display()),
            });
        }
        let register = Register::open(&path)?;
        // Before all else is read: whatever is entered later is news to this sitting.
        let head = register.head()?;
        let texts = Texts::of_register(register.inputs()?);
        let mut drawn = DrawnSitting::of(&register, texts, head)?;
        drawn.sentences = sentences_for(around, folder, &drawn.exam.bank.language)?;
        Ok(Self { register, drawn })
    }

    /// The sitting with the texts it was drawn from, whatever was corrected since: the seal binds
    /// to these, and its root stays what was printed.
    ///
    /// # Errors
    /// When the register cannot be read, or its texts are not sound to this version of the program.
    pub(crate) fn as_drawn(&self) -> Result<DrawnSitting, Failure> {
        let texts = Texts::of_register(self.register.inputs_as_drawn()?);
        DrawnSitting::of(&self.register, texts, self.register.head()?)
    }
}

impl DrawnSitting {
    /// The sitting of a register with these of its texts, and the head that was seen before them.
    fn of(register: &Register, texts: Texts, head: Head) -> Result<Self, Failure> {
        let mut faults = Vec::new();
        let exam = load::exam(&texts, &mut faults);
        faults.retain(|fault: &Fault| !fault.is_weakness());
        let Some(exam) = exam.filter(|_| faults.is_empty()) else {
            // What was sound when it was assembled is not sound to this version of the program.
            return Err(Failure::Faults {
                faults,
                sources: texts.sources(),
            });
        };
        let drawn = Self {
            sitting: register.sitting()?,
            seed: register.seed()?,
            custody: Custody {
                head: Some(head),
                seal: register.seal()?,
            },
            exam,
            texts,
            sentences: Sentences::english().clone(),
        };
        let forms = drawn.sitting.forms.iter();
        let misfits: Vec<Fault> = forms
            .flat_map(|form| assembler::form_fits::form_fits(&drawn.exam.bank, form))
            .collect();
        if misfits.is_empty() {
            Ok(drawn)
        } else {
            Err(Failure::Faults {
                faults: misfits,
                sources: drawn.texts.sources(),
            })
        }
    }
}

impl DrawnSitting {
    /// The marker of this sitting.
    ///
    /// # Errors
    /// When the sitting names what the exam does not have.
    pub fn marker(&self) -> Result<Marker<'_>, Failure> {
        let marker = Marker::new(&self.exam, &self.sitting);
        let marker = marker.map(|marker| marker.saying(&self.sentences));
        marker.map_err(|faults| Failure::Faults {
            faults,
            sources: self.texts.sources(),
        })
    }
}
