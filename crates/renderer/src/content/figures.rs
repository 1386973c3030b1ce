//! Figures, bars and times that several sheets show alike.

use serde::Serialize;

/// One figure with what it rests on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Figure {
    /// What the figure is: "Reliability (coefficient alpha)".
    pub what: String,
    /// The figure as printed, or the reason why it is not given.
    pub value: String,
    /// The interval as printed with its level; empty where there is none.
    pub interval: String,
    /// The number it rests on, as printed; empty where there is none.
    pub n: String,
    /// A few words for the reader; empty for none.
    pub note: String,
}

/// One bar of a simple drawing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Bar {
    /// What stands below the bar.
    pub label: String,
    /// How many.
    pub count: u64,
    /// Whether the bar lies at or above the cut: it is drawn filled, else hatched light.
    pub at_or_above_cut: bool,
}

/// A distribution of scores: a sentence, a drawing, and the counts in the drawing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Distribution {
    /// What the drawing shows, in one sentence; it is also its text alternative.
    pub sentence: String,
    /// What the labels below the bars are: "marks of 100".
    pub axis: String,
    /// The bars from left to right.
    pub bars: Vec<Bar>,
}

/// What happens at a time.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TimedStep {
    /// The time as printed: "−45 min" or "18:15".
    pub time: String,
    /// What is done.
    pub what: String,
}
