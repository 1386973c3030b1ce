//! Single best answer: one of two to seven options is right; three by default.

use base::tree::Tree;
use base::walk::Walk;
use base::{Fault, Text};

use super::{AnswerOption, Kind, QuestionKind};
use crate::read::{read_options, translated_choice};
use crate::shape::Shape;

/// A checked single-best-answer question: exactly one option is the key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BestAnswer {
    /// What is asked.
    pub stem: Text,
    /// The options as written.
    pub options: Vec<AnswerOption>,
    /// Print the options as written (numbers, years).
    pub keep_order: bool,
}

impl Kind for BestAnswer {
    fn stem(&self) -> &str {
        &self.stem
    }
    fn shape(&self) -> Shape<'_> {
        Shape::Choice {
            options: &self.options,
            one: true,
        }
    }
    fn keeps_order(&self) -> bool {
        self.keep_order
    }
    fn translated<'t>(&self, walk: &mut Walk<'t>, tree: &'t Tree) -> Option<QuestionKind> {
        let (stem, options) = translated_choice(walk, tree, &self.options)?;
        Some(QuestionKind::BestAnswer(Self {
            stem,
            options,
            ..self.clone()
        }))
    }
}

impl BestAnswer {
    /// Reads one from a text.
    pub(crate) fn read<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Self> {
        let mut fields = walk.fields(tree, "a best-answer question")?;
        let stem = fields.required(walk, "stem").and_then(|t| walk.letters(t));
        let options_tree = fields.required(walk, "options");
        let options = options_tree.and_then(|t| read_options(walk, t));
        let keep_order = match fields.optional("keep_order") {
            Some(t) => walk.truth(t),
            None => Some(false),
        };
        fields.finish(walk);
        if let (Some(options), Some(t)) = (&options, options_tree) {
            let keys = options.iter().filter(|option| option.key).count();
            if keys != 1 {
                let place = walk.place(&t.bytes);
                let hint = if keys == 0 {
                    "write \"key: true\" in the right one"
                } else {
                    "leave one key, or make it a multiple_response question"
                };
                walk.note(
                    Fault::new(
                        "number-of-keys",
                        place,
                        format!("{keys} options are the key"),
                    )
                    .allowed("exactly one")
                    .hint(hint),
                );
            }
        }
        Some(Self {
            stem: stem?,
            options: options?,
            keep_order: keep_order?,
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests {
    use crate::question_kind::QuestionKind;
    use crate::read::question_tests::{faults_of, kind_of};

    const WHY: &str = "why: w";

    #[test]
    fn one_option_is_the_key() {
        let QuestionKind::BestAnswer(kind) = kind_of(&format!(
            "best_answer: {{ stem: a, options: [{{ text: 35 % vol, {WHY} }}, {{ text: 40, key: true, {WHY} }}], keep_order: true }}"
        )) else {
            panic!("another kind")
        };
        assert_eq!(kind.options[0].text, "35 % vol");
        assert_eq!(kind.options[1].text, "40", "a number is taken as written");
        assert!(kind.options[1].key && kind.keep_order);
    }

    #[test]
    fn none_two_and_doubled_options_are_faults() {
        let option = |text: &str, key: bool| format!("{{ text: {text}, key: {key}, {WHY} }}");
        let faults = |options: &[String]| {
            faults_of(&format!(
                "best_answer: {{ stem: a, options: [{}] }}",
                options.join(", ")
            ))
        };
        assert_eq!(
            faults(&[option("a", false), option("b", false)]),
            ["number-of-keys"]
        );
        assert_eq!(
            faults(&[option("a", true), option("b", true)]),
            ["number-of-keys"]
        );
        assert_eq!(
            faults(&[option("a", true), option("A", false)]),
            ["doubled-entry"]
        );
        assert_eq!(faults(&[option("a", true)]), ["number-of-entries"]);
        let eight: Vec<_> = "abcdefgh"
            .chars()
            .map(|c| option(&c.to_string(), c == 'a'))
            .collect();
        assert_eq!(faults(&eight), ["number-of-entries"]);
        assert_eq!(
            faults(&[option("a", true), "{ text: b }".to_owned()]),
            ["missing-field"]
        );
    }
}
