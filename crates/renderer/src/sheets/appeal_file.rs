//! The appeal file of one candidate.

use crate::content::released::AppealFile;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The appeal file of one candidate.
    pub fn appeal_file(
        &self,
        content: &AppealFile,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        let title = format!(
            "{}: appeal file for candidate {}",
            content.exam.title, content.candidate_number
        );
        self.render(Sheet::AppealFile, &title, content, look, stamp)
    }
}
