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
        RenderFault::unless_some(Sheet::PourSheet, &content.samples, "there is no sample")?;
        let title = format!("{}: pour sheet", content.exam.title);
        self.render(Sheet::PourSheet, &title, content, look, stamp)
    }
}
