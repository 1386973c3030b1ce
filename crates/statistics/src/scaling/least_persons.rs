//! How many candidates each model asks for, and why; below that it refuses.
//!
//! The papers are cited from memory; where none is named the number is common practice.

/// Rasch models with right or wrong answers: difficulties then lie within about one logit of what
/// they are (95 %).
pub(crate) const RASCH: (usize, &str) =
    (30, "Linacre 1994: within one logit; 100 for half a logit");
/// Partial credit with common slopes.
pub(crate) const PARTIAL_CREDIT: (usize, &str) = (
    100,
    "common practice: each threshold rests on part of the answers",
);
/// A slope for each question.
pub(crate) const TWO_PARAMETER: (usize, &str) = (
    200,
    "Drasgow 1989: the smallest simulated with usable slopes",
);
/// Guessing for each question, helped by priors.
pub(crate) const THREE_PARAMETER: (usize, &str) = (
    1_000,
    "Hulin, Lissak & Drasgow 1982; priors help but replace no data",
);
/// Slopes and several categories.
pub(crate) const SEVERAL_CATEGORIES: (usize, &str) =
    (250, "Reise & Yu 1990: 250 at the least, 500 better");
/// S-X² of Orlando and Thissen.
pub(crate) const SUMMED_SCORE_FIT: (usize, &str) =
    (500, "Orlando & Thissen 2003: the smallest simulated");
/// Each group of Andersen's test, and the candidates of a fit statistic.
pub(crate) const GROUP: (usize, &str) = (30, "common practice");
/// Ratings of each marker.
pub(crate) const RATINGS: (usize, &str) = (10, "common practice: a severity from fewer is noise");
