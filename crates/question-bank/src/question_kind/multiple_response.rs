//! Multiple response: choose all that apply.

use base::tree::Tree;
use base::walk::Walk;
use base::{Fault, Text};

use super::{AnswerOption, Kind, QuestionKind};
use crate::read::{read_options, translated_choice};
use crate::shape::Shape;

/// A checked multiple-response question: at least one option is right and at least one is not.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MultipleResponse {
    /// What is asked.
    pub stem: Text,
    /// The options as written.
    pub options: Vec<AnswerOption>,
    /// Print the options as written.
    pub keep_order: bool,
    /// How partial answers are credited.
    pub rule: MultipleResponseRule,
}

/// How a partly right choice is credited. With n options, t of them right, h right ones marked,
/// f wrong ones marked, m right ones left out, c = n - f - m options judged rightly.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MultipleResponseRule {
    /// 1 if c = n, else 0.
    Dichotomous,
    /// c / n (Betts et al. 2021; "partial scoring 1/n", Kanzow et al. 2023).
    TrueFalse,
    /// 1 if c = n, one half if c = n - 1, else 0 (Kanzow et al. 2023, definition from memory).
    HalfPoint,
    /// 1 if c = n, one half if c >= n/2, else 0 (Kanzow et al. 2023, definition from memory).
    Ps50,
    /// max(0, (h - f) / t) (plus/minus, Betts et al. 2021).
    PlusMinusFloor0,
    /// h / t if at most t options are marked, else 0 (Ripkey, Case and Swanson 1996, from memory).
    Ripkey,
    /// max(0, h/t - f/(n-t)): marking everything earns nothing. The default.
    BalancedPenaltyFloor0,
    /// h / (h + f + m).
    Jaccard,
    /// 2h / (2h + f + m).
    F1,
}

impl MultipleResponseRule {
    /// All rules with their names in texts.
    pub const ALL: [(&'static str, Self); 9] = [
        ("dichotomous", Self::Dichotomous),
        ("true_false", Self::TrueFalse),
        ("half_point", Self::HalfPoint),
        ("ps50", Self::Ps50),
        ("plus_minus_floor0", Self::PlusMinusFloor0),
        ("ripkey", Self::Ripkey),
        ("balanced_penalty_floor0", Self::BalancedPenaltyFloor0),
        ("jaccard", Self::Jaccard),
        ("f1", Self::F1),
    ];
}

impl Kind for MultipleResponse {
    fn stem(&self) -> &str {
        &self.stem
    }
    fn shape(&self) -> Shape<'_> {
        Shape::Choice {
            options: &self.options,
            one: false,
        }
    }
    fn keeps_order(&self) -> bool {
        self.keep_order
    }
    fn translated<'t>(&self, walk: &mut Walk<'t>, tree: &'t Tree) -> Option<QuestionKind> {
        let (stem, options) = translated_choice(walk, tree, &self.options)?;
        Some(QuestionKind::MultipleResponse(Self {
            stem,
            options,
            ..self.clone()
        }))
    }
}

impl MultipleResponse {
    /// Reads one from a text.
    pub(crate) fn read<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Self> {
        let mut fields = walk.fields(tree, "a multiple-response question")?;
        let stem = fields.required(walk, "stem").and_then(|t| walk.letters(t));
        let options_tree = fields.required(walk, "options");
        let options = options_tree.and_then(|t| read_options(walk, t));
        let keep_order = match fields.optional("keep_order") {
            Some(t) => walk.truth(t),
            None => Some(false),
        };
        let rule = match fields.optional("rule") {
            Some(t) => walk.choice(t, &MultipleResponseRule::ALL),
            None => Some(MultipleResponseRule::BalancedPenaltyFloor0),
        };
        fields.finish(walk);
        if let (Some(options), Some(t)) = (&options, options_tree) {
            let keys = options.iter().filter(|option| option.key).count();
            if keys == 0 || keys == options.len() {
                let place = walk.place(&t.bytes);
                walk.note(
                    Fault::new(
                        "number-of-keys",
                        place,
                        format!("{keys} of {} options are right", options.len()),
                    )
                    .allowed("at least one right and at least one wrong option"),
                );
            }
        }
        Some(Self {
            stem: stem?,
            options: options?,
            keep_order: keep_order?,
            rule: rule?,
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests {
    use crate::question_kind::QuestionKind;
    use crate::read::question_tests::{faults_of, kind_of};

    use super::MultipleResponseRule;

    fn text(keys: [bool; 3], more: &str) -> String {
        let options: Vec<_> = keys
            .iter()
            .enumerate()
            .map(|(n, key)| format!("{{ text: option {n}, key: {key}, why: w }}"))
            .collect();
        format!(
            "multiple_response: {{ stem: a, options: [{}]{more} }}",
            options.join(", ")
        )
    }

    #[test]
    fn rules_are_read_by_name() {
        for (name, rule) in MultipleResponseRule::ALL {
            let QuestionKind::MultipleResponse(kind) =
                kind_of(&text([true, true, false], &format!(", rule: {name}")))
            else {
                panic!("another kind")
            };
            assert_eq!(kind.rule, rule);
        }
        let QuestionKind::MultipleResponse(kind) = kind_of(&text([true, false, false], "")) else {
            panic!("another kind")
        };
        assert_eq!(kind.rule, MultipleResponseRule::BalancedPenaltyFloor0);
    }

    #[test]
    fn all_or_none_right_is_a_fault() {
        assert_eq!(faults_of(&text([false; 3], "")), ["number-of-keys"]);
        assert_eq!(faults_of(&text([true; 3], "")), ["number-of-keys"]);
        assert_eq!(
            faults_of(&text([true, false, false], ", rule: f2")),
            ["unknown-word"]
        );
    }
}
