//! The pour sheet, for the closed envelope.

use crate::content::examiner::PourSheet;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The pour sheet, for the closed envelope.
    pub fn pour_sheet(
        &self,
        content: &PourSheet,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        if content.samples.is_empty() {
            return Err(RenderFault::Nothing {
                sheet: Sheet::PourSheet.name(),
                what: "there is no sample",
            });
        }
        let title = format!("{}: pour sheet", content.exam.title);
        self.render(Sheet::PourSheet, &title, content, look, stamp)
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
        let mut content = samples::pour_sheet();
        content.samples.clear();
        let fault = renderer
            .pour_sheet(&content, &Look::default(), &PdfStamp::new("t"))
            .unwrap_err();
        assert!(fault.to_string().contains("there is no sample"), "{fault}");
    }
}
