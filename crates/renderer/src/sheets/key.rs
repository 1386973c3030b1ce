//! The key of all forms.

use crate::content::examiner::KeySheet;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The key of all forms.
    pub fn key(
        &self,
        content: &KeySheet,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        if content.forms.is_empty() {
            return Err(RenderFault::Nothing {
                sheet: Sheet::Key.name(),
                what: "there is no form",
            });
        }
        let title = format!("{}: key", content.exam.title);
        self.render(Sheet::Key, &title, content, look, stamp)
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
        let mut content = samples::key();
        content.forms.clear();
        let fault = renderer
            .key(&content, &Look::default(), &PdfStamp::new("t"))
            .unwrap_err();
        assert!(fault.to_string().contains("there is no form"), "{fault}");
    }
}
