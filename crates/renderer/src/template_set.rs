//! The templates: those compiled in, and a user's own in their place, file by file.

use std::collections::BTreeMap;

use base::{Fault, Place, SourceName};
use minijinja::value::Value;
use minijinja::{Environment, Error, UndefinedBehavior};

use crate::html_pages::PAGES;
use crate::pdf::PageFault;
use crate::typst_literal::write_value;

/// One line per file of the templates folder.
macro_rules! shipped {
    ($($name:literal),* $(,)?) => {
        [$(($name, include_str!(concat!("../../../templates/", $name)))),*]
    };
}

/// The shipped templates: file name and text.
const SHIPPED: [(&str, &str); 24] = shipped![
    "look.typ.jinja",
    "theory-booklet.typ.jinja",
    "candidate-cover.typ.jinja",
    "answer-sheet.typ.jinja",
    "labels.typ.jinja",
    "pour-sheet.typ.jinja",
    "room-sheet.typ.jinja",
    "packing-list.typ.jinja",
    "seal-strip.typ.jinja",
    "kit-check.typ.jinja",
    "marker-guide.typ.jinja",
    "key.typ.jinja",
    "candidate-report.typ.jinja",
    "appeal-file.typ.jinja",
    "certificate.typ.jinja",
    "class-summary.typ.jinja",
    "sample-pages.typ.jinja",
    "question-pages.typ.jinja",
    "reference-list.typ.jinja",
    "print-list.typ.jinja",
    "rehearsal-forecast.typ.jinja",
    "judge-sheet.typ.jinja",
    "class-sheet.typ.jinja",
    "learner-page.typ.jinja",
];

/// Steps that one page's template may take: enough for thousands of pages, an end for a loop
/// without one.
const FUEL: u64 = 50_000_000;

/// The templates that come with the program: file name and text, for whoever wants to copy one.
#[must_use]
pub const fn shipped_templates() -> &'static [(&'static str, &'static str)] {
    &SHIPPED
}

/// Templates ready for use.
pub struct TemplateSet {
    environment: Environment<'static>,
    texts: BTreeMap<String, String>,
}

impl TemplateSet {
    /// The shipped templates, each replaced by the override of the same file name where there is
    /// one. Every unknown name and every text that is not a template is a fault.
    pub fn new(overrides: &BTreeMap<String, String>) -> Result<Self, Vec<Fault>> {
        let mut faults = Vec::new();
        for name in overrides.keys() {
            if !SHIPPED.iter().chain(&PAGES).any(|(known, _)| known == name) {
                faults.push(
                    Fault::new(
                        "unknown-template",
                        Place::whole(&SourceName::new(name)),
                        format!("no sheet uses a template named \"{name}\""),
                    )
                    .allowed(SHIPPED.map(|(known, _)| known).join(", "))
                    .near(name, SHIPPED.map(|(known, _)| known)),
                );
            }
        }
        let mut environment = Environment::new();
        environment.set_undefined_behavior(UndefinedBehavior::Strict);
        environment.set_formatter(write_value);
        environment.set_fuel(Some(FUEL));
        let mut texts = BTreeMap::new();
        for (name, shipped) in SHIPPED {
            let text = overrides.get(name).map_or(shipped, String::as_str);
            texts.insert(name.to_owned(), text.to_owned());
            if let Err(error) = environment.add_template_owned(name, text.to_owned()) {
                faults.push(template_fault(name, text, &error));
            }
        }
        if faults.is_empty() {
            Ok(Self { environment, texts })
        } else {
            Err(faults)
        }
    }

    /// The texts by their names.
    pub(crate) fn texts(&self) -> impl Iterator<Item = (&str, &str)> {
        let all = self.texts.iter();
        all.map(|(name, text)| (name.as_str(), text.as_str()))
    }

    /// Fills a template; the page's typst source, with the way back to the template's lines.
    pub(crate) fn fill(&self, name: &str, context: Value) -> Result<FilledTemplate, Box<Fault>> {
        let text = || self.text(name);
        let template = self
            .environment
            .get_template(name)
            .map_err(|error| Box::new(template_fault(name, text(), &error)))?;
        let (source, spans) = template.render_with_spans(context).map_err(|error| {
            let place = error.name().unwrap_or(name).to_owned();
            Box::new(template_fault(&place, self.text(&place), &error))
        })?;
        let lines = spans
            .iter()
            .map(|span| OriginOfOutput {
                start: span.output_range().start,
                template: span.name().to_owned(),
                line: span.line(),
            })
            .collect();
        Ok(FilledTemplate { source, lines })
    }

