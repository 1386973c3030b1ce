//! Fills a page's template with its content: HTML in which what people wrote stays text.

use std::collections::BTreeMap;

use base::{Fault, Place, SourceName};
use minijinja::value::{Serde, Value};
use minijinja::{AutoEscape, Environment, UndefinedBehavior};

use crate::content::examiner::AnalysisPage;

/// The shipped pages: file name and text.
pub(crate) const PAGES: [(&str, &str); 2] = [
    (
        "look.html.jinja",
        include_str!("../../../templates/look.html.jinja"),
    ),
    (
        "analysis.html.jinja",
        include_str!("../../../templates/analysis.html.jinja"),
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
        let name = "analysis.html.jinja";
        let context = minijinja::context! { content => Value::from(Serde(page)) };
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
    fn a_page_of_ones_own_that_is_broken_is_told_with_its_name() {
        let own = BTreeMap::from([("analysis.html.jinja".to_owned(), "{% for %}".to_owned())]);
        let faults = HtmlPages::new(&own).err().unwrap();
        assert_eq!(
            faults[0].place.as_ref().unwrap().source.as_str(),
            "analysis.html.jinja"
        );
    }
}
