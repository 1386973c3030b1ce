//! Reads answers that are letters printed on a form: "B", "a c", "A;C", "AC", "A and C".

use question_bank::printed_order::place_of;

/// Why letters could not be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unreadable {
    /// Something that is no letter from A to Z.
    NoLetters(String),
    /// A letter beyond those that are printed.
    Beyond(char),
}

/// Whether a candidate left a question open: nothing, or strokes and full stops only.
#[must_use]
pub fn is_blank(answer: &str) -> bool {
    answer
        .chars()
        .all(|c| c.is_whitespace() || matches!(c, '-' | '–' | '—' | '_' | '.' | '\u{feff}'))
}

fn separates(c: char) -> bool {
    c.is_whitespace()
        || matches!(
            c,
            ';' | ','
                | '/'
                | '+'
                | '&'
                | '.'
                | ')'
                | '('
                | '|'
                | '-'
                | '–'
                | '>'
                | '→'
                | '\u{feff}'
        )
}

/// The printed places in the order written, a letter as often as it stands.
///
/// # Errors
/// When something is no letter, or a letter is not printed with this question.
pub fn read_letters(answer: &str, printed: usize) -> Result<Vec<usize>, Unreadable> {
    let mut places = Vec::new();
    for token in answer.split(separates).filter(|token| !token.is_empty()) {
        if token.eq_ignore_ascii_case("and") {
            continue;
        }
        for letter in token.chars() {
            match place_of(letter) {
                Some(place) if place < printed => places.push(place),
                // "no idea" is a text and not an N beyond the options.
                Some(_) if token.chars().count() == 1 => {
                    return Err(Unreadable::Beyond(letter.to_ascii_uppercase()));
                }
                Some(_) | None => {
                    return Err(Unreadable::NoLetters(base::walk::shortened(token)));
                }
            }
        }
    }
    if places.is_empty() {
        return Err(Unreadable::NoLetters(base::walk::shortened(answer.trim())));
    }
    Ok(places)
}

impl Unreadable {
    /// One plain sentence for the person who must look.
    #[must_use]
    pub fn sentence(&self, printed: usize) -> String {
        let last = question_bank::printed_order::letter(printed.saturating_sub(1));
        match self {
            Self::NoLetters(text) => {
                format!("\"{text}\" is no letter from A to {last}")
            }
            Self::Beyond(letter) => {
                format!("{letter} is not printed with this question, which ends at {last}")
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_are_read_as_people_write_them() {
        for text in [
            "A C", "a;c", "A,C", "AC", "a and C", "A/C", "(A) (C)", "A. C.", "A > C",
        ] {
            assert_eq!(read_letters(text, 4), Ok(vec![0, 2]), "{text}");
        }
        assert_eq!(read_letters("b", 3), Ok(vec![1]));
    }

    #[test]
    fn what_is_no_printed_letter_is_refused() {
        assert_eq!(read_letters("E", 4), Err(Unreadable::Beyond('E')));
        for text in ["1", "А", "no idea", "A?", "ß", "", ";"] {
            assert!(
                matches!(read_letters(text, 4), Err(Unreadable::NoLetters(_))),
                "{text}"
            );
        }
        assert_eq!(
            Unreadable::Beyond('E').sentence(4),
            "E is not printed with this question, which ends at D"
        );
    }

    #[test]
    fn strokes_are_no_answer() {
        assert!(is_blank("") && is_blank(" – ") && is_blank("...") && !is_blank("A"));
    }
}