    /// Puts a fault of the page at the template's line that made it.
    pub(crate) fn fault_of_page(
        &self,
        name: &str,
        lines: &[OriginOfOutput],
        fault: &PageFault,
    ) -> Fault {
        let origin = fault
            .byte
            .and_then(|byte| lines.iter().rev().find(|origin| origin.start <= byte));
        let place = match origin {
            Some(origin) => line_place(&origin.template, self.text(&origin.template), origin.line),
            None => Place::whole(&SourceName::new(name)),
        };
        let told = Fault::new("page-does-not-compile", place, fault.message.clone());
        if fault.hints.is_empty() {
            told.hint("compare with the shipped template of the same name")
        } else {
            told.hint(fault.hints.join("; "))
        }
    }

    fn text(&self, name: &str) -> &str {
        self.texts.get(name).map_or("", String::as_str)
    }
}

/// A page's source.
pub(crate) struct FilledTemplate {
    /// Typst source.
    pub(crate) source: String,
    /// Which template line made which stretch of it, in the order of the source.
    pub(crate) lines: Vec<OriginOfOutput>,
}

/// Where a stretch of a page's source comes from.
pub(crate) struct OriginOfOutput {
    start: usize,
    template: String,
    line: usize,
}

fn template_fault(name: &str, text: &str, error: &Error) -> Fault {
    let detail = error.detail().map_or_else(
        || error.kind().to_string(),
        |detail| format!("{}: {detail}", error.kind()),
    );
    let place = match (error.range(), error.line()) {
        (Some(range), _) => Place::in_text(&SourceName::new(name), text, range),
        (None, Some(line)) => line_place(name, text, line),
        (None, None) => Place::whole(&SourceName::new(name)),
    };
    Fault::new("broken-template", place, detail)
        .allowed("names of the sheet's content, as in the shipped template")
        .hint("compare with the shipped template of the same name; a name that is not there is never printed as nothing")
}

/// The whole of a line, counted from 1.
fn line_place(name: &str, text: &str, line: usize) -> Place {
    let skipped = line.saturating_sub(1);
    let start: usize = text.split_inclusive('\n').take(skipped).map(str::len).sum();
    let length = text
        .get(start..)
        .and_then(|rest| rest.lines().next())
        .map_or(0, str::len);
    Place::in_text(&SourceName::new(name), text, start..start + length)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;

    fn overriding(name: &str, text: &str) -> BTreeMap<String, String> {
        BTreeMap::from([(name.to_owned(), text.to_owned())])
    }

    #[test]
    fn an_unknown_name_and_a_broken_text_are_told_at_once_with_place_and_hint() {
        let mut overrides = overriding("theory-bocklet.typ.jinja", "");
        overrides.insert(
            "key.typ.jinja".to_owned(),
            "first\n{% for x in %}\n".to_owned(),
        );
        let faults = TemplateSet::new(&overrides).err().unwrap();
        assert_eq!(faults.len(), 2, "{faults:?}");
        assert!(
            faults[0]
                .hint
                .as_deref()
                .unwrap()
                .contains("theory-booklet.typ.jinja")
        );
        let place = faults[1].place.as_ref().unwrap();
        assert_eq!((place.source.as_str(), place.line), ("key.typ.jinja", 2));
    }

    #[test]
    fn a_name_that_is_not_in_the_content_is_a_fault_with_its_line() {
        let set =
            TemplateSet::new(&overriding("key.typ.jinja", "a\nb\n#{{ content.absent }}")).unwrap();
        let context = minijinja::context! { content => minijinja::context! { there => 1 } };
        let fault = set.fill("key.typ.jinja", context).err().unwrap();
        assert_eq!(fault.place.unwrap().line, 3);
    }

    #[test]
    fn a_fault_of_the_page_points_at_the_template_line() {
        let set = TemplateSet::new(&overriding(
            "key.typ.jinja",
            "#let a = 1\n\n#unknown-function()\n#{{ content }}",
        ))
        .unwrap();
        let filled = set
            .fill("key.typ.jinja", minijinja::context! { content => "x" })
            .unwrap();
        let faults = crate::pdf::compile(filled.source, &crate::PdfStamp::new("t")).unwrap_err();
        let fault = set.fault_of_page("key.typ.jinja", &filled.lines, &faults[0]);
        assert!(fault.what.contains("unknown-function"), "{fault}");
        assert_eq!(fault.place.unwrap().source.as_str(), "key.typ.jinja");
    }
}
