//! The answer sheets of a class.

use crate::content::candidate::AnswerSheets;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The answer sheets of a class.
    pub fn answer_sheets(
        &self,
        content: &AnswerSheets,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        if content.sheets.is_empty() {
            return Err(RenderFault::Nothing {
                sheet: Sheet::AnswerSheet.name(),
                what: "there is no candidate",
            });
        }
        let title = format!("{}: answer sheets", content.exam.title);
        self.render(Sheet::AnswerSheet, &title, content, look, stamp)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;
    use crate::samples;

    #[test]
    fn an_empty_one_is_refused_by_name() {
        let renderer = Renderer::new(&BTreeMap::new()).unwrap();
        let mut content = samples::answer_sheets(sheet_layout::Paper::A4);
        content.sheets.clear();
        let fault = renderer
            .answer_sheets(&content, &Look::default(), &PdfStamp::new("t"))
            .unwrap_err();
        assert!(
            fault.to_string().contains("there is no candidate"),
            "{fault}"
        );
    }
}
