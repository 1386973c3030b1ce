//! The questions of a bank, by id.
//!
//! A bank may hold a hundred thousand: each lies in a place of its own and is never moved, and what
//! finds it is one word long.

use std::ops::Index;

use base::{CellId, QuestionId};

use crate::question::Question;

/// Questions in the order of their ids, each id once.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Questions {
    /// In the order of their ids.
    #[expect(
        clippy::vec_box,
        reason = "a vector that grows or is sorted moves words and not whole questions, and asks for no room of twice the bank"
    )]
    sorted: Vec<Box<Question>>,
}

impl Questions {
    fn place(&self, id: &QuestionId) -> Result<usize, usize> {
        self.sorted.binary_search_by(|question| question.id.cmp(id))
    }
    /// How many there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.sorted.len()
    }
    /// Whether there are none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.sorted.is_empty()
    }
    /// The question with this id.
    #[must_use]
    pub fn get(&self, id: &QuestionId) -> Option<&Question> {
        let place = self.place(id).ok()?;
        self.sorted.get(place).map(Box::as_ref)
    }
    /// The question with this id, to be changed. Its id stays as it is.
    pub fn get_mut(&mut self, id: &QuestionId) -> Option<&mut Question> {
        let place = self.place(id).ok()?;
        self.sorted.get_mut(place).map(Box::as_mut)
    }
    /// Whether there is one with this id.
    #[must_use]
    pub fn contains_key(&self, id: &QuestionId) -> bool {
        self.place(id).is_ok()
    }
    /// All, in the order of their ids.
    pub fn values(&self) -> impl ExactSizeIterator<Item = &Question> + Clone {
        self.sorted.iter().map(Box::as_ref)
    }
    /// All, to be changed. Their ids stay as they are.
    pub fn values_mut(&mut self) -> impl ExactSizeIterator<Item = &mut Question> {
        self.sorted.iter_mut().map(Box::as_mut)
    }
    /// All ids, in order.
    pub fn keys(&self) -> impl ExactSizeIterator<Item = &QuestionId> + Clone {
        self.values().map(|question| &question.id)
    }
    /// All with their ids, in order.
    pub fn iter(&self) -> impl ExactSizeIterator<Item = (&QuestionId, &Question)> + Clone {
        self.values().map(|question| (&question.id, question))
    }
    /// Puts one in, in the place of one with the same id.
    pub fn insert(&mut self, question: Question) {
        match self.place(&question.id) {
            Ok(place) => {
                if let Some(before) = self.sorted.get_mut(place) {
                    **before = question;
                }
            }
            Err(place) => self.sorted.insert(place, Box::new(question)),
        }
    }
    /// Lets equal names share their letters: cells with those of the bank's head, enemies with the
    /// questions they name.
    pub(crate) fn share_letters(&mut self, cells: Option<&[(CellId, String)]>) {
        for place in 0..self.sorted.len() {
            let shared: Vec<QuestionId> = match self.sorted.get(place) {
                Some(question) => question.enemies.iter().map(|id| self.named(id)).collect(),
                None => continue,
            };
            let Some(question) = self.sorted.get_mut(place) else {
                continue;
            };
            question.enemies = shared;
            let cell = cells
                .into_iter()
                .flatten()
                .find(|(id, _)| *id == question.cell);
            if let Some((cell, _)) = cell {
                question.cell = cell.clone();
            }
        }
    }
    /// The id as the question that bears it has it.
    fn named(&self, id: &QuestionId) -> QuestionId {
        self.get(id).map_or(id, |question| &question.id).clone()
    }
    /// Leaves those of which this is true, after it has changed them.
    pub fn retain_mut(&mut self, mut keep: impl FnMut(&mut Question) -> bool) {
        self.sorted.retain_mut(|question| keep(question));
    }
}

/// Of several with one id the last stays.
impl FromIterator<Question> for Questions {
    fn from_iter<I: IntoIterator<Item = Question>>(questions: I) -> Self {
        questions.into_iter().map(Box::new).collect()
    }
}

impl FromIterator<Box<Question>> for Questions {
    fn from_iter<I: IntoIterator<Item = Box<Question>>>(questions: I) -> Self {
        let mut sorted: Vec<Box<Question>> = questions.into_iter().collect();
        sorted.sort_by(|one, other| one.id.cmp(&other.id));
        let mut kept: Vec<Box<Question>> = Vec::with_capacity(sorted.len());
        for question in sorted {
            match kept.last_mut() {
                Some(last) if last.id == question.id => *last = question,
                Some(_) | None => kept.push(question),
            }
        }
        Self { sorted: kept }
    }
}

impl Index<&QuestionId> for Questions {
    type Output = Question;

    /// # Panics
    /// Where there is none with this id, as a map does.
    #[allow(clippy::panic)]
    fn index(&self, id: &QuestionId) -> &Question {
        self.get(id)
            .unwrap_or_else(|| panic!("no question {id} in the bank"))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;
    use proptest::prelude::*;
    use std::collections::BTreeMap;

    fn question(number: u8, stem: usize) -> Question {
        Question {
            id: QuestionId::parse(&format!("q{number}")).unwrap(),
            ..best_answer(&format!("Stem {stem}?"), &["a", "b"])
        }
    }

    proptest! {
        /// As the map of the standard library, which keeps the last of several with one id.
        #[test]
        fn they_are_found_and_ordered_as_in_a_map(numbers in proptest::collection::vec(0_u8..40, 0..60)) {
            let all: Vec<Question> = numbers.iter().enumerate().map(|(stem, n)| question(*n, stem)).collect();
            let map: BTreeMap<QuestionId, Question> = all.iter().map(|q| (q.id.clone(), q.clone())).collect();
            let at_once: Questions = all.iter().cloned().map(Box::new).collect();
            let mut one_by_one = Questions::default();
            for question in all {
                one_by_one.insert(question);
            }
            prop_assert_eq!(&at_once, &one_by_one);
            prop_assert!(at_once.iter().eq(map.iter()));
            prop_assert!(at_once.keys().eq(map.keys()));
            prop_assert_eq!(at_once.len(), map.len());
            for number in 0..40 {
                let id = QuestionId::parse(&format!("q{number}")).unwrap();
                prop_assert_eq!(at_once.get(&id), map.get(&id));
                prop_assert_eq!(at_once.contains_key(&id), map.contains_key(&id));
            }
        }
    }
}
