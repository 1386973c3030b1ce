//! What answers to printed questions came to before, so that the thousandth "B" to one question is
//! looked up and not marked again. A mark depends on form, question and answer alone.

use std::collections::BTreeMap;

use grader::Outcome;

/// Longer answers hardly come twice.
const LONGEST: usize = 48;
/// So many different answers to one question are kept, so that memory stays as it is however many
/// scripts come.
const MOST: usize = 512;

/// Outcomes by form, question and answer. Made for one marker and used with no other.
#[derive(Debug, Default)]
pub struct Recall {
    forms: Vec<Vec<BTreeMap<Box<str>, Outcome>>>,
}

impl Recall {
    /// What this answer came to; none where it is new.
    pub(crate) fn of(&self, form: usize, item: usize, answer: &str) -> Option<&Outcome> {
        self.forms.get(form)?.get(item)?.get(answer)
    }

    /// Keeps what an answer came to, where it is worth keeping.
    pub(crate) fn keep(&mut self, form: usize, item: usize, answer: &str, outcome: &Outcome) {
        if answer.len() > LONGEST {
            return;
        }
        if self.forms.len() <= form {
            self.forms.resize_with(form + 1, Vec::new);
        }
        let Some(items) = self.forms.get_mut(form) else {
            return;
        };
        if items.len() <= item {
            items.resize_with(item + 1, BTreeMap::new);
        }
        if let Some(answers) = items.get_mut(item)
            && answers.len() < MOST
        {
            answers.insert(answer.into(), outcome.clone());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example::{Shape, exam};
    use crate::marker::{ItemPlace, Marker};
    use exam_plan::plan::Join;

    #[test]
    fn what_is_recalled_is_what_would_be_marked() {
        let shape = Shape {
            questions: 4,
            samples: 1,
            candidates: 3,
        };
        let cuts = Join::Conjunctive {
            theory: 600,
            tasting: 600,
        };
        let (exam, sitting) = exam(shape, cuts);
        let Ok(marker) = Marker::new(&exam, &sitting) else {
            unreachable!("the example is sound");
        };
        let mut recall = Recall::default();
        for round in 0..3 {
            for candidate in 0..sitting.places.len() {
                for item in 0..marker.items(candidate) {
                    for answer in ["A", "B", "b", "A B", "", "nonsense", "12"] {
                        let item = ItemPlace(item);
                        let fresh = marker.mark(candidate, item, answer);
                        let recalled = marker.mark_recalling(&mut recall, candidate, item, answer);
                        assert_eq!(fresh, recalled, "round {round}");
                    }
                }
            }
        }
    }

    #[test]
    fn long_answers_and_too_many_are_not_kept() {
        let mut recall = Recall::default();
        let outcome = Outcome::for_a_person("why", Vec::new());
        recall.keep(0, 0, &"x".repeat(LONGEST + 1), &outcome);
        assert_eq!(recall.of(0, 0, &"x".repeat(LONGEST + 1)), None);
        for number in 0..2 * MOST {
            recall.keep(1, 2, &number.to_string(), &outcome);
        }
        assert!(recall.of(1, 2, "0").is_some());
        assert!(recall.of(1, 2, &MOST.to_string()).is_none());
    }
}
