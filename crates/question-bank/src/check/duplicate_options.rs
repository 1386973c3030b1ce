//! L09: two options are the same once compatibility forms, case and punctuation are left out of
//! account (HDR 22).

use base::Fault;
use unicode_normalization::UnicodeNormalization;

use super::choice::choice;
use crate::question::Question;

/// Finds two options that say the same.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let options = choice(question)?.options;
    let alike: Vec<String> = options.iter().map(|option| bare(&option.text)).collect();
    let (place, _) = alike
        .iter()
        .enumerate()
        .find(|(place, text)| alike.iter().take(*place).any(|before| before == *text))?;
    let text = options.get(place).map_or("", |option| option.text.as_str());
    Some(
        Fault::weakness(
            "L09-duplicate-options",
            question.place.clone(),
            format!("two options of \"{}\" say \"{text}\" (L09)", question.id),
        )
        .hint("change or remove one of them"),
    )
}

/// The text without punctuation and case, spaces single. A sign before a digit is no punctuation.
fn bare(text: &str) -> String {
    let letters: Vec<char> = text.nfkc().flat_map(char::to_lowercase).collect();
    let mut kept = String::new();
    for (place, &letter) in letters.iter().enumerate() {
        let sign = matches!(letter, '-' | '\u{2212}')
            && letters.get(place + 1).is_some_and(char::is_ascii_digit)
            && place
                .checked_sub(1)
                .and_then(|p| letters.get(p))
                .is_none_or(|c| c.is_whitespace());
        // A mark within a number parts its digits: 1.5 is not 15.
        let within_number = matches!(letter, '.' | ',')
            && letters.get(place + 1).is_some_and(char::is_ascii_digit)
            && place
                .checked_sub(1)
                .and_then(|p| letters.get(p))
                .is_some_and(char::is_ascii_digit);
        if sign || within_number || !is_punctuation(letter) {
            kept.push(letter);
        }
    }
    kept.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Punctuation of Unicode's category P, as far as Latin texts use it.
fn is_punctuation(letter: char) -> bool {
    if letter.is_ascii() {
        return letter.is_ascii_punctuation()
            && !matches!(letter, '$' | '+' | '<' | '=' | '>' | '^' | '`' | '|' | '~');
    }
    matches!(letter, '\u{a1}' | '\u{a7}' | '\u{ab}' | '\u{b6}' | '\u{b7}' | '\u{bb}' | '\u{bf}'
        | '\u{2010}'..='\u{2027}' | '\u{2030}'..='\u{205e}' | '\u{3001}'..='\u{3003}')
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn punctuation_and_case_make_no_difference_but_signs_and_decimals_do() {
        let found = |a, b| find(&best_answer("What?", &[a, b])).is_some();
        assert!(found("Copper", "copper."));
        assert!(found("“Low wines”", "low  wines"));
        assert!(found("ﬁne", "fine"));
        assert!(!found("-5 °C", "5 °C"));
        assert!(!found("< 40", "> 40"));
        assert!(!found("1.5", "15"));
        assert!(!found("Copper", "Coppers"));
    }
}
