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
        RenderFault::unless_some(Sheet::AnswerSheet, &content.sheets, "there is no candidate")?;
        let title = format!("{}: answer sheets", content.exam.title);
        self.render(Sheet::AnswerSheet, &title, content, look, stamp)
    }
}
