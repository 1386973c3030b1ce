//! What the two kinds of choice have in common, as the rules look at it.

use crate::question::Question;
use crate::question_kind::AnswerOption;
use crate::shape::Shape;

/// A question with options.
pub(super) struct Choice<'q> {
    pub(super) stem: &'q str,
    pub(super) options: &'q [AnswerOption],
    pub(super) keep_order: bool,
    /// The only key; none where several may be right.
    pub(super) only_key: Option<&'q AnswerOption>,
}

/// The question as a choice; none for other shapes.
pub(super) fn choice(question: &Question) -> Option<Choice<'_>> {
    match question.kind.shape() {
        Shape::Choice { options, one } => Some(Choice {
            stem: question.kind.stem(),
            options,
            keep_order: question.kind.keeps_order(),
            only_key: options.iter().find(|option| one && option.key),
        }),
        Shape::Number { .. }
        | Shape::Order { .. }
        | Shape::Columns { .. }
        | Shape::Words { .. }
        | Shape::Space { .. } => None,
    }
}

/// The words of a text as written; an apostrophe belongs to its word.
pub(super) fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !c.is_alphanumeric() && c != '\'' && c != '’')
        .map(|word| word.trim_matches(['\'', '’']))
        .filter(|word| !word.is_empty())
}

/// The words of a text in small letters.
pub(super) fn small_words(text: &str) -> Vec<String> {
    words(text).map(str::to_lowercase).collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
pub(crate) mod tests {
    use super::*;
    use crate::question_kind::{BestAnswer, QuestionKind};
    use crate::read::question_tests::{SOUND, read_one_question, text_of};

    /// A best-answer question, printed in the order written, the first option being the key.
    pub(crate) fn best_answer(stem: &str, options: &[&str]) -> Question {
        let mut question = read_one_question(&text_of(SOUND)).0.unwrap();
        question.kind = QuestionKind::BestAnswer(BestAnswer {
            stem: stem.into(),
            options: options
                .iter()
                .enumerate()
                .map(|(place, text)| AnswerOption {
                    text: (*text).into(),
                    key: place == 0,
                    why: format!("for the test of {text} at {place}").into(),
                })
                .collect(),
            keep_order: true,
        });
        question
    }

    #[test]
    fn words_keep_their_apostrophes() {
        assert_eq!(small_words("Isn't \"it\" 'so'?"), ["isn't", "it", "so"]);
    }
}
