//! What the page of a class beside the panel says.

use serde::Serialize;

use super::PagePlot;
use crate::plot::PlotTable;

/// The page.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ClassPage {
    /// Title.
    pub title: String,
    /// Day, number of learners, bank.
    pub source: String,
    /// What to do first.
    pub verdict: Vec<String>,
    /// One part for each sample.
    pub samples: Vec<ClassPagePart>,
    /// Ratings over all samples.
    pub ratings: Vec<PagePlot>,
    /// Words that the lexicon does not know.
    pub unknown: PlotTable,
    /// To be read before anything is tasted again.
    pub cautions: Vec<String>,
}

/// One sample.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ClassPagePart {
    /// Its name on the page: letters, digits and hyphens.
    pub anchor: String,
    /// Heading.
    pub heading: String,
    /// What it was.
    pub what: String,
    /// The picture.
    pub plot: PagePlot,
    /// The ratings as a table.
    pub ratings: PlotTable,
}
