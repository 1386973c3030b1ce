//! The class list with its summary.

use crate::content::examiner::ClassSummary;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The class list with its summary.
    pub fn class_summary(
        &self,
        content: &ClassSummary,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        let title = format!("{}: class summary", content.exam.title);
        self.render(Sheet::ClassSummary, &title, content, look, stamp)
    }
}
