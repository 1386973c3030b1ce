//! Where do judges put the mark in a booklet of questions from easy to hard?
//!
//! Sources: Lewis, Mitzel & Green 1996; Mitzel et al. 2001: a question's location is b + ln(RP/(1−RP));
//! a mark on page p means the p-th location (or, as midpoint, the mean of pages p−1 and p); the cut is
//! the median (the mean beside it) of judges' locations, and in marks the expected total there.
//! Invalid: without Rasch difficulties from enough candidates; the cut moves with the response
//! probability that was agreed on. Ties: equal locations are neighbouring pages.

use crate::descriptive::quantile::median;
use crate::refusal::{Refusal, at_least};
use crate::standard_setting::rasch_curve::expected_total;
use crate::sums::{Divisor, mean, variance};

/// The bookmark cut, as an ability unless said otherwise.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct BookmarkCut {
    /// Median of the judges' locations.
    pub median: f64,
    /// Their mean.
    pub mean: f64,
    /// Median of the midpoints.
    pub median_of_midpoints: f64,
    /// Expected total at the median, in marks.
    pub total_at_median: f64,
    /// Standard error of the mean over judges.
    pub standard_error: f64,
    /// Number of judges.
    pub judges: usize,
    /// Number of questions.
    pub items: usize,
}

/// The bookmark cut from pages counted from 1.
///
/// # Errors
/// `Refusal::TooFew` below two judges, `Refusal::OutOfRange` for a page that is not in the booklet
/// or a response probability not between 0 and 1.
pub fn bookmark(
    pages: &[usize],
    difficulties: &[f64],
    response_probability: f64,
) -> Result<BookmarkCut, Refusal> {
    at_least(2, pages.len(), "judges", "a standard error needs two")?;
    at_least(1, difficulties.len(), "questions", "a booklet needs one")?;
    if !(response_probability > 0.0 && response_probability < 1.0) {
        return Err(Refusal::OutOfRange {
            of: "response probability",
            value: response_probability,
            allowed: "between 0 and 1",
        });
    }
    if let Some(column) = difficulties.iter().position(|b| !b.is_finite()) {
        return Err(Refusal::NotANumber { row: 0, column });
    }
    let shift = libm::log(response_probability / (1.0 - response_probability));
    let mut locations: Vec<f64> = difficulties.iter().map(|b| b + shift).collect();
    locations.sort_by(f64::total_cmp);
    let location = |page: usize| -> Result<f64, Refusal> {
        page.checked_sub(1)
            .and_then(|place| locations.get(place))
            .copied()
            .ok_or(Refusal::OutOfRange {
                of: "page",
                value: page as f64,
                allowed: "1 to the number of questions",
            })
    };
    let mut marks = Vec::with_capacity(pages.len());
    let mut midpoints = Vec::with_capacity(pages.len());
    for page in pages {
        let here = location(*page)?;
        // Before the first page there is none to halve with.
        let before = if *page == 1 {
            here
        } else {
            location(page - 1)?
        };
        marks.push(here);
        midpoints.push(f64::midpoint(before, here));
    }
    let middle = median(&marks)?;
    Ok(BookmarkCut {
        median: middle,
        mean: mean(&marks)?,
        median_of_midpoints: median(&midpoints)?,
        total_at_median: expected_total(middle, difficulties),
        standard_error: (variance(&marks, Divisor::CountLessOne)? / pages.len() as f64).sqrt(),
        judges: pages.len(),
        items: difficulties.len(),
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn at_one_half_locations_are_difficulties() {
        let made = bookmark(&[2, 2], &[1.0, -1.0, 0.0], 0.5).unwrap();
        assert_eq!((made.median, made.median_of_midpoints), (0.0, -0.5));
        assert!((made.total_at_median - 1.5).abs() < 1e-15);
        assert!(bookmark(&[0, 2], &[1.0, 0.0], 0.5).is_err());
        assert!(bookmark(&[3, 2], &[1.0, 0.0], 0.5).is_err());
        assert!(bookmark(&[1, 2], &[1.0, 0.0], 1.0).is_err());
    }
}
