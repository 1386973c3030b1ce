//! What forms must keep, as a 0-1 program of our own: questions, clauses and targets in whole numbers.
//!
//! Every clause is about one form, but for [`FormModel::overlap`], which joins two. All weights
//! are whole, so that a search decides alike on every machine.

use base::{Fault, Place};

/// A deviation of one whole of a target (100 %), or of one mark, in the units of targets.
pub const WHOLE: i64 = 100_000_000;

/// A question as the program sees it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ModelItem {
    /// Its name in messages.
    pub name: String,
    /// Its line of the blueprint, as a place in [`FormModel::lines`].
    pub line: usize,
    /// Whether it counts among the questions that two forms have in common.
    pub shared_counts: bool,
}

/// A line of the blueprint. Each question belongs to one line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ModelLine {
    /// "cell maturation, application".
    pub words: String,
    /// Where it stands in the plan.
    pub place: Option<Place>,
    /// At least so many on a form.
    pub least: usize,
    /// At most so many on a form.
    pub most: usize,
}

/// A bounded sum over the questions of a form: words, seconds, questions used of late, keys that
/// stand fixed at one letter, pictures.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ModelSum {
    /// "words to read".
    pub words: String,
    /// Where it stands in the plan.
    pub place: Option<Place>,
    /// What each question adds.
    pub weights: Vec<i64>,
    /// At least.
    pub least: Option<i64>,
    /// At most.
    pub most: Option<i64>,
}

/// Questions that share a stem: where one stands on a form, at least and at most so many do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ModelSet {
    /// "the case of the leaking cask".
    pub words: String,
    /// The questions, ascending.
    pub items: Vec<usize>,
    /// At least, where any.
    pub least: usize,
    /// At most.
    pub most: usize,
}

/// A sum over the questions of a form that should come as near as possible to a number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ModelTarget {
    /// "information at ability 0.5".
    pub words: String,
    /// What each question adds, in units of which [`WHOLE`] are 100 % of the target or one mark.
    pub weights: Vec<i64>,
    /// What is wanted, in the same units.
    pub wanted: i64,
}

/// The program: so many forms of so many questions that keep every clause, with the largest
/// deviation from any target, over all forms, as small as can be (minimax).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FormModel {
    /// The questions.
    pub items: Vec<ModelItem>,
    /// The lines of the blueprint.
    pub lines: Vec<ModelLine>,
    /// How many forms.
    pub forms: usize,
    /// Questions on each form.
    pub length: usize,
    /// Questions that stand on every form, ascending; they are no overlap.
    pub anchors: Vec<usize>,
    /// Pairs that may not stand on one form.
    pub enemies: Vec<(usize, usize)>,
    /// At most so many questions, anchors aside, common to any two forms; none: no bound.
    pub overlap: Option<usize>,
    /// Bounded sums.
    pub sums: Vec<ModelSum>,
    /// Shared stems.
    pub sets: Vec<ModelSet>,
    /// What is aimed at.
    pub targets: Vec<ModelTarget>,
}

/// Forms that keep every clause, with how near they come.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SolvedForms {
    /// The questions of each form, ascending.
    pub forms: Vec<Vec<usize>>,
    /// The largest deviation from any target over all forms, in units of [`WHOLE`].
    pub deviation: i64,
    /// Steps that were taken.
    pub steps: u64,
}

