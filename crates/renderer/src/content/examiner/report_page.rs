//! What a page says that sets figures beside each other: forms, or a forecast.

use serde::Serialize;

use super::PagePlot;
use crate::plot::PlotTable;

/// The page.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReportPage {
    /// Title.
    pub title: String,
    /// What it is about and where it comes from.
    pub source: String,
    /// What matters most, a sentence each.
    pub verdict: Vec<String>,
    /// What follows.
    pub sections: Vec<ReportSection>,
}

/// One section.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct ReportSection {
    /// Heading.
    pub heading: String,
    /// Sentences below it.
    pub sentences: Vec<String>,
    /// Plots.
    pub plots: Vec<PagePlot>,
    /// Tables.
    pub tables: Vec<ReportTable>,
}

/// A table with its caption.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReportTable {
    /// What it shows.
    pub caption: String,
    /// The numbers.
    pub numbers: PlotTable,
}
