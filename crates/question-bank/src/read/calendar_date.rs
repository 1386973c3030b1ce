//! Reads a date and sees that the calendar has it.

use base::tree::Tree;
use base::walk::Walk;
use base::{Fault, Text};

/// The shape of a date; which days a month has is seen by [`is_date`].
const DATE: &str = "^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$";
const ALLOWED: &str = "a day of the calendar as YYYY-MM-DD, such as 2026-11-25";

/// A date as `YYYY-MM-DD` that the Gregorian calendar has.
pub(crate) fn read_date<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Text> {
    walk.of_form(tree, DATE, ALLOWED);
    let text = walk.letters(tree)?;
    if is_date(&text) {
        return Some(text);
    }
    let place = walk.place(&tree.bytes);
    walk.note(
        Fault::new(
            "bad-date",
            place,
            format!("\"{}\" is no date", base::walk::shortened(&text)),
        )
        .allowed(ALLOWED),
    );
    None
}

/// Whether a text is a date as `YYYY-MM-DD` that the Gregorian calendar has.
pub(crate) fn is_date(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let &[year, month, day] = parts.as_slice() else {
        return false;
    };
    let digits = |part: &str, length: usize| -> Option<u32> {
        (part.len() == length && part.bytes().all(|b| b.is_ascii_digit()))
            .then(|| part.parse().ok())
            .flatten()
    };
    let (Some(year), Some(month), Some(day)) = (digits(year, 4), digits(month, 2), digits(day, 2))
    else {
        return false;
    };
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => return false,
    };
    year >= 1 && (1..=days).contains(&day)
}

/// The number of days of a date since a fixed day, for differences between dates; none for what is no
/// date. Counted from 1 March of the year 0 of the Gregorian calendar.
pub(crate) fn day_number(text: &str) -> Option<i64> {
    if !is_date(text) {
        return None;
    }
    let mut parts = text.split('-').map(|part| part.parse::<i64>().ok());
    let (year, month, day) = (parts.next()??, parts.next()??, parts.next()??);
    // The year begins in March, so that the leap day is its last.
    let year = if month <= 2 { year - 1 } else { year };
    let month = (month + 9) % 12;
    let leaps = year / 4 - year / 100 + year / 400;
    Some(365 * year + leaps + (153 * month + 2) / 5 + day - 1)
}

#[cfg(test)]
mod tests {
    use super::{day_number, is_date};

    #[test]
    fn only_days_of_the_calendar_are_dates() {
        for good in ["2026-11-25", "2024-02-29", "2000-02-29", "0001-01-01"] {
            assert!(is_date(good), "{good}");
        }
        for bad in [
            "2026-02-29",
            "1900-02-29",
            "2026-13-01",
            "2026-00-10",
            "2026-04-31",
            "2026-1-1",
            "26-01-01",
            "2026/01/01",
            "",
            "2026-11-25-1",
            "２026-11-2",
            "+026-01-01",
            "0000-01-01",
        ] {
            assert!(!is_date(bad), "{bad}");
        }
    }

    #[test]
    fn days_between_dates_are_those_of_the_calendar() {
        let between = |one: &str, other: &str| Some(day_number(other)? - day_number(one)?);
        assert_eq!(between("2027-02-28", "2027-03-01"), Some(1));
        assert_eq!(between("2028-02-28", "2028-03-01"), Some(2));
        assert_eq!(between("2000-01-01", "2100-01-01"), Some(36_525));
        assert_eq!(between("2027-06-12", "2027-06-12"), Some(0));
        assert_eq!(day_number("2027-02-29"), None);
    }
}
