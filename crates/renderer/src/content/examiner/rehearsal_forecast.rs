//! What a rehearsal says about the exam to come.

use serde::Serialize;

use crate::content::{Distribution, ExamHead, Figure};

/// The forecast.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct RehearsalForecast {
    /// The exam.
    pub exam: ExamHead,
    /// What the examiner should know, one sentence each, the most important first.
    pub verdicts: Vec<String>,
    /// Figures with interval and n.
    pub figures: Vec<Figure>,
    /// The simulated distribution of totals; none where nothing was simulated.
    pub distribution: Option<Distribution>,
    /// What the simulation takes for granted, one sentence each.
    pub assumptions: Vec<String>,
    /// What to buy and pour, one sentence each.
    pub shopping: Vec<String>,
}
