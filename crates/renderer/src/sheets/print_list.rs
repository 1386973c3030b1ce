//! What to print how often.

use crate::content::examiner::PrintList;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// What to print how often.
    pub fn print_list(
        &self,
        content: &PrintList,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        if content.lines.is_empty() {
            return Err(RenderFault::Nothing {
                sheet: Sheet::PrintList.name(),
                what: "there is no file",
            });
        }
        let title = format!("{}: print list", content.exam.title);
        self.render(Sheet::PrintList, &title, content, look, stamp)
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
        let mut content = samples::print_list();
        content.lines.clear();
        let fault = renderer
            .print_list(&content, &Look::default(), &PdfStamp::new("t"))
            .unwrap_err();
        assert!(fault.to_string().contains("there is no file"), "{fault}");
    }
}
