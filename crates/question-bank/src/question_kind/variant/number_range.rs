//! A range from which a number is drawn: from, to and step, kept as decimal numbers so that what is
//! printed is what is computed with.

/// The most steps of one range.
const MOST_STEPS: u64 = 100_000;
/// The most decimal places of a drawn number.
const MOST_PLACES: usize = 6;

/// A named range of numbers. All of them are whole multiples of 10^-`places`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NumberRange {
    /// The name of the number.
    pub name: String,
    first: i64,
    step: i64,
    steps: u64,
    places: usize,
}

impl NumberRange {
    /// A range; `from`, `to` and `step` as written.
    ///
    /// # Errors
    /// Why it is none, in words.
    pub(super) fn new(name: &str, from: &str, to: &str, step: &str) -> Result<Self, String> {
        let places = [from, to, step].map(places_of);
        let places = places.into_iter().max().unwrap_or(0);
        if places > MOST_PLACES {
            return Err(format!("a drawn number has at most {MOST_PLACES} decimals"));
        }
        let scaled = |text: &str| {
            scaled(text, places).ok_or_else(|| format!("\"{text}\" is no plain decimal number"))
        };
        let (first, last, step) = (scaled(from)?, scaled(to)?, scaled(step)?);
        if step <= 0 {
            return Err("the step must be more than 0".to_owned());
        }
        if last < first {
            return Err(format!("it ends at {to}, before it begins at {from}"));
        }
        if (last - first) % step != 0 {
            return Err(format!(
                "steps of {step_text} from {from} do not come to {to}",
                step_text = decimal(step, places)
            ));
        }
        let steps = u64::try_from((last - first) / step).unwrap_or(0) + 1;
        if steps > MOST_STEPS {
            return Err(format!("{steps} steps are more than {MOST_STEPS}"));
        }
        Ok(Self {
            name: name.to_owned(),
            first,
            step,
            steps,
            places,
        })
    }
    /// How many numbers it holds.
    #[must_use]
    pub const fn steps(&self) -> u64 {
        self.steps
    }
    /// The number at a place from 0, without idle zeros; the first one beyond the end.
    #[must_use]
    pub fn printed_at(&self, place: u64) -> String {
        let place = i64::try_from(place).unwrap_or(0);
        decimal(
            self.first.saturating_add(place.saturating_mul(self.step)),
            self.places,
        )
    }
}

fn places_of(text: &str) -> usize {
    text.split_once('.')
        .map_or(0, |(_, decimals)| decimals.len())
}

/// A decimal number times 10^places.
fn scaled(text: &str, places: usize) -> Option<i64> {
    let (sign, digits) = match text.strip_prefix('-') {
        Some(digits) => (-1, digits),
        None => (1, text),
    };
    let (whole, decimals) = digits.split_once('.').unwrap_or((digits, ""));
    let plain = |digits: &str| digits.bytes().all(|b| b.is_ascii_digit());
    if whole.is_empty() || !plain(whole) || !plain(decimals) || decimals.len() > places {
        return None;
    }
    let number: i64 = format!("{whole}{decimals:0<places$}").parse().ok()?;
    // 10^9 with six decimals, far below what a computation takes exactly.
    (number <= 1_000_000_000_000_000).then_some(sign * number)
}

/// A number of 10^-places without idle zeros.
fn decimal(number: i64, places: usize) -> String {
    let sign = if number < 0 { "-" } else { "" };
    let digits = number.unsigned_abs().to_string();
    let digits = format!("{digits:0>width$}", width = places + 1);
    let (whole, decimals) = digits
        .split_at_checked(digits.len() - places)
        .unwrap_or((&digits, ""));
    let decimals = decimals.trim_end_matches('0');
    if decimals.is_empty() {
        format!("{sign}{whole}")
    } else {
        format!("{sign}{whole}.{decimals}")
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_printed_as_they_are() {
        let range = NumberRange::new("strength", "58", "60", "0.5").unwrap();
        let all: Vec<String> = (0..range.steps()).map(|p| range.printed_at(p)).collect();
        assert_eq!(all, ["58", "58.5", "59", "59.5", "60"]);
        let cold = NumberRange::new("temperature", "-0.2", "0.1", "0.1").unwrap();
        let all: Vec<String> = (0..cold.steps()).map(|p| cold.printed_at(p)).collect();
        assert_eq!(all, ["-0.2", "-0.1", "0", "0.1"]);
        assert_eq!(NumberRange::new("one", "7", "7", "1").unwrap().steps(), 1);
    }

    #[test]
    fn what_is_no_range_is_refused() {
        for (from, to, step) in [
            ("1", "2", "0"),
            ("2", "1", "1"),
            ("1", "2", "0.3"),
            ("1e3", "2", "1"),
            ("0", "1000000", "1"),
            ("0.1234567", "1", "1"),
            ("99999999999999999999", "1", "1"),
            ("", "1", "1"),
        ] {
            assert!(
                NumberRange::new("n", from, to, step).is_err(),
                "{from} {to} {step}"
            );
        }
    }
}
