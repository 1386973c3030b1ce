//! What the class made of each sample.

use crate::content::examiner::SamplePages;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// What the class made of each sample.
    pub fn sample_pages(
        &self,
        content: &SamplePages,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        let title = format!("{}: the samples", content.exam.title);
        self.render(Sheet::SamplePages, &title, content, look, stamp)
    }
}
