//! Readability: a stem that is very hard to read, by the length of its sentences and its share of
//! long words, so that the question measures reading (HDR 13, from memory).
//!
//! LIX = words / sentences + 100 × words of more than six letters / words (Björnsson, Läsbarhet,
//! 1968); above 60 a text is very hard (his scale, from memory). In stems of fewer than ten words
//! the share of long words is too coarse a figure and nothing is said.

use base::Fault;

use super::choice::words;
use crate::question::Question;

const VERY_HARD_ABOVE: f64 = 60.0;
const FEWEST_WORDS: usize = 10;
const LONG_FROM: usize = 7;

/// Finds a stem that is very hard to read.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let lix = lix(question.kind.stem())?;
    (lix > VERY_HARD_ABOVE).then(|| {
        Fault::weakness(
            "hard-to-read",
            question.place.clone(),
            format!(
                "the stem of \"{}\" is very hard to read (LIX {lix:.0}, more than {VERY_HARD_ABOVE})",
                question.id
            ),
        )
        .hint("part the sentence, or use shorter words where the trade has them")
    })
}

/// The readability index; none for a stem too short for it.
fn lix(stem: &str) -> Option<f64> {
    let count = words(stem).count();
    if count < FEWEST_WORDS {
        return None;
    }
    let long = words(stem)
        .filter(|word| word.chars().filter(|c| c.is_alphabetic()).count() >= LONG_FROM)
        .count();
    let (count, long) = (count as f64, long as f64);
    Some(count / sentences(stem) as f64 + 100.0 * long / count)
}

/// Sentences end at . ! ? or : before a space or the end.
fn sentences(text: &str) -> usize {
    let mut count = 0;
    let mut open = false;
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        let ends = matches!(letter, '.' | '!' | '?' | ':')
            && letters.peek().is_none_or(|next| next.is_whitespace());
        if ends && open {
            count += 1;
            open = false;
        } else if letter.is_alphanumeric() {
            open = true;
        }
    }
    (count + usize::from(open)).max(1)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn the_index_is_that_of_the_formula() {
        // By hand: 12 words, 2 sentences, 3 of more than six letters: 6 + 25.
        let text = "A still runs hot at 78 degrees today. What happens to methanol?";
        assert!((lix(text).unwrap() - 31.0).abs() < 1e-9, "{:?}", lix(text));
        assert_eq!(lix("What is maturation?"), None);
        assert_eq!(sentences("One. Two? 37.5 % vol … and so on"), 3);
        assert_eq!(sentences(""), 1);
    }

    #[test]
    fn long_words_in_one_long_sentence_are_found() {
        let hard = "Notwithstanding contemporaneous regulatory requirements concerning \
                    geographical indications, which organoleptic characteristics distinguish \
                    traditionally manufactured distillates?";
        assert!(find(&best_answer(hard, &["a", "b"])).is_some());
        let plain = "A cask was filled ten years ago and has lost a third. How much is left in it?";
        assert!(find(&best_answer(plain, &["a", "b"])).is_none());
    }
}
