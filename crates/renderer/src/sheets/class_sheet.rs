//! The sheets of a guided flight, one for each learner.

use crate::content::candidate::ClassSheets;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The sheets of a guided flight, one for each learner.
    pub fn class_sheets(
        &self,
        content: &ClassSheets,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        let sheet = Sheet::ClassSheet;
        RenderFault::unless_some(sheet, &content.samples, "there is no sample")?;
        RenderFault::unless_some(sheet, &content.learners, "there is no learner")?;
        let title = format!("{}: class sheet", content.exam.title);
        self.render(sheet, &title, content, look, stamp)
    }
}
