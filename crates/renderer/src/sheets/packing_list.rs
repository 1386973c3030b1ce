//! The packing lists of all kits.

use crate::content::candidate::PackingLists;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The packing lists of all kits.
    pub fn packing_lists(
        &self,
        content: &PackingLists,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        RenderFault::unless_some(Sheet::PackingList, &content.kits, "there is no kit")?;
        let title = format!("{}: packing lists", content.exam.title);
        self.render(Sheet::PackingList, &title, content, look, stamp)
    }
}
