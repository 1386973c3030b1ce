//! The sentence of a descriptor mark: what was found, what was missed, and the weights.

use std::fmt;

use question_bank::lexicon::Closeness;

use super::{Earned, joined};

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

impl fmt::Display for Descriptors {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.found.is_empty() {
            f.write_str("found: nothing of the key")?;
        } else {
            let found = self.found.iter().map(FoundWord::to_string);
            write!(f, "found: {}", joined(found))?;
        }
        if !self.without_credit.is_empty() {
            write!(f, "; no credit: {}", joined(self.without_credit.iter()))?;
        }
        if !self.said_again.is_empty() {
            write!(
                f,
                "; one of a group counts, so not these: {}",
                joined(self.said_again.iter())
            )?;
        }
        if !self.contradicting.is_empty() {
            write!(
                f,
                "; contradicting this sample: {} (less 15 % of the marks{})",
                joined(self.contradicting.iter()),
                if self.contradicting.len() > 1 {
                    " each"
                } else {
                    ""
                }
            )?;
        }
        if !self.missed.is_empty() {
            write!(f, "; missed: {}", joined(self.missed.iter()))?;
        }
        if !self.denied.is_empty() {
            write!(
                f,
                "; said not to be there, so not counted: {}",
                joined(self.denied.iter())
            )?;
        }
        if self.left_off > 0 {
            write!(
                f,
                "; only the first {} count, {} left off",
                self.words, self.left_off
            )?;
        }
        write!(
            f,
            "; weight {} of {}",
            decimal(self.weight),
            decimal(self.full_weight)
        )?;
        if self.chance > 0 {
            let chance = decimal(i64::from(self.chance) * 1000);
            write!(
                f,
                "; less the {chance} that guessing earns: (share - {chance}) / (1 - {chance})"
            )?;
        }
        write!(f, ": {}", self.earned)
    }
}

impl fmt::Display for FoundWord {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let weight = decimal(i64::from(self.weight) * 1000);
        let (written, key_word) = (&self.written, &self.key_word);
        let name = if written.to_lowercase() == key_word.to_lowercase() {
            written.clone()
        } else {
            let joiner = match self.closeness {
                Closeness::Same => "as",
                Closeness::Group | Closeness::Family | Closeness::Apart => "for",
            };
            format!("{written} {joiner} {key_word}")
        };
        match self.closeness {
            Closeness::Same => write!(f, "{name} (full, {weight})"),
            Closeness::Group => write!(f, "{name} (same group, half of {weight})"),
            Closeness::Family => write!(f, "{name} (same family, a quarter of {weight})"),
            Closeness::Apart => write!(f, "{name} (nothing)"),
        }
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
