//! Who is behind the numbers: kept apart from the roster, so that nothing that is made from an exam
//! can name a candidate.
//!
//! An [`crate::Exam`] holds a roster of numbers. Whoever marks, assembles or prints what markers see is
//! handed an exam and never [`People`], so there is no name to leak:
//!
//! ```compile_fail,E0609
//! fn name(candidate: &exam_plan::Candidate) -> &str { &candidate.name }
//! ```
//!
//! ```compile_fail,E0609
//! fn people(exam: &exam_plan::Exam) -> &exam_plan::People { &exam.people }
//! ```

use std::collections::BTreeMap;

use base::CandidateNumber;

/// What is known of one person besides the number.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Person {
    /// The name, for cover, class list and report only.
    pub name: String,
    /// What the proctor should know.
    pub note: Option<String>,
}

/// Who is behind which number. Nobody is where a person was erased.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct People {
    by_number: BTreeMap<CandidateNumber, Person>,
}

impl People {
    /// Nobody.
    #[must_use]
    pub fn nobody() -> Self {
        Self::default()
    }
    /// The person behind a number; none where nobody is known.
    #[must_use]
    pub fn person(&self, number: &CandidateNumber) -> Option<&Person> {
        self.by_number.get(number)
    }
    /// The name behind a number; empty where nobody is known.
    #[must_use]
    pub fn name(&self, number: &CandidateNumber) -> &str {
        self.person(number).map_or("", |person| &person.name)
    }
    /// Puts a person behind a number, in the place of whoever was.
    pub fn put(&mut self, number: CandidateNumber, person: Person) {
        self.by_number.insert(number, person);
    }
    /// Takes the person behind a number away.
    pub fn take(&mut self, number: &CandidateNumber) -> Option<Person> {
        self.by_number.remove(number)
    }
    /// Everybody, in the order of the numbers.
    pub fn all(&self) -> impl Iterator<Item = (&CandidateNumber, &Person)> {
        self.by_number.iter()
    }
}

impl FromIterator<(CandidateNumber, Person)> for People {
    fn from_iter<I: IntoIterator<Item = (CandidateNumber, Person)>>(people: I) -> Self {
        Self {
            by_number: people.into_iter().collect(),
        }
    }
}
