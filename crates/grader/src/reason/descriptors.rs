//! The sentence of a descriptor mark: what was found, what was missed, and the weights.

use question_bank::lexicon::Closeness;

use super::Earned;
use crate::sentences::{Line, Sentences, Value};

/// One descriptor that earned something.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FoundWord {
    /// As the candidate wrote it.
    pub written: String,
    /// The key word it was paired with.
    pub key_word: String,
    /// How near it is.
    pub closeness: Closeness,
    /// The key word's weight in thousandths.
    pub weight: u32,
}

/// Everything that a descriptor mark rests on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Descriptors {
    /// Words that earned something, in the candidate's order.
    pub found: Vec<FoundWord>,
    /// Known words that earned nothing.
    pub without_credit: Vec<String>,
    /// Words that are only near, of a group from which one that is near counted already.
    pub said_again: Vec<String>,
    /// Words that contradict the sample.
    pub contradicting: Vec<String>,
    /// The heaviest required words that nothing was paired with.
    pub missed: Vec<String>,
    /// What the candidate says is not there, as written.
    pub denied: Vec<String>,
    /// Answers beyond the number that counts.
    pub left_off: usize,
    /// How many words count.
    pub words: u32,
    /// The weight earned, in millionths.
    pub weight: i64,
    /// The weight of a full answer, in millionths.
    pub full_weight: i64,
    /// What guessing earns, in thousandths of the marks, where it is taken off; else 0.
    pub chance: u32,
    /// What it came to.
    pub earned: Earned,
}

impl Descriptors {
    /// The sentence.
    pub(super) fn told(&self, words: &Sentences) -> String {
        let found = if self.found.is_empty() {
            words.fill(Line::FoundNothing, &[])
        } else {
            let found = self.found.iter().map(|one| one.told(words));
            let list = words.joined(found);
            words.fill(Line::Found, &[Value::words(&list)])
        };
        let list = |all: &[String]| Value::Words(words.joined(all.iter()).into());
        let chance = if self.chance > 0 {
            decimal(i64::from(self.chance) * 1000)
        } else {
            String::new()
        };
        words.fill(
            Line::Descriptors,
            &[
                Value::words(&found),
                list(&self.without_credit),
                list(&self.said_again),
                list(&self.contradicting),
                Value::Count(self.contradicting.len()),
                list(&self.missed),
                list(&self.denied),
                Value::decimal(self.words),
                Value::Count(self.left_off),
                Value::Decimal(decimal(self.weight)),
                Value::Decimal(decimal(self.full_weight)),
                Value::Decimal(chance),
                Value::Words(self.earned.told(words).into()),
            ],
        )
    }
}

impl FoundWord {
    fn told(&self, words: &Sentences) -> String {
        let (written, key_word) = (&self.written, &self.key_word);
        let name = if written.to_lowercase() == key_word.to_lowercase() {
            written.clone()
        } else {
            let line = match self.closeness {
                Closeness::Same => Line::WordAs,
                Closeness::Group | Closeness::Family | Closeness::Apart => Line::WordFor,
            };
            words.fill(line, &[Value::words(written), Value::words(key_word)])
        };
        let line = match self.closeness {
            Closeness::Same => Line::WordFull,
            Closeness::Group => Line::WordGroup,
            Closeness::Family => Line::WordFamily,
            Closeness::Apart => Line::WordApart,
        };
        let weight = Value::Decimal(decimal(i64::from(self.weight) * 1000));
        words.fill(line, &[Value::words(&name), weight])
    }
}

/// Millionths as a decimal number without trailing zeros.
fn decimal(millionths: i64) -> String {
    let (whole, part) = (millionths / 1_000_000, millionths % 1_000_000);
    if part == 0 {
        whole.to_string()
    } else {
        let part = format!("{part:06}");
        format!("{whole}.{}", part.trim_end_matches('0'))
    }
}
