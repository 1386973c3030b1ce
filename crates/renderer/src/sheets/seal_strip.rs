//! The strips that close kits.

use crate::content::candidate::SealStrips;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The strips that close kits.
    pub fn seal_strips(
        &self,
        content: &SealStrips,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        RenderFault::unless_some(Sheet::SealStrip, &content.strips, "there is no kit")?;
        let title = format!("{}: seal strips", content.exam.title);
        self.render(Sheet::SealStrip, &title, content, look, stamp)
    }
}
