//! The cover pages of a class.

use crate::content::candidate::CandidateCovers;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The cover pages of a class.
    pub fn candidate_covers(
        &self,
        content: &CandidateCovers,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        RenderFault::unless_some(
            Sheet::CandidateCover,
            &content.covers,
            "there is no candidate",
        )?;
        let title = format!("{}: cover pages", content.exam.title);
        self.render(Sheet::CandidateCover, &title, content, look, stamp)
    }
}
