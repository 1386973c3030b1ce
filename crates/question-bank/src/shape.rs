//! The shapes of questions: how one is printed, answered and keyed. The set is closed and small, so
//! that whatever prints, lays out, explains or simulates a question looks at its shape and need not
//! know its kind; a new kind answers with one of these.

use base::Text;

use crate::question_kind::AnswerOption;

/// A question as it is printed and answered, with what is right. Holds the key and therefore has no
/// `Serialize`.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape<'q> {
    /// Lettered options, of which one or all that apply are chosen.
    Choice {
        /// The options as written, the right ones marked.
        options: &'q [AnswerOption],
        /// One is to be chosen; else all that apply.
        one: bool,
    },
    /// A box for a number.
    Number {
        /// The unit beside the box; may be empty.
        unit: &'q str,
        /// The right number.
        answer: f64,
        /// The right number as a person wrote it.
        written: &'q str,
        /// Full marks within this distance.
        tolerance: f64,
        /// Half marks within this distance.
        half_within: Option<f64>,
        /// Wrong numbers that tell which mistake was made.
        mistakes: &'q [KnownMistake],
    },
    /// Lettered steps to be put in order.
    Order {
        /// The steps in their true order.
        steps: &'q [Text],
    },
    /// A numbered and a lettered column to be joined.
    Columns {
        /// The numbered column.
        left: Vec<&'q str>,
        /// The lettered column as written; the entry at place i belongs to the left one at place i,
        /// those beyond to none.
        right: Vec<&'q str>,
    },
    /// So many lines for a word or two each.
    Words {
        /// How many lines, and how many answers count.
        lines: usize,
        /// What is accepted: entries, each with its forms, the main one first.
        entries: Vec<&'q [Text]>,
    },
    /// Space for whole sentences.
    Space {
        /// How many lines.
        lines: usize,
        /// What a marker looks at.
        rubric: &'q [Criterion],
        /// What a full answer holds.
        model: &'q str,
    },
}

/// A wrong number that tells which mistake was made.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownMistake {
    /// The number that comes out.
    pub value: f64,
    /// What went wrong.
    pub why: Text,
}

/// One line of an analytic rubric.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Criterion {
    /// What is looked at.
    pub name: Text,
    /// The most marks for it.
    pub marks: base::Marks,
    /// What earns how much, in words, least first; may be empty.
    pub levels: Vec<String>,
}

impl Shape<'_> {
    /// How many things are lettered on paper and may be shuffled: options, steps, or the right
    /// column; 0 for shapes that letter nothing.
    #[must_use]
    pub fn lettered(&self) -> usize {
        match self {
            Self::Choice { options, .. } => options.len(),
            Self::Order { steps } => steps.len(),
            Self::Columns { right, .. } => right.len(),
            Self::Number { .. } | Self::Words { .. } | Self::Space { .. } => 0,
        }
    }

    /// What is right, without letters, since each form letters it otherwise.
    #[must_use]
    pub fn key_in_words(&self) -> String {
        match self {
            Self::Choice { options, .. } => {
                let keys = options.iter().filter(|option| option.key);
                joined(keys.map(|option| option.text.to_string()), "; ")
            }
            Self::Number {
                unit,
                written,
                tolerance,
                half_within,
                ..
            } => {
                let within = if *tolerance == 0.0 {
                    "exactly".to_owned()
                } else {
                    format!("±{tolerance}")
                };
                let half = match half_within {
                    Some(half) => format!("; half marks within ±{half}"),
                    None => String::new(),
                };
                let space = if unit.is_empty() { "" } else { " " };
                format!("{written}{space}{unit} ({within}{half})")
            }
            Self::Order { steps } => steps.join(" → "),
            Self::Columns { left, right } => {
                let pairs = left.iter().zip(right);
                joined(pairs.map(|(left, right)| format!("{left} – {right}")), "; ")
            }
            Self::Words { lines, entries } => match entries.as_slice() {
                [only] => only.join(" / "),
                several => {
                    let forms = several.iter().map(|forms| forms.join(" / "));
                    format!("any {lines} of: {}", joined(forms, "; "))
                }
            },
            Self::Space { rubric, model, .. } => {
                let lines = rubric.iter().map(|criterion| {
                    let levels = if criterion.levels.is_empty() {
                        String::new()
                    } else {
                        format!(" ({})", criterion.levels.join("; "))
                    };
                    format!("{} {}{levels}", criterion.name, criterion.marks)
                });
                format!("{} Marks: {}", model, joined(lines, "; "))
            }
        }
    }

    /// What is right in printed letters, as a candidate would write it: `B`, `A C`, `C A B`,
    /// `1C 2A`; shapes without letters give [`Self::key_in_words`].
    #[must_use]
    pub fn key_in_letters(&self, letter_of: impl Fn(usize) -> char) -> String {
        match self {
            Self::Choice { options, .. } => {
                let keys = options.iter().enumerate().filter(|(_, option)| option.key);
                let mut letters: Vec<char> = keys.map(|(place, _)| letter_of(place)).collect();
                letters.sort_unstable();
                joined(letters.into_iter().map(String::from), " ")
            }
            Self::Order { steps } => joined(
                (0..steps.len()).map(|step| letter_of(step).to_string()),
                " ",
            ),
            Self::Columns { left, .. } => joined(
                (0..left.len()).map(|place| format!("{}{}", place + 1, letter_of(place))),
                " ",
            ),
            Self::Number { .. } | Self::Words { .. } | Self::Space { .. } => self.key_in_words(),
        }
    }
}

fn joined(parts: impl Iterator<Item = String>, between: &str) -> String {
    parts.collect::<Vec<_>>().join(between)
}
