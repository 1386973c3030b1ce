//! A sitting as assembled: who gets which form, which glasses, in which order, at which seat.

use std::borrow::Cow;

use base::{CandidateNumber, FormName, QuestionId, SampleId, SeatName};
use exam_plan::Service;
use question_bank::{Bank, DrawnNumbers, PrintedOrder, Question};

/// Everything the draw decided. Built from exam and seed alone; the same again from the same.
#[derive(Debug, Clone, PartialEq)]
pub struct Sitting {
    /// The forms of the theory paper, A first; none without a theory part.
    pub forms: Vec<Form>,
    /// One place for each candidate, in the order of the roster.
    pub places: Vec<CandidatePlace>,
    /// What could not be had, in plain sentences for the proctor: neighbours with the same form or
    /// order, balance that the numbers do not allow.
    pub shortfalls: Vec<String>,
}

/// One form of the theory paper.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Form {
    /// Its name.
    pub name: FormName,
    /// Its questions in printed order; question 1 first.
    pub questions: Vec<FormQuestion>,
}

/// One question on a form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FormQuestion {
    /// Which.
    pub question: QuestionId,
    /// In which order its lettered things are printed.
    pub order: PrintedOrder,
    /// The numbers drawn for it on this form; empty where nothing is drawn.
    pub drawn: DrawnNumbers,
    /// Whether it counts; pretest questions do not.
    pub counts: bool,
}

impl FormQuestion {
    /// The question as it stands on this form, its drawn numbers filled in; none where the bank
    /// does not hold it or the numbers do not make it.
    #[must_use]
    pub fn in_bank<'b>(&self, bank: &'b Bank) -> Option<Cow<'b, Question>> {
        bank.questions
            .get(&self.question)?
            .realised(&self.drawn)
            .ok()
    }
}

/// What stands on the first glass of everybody in place of a code: it is known, and no code is drawn
/// for it. Codes are digits, so that none can be this.
pub const WARM_UP_LABEL: &str = "W";

/// What the draw gave one candidate.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CandidatePlace {
    /// Who.
    pub candidate: CandidateNumber,
    /// In the room or by kit.
    pub service: Service,
    /// The seat; none by kit.
    pub seat: Option<SeatName>,
    /// The form; none without a theory part.
    pub form: Option<FormName>,
    /// The glasses in serving order, first glass first; empty without a tasting part.
    pub glasses: Vec<Glass>,
}

impl CandidatePlace {
    /// Whether anything is served here.
    #[must_use]
    pub fn tastes(&self) -> bool {
        !self.glasses.is_empty()
    }
}

/// One glass.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Glass {
    /// The code on it.
    pub code: String,
    /// What is in it.
    pub sample: SampleId,
}

impl Sitting {
    /// The form with this name.
    #[must_use]
    pub fn form(&self, name: &FormName) -> Option<&Form> {
        self.forms.iter().find(|form| form.name == *name)
    }
    /// The place of this candidate.
    #[must_use]
    pub fn place(&self, candidate: &CandidateNumber) -> Option<&CandidatePlace> {
        self.places
            .iter()
            .find(|place| place.candidate == *candidate)
    }
}
