//! The theory booklet of one form.

use crate::content::candidate::TheoryBooklet;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The theory booklet of one form.
    pub fn theory_booklet(
        &self,
        content: &TheoryBooklet,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        RenderFault::unless_some(
            Sheet::TheoryBooklet,
            &content.questions,
            "the form has no question",
        )?;
        let title = format!("{}: theory, form {}", content.exam.title, content.form);
        self.render(Sheet::TheoryBooklet, &title, content, look, stamp)
    }
}
