//! How each question was answered.

use crate::content::examiner::QuestionPages;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// How each question was answered.
    pub fn question_pages(
        &self,
        content: &QuestionPages,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        let title = format!("{}: the questions", content.exam.title);
        self.render(Sheet::QuestionPages, &title, content, look, stamp)
    }
}
