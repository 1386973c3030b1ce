//! By whom simulated answers are marked: the grader, through the path of real answers.

use std::collections::BTreeMap;

use base::SampleId;
use exam_plan::Exam;
use exam_plan::plan::TastingQuestion;
use grader::{KnownWords, SampleKey, Verdict, mark_tasting, mark_theory};
use question_bank::{PrintedOrder, Question};

/// Marks one answer. Shared between threads, so keys are prepared once and not changed.
pub trait Marking: Sync {
    /// Marks an answer to a theory question.
    fn theory(&self, question: &Question, order: &PrintedOrder, answer: &str) -> Verdict;
    /// Marks an answer to one thing asked of a glass.
    fn tasting(&self, sample: &SampleId, asked: &TastingQuestion, answer: &str) -> Verdict;
}

/// The grader with the keys of an exam's samples, looked up once.
#[derive(Debug)]
pub struct GraderMarking<'a> {
    words: KnownWords<'a>,
    keys: BTreeMap<&'a SampleId, SampleKey>,
}

impl<'a> GraderMarking<'a> {
    /// Prepares the keys of all samples that the plan names.
    #[must_use]
    pub fn new(exam: &'a Exam) -> Self {
        let words = KnownWords::of(&exam.bank);
        let part = exam.plan.tasting.as_ref();
        let keys = part.into_iter().flat_map(|part| {
            part.samples.iter().filter_map(move |(id, _)| {
                let record = exam.sample(id)?;
                Some((id, SampleKey::new(record, words, part)))
            })
        });
        Self {
            words,
            keys: keys.collect(),
        }
    }
}

impl Marking for GraderMarking<'_> {
    fn theory(&self, question: &Question, order: &PrintedOrder, answer: &str) -> Verdict {
        mark_theory(question, order, answer)
    }
    fn tasting(&self, sample: &SampleId, asked: &TastingQuestion, answer: &str) -> Verdict {
        match self.keys.get(sample) {
            Some(key) => mark_tasting(key, self.words, asked, answer),
            None => {
                Verdict::for_a_person(format!("there is no record of sample {sample}"), Vec::new())
            }
        }
    }
}
