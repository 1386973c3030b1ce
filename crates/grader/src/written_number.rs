//! Reads numbers as candidates write them: "46.9", "46,9", "46.9 % vol", "1,234".

/// The readings of a written number. More than one where a comma or a full stop with three digits
/// behind it may stand for thousands: "1,234".
#[derive(Debug, Clone, PartialEq)]
pub struct WrittenNumber {
    /// Every reading, finite.
    pub readings: Vec<f64>,
    /// What stands behind the number.
    pub rest: String,
}

/// The most digits that a written number may have.
const MOST_DIGITS: usize = 12;

/// Reads a number at the beginning of a text; none where there is none, or one with more than
/// twelve digits. "inf", "NaN" and powers of ten are no numbers here.
#[must_use]
pub fn read_number(text: &str) -> Option<WrittenNumber> {
    let text = text.trim_matches(|c: char| c.is_whitespace() || c == '\u{feff}');
    let (negative, unsigned) = match text.strip_prefix(['-', '−']) {
        Some(rest) => (true, rest),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    };
    let end = unsigned
        .char_indices()
        .find(|&(_, c)| !c.is_ascii_digit() && !matches!(c, '.' | ','))
        .map_or(unsigned.len(), |(at, _)| at);
    let (digits, rest) = unsigned.split_at_checked(end)?;
    // "46.9." ends a sentence.
    let digits = digits.strip_suffix(['.', ',']).unwrap_or(digits);
    if digits.bytes().filter(u8::is_ascii_digit).count() > MOST_DIGITS {
        return None;
    }
    let sign = if negative { -1.0 } else { 1.0 };
    let readings: Vec<f64> = plain_forms(digits)?
        .iter()
        .filter_map(|form| form.parse::<f64>().ok())
        .filter(|number| number.is_finite())
        .map(|number| sign * number)
        .collect();
    if readings.is_empty() {
        return None;
    }
    Some(WrittenNumber {
        readings,
        rest: rest.trim().to_owned(),
    })
}

/// The forms with a decimal point that digits with full stops and commas may stand for.
fn plain_forms(digits: &str) -> Option<Vec<String>> {
    let marks: Vec<(usize, char)> = digits
        .char_indices()
        .filter(|(_, c)| !c.is_ascii_digit())
        .collect();
    let without: String = digits.chars().filter(char::is_ascii_digit).collect();
    if without.is_empty() {
        return None;
    }
    let decimal_at = |mark: char| -> Option<String> {
        let (whole, part) = digits.rsplit_once(mark)?;
        let whole: String = whole.chars().filter(char::is_ascii_digit).collect();
        let whole = if whole.is_empty() {
            "0".to_owned()
        } else {
            whole
        };
        Some(format!("{whole}.{part}"))
    };
    // Thousands stand in threes behind one to three leading digits.
    let in_threes = |text: &str, mark: char| {
        let mut groups = text.split(mark);
        let first = groups.next().unwrap_or("");
        (1..=3).contains(&first.len()) && first != "0" && groups.all(|group| group.len() == 3)
    };
    match marks.as_slice() {
        [] => Some(vec![without]),
        [(_, mark)] => {
            let mut forms = vec![decimal_at(*mark)?];
            // A full stop is the decimal point of an English paper; a comma may be either.
            if *mark == ',' && in_threes(digits, ',') {
                forms.push(without);
            }
            Some(forms)
        }
        [(_, first), .., (_, last)] if first != last => {
            let (whole, part) = digits.rsplit_once(*last)?;
            let one_mark = marks.iter().rev().skip(1).all(|(_, mark)| mark == first);
            (one_mark && in_threes(whole, *first) && part.bytes().all(|b| b.is_ascii_digit()))
                .then(|| decimal_at(*last).map(|form| vec![form]))
                .flatten()
        }
        [(_, mark), ..] => in_threes(digits, *mark).then(|| vec![without]),
    }
}

/// Whether what stands behind a number says the unit asked for, or nothing.
#[must_use]
pub fn is_unit(rest: &str, unit: &str) -> bool {
    let bare = |text: &str| -> String {
        text.to_lowercase()
            .chars()
            .filter(|c| !c.is_whitespace() && *c != '.')
            .collect()
    };
    let (rest, unit) = (bare(rest), bare(unit));
    rest.is_empty()
        || rest == unit
        || (unit.starts_with('%')
            && matches!(
                rest.as_str(),
                "%" | "%vol" | "vol%" | "%abv" | "abv" | "vol" | "percent"
            ))
        || (unit.starts_with("year")
            && matches!(rest.as_str(), "y" | "yo" | "year" | "years" | "yearsold"))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn numbers_are_read_as_people_write_them() {
        for (text, readings, rest) in [
            ("46.9", vec![46.9], ""),
            ("46,9", vec![46.9], ""),
            (" 46.9 % vol ", vec![46.9], "% vol"),
            ("−3", vec![-3.0], ""),
            ("+3.", vec![3.0], ""),
            (",5", vec![0.5], ""),
            ("1,234", vec![1.234, 1234.0], ""),
            ("1.234", vec![1.234], ""),
            ("0,789", vec![0.789], ""),
            ("1,234.5", vec![1234.5], ""),
            ("1.234,5", vec![1234.5], ""),
            ("1,234,567", vec![1_234_567.0], ""),
        ] {
            let read = read_number(text).unwrap();
            assert_eq!(
                (read.readings, read.rest.as_str()),
                (readings, rest),
                "{text}"
            );
        }
    }

    #[test]
    fn what_is_no_number_is_refused() {
        for text in [
            "",
            "inf",
            "NaN",
            "-",
            ".",
            "1.2.3",
            "1,23,4",
            "many",
            "9999999999999",
        ] {
            assert_eq!(read_number(text), None, "{text}");
        }
        assert_eq!(read_number("1e3").unwrap().rest, "e3");
    }

    #[test]
    fn a_unit_is_the_one_asked_for() {
        assert!(is_unit("", "% vol") && is_unit("%vol.", "% vol") && is_unit("ABV", "% vol"));
        assert!(!is_unit("proof", "% vol") && !is_unit("%", "ml"));
        assert!(is_unit("years old", "years"));
    }

    proptest! {
        #[test]
        fn any_text_is_finite_numbers_or_refused(text in ".{0,40}") {
            if let Some(read) = read_number(&text) {
                prop_assert!(!read.readings.is_empty());
                prop_assert!(read.readings.iter().all(|number| number.is_finite()));
            }
        }

        #[test]
        fn a_decimal_number_is_read_back(whole in 0_u32..100_000, part in 0_u32..100) {
            let read = read_number(&format!("{whole}.{part:02}")).unwrap();
            prop_assert_eq!(read.readings, vec![format!("{whole}.{part:02}").parse::<f64>().unwrap()]);
        }
    }
}
