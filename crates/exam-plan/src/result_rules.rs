//! What a plan says of results beyond passing: grades, who is looked at again, parts brought along
//! from an earlier sitting, and the cut of those who nose only.
//!
//! Choices of this project, where no source speaks:
//! - a grade is given to whoever passed and whose whole share reaches the grade's lowest; it stands
//!   on the shown percentage of the total, which counts extra credit only where that may turn a
//!   fail into a pass;
//! - who brings a part along passes plainly: a grade speaks of one sitting;
//! - a passed part lasts so many calendar months from its day on, that day of the month included;
//! - the cut for nosing takes the place of the tasting cut, or of the total's in a compensatory rule.

use std::str::FromStr;

use crate::part::Part;

/// What a plan says of results beyond passing.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ResultRules {
    /// Grades above a plain pass, the highest first.
    pub grades: Vec<GradeBand>,
    /// So many thousandths of a standard error of measurement on either side of a cut are looked at
    /// before release; none where nobody is.
    pub review: Option<u32>,
    /// How long a passed part lasts.
    pub resit: ResitRule,
    /// The cut of those who nose only, in thousandths; none where nobody may.
    pub nosing: Option<u32>,
}

/// A grade above a plain pass.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GradeBand {
    /// Its name, as it stands on results.
    pub name: String,
    /// The lowest share of the total in thousandths.
    pub from: u32,
}

/// For how many months a part that was passed may be brought along; none where it may not.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct ResitRule {
    /// The theory part.
    pub theory: Option<u32>,
    /// The tasting part.
    pub tasting: Option<u32>,
}

impl ResitRule {
    /// The months of one part.
    #[must_use]
    pub const fn months(self, part: Part) -> Option<u32> {
        match part {
            Part::Theory => self.theory,
            Part::Tasting => self.tasting,
        }
    }
}

impl ResultRules {
    /// The grade of a passed exam with this share of the total in thousandths; none for a plain pass.
    #[must_use]
    pub fn grade(&self, per_mille: u32) -> Option<&GradeBand> {
        self.grades.iter().find(|grade| per_mille >= grade.from)
    }
}

/// The last day on which a part passed on this day (`YYYY-MM-DD`) may be brought along; none for
/// what is no day.
#[must_use]
pub fn lasts_until(passed_on: &str, months: u32) -> Option<String> {
    let day = jiff::civil::Date::from_str(passed_on).ok()?;
    let months = jiff::Span::new().try_months(i64::from(months)).ok()?;
    day.checked_add(months).ok().map(|day| day.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_band_that_is_reached_is_the_grade() {
        let band = |name: &str, from| GradeBand {
            name: name.to_owned(),
            from,
        };
        let rules = ResultRules {
            grades: vec![band("with distinction", 850), band("with merit", 750)],
            ..ResultRules::default()
        };
        let name = |per_mille| rules.grade(per_mille).map(|grade| grade.name.as_str());
        assert_eq!(name(1000), Some("with distinction"));
        assert_eq!(name(850), Some("with distinction"));
        assert_eq!(name(849), Some("with merit"));
        assert_eq!(name(749), None);
    }

    #[test]
    fn months_end_within_the_month() {
        assert_eq!(lasts_until("2026-06-12", 12).as_deref(), Some("2027-06-12"));
        assert_eq!(lasts_until("2026-08-31", 6).as_deref(), Some("2027-02-28"));
        assert_eq!(lasts_until("no day", 6), None);
    }
}
