//! Fills a page's template with its content: HTML in which what people wrote stays text.

use std::collections::BTreeMap;

use base::{Fault, Place, SourceName};
use minijinja::value::{Serde, Value};
use minijinja::{AutoEscape, Environment, UndefinedBehavior};

use crate::content::examiner::{AnalysisPage, ClassPage, ReportPage};
use crate::content::released::CandidateReport;
use crate::look::Language;

/// The shipped pages: file name and text.
pub(crate) const PAGES: [(&str, &str); 5] = [
    (
        "look.html.jinja",
        include_str!("../../../templates/look.html.jinja"),
    ),
    (
        "analysis.html.jinja",
        include_str!("../../../templates/analysis.html.jinja"),
    ),
    (
        "class.html.jinja",
        include_str!("../../../templates/class.html.jinja"),
    ),
    (
        "candidate-report.html.jinja",
        include_str!("../../../templates/candidate-report.html.jinja"),
    ),
    (
        "report.html.jinja",
        include_str!("../../../templates/report.html.jinja"),
    ),
];

/// Steps that one page's template may take; see the templates of sheets.
const FUEL: u64 = 50_000_000;

/// Pages ready for use.
pub struct HtmlPages {
    environment: Environment<'static>,
}

impl HtmlPages {
    /// The shipped pages, each replaced by the override of the same file name where there is one;
    /// other overrides belong to sheets and are left to them.
    ///
    /// # Errors
    /// Every text that is no template, with its place.
    pub fn new(overrides: &BTreeMap<String, String>) -> Result<Self, Vec<Fault>> {
        let mut environment = Environment::new();
        environment.set_undefined_behavior(UndefinedBehavior::Strict);
        environment.set_auto_escape_callback(|_| AutoEscape::Html);
        environment.set_fuel(Some(FUEL));
        let mut faults = Vec::new();
        for (name, shipped) in PAGES {
            let text = overrides.get(name).map_or(shipped, String::as_str);
            if let Err(error) = environment.add_template_owned(name, text.to_owned()) {
                faults.push(fault(name, &error));
            }
        }
        if faults.is_empty() {
            Ok(Self { environment })
        } else {
            Err(faults)
        }
    }

    /// The page of an analysis.
    ///
    /// # Errors
    /// When a template of one's own names what is not there.
    pub fn analysis(&self, page: &AnalysisPage) -> Result<String, Box<Fault>> {
        let context = minijinja::context! { content => Value::from(Serde(page)) };
        self.page("analysis.html.jinja", context)
    }

    /// A page that sets figures beside each other.
    ///
    /// # Errors
    /// When a template of one's own names what is not there.
    pub fn report(&self, page: &ReportPage) -> Result<String, Box<Fault>> {
        let context = minijinja::context! { content => Value::from(Serde(page)) };
        self.page("report.html.jinja", context)
    }

    /// The page of a class beside the panel.
    ///
    /// # Errors
    /// When a template of one's own names what is not there.
    pub fn class(&self, page: &ClassPage) -> Result<String, Box<Fault>> {
        let context = minijinja::context! { content => Value::from(Serde(page)) };
        self.page("class.html.jinja", context)
    }

    /// One candidate's report as a page to read on a screen or aloud: the same content as the sheet.
    ///
    /// # Errors
    /// When a template of one's own names what is not there.
    pub fn candidate_report(
        &self,
        report: &CandidateReport,
        language: &Language,
    ) -> Result<String, Box<Fault>> {
        let context = minijinja::context! {
            content => Value::from(Serde(report)),
            language => language.code(),
        };
        self.page("candidate-report.html.jinja", context)
    }

    fn page(&self, name: &str, context: Value) -> Result<String, Box<Fault>> {
        self.environment
            .get_template(name)
            .and_then(|template| template.render(context))
            .map_err(|error| Box::new(fault(name, &error)))
    }
}

