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
        if content.covers.is_empty() {
            return Err(RenderFault::Nothing {
                sheet: Sheet::CandidateCover.name(),
                what: "there is no candidate",
            });
        }
        let title = format!("{}: cover pages", content.exam.title);
        self.render(Sheet::CandidateCover, &title, content, look, stamp)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;
    use crate::samples;

    #[test]
    fn an_empty_one_is_refused_by_name() {
        let renderer = Renderer::new(&BTreeMap::new()).unwrap();
        let mut content = samples::candidate_covers();
        content.covers.clear();
        let fault = renderer
            .candidate_covers(&content, &Look::default(), &PdfStamp::new("t"))
            .unwrap_err();
        assert!(
            fault.to_string().contains("there is no candidate"),
            "{fault}"
        );
    }
}
