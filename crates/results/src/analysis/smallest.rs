//! How many candidates each figure asks for, where that number comes from, and what does instead.
//!
//! The one list: the analysis refuses by it, the help shows it, and a test walks it.

use serde::Serialize;

/// What needs a number of candidates.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Need {
    /// Reliability of a form.
    Reliability,
    /// Omega of one factor.
    Omega,
    /// Correlation of a question with the rest.
    Discrimination,
    /// Options by groups of candidates.
    OptionGroups,
    /// A remark that nobody chose an option.
    IdleOption,
    /// Certainty of decisions at the cut.
    Decisions,
    /// Shrunken difficulties.
    Shrinkage,
    /// Difficulties on one scale (Rasch).
    Rasch,
    /// Severity of markers.
    Markers,
    /// Discrimination on the scale (two parameters).
    TwoParameter,
    /// Equal treatment of two groups.
    Fairness,
    /// Answers more alike than ability explains.
    Alikeness,
    /// Questions that give each other away.
    LocalDependence,
    /// Fit of each question's curve at each total.
    CurveFit,
    /// Guessing on the scale (three parameters).
    ThreeParameter,
    /// Equating by a constant or an arc.
    MeanEquating,
    /// Equating by a line.
    LinearEquating,
    /// Equating by the whole distribution.
    Equipercentile,
}

/// One row of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct SmallestNumber {
    /// What.
    pub need: Need,
    /// In words.
    pub what: &'static str,
    /// Candidates (of the smaller form, of the smaller group where there are two).
    pub least: usize,
    /// Where the number comes from.
    pub source: &'static str,
    /// What would do below it.
    pub instead: &'static str,
}

/// One row each, rising.
pub const NEEDS: [SmallestNumber; 18] = [
    row(
        Need::Reliability,
        "reliability of a form (alpha)",
        5,
        "common practice: below five the interval spans most of the scale",
        "pool sittings by form",
    ),
    row(
        Need::Discrimination,
        "correlation of a question with the rest",
        10,
        "common practice: at 9 the interval spans 1.2 of the 2 that are possible",
        "read the options one by one; pool sittings by form",
    ),
    row(
        Need::Shrinkage,
        "difficulties drawn towards each other",
        10,
        "common practice: a spread of questions needs answers enough to show above chance",
        "the raw share with its interval",
    ),
    row(
        Need::OptionGroups,
        "options by weak, middle and strong candidates",
        15,
        "common practice: five in each third",
        "how often each option was chosen",
    ),
    row(
        Need::IdleOption,
        "a remark that an option is idle",
        20,
        "an option chosen by 1 in 7 is missed by all of 20 in 1 of 20 sittings",
        "pool sittings by form",
    ),
    row(
        Need::Omega,
        "omega of one factor",
        26,
        "more candidates than questions, and 25 leave most fits at an edge (common practice)",
        "alpha and lambda 2",
    ),
    row(
        Need::MeanEquating,
        "equating by a constant or an arc",
        26,
        "Skaggs 2005: at 25 or fewer identity does no worse",
        "a mark counts as the same mark on both forms",
    ),
    row(
        Need::Decisions,
        "consistency of decisions at the cut (Livingston and Lewis)",
        30,
        "common practice: four moments of fewer scores are noise",
        "the candidates within one error of measurement of the cut, by number",
    ),
    row(
        Need::Rasch,
        "difficulties and candidates on one scale (Rasch)",
        30,
        "Linacre 1994: within one logit; 100 for half a logit",
        "shares of right answers with their intervals",
    ),
    row(
        Need::Markers,
        "severity of markers on one scale",
        30,
        "common practice, and ten marks of each marker",
        "the mean mark of each marker beside the others'",
    ),
    row(
        Need::LinearEquating,
        "equating by a line",
        100,
        "common practice; about 400 a form carry the ends (Kolen & Brennan 2004, ch. 8)",
        "the arc, or a constant",
    ),
    row(
        Need::Fairness,
        "comparison of two groups of equal ability, question by question",
        100,
        "50 in each group; 200 are wanted (common practice, no source)",
        "a reader from each group goes through the questions",
    ),
    row(
        Need::Alikeness,
        "comparison of answers, candidate by candidate",
        100,
        "simulated: from 100 on, of 100 sittings where all worked alone at most 1 names a pair",
        "the scripts of those who sat side by side, read by a person",
    ),
    row(
        Need::LocalDependence,
        "look at pairs of questions that go together (Q3)",
        200,
        "Christensen, Makransky & Horton 2017 simulated from 200 on",
        "a reader looks for questions that give each other away",
    ),
    row(
        Need::TwoParameter,
        "a slope for each question (two parameters)",
        200,
        "Drasgow 1989: the smallest simulated with usable slopes",
        "Rasch, and the correlation with the rest",
    ),
    row(
        Need::CurveFit,
        "fit of each question at each total (S-X²)",
        500,
        "Orlando & Thissen 2003, from memory",
        "infit and outfit",
    ),
    row(
        Need::ThreeParameter,
        "guessing for each question (three parameters)",
        1000,
        "Hulin, Lissak & Drasgow 1982",
        "Rasch, and a look at questions near the share of a guesser",
    ),
    row(
        Need::Equipercentile,
        "equating by the whole distribution",
        1500,
        "about 1,500 a form (Kolen & Brennan 2004, ch. 8)",
        "a line, the arc, or a constant",
    ),
];

const fn row(
    need: Need,
    what: &'static str,
    least: usize,
    source: &'static str,
    instead: &'static str,
) -> SmallestNumber {
    SmallestNumber {
        need,
        what,
        least,
        source,
        instead,
    }
}

impl Need {
    /// The row of the list. A test holds that each need has one.
    pub(crate) fn row(self) -> &'static SmallestNumber {
        NEEDS
            .iter()
            .find(|row| row.need == self)
            .unwrap_or(&NEEDS[0])
    }

    /// Why `n` do not carry it, with the smallest number that would and what does instead.
    pub(super) fn refused(self, n: usize) -> Option<String> {
        let row = self.row();
        (n < row.least).then(|| {
            format!(
                "No {}: {n} {}, at least {} are needed ({}). Instead: {}.",
                row.what,
                if n == 1 { "candidate" } else { "candidates" },
                row.least,
                row.source,
                row.instead
            )
        })
    }
}

/// The models that nobody asked for and that this number would not carry, in one sentence.
pub(super) fn beyond(n: usize) -> Option<String> {
    let beyond: Vec<String> = [Need::TwoParameter, Need::Fairness, Need::ThreeParameter]
        .into_iter()
        .map(Need::row)
        .filter(|row| n < row.least)
        .map(|row| format!("{} (from {})", row.what, row.least))
        .collect();
    (!beyond.is_empty()).then(|| {
        format!(
            "{} not carry {}. Sittings can be pooled by form.",
            if n == 1 {
                "1 candidate does".to_owned()
            } else {
                format!("{n} candidates do")
            },
            beyond.join(", ")
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_need_has_its_row_and_the_list_rises() {
        for row in &NEEDS {
            assert_eq!(row.need.row(), row);
            assert!(row.need.refused(row.least).is_none());
            let words = row.need.refused(row.least - 1).unwrap_or_default();
            assert!(words.contains(&row.least.to_string()) && words.contains(row.instead));
        }
        assert!(NEEDS.windows(2).all(|pair| pair[0].least <= pair[1].least));
    }
}
