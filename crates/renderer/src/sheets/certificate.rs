//! The certificate of one candidate who passed.

use crate::content::released::Certificate;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The certificate of one candidate who passed.
    pub fn certificate(
        &self,
        content: &Certificate,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        let title = format!("{}: certificate {}", content.exam.title, content.number);
        self.render(Sheet::Certificate, &title, content, look, stamp)
    }
}
