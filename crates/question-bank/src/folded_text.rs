//! Texts in the form in which they are compared.

use unicode_normalization::UnicodeNormalization;

/// A text in the form in which texts are compared: compatibility forms and accents resolved, lower
/// case, hyphens, apostrophes and other punctuation as spaces, spaces single. A full stop or comma
/// between digits and the signs + < > = % ° stay. Folding twice changes nothing.
#[must_use]
pub fn fold(text: &str) -> String {
    if text.is_ascii() {
        spaced(text.chars().map(|c| c.to_ascii_lowercase()), text.len())
    } else {
        // Decomposing can uncover capitals and lower-casing can uncover marks: hence both orders.
        let plain: String = text
            .nfkc()
            .flat_map(char::to_lowercase)
            .nfkd()
            .filter(|c| !('\u{300}'..='\u{36f}').contains(c))
            .flat_map(char::to_lowercase)
            .nfkd()
            .filter(|c| !('\u{300}'..='\u{36f}').contains(c))
            .nfc()
            .collect();
        let mut letters = String::with_capacity(plain.len());
        for letter in plain.chars() {
            match letter {
                'ß' => letters.push_str("ss"),
                'æ' => letters.push_str("ae"),
                'œ' => letters.push_str("oe"),
                'ø' => letters.push('o'),
                'ł' => letters.push('l'),
                'đ' => letters.push('d'),
                'ı' => letters.push('i'),
                // Invisible: soft hyphen, zero-width signs, byte order mark.
                '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{2060}' | '\u{feff}' => {}
                other => letters.push(other),
            }
        }
        spaced(letters.chars(), letters.len())
    }
}

/// Turns punctuation into spaces and keeps single spaces only.
fn spaced(letters: impl Iterator<Item = char>, length: usize) -> String {
    let mut folded = String::with_capacity(length);
    let mut pending_space = false;
    let mut letters = letters.peekable();
    while let Some(letter) = letters.next() {
        if letter == '&' {
            if !folded.is_empty() {
                folded.push(' ');
            }
            folded.push_str("and");
            pending_space = true;
            continue;
        }
        let within_number = matches!(letter, '.' | ',')
            && !pending_space
            && folded.ends_with(|c: char| c.is_ascii_digit())
            && letters.peek().is_some_and(char::is_ascii_digit);
        if !within_number && parts_words(letter) {
            pending_space = true;
        } else {
            if pending_space && !folded.is_empty() {
                folded.push(' ');
            }
            pending_space = false;
            folded.push(letter);
        }
    }
    folded
}

fn parts_words(letter: char) -> bool {
    if letter.is_ascii() {
        return !letter.is_ascii_alphanumeric() && !matches!(letter, '+' | '<' | '>' | '=' | '%');
    }
    letter.is_whitespace()
        || letter.is_control()
        || matches!(letter,
            '\u{a1}' | '\u{a7}' | '\u{ab}' | '\u{b4}' | '\u{b6}' | '\u{b7}' | '\u{bb}' | '\u{bf}'
            | '\u{2b0}'..='\u{2ff}' | '\u{2010}'..='\u{205e}' | '\u{2212}'
            | '\u{3000}'..='\u{3003}' | '\u{3008}'..='\u{3011}' | '\u{30fb}')
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn folding_makes_alike_what_a_person_takes_for_alike() {
        for (written, folded) in [
            ("Crème  Brûlée", "creme brulee"),
            ("Pays d’Auge", "pays d auge"),
            ("ﬁne—grained", "fine grained"),
            ("Weißbier Ø", "weissbier o"),
            (" 37.5 % vol. ", "37.5 % vol"),
            ("fruit & nut", "fruit and nut"),
            ("(smoke)", "smoke"),
            ("", ""),
            ("--", ""),
        ] {
            assert_eq!(fold(written), folded, "{written}");
        }
    }

    proptest! {
        #[test]
        fn folding_twice_changes_nothing(text in "\\PC{0,40}") {
            let once = fold(&text);
            prop_assert_eq!(fold(&once), once);
        }
    }
}