fn fault(name: &str, error: &minijinja::Error) -> Fault {
    let place = Place::whole(&SourceName::new(error.name().unwrap_or(name)));
    let line = error
        .line()
        .map_or_else(String::new, |line| format!(" (line {line})"));
    let detail = error.detail().map_or_else(
        || error.kind().to_string(),
        |d| format!("{}: {d}", error.kind()),
    );
    Fault::new("broken-template", place, format!("{detail}{line}"))
        .hint("compare with the shipped template of the same name")
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;
    use crate::content::examiner::{AnalysisPart, QuestionCard};
    use crate::plot::PlotTable;

    fn page(words: &str) -> AnalysisPage {
        AnalysisPage {
            title: words.to_owned(),
            source: words.to_owned(),
            parts: vec![AnalysisPart {
                anchor: "theory".to_owned(),
                heading: words.to_owned(),
                verdict: vec![words.to_owned()],
                worst: vec![QuestionCard {
                    name: words.to_owned(),
                    stem: words.to_owned(),
                    sentences: vec![words.to_owned()],
                    plot: None,
                }],
                plots: Vec::new(),
                others: Vec::new(),
                questions: PlotTable {
                    head: vec![words.to_owned()],
                    rows: vec![vec![words.to_owned()]],
                },
                options: PlotTable::default(),
                by_model: None,
                further: PlotTable::default(),
                alike: None,
                pooled: PlotTable::default(),
                refused: vec![words.to_owned()],
            }],
            smallest: PlotTable::default(),
        }
    }

    #[test]
    fn what_people_wrote_stays_text() {
        let pages = HtmlPages::new(&BTreeMap::new()).unwrap();
        let made = pages
            .analysis(&page("<script>alert(1)</script>\" onload=\"x {{ 7*7 }}"))
            .unwrap();
        assert!(!made.contains("<script") && !made.contains("onload=\"x"));
        assert!(made.contains("{{ 7*7 }}"));
        assert!(made.starts_with("<!doctype html>"));
    }

    #[test]
    fn a_report_is_one_page_without_a_script_that_names_its_language_and_keeps_words_text() {
        let pages = HtmlPages::new(&BTreeMap::new()).unwrap();
        let mut report = crate::samples::candidate_report();
        report.name = "<script>alert(1)</script>".to_owned();
        report.glasses[0].words[0].yours = "\" onload=\"x".to_owned();
        let made = pages
            .candidate_report(&report, &Language::english())
            .unwrap();
        assert!(made.starts_with("<!doctype html>\n<html lang=\"en\">"));
        assert!(!made.contains("<script") && !made.contains("onload=\"x"));
        for line in report.theory.iter().chain(&report.glasses[0].lines) {
            assert!(made.contains(&line.marks), "{line:?}");
        }
        assert!(made.contains("If you do not agree"));
        // Everything it needs is in it: nothing is loaded.
        assert!(!made.contains("src=") && !made.contains("http://") && !made.contains("https://"));
    }

    #[test]
    fn what_stands_in_a_report_stays_text() {
        let words = "<script>alert(1)</script>\" onload=\"x {{ 7*7 }}";
        let table = PlotTable {
            head: vec![words.to_owned()],
            rows: vec![vec![words.to_owned()]],
        };
        let made = HtmlPages::new(&BTreeMap::new())
            .unwrap()
            .report(&ReportPage {
                title: words.to_owned(),
                source: words.to_owned(),
                verdict: vec![words.to_owned()],
                sections: vec![crate::content::examiner::ReportSection {
                    heading: words.to_owned(),
                    sentences: vec![words.to_owned()],
                    plots: Vec::new(),
                    tables: vec![crate::content::examiner::ReportTable {
                        caption: words.to_owned(),
                        numbers: table,
                    }],
                }],
            })
            .unwrap();
        assert!(!made.contains("<script") && !made.contains("onload=\"x"));
        assert_eq!(made.matches("{{ 7*7 }}").count(), 9);
        assert!(made.starts_with("<!doctype html>"));
    }

    #[test]
    fn a_page_of_ones_own_that_is_broken_is_told_with_its_name() {
        let own = BTreeMap::from([("analysis.html.jinja".to_owned(), "{% for %}".to_owned())]);
        let faults = HtmlPages::new(&own).err().unwrap();
        assert_eq!(
            faults[0].place.as_ref().unwrap().source.as_str(),
            "analysis.html.jinja"
        );
    }
}
