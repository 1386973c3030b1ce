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
        if content.strips.is_empty() {
            return Err(RenderFault::Nothing {
                sheet: Sheet::SealStrip.name(),
                what: "there is no kit",
            });
        }
        let title = format!("{}: seal strips", content.exam.title);
        self.render(Sheet::SealStrip, &title, content, look, stamp)
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
        let mut content = samples::seal_strips();
        content.strips.clear();
        let fault = renderer
            .seal_strips(&content, &Look::default(), &PdfStamp::new("t"))
            .unwrap_err();
        assert!(fault.to_string().contains("there is no kit"), "{fault}");
    }
}
