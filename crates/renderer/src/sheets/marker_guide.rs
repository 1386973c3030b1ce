//! The marker's guide.

use crate::content::examiner::MarkerGuide;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The marker's guide.
    pub fn marker_guide(
        &self,
        content: &MarkerGuide,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        let title = format!("{}: marker's guide", content.exam.title);
        self.render(Sheet::MarkerGuide, &title, content, look, stamp)
    }
}
