//! A learner's notes beside the panel's.

use crate::content::released::LearnerPage;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// A learner's notes beside the panel's.
    pub fn learner_page(
        &self,
        content: &LearnerPage,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        RenderFault::unless_some(Sheet::LearnerPage, &content.glasses, "there is no glass")?;
        let title = format!("{}: {}", content.exam.title, content.number);
        self.render(Sheet::LearnerPage, &title, content, look, stamp)
    }
}
