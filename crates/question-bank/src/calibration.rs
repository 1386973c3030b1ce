//! What is known of a question's difficulty from answers, beside the author's guess.

use base::Place;
use serde::Serialize;

/// The largest difficulty, either way, that is believed: beyond it hardly anybody's answer says
/// anything about it.
pub const LARGEST_DIFFICULTY: f64 = 6.0;
/// The largest discrimination that is believed.
pub const LARGEST_DISCRIMINATION: f64 = 5.0;

/// The figures of one question.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Calibration {
    /// Where they stand.
    pub place: Place,
    /// Discrimination, difficulty and guessing of the logistic model (Birnbaum 1968, without the
    /// factor 1.7): right with probability c + (1 − c) / (1 + exp(−a (ability − b))).
    pub curve: Option<Curve>,
    /// The share of right answers, and how many answers that is.
    pub share: Option<(f64, u32)>,
    /// Seconds that candidates took, on average.
    pub seconds: Option<u32>,
    /// The day on which it was last on a form, `YYYY-MM-DD`.
    pub last_used: Option<String>,
    /// In how many sittings it stood.
    pub sittings: Option<u32>,
}

/// Parameters of the three-parameter logistic model.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Curve {
    /// a > 0.
    pub discrimination: f64,
    /// b, on the scale of ability.
    pub difficulty: f64,
    /// c, from 0 up to but not 1.
    pub guessing: f64,
}
