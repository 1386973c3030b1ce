//! How often each answer was given, with what the others scored who gave it.

use std::collections::BTreeMap;

use serde::Serialize;

/// One answer and who gave it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AnswerCount {
    /// The answer in words.
    pub answer: String,
    /// Whether it is the key, or earned full marks.
    pub right: bool,
    /// How many gave it.
    pub n: usize,
    /// The mean share of their total; none where nobody gave it.
    pub mean_total: Option<f64>,
}

/// Collects answers.
#[derive(Debug, Default)]
pub(crate) struct Counts {
    by_answer: BTreeMap<String, (bool, usize, f64)>,
}

impl Counts {
    /// An answer that is shown even where nobody gives it.
    pub(crate) fn expect(&mut self, answer: &str, right: bool) {
        self.by_answer.entry(answer.to_owned()).or_default().0 |= right;
    }
    /// One candidate's answer; `total`: the share of that candidate's total.
    pub(crate) fn add(&mut self, answer: &str, right: bool, total: f64) {
        let entry = self.by_answer.entry(answer.to_owned()).or_default();
        entry.0 |= right;
        entry.1 += 1;
        entry.2 += total;
    }
    /// The most frequent first, at most so many; ties in the order of their letters.
    pub(crate) fn most(self, at_most: usize) -> Vec<AnswerCount> {
        let mut all: Vec<AnswerCount> = self
            .by_answer
            .into_iter()
            .map(|(answer, (right, n, totals))| AnswerCount {
                answer,
                right,
                n,
                #[allow(clippy::cast_precision_loss)]
                mean_total: (n > 0).then(|| totals / n as f64),
            })
            .collect();
        all.sort_by(|a, b| b.n.cmp(&a.n).then_with(|| a.answer.cmp(&b.answer)));
        all.truncate(at_most);
        all
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_most_frequent_come_first_and_what_nobody_chose_is_there() {
        let mut counts = Counts::default();
        counts.expect("copper", true);
        counts.expect("glass", false);
        counts.add("steel", false, 0.5);
        counts.add("steel", false, 0.7);
        counts.add("copper", false, 0.9);
        let all = counts.most(9);
        let told: Vec<_> = all
            .iter()
            .map(|one| (one.answer.as_str(), one.right, one.n))
            .collect();
        assert_eq!(
            told,
            [
                ("steel", false, 2),
                ("copper", true, 1),
                ("glass", false, 0)
            ]
        );
        assert!(
            all[0]
                .mean_total
                .is_some_and(|mean| (mean - 0.6).abs() < 1e-12)
        );
        assert_eq!(all[2].mean_total, None);
    }
}
