//! Steps to be put in order.

use base::tree::Tree;
use base::walk::Walk;
use base::{Fault, Text};

use super::{Kind, QuestionKind};
use crate::read::{
    MOST_ENTRIES, aligned_texts, entries, note_doubled, texts_with_bytes, without_bytes,
};
use crate::shape::Shape;

/// A checked ordering question: three to seven different steps in their true order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ordering {
    /// What is asked.
    pub stem: Text,
    /// The steps in their true order.
    pub steps: Vec<Text>,
    /// How partly right orders are credited.
    pub rule: OrderingRule,
    /// Why the order is right.
    pub why: Text,
}

/// How a partly right order of n steps is credited.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OrderingRule {
    /// max(0, tau), tau = (C - D) / (n(n-1)/2) (Kendall 1938). The default.
    Tau,
    /// (tau + 1) / 2, the share of pairs in true order (Kendall 1938).
    TauLinear,
    /// max(0, rho), rho = 1 - 6 sum d² / (n(n² - 1)) (Spearman 1904).
    Rho,
    /// The longest series of steps in true order / n (longest increasing subsequence).
    Lis,
    /// 1 - sum|d| / floor(n²/2) (Spearman's footrule; Diaconis and Graham 1977).
    Footrule,
    /// Steps in their true place / n.
    Positions,
    /// True neighbours kept next to each other in true order / (n - 1).
    AdjacentPairs,
    /// 1 if every step is in its place, else 0.
    AllOrNothing,
}

impl OrderingRule {
    /// All rules with their names in texts.
    pub const ALL: [(&'static str, Self); 8] = [
        ("tau", Self::Tau),
        ("tau_linear", Self::TauLinear),
        ("rho", Self::Rho),
        ("lis", Self::Lis),
        ("footrule", Self::Footrule),
        ("positions", Self::Positions),
        ("adjacent_pairs", Self::AdjacentPairs),
        ("all_or_nothing", Self::AllOrNothing),
    ];
}

impl Kind for Ordering {
    fn stem(&self) -> &str {
        &self.stem
    }
    fn shape(&self) -> Shape<'_> {
        Shape::Order { steps: &self.steps }
    }
    fn why(&self) -> &str {
        &self.why
    }
    fn translated<'t>(&self, walk: &mut Walk<'t>, tree: &'t Tree) -> Option<QuestionKind> {
        let mut fields = walk.fields(tree, "a translation")?;
        let stem = fields.required(walk, "stem").and_then(|t| walk.letters(t));
        let steps = entries(walk, &mut fields, "steps")
            .and_then(|t| aligned_texts(walk, t, "steps", self.steps.len()));
        let why = fields.optional("why").and_then(|t| walk.letters(t));
        fields.finish(walk);
        Some(QuestionKind::Ordering(Self {
            stem: stem?,
            steps: steps?,
            why: why.unwrap_or_else(|| self.why.clone()),
            rule: self.rule,
        }))
    }
}

impl Ordering {
    /// Reads one from a text.
    pub(crate) fn read<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Self> {
        let mut fields = walk.fields(tree, "an ordering question")?;
        let stem = fields.required(walk, "stem").and_then(|t| walk.letters(t));
        let steps = fields.required(walk, "steps").map(|t| {
            let items = match &t.value {
                base::tree::Value::List(items) => Some(items.len()),
                _ => None,
            };
            let steps = texts_with_bytes(walk, t, "steps");
            note_doubled(walk, &steps, "step");
            if let Some(items) = items.filter(|n| !(3..=MOST_ENTRIES).contains(n)) {
                let place = walk.place(&t.bytes);
                walk.note(
                    Fault::new("number-of-entries", place, format!("{items} steps"))
                        .allowed(format!("3 to {MOST_ENTRIES} steps")),
                );
            }
            without_bytes(steps)
        });
        let rule = match fields.optional("rule") {
            Some(t) => walk.choice(t, &OrderingRule::ALL),
            None => Some(OrderingRule::Tau),
        };
        let why = fields.required(walk, "why").and_then(|t| walk.letters(t));
        fields.finish(walk);
        Some(Self {
            stem: stem?,
            steps: steps?,
            rule: rule?,
            why: why?,
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests {
    use crate::question_kind::QuestionKind;
    use crate::read::question_tests::{faults_of, kind_of};

    use super::OrderingRule;

    #[test]
    fn steps_and_rules_are_read() {
        for (name, rule) in OrderingRule::ALL {
            let QuestionKind::Ordering(kind) = kind_of(&format!(
                "ordering: {{ stem: a, steps: [b, c, d], rule: {name}, why: w }}"
            )) else {
                panic!("another kind")
            };
            assert_eq!((kind.rule, kind.steps.len()), (rule, 3));
        }
    }

    #[test]
    fn too_few_too_many_and_doubled_steps_are_faults() {
        let faults =
            |steps: &str| faults_of(&format!("ordering: {{ stem: a, steps: {steps}, why: w }}"));
        assert_eq!(faults("[a, b]"), ["number-of-entries"]);
        assert_eq!(faults("[a, b, c, d, e, f, g, h]"), ["number-of-entries"]);
        assert_eq!(faults("[a, b, B]"), ["doubled-entry"]);
        assert_eq!(faults("a"), ["wrong-type"]);
    }
}
