//! Fills a sheet's template with its content and makes the PDF.

use std::collections::{BTreeMap, BTreeSet};

use base::Fault;
use minijinja::value::{Serde, Value, ValueKind};
use serde::Serialize;

use crate::clean_text::clean_text;
use crate::fonts::Fonts;
use crate::look::Look;
use crate::pdf;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::{MissingCharacter, RenderFault};
use crate::samples;
use crate::sheets::Sheet;
use crate::template_set::TemplateSet;

/// Makes every sheet. One renderer serves any number of threads.
pub struct Renderer {
    templates: TemplateSet,
}

impl Renderer {
    /// A renderer with the shipped templates, each replaced by the override of the same file
    /// name. Every sheet with a changed template is printed once with a sample, so that a
    /// template that cannot make a page is found now and not on the day.
    pub fn new(overrides: &BTreeMap<String, String>) -> Result<Self, Vec<Fault>> {
        let renderer = Self {
            templates: TemplateSet::new(overrides)?,
        };
        let common_changed = overrides
            .keys()
            .any(|name| Sheet::ALL.iter().all(|sheet| sheet.template() != name));
        let faults: BTreeSet<Fault> = Sheet::ALL
            .into_iter()
            .filter(|sheet| common_changed || overrides.contains_key(sheet.template()))
            .filter_map(|sheet| samples::render(sheet, &renderer, &Look::default()).err())
            .flat_map(RenderFault::into_faults)
            .collect();
        if faults.is_empty() {
            Ok(renderer)
        } else {
            Err(faults.into_iter().collect())
        }
    }

    /// The templates that it uses, shipped or one's own, by their file names.
    pub fn template_texts(&self) -> impl Iterator<Item = (&str, &str)> {
        self.templates.texts()
    }

    /// Prints one sheet's content. The template sees `content`, `look` and `title`.
    pub(crate) fn render<Content: Serialize>(
        &self,
        sheet: Sheet,
        title: &str,
        content: &Content,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        let content = Value::from(Serde(content));
        let mut missing = BTreeMap::new();
        collect_missing(&content, &mut missing);
        if !missing.is_empty() {
            let missing = missing
                .into_iter()
                .map(|(character, in_text)| MissingCharacter { character, in_text })
                .collect();
            return Err(RenderFault::MissingCharacters {
                sheet: sheet.name(),
                missing,
            });
        }
        let context = minijinja::context! {
            content => content,
            look => Value::from(Serde(&look.for_audience(sheet.audience()))),
            title => title,
        };
        let template = sheet.template();
        let template_faults = |faults| RenderFault::Template {
            sheet: sheet.name(),
            faults,
        };
        let filled = self
            .templates
            .fill(template, context)
            .map_err(|fault| template_faults(vec![*fault]))?;
        pdf::compile(filled.source, stamp).map_err(|faults| {
            template_faults(
                faults
                    .iter()
                    .map(|fault| self.templates.fault_of_page(template, &filled.lines, fault))
                    .collect(),
            )
        })
    }
}

/// Every character without a font, with one text in which it stands.
fn collect_missing(value: &Value, missing: &mut BTreeMap<char, String>) {
    if let Some(text) = value.as_str() {
        for character in clean_text(text).chars() {
            if character != '\n' && !Fonts::embedded().has(character) {
                missing
                    .entry(character)
                    .or_insert_with(|| text.chars().take(60).collect());
            }
        }
    } else if matches!(value.kind(), ValueKind::Seq | ValueKind::Map) {
        let is_map = value.kind() == ValueKind::Map;
        for item in value.try_iter().into_iter().flatten() {
            if is_map {
                if let Ok(held) = value.get_item(&item) {
                    collect_missing(&held, missing);
                }
            } else {
                collect_missing(&item, missing);
            }
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;
    use crate::samples;
    use sheet_layout::Paper;

    #[test]
    fn every_sheet_makes_a_page_on_both_papers_and_the_same_bytes_twice() {
        let renderer = Renderer::new(&BTreeMap::new()).unwrap();
        for sheet in Sheet::ALL {
            for paper in Paper::ALL {
                let look = Look {
                    paper,
                    ..Look::default()
                };
                let first = samples::render(sheet, &renderer, &look)
                    .unwrap_or_else(|fault| panic!("{} on {paper}: {fault}", sheet.name()));
                assert!(first.pdf.starts_with(b"%PDF-1.7"), "{}", sheet.name());
                assert!(first.pages > 0, "{}", sheet.name());
                assert_eq!(
                    first,
                    samples::render(sheet, &renderer, &look).unwrap(),
                    "{}",
                    sheet.name()
                );
            }
        }
    }

    #[test]
    fn a_character_without_a_font_is_named() {
        let renderer = Renderer::new(&BTreeMap::new()).unwrap();
        let mut booklet = samples::theory_booklet();
        booklet.questions[0].stem = "What does 威 mean?".to_owned();
        let fault = renderer
            .theory_booklet(&booklet, &Look::default(), &PdfStamp::new("t"))
            .unwrap_err();
        assert!(
            fault
                .to_string()
                .contains("威 (U+5A01) in \"What does 威 mean?\""),
            "{fault}"
        );
        assert_eq!(fault.into_faults().len(), 1);
    }

    #[test]
    fn a_changed_template_that_names_what_is_not_there_is_found_at_the_start() {
        let text = "#set document(title: {{ title }})\n\nline three #{{ content.key_letter }}\n";
        let overrides = BTreeMap::from([("theory-booklet.typ.jinja".to_owned(), text.to_owned())]);
        let faults = Renderer::new(&overrides).err().unwrap();
        assert_eq!(faults.len(), 1);
        assert_eq!(faults[0].place.as_ref().unwrap().line, 3);
    }

    #[test]
    fn a_sound_template_of_ones_own_is_used() {
        let text = "#set document(title: {{ title }})\n#set text(lang: {{ look.language }})\nOur own: #{{ content.form }}\n";
        let overrides = BTreeMap::from([("theory-booklet.typ.jinja".to_owned(), text.to_owned())]);
        let own = Renderer::new(&overrides).unwrap();
        let shipped = Renderer::new(&BTreeMap::new()).unwrap();
        let print = |renderer: &Renderer| {
            samples::render(Sheet::TheoryBooklet, renderer, &Look::default()).unwrap()
        };
        assert!(print(&own).pdf.len() < print(&shipped).pdf.len());
    }
}
