//! Labels for glasses and bottles: the code and nothing else but what is needed.

use serde::Serialize;
use sheet_layout::LabelGrid;

/// Labels on a label sheet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LabelSheet {
    /// What the labels are for, in the file's title only: "Glass labels".
    pub title: String,
    /// The label sheet.
    pub grid: LabelGrid,
    /// How many labels of the first sheet are gone already.
    pub first_place: u16,
    /// Whether the outline of each label is drawn: a sheet to test the printer with.
    pub frames: bool,
    /// The labels in the order in which they are peeled.
    pub labels: Vec<Label>,
}

/// One label.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Label {
    /// The code.
    pub code: String,
    /// A small line below, "30 ml" on a kit bottle; empty on a glass.
    pub small_line: String,
}
