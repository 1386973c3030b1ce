//! The words a candidate may choose from.

use crate::content::candidate::ReferenceList;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The words a candidate may choose from.
    pub fn reference_list(
        &self,
        content: &ReferenceList,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        let title = format!("{}: words to choose from", content.exam.title);
        self.render(Sheet::ReferenceList, &title, content, look, stamp)
    }
}
