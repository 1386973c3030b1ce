//! Cells that a spreadsheet leaves as they are: what it would execute, or take for a date or a
//! number and write anew, gets an apostrophe in front, which is taken off again when it comes back.

/// The text as it is put into a cell.
pub(super) fn guarded(text: &str) -> String {
    if needs_guard(text) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

/// The text that a cell stands for. A cell typed by hand, without the apostrophe, stands for itself.
pub(super) fn unguarded(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(text) if needs_guard(text) => text,
        Some(_) | None => cell,
    }
}

/// Whether a spreadsheet might change this text. One that is guarded already must be guarded once
/// more, or it would come back bare.
fn needs_guard(text: &str) -> bool {
    if let Some(rest) = text.strip_prefix('\'') {
        return needs_guard(rest);
    }
    text.starts_with(['=', '+', '-', '@', '\t', '\r']) || is_rewritten(text)
}

/// Words that, beside digits, make a date or a time of a text in some language setting.
const WORDS_OF_DATES: [&str; 29] = [
    "jan",
    "january",
    "feb",
    "february",
    "mar",
    "march",
    "apr",
    "april",
    "may",
    "jun",
    "june",
    "jul",
    "july",
    "aug",
    "august",
    "sep",
    "sept",
    "september",
    "oct",
    "october",
    "nov",
    "november",
    "dec",
    "december",
    "am",
    "pm",
    "st",
    "nd",
    "th",
];

/// Whether a text looks like a number, a share, a date, a time or a truth to a spreadsheet, other
/// than a number that is written back as it was read.
fn is_rewritten(text: &str) -> bool {
    let lower = text.to_ascii_lowercase();
    if ["true", "false"].contains(&lower.as_str()) {
        return true;
    }
    if !lower.bytes().any(|b| b.is_ascii_digit()) || is_plain_number(text) {
        return false;
    }
    let words = lower
        .split(|c: char| !c.is_ascii_alphabetic())
        .filter(|word| !word.is_empty())
        .all(|word| word == "e" || WORDS_OF_DATES.contains(&word));
    let signs = lower
        .chars()
        .all(|c| c.is_ascii_alphanumeric() || " .,:/%-+$€£'".contains(c));
    words && signs
}

/// A whole number or a decimal one as a spreadsheet itself would write it.
fn is_plain_number(text: &str) -> bool {
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit());
    let (whole, decimals) = match text.split_once('.') {
        Some((whole, decimals)) => (whole, Some(decimals)),
        None => (text, None),
    };
    digits(whole)
        && whole.len() <= 9
        && (whole == "0" || !whole.starts_with('0'))
        && decimals.is_none_or(|d| digits(d) && d.len() <= 6 && !d.ends_with('0'))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_a_spreadsheet_would_change_is_guarded() {
        for text in [
            "=1+1",
            "+44",
            "-3",
            "@SUM(A1)",
            "46.90",
            "007",
            "1/2",
            "3-4",
            "2026-11-25",
            "10:30",
            "40 %",
            "1e5",
            "May 4",
            "True",
            "FALSE",
            "1,500",
            "'=1",
            "12345678901",
        ] {
            assert_eq!(guarded(text), format!("'{text}"));
            assert_eq!(unguarded(&guarded(text)), text);
        }
        for text in [
            "",
            "rum",
            "280",
            "46.9",
            "37.5 % vol or more",
            "4 years",
            "'tis",
            "a=b",
        ] {
            assert_eq!(guarded(text), text);
            assert_eq!(unguarded(text), text);
        }
    }

    proptest! {
        #[test]
        fn any_text_comes_back(text in "['=+@0-9a-z. -]{0,8}|.{0,20}") {
            let cell = guarded(&text);
            prop_assert_eq!(unguarded(&cell), text.as_str());
        }
    }
}
