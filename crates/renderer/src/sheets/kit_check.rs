//! The check of kits by a second person, for the closed envelope.

use crate::content::examiner::KitCheckSheet;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The check of kits by a second person, for the closed envelope.
    pub fn kit_check(
        &self,
        content: &KitCheckSheet,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        RenderFault::unless_some(Sheet::KitCheck, &content.kits, "there is no kit")?;
        let title = format!("{}: kit check", content.exam.title);
        self.render(Sheet::KitCheck, &title, content, look, stamp)
    }
}
