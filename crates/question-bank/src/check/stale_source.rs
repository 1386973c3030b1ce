//! Stale: a source was last looked at longer ago than an examiner allows.

use base::Fault;

use crate::bank::Bank;
use crate::question::ReviewState;
use crate::read::is_date;

/// Questions, retired ones left out, whose source was verified more than so many years before a
/// day, in the order of their places. The day is an argument, `YYYY-MM-DD`: no clock is read. A day
/// that the calendar does not have is itself told as a fault.
#[must_use]
pub fn check_sources(bank: &Bank, today: &str, years: u32) -> Vec<Fault> {
    let Some(limit) = years_before(today, years) else {
        return vec![
            Fault::new(
                "bad-date",
                None,
                format!("\"{}\" is no date", base::walk::shortened(today)),
            )
            .allowed("a day of the calendar as YYYY-MM-DD, such as 2026-11-25"),
        ];
    };
    let mut found: Vec<Fault> = bank
        .questions
        .values()
        .filter(|question| question.state != ReviewState::Retired)
        // Dates as YYYY-MM-DD stand in the order of their letters.
        .filter(|question| question.verified.as_str() < limit.as_str())
        .map(|question| {
            Fault::weakness(
                "stale-source",
                question.place.clone(),
                format!(
                    "the source of \"{}\" ({}) was last looked at on {}",
                    question.id, question.source, question.verified
                ),
            )
            .allowed(format!("{limit} or later"))
            .hint("look it up again, mend the question if the source has changed, and set the day")
        })
        .collect();
    found.sort();
    found
}

/// The same day so many years before; 29 February stays so where the year has none, as the limit
/// of a comparison.
fn years_before(day: &str, years: u32) -> Option<String> {
    if !is_date(day) {
        return None;
    }
    let (year, rest) = day.split_at_checked(4)?;
    let year = year.parse::<u32>().ok()?.saturating_sub(years);
    Some(format!("{year:04}{rest}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn years_are_counted_back() {
        let before = |day, years| years_before(day, years);
        assert_eq!(before("2026-11-25", 3).as_deref(), Some("2023-11-25"));
        assert_eq!(before("2024-02-29", 1).as_deref(), Some("2023-02-29"));
        assert_eq!(before("2024-02-29", 9999).as_deref(), Some("0000-02-29"));
        assert_eq!(before("2026-02-30", 3), None);
        assert_eq!(before("é", 3), None);
    }
}
