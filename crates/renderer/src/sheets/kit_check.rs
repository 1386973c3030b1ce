//! The check of kits by a second person, for the closed envelope.

use crate::content::examiner::KitCheckSheet;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The check of kits by a second person, for the closed envelope.
    pub fn kit_check(
        &self,
        content: &KitCheckSheet,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        if content.kits.is_empty() {
            return Err(RenderFault::Nothing {
                sheet: Sheet::KitCheck.name(),
                what: "there is no kit",
            });
        }
        let title = format!("{}: kit check", content.exam.title);
        self.render(Sheet::KitCheck, &title, content, look, stamp)
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
        let mut content = samples::kit_check();
        content.kits.clear();
        let fault = renderer
            .kit_check(&content, &Look::default(), &PdfStamp::new("t"))
            .unwrap_err();
        assert!(fault.to_string().contains("there is no kit"), "{fault}");
    }
}
