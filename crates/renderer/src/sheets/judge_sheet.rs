//! The sheet of a judge who helps to set a cut.

use crate::content::examiner::JudgeSheet;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The sheet of a judge who helps to set a cut.
    pub fn judge_sheet(
        &self,
        content: &JudgeSheet,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        RenderFault::unless_some(
            Sheet::JudgeSheet,
            &content.questions,
            "there is no question",
        )?;
        let title = format!("{}: judge's sheet", content.exam.title);
        self.render(Sheet::JudgeSheet, &title, content, look, stamp)
    }
}
