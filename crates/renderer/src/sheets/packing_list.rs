//! The packing lists of all kits.

use crate::content::candidate::PackingLists;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The packing lists of all kits.
    pub fn packing_lists(
        &self,
        content: &PackingLists,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        if content.kits.is_empty() {
            return Err(RenderFault::Nothing {
                sheet: Sheet::PackingList.name(),
                what: "there is no kit",
            });
        }
        let title = format!("{}: packing lists", content.exam.title);
        self.render(Sheet::PackingList, &title, content, look, stamp)
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
        let mut content = samples::packing_lists();
        content.kits.clear();
        let fault = renderer
            .packing_lists(&content, &Look::default(), &PdfStamp::new("t"))
            .unwrap_err();
        assert!(fault.to_string().contains("there is no kit"), "{fault}");
    }
}
