//! The key of all forms.

use crate::content::examiner::KeySheet;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The key of all forms.
    pub fn key(
        &self,
        content: &KeySheet,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        RenderFault::unless_some(Sheet::Key, &content.forms, "there is no form")?;
        let title = format!("{}: key", content.exam.title);
        self.render(Sheet::Key, &title, content, look, stamp)
    }
}
