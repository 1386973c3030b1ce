//! What the page of an analysis says.

use serde::Serialize;

use crate::plot::PlotTable;

/// The page.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AnalysisPage {
    /// Title.
    pub title: String,
    /// Where the answers come from.
    pub source: String,
    /// One part for each table of answers.
    pub parts: Vec<AnalysisPart>,
    /// How many candidates each figure asks for.
    pub smallest: PlotTable,
}

/// One part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AnalysisPart {
    /// Its name on the page: letters, digits and hyphens.
    pub anchor: String,
    /// Heading.
    pub heading: String,
    /// What to do first.
    pub verdict: Vec<String>,
    /// The questions with something to do about, worst first.
    pub worst: Vec<QuestionCard>,
    /// The plots.
    pub plots: Vec<PagePlot>,
    /// The options of the questions without anything to do about.
    pub others: Vec<PagePlot>,
    /// Every question with its figures.
    pub questions: PlotTable,
    /// Every option with its figures.
    pub options: PlotTable,
    /// The scale by a model that was asked for.
    pub by_model: Option<ModelSection>,
    /// Further figures, each with what to make of it.
    pub further: PlotTable,
    /// Candidates whose answers are alike; none where none were compared.
    pub alike: Option<AlikeSection>,
    /// Difficulties over the sittings.
    pub pooled: PlotTable,
    /// What was refused, and what does instead.
    pub refused: Vec<String>,
}

/// Questions and candidates by a model.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ModelSection {
    /// Heading.
    pub heading: String,
    /// What to know.
    pub sentences: Vec<String>,
    /// The questions.
    pub questions: PlotTable,
    /// The candidates.
    pub candidates: PlotTable,
}

/// Answers of candidates beside each other.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AlikeSection {
    /// What to see: the whole, then each pair that stands out.
    pub sentences: Vec<String>,
    /// What it is not.
    pub caution: String,
    /// The least probable pairs.
    pub table: PlotTable,
}

/// A question with something to do about.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct QuestionCard {
    /// Its name.
    pub name: String,
    /// Its stem.
    pub stem: String,
    /// What to do.
    pub sentences: Vec<String>,
    /// Its options by groups of candidates.
    pub plot: Option<PagePlot>,
}

/// A plot, drawn.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PagePlot {
    /// Title.
    pub title: String,
    /// What to see.
    pub sentence: String,
    /// The SVG element, made by [`crate::plot::Plot::svg`] alone.
    pub svg: String,
    /// The table behind it.
    pub table: PlotTable,
}

impl From<&crate::plot::Plot> for PagePlot {
    fn from(plot: &crate::plot::Plot) -> Self {
        Self {
            title: plot.title.clone(),
            sentence: plot.sentence.clone(),
            svg: plot.svg(),
            table: plot.table.clone(),
        }
    }
}