impl FormModel {
    /// Everything about the program itself that cannot be meant, before anything is tried.
    #[must_use]
    pub fn faults(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        for (number, line) in self.lines.iter().enumerate() {
            if line.least > line.most {
                faults.push(contradiction(
                    &line.words,
                    line.place.clone(),
                    line.least,
                    line.most,
                ));
            }
            if self
                .lines
                .iter()
                .take(number)
                .any(|l| l.words == line.words)
            {
                faults.push(
                    Fault::new(
                        "doubled-cell",
                        line.place.clone(),
                        format!("{} is named twice", line.words),
                    )
                    .hint("name it once, with the number of both"),
                );
            }
        }
        for sum in &self.sums {
            if let (Some(least), Some(most)) = (sum.least, sum.most)
                && least > most
            {
                faults.push(contradiction(&sum.words, sum.place.clone(), least, most));
            }
        }
        for set in &self.sets {
            if set.least > set.most {
                faults.push(contradiction(&set.words, None, set.least, set.most));
            }
        }
        let least: usize = self.lines.iter().map(|line| line.least).sum();
        let most = self
            .lines
            .iter()
            .fold(0_usize, |sum, l| sum.saturating_add(l.most));
        if self.length < least || self.length > most {
            faults.push(
                Fault::new(
                    "length-and-cells",
                    self.lines.first().and_then(|line| line.place.clone()),
                    format!(
                        "a form has {} questions, and the cells ask for {least} to {most}",
                        self.length
                    ),
                )
                .hint("make length and cells agree"),
            );
        }
        for &(one, other) in &self.enemies {
            if self.anchors.contains(&one) && self.anchors.contains(&other) {
                let name = |item: usize| self.items.get(item).map_or("?", |i| i.name.as_str());
                faults.push(
                    Fault::new(
                        "anchors-are-enemies",
                        None,
                        format!(
                            "the anchors \"{}\" and \"{}\" are enemies, and both must stand on \
                             every form",
                            name(one),
                            name(other)
                        ),
                    )
                    .hint("take one of them off the anchors"),
                );
            }
        }
        faults
    }

    /// The enemies of each question, ascending.
    #[must_use]
    pub fn enemies_of(&self) -> Vec<Vec<usize>> {
        let mut lists = vec![Vec::new(); self.items.len()];
        for &(one, other) in &self.enemies {
            if one != other && one < lists.len() && other < lists.len() {
                lists[one].push(other);
                lists[other].push(one);
            }
        }
        for list in &mut lists {
            list.sort_unstable();
            list.dedup();
        }
        lists
    }

    /// Whether each line asks for one number and no range.
    #[must_use]
    pub fn lines_are_exact(&self) -> bool {
        self.lines.iter().all(|line| line.least == line.most)
    }

    /// The largest deviation of a form with these questions from any target.
    #[must_use]
    pub fn deviation_of(&self, form: &[usize]) -> i64 {
        self.targets
            .iter()
            .map(|target| {
                let sum: i64 = form
                    .iter()
                    .filter_map(|&item| target.weights.get(item))
                    .sum();
                (sum - target.wanted).abs()
            })
            .max()
            .unwrap_or(0)
    }
}

fn contradiction(
    words: &str,
    place: Option<Place>,
    least: impl std::fmt::Display,
    most: impl std::fmt::Display,
) -> Fault {
    Fault::new(
        "contradictory-bounds",
        place,
        format!("{words}: at least {least} and at most {most} cannot both be kept"),
    )
    .hint("let the first be no larger than the second")
}

/// A deviation in units of [`WHOLE`] as a percentage.
#[must_use]
pub fn in_per_cent(deviation: i64) -> f64 {
    deviation as f64 / (WHOLE / 100) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(words: &str, least: usize, most: usize) -> ModelLine {
        ModelLine {
            words: words.to_owned(),
            place: None,
            least,
            most,
        }
    }

    #[test]
    fn what_cannot_be_meant_is_told_at_once() {
        let item = |name: &str| ModelItem {
            name: name.to_owned(),
            line: 0,
            shared_counts: true,
        };
        let model = FormModel {
            items: vec![item("a"), item("b")],
            lines: vec![line("cell x", 2, 1), line("cell x", 1, 1)],
            forms: 1,
            length: 9,
            anchors: vec![0, 1],
            enemies: vec![(0, 1)],
            overlap: None,
            sums: vec![ModelSum {
                words: "words to read".to_owned(),
                place: None,
                weights: vec![1, 1],
                least: Some(3),
                most: Some(2),
            }],
            sets: Vec::new(),
            targets: Vec::new(),
        };
        let rules: Vec<_> = model.faults().iter().map(|fault| fault.rule).collect();
        assert_eq!(
            rules,
            [
                "contradictory-bounds",
                "doubled-cell",
                "contradictory-bounds",
                "length-and-cells",
                "anchors-are-enemies"
            ]
        );
    }
}
