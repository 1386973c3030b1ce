//! A list: each accepted entry counts once, among the first so many answers; unknown answers go to
//! a person.
//!
//! Source: common practice, no source. What a slip is: [`crate::spelling::is_slip`]. Chance score:
//! 0 by agreement, there is no list to guess from.

use std::collections::BTreeSet;

use base::{Marks, Text};
use question_bank::PrintedOrder;
use question_bank::question_kind::List;
use question_bank::word_match::fold;

use super::TheoryRule;
use crate::award::UnknownWord;
use crate::reason::{Earned, Reason};
use crate::rules::{NO_LIST, PRACTICE, Rule, rule};
use crate::share::Share;
use crate::spelling::{LONGEST, is_slip};
use crate::verdict::{Verdict, Why};

/// The rule's stable name.
pub const RULE: &str = "list entries";

/// The line in the list of rules.
pub(crate) const RULES: &[Rule] = &[rule(RULE, "list", PRACTICE, NO_LIST)];

impl TheoryRule for List {
    fn verdict(&self, _: &PrintedOrder, answer: &str, of: Marks) -> Verdict {
        mark(self, answer, of)
    }
    fn rule(&self) -> &'static str {
        RULE
    }
}

/// What one written answer is.
enum Written {
    /// A form of the entry at this place.
    Entry(usize),
    /// None that is known.
    Unknown,
}

/// Marks an answer that is not blank: answers parted by semicolons, commas or line ends.
#[must_use]
pub fn mark(kind: &List, answer: &str, of: Marks) -> Verdict {
    let forms: Vec<(usize, String)> = kind
        .accept
        .iter()
        .enumerate()
        .flat_map(|(entry, forms)| forms.iter().map(move |form| (entry, fold(form))))
        .collect();
    let answers = answer
        .split([';', ',', '\n', '\r'])
        .map(str::trim)
        .filter(|answer| !answer.is_empty());
    let (mut found, mut repeated, mut beyond) = (BTreeSet::new(), 0, 0);
    let mut unknown: Vec<String> = Vec::new();
    for (number, answer) in answers.enumerate() {
        if number >= kind.wanted {
            beyond += 1;
            continue;
        }
        match recognise(answer, &forms) {
            Written::Entry(entry) if found.insert(entry) => {}
            Written::Entry(_) => repeated += 1,
            Written::Unknown => unknown.push(base::walk::shortened(answer)),
        }
    }
    let right = i64::try_from(found.len()).unwrap_or(i64::MAX);
    let marks = Share::of_counts(right, kind.wanted).of(of);
    let reason = Reason::EntriesFound {
        right: found.len(),
        wanted: kind.wanted,
        repeated,
        beyond,
        earned: Earned { marks, of },
    };
    if unknown.is_empty() {
        return reason.verdict(marks, RULE);
    }
    let near: Vec<String> = kind
        .accept
        .iter()
        .filter_map(|forms| forms.first().map(Text::to_string))
        .collect();
    Verdict::ForAPerson {
        why: Why::EntriesNotAccepted(reason),
        near: near.clone(),
        provisional: marks,
        words: unknown
            .into_iter()
            .map(|word| UnknownWord {
                word,
                near: near.clone(),
            })
            .collect(),
    }
}

/// A form, or a slip of forms of one entry only.
fn recognise(answer: &str, forms: &[(usize, String)]) -> Written {
    if answer.len() > LONGEST {
        return Written::Unknown;
    }
    let folded = fold(answer);
    if folded.is_empty() {
        return Written::Unknown;
    }
    if let Some((entry, _)) = forms.iter().find(|(_, form)| *form == folded) {
        return Written::Entry(*entry);
    }
    let meant: BTreeSet<usize> = forms
        .iter()
        .filter(|(_, form)| is_slip(&folded, form))
        .map(|(entry, _)| *entry)
        .collect();
    match meant.first() {
        Some(entry) if meant.len() == 1 => Written::Entry(*entry),
        Some(_) | None => Written::Unknown,
    }
}

#[cfg(test)]
mod tests {
    use crate::example::{list, question, told};
    use crate::mark_theory;
    use question_bank::PrintedOrder;

    #[test]
    fn each_entry_counts_once_among_the_first_wanted() {
        let question = question(list(), "3");
        for (answer, marks, reason) in [
            (
                "Barley; rye; maize",
                "3",
                "3 of 3 wanted entries are right: 3 of 3 marks",
            ),
            (
                "barley, malted barley, rye",
                "2",
                "2 of 3 wanted entries are right, 1 named again: 2 of 3 marks",
            ),
            (
                "rye\nbarlley",
                "2",
                "2 of 3 wanted entries are right: 2 of 3 marks",
            ),
            (
                "barley; barley; barley; rye; corn",
                "1",
                "1 of 3 wanted entries is right, 2 named again, 2 beyond the first 3 not counted: 1 of 3 marks",
            ),
            (
                "corn; molasses; rye",
                "2",
                "person: \"molasses\" is not among the accepted answers; so far 2 of 3 wanted entries are right: 2 of 3 marks",
            ),
        ] {
            let outcome = mark_theory(&question, &PrintedOrder::as_written(0), answer);
            assert_eq!(
                told(&outcome),
                (marks.to_owned(), reason.to_owned()),
                "{answer}"
            );
        }
    }
}
