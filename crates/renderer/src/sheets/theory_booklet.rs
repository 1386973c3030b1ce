//! The theory booklet of one form.

use crate::content::candidate::TheoryBooklet;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The theory booklet of one form.
    pub fn theory_booklet(
        &self,
        content: &TheoryBooklet,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        if content.questions.is_empty() {
            return Err(RenderFault::Nothing {
                sheet: Sheet::TheoryBooklet.name(),
                what: "the form has no question",
            });
        }
        let title = format!("{}: theory, form {}", content.exam.title, content.form);
        self.render(Sheet::TheoryBooklet, &title, content, look, stamp)
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
        let mut content = samples::theory_booklet();
        content.questions.clear();
        let fault = renderer
            .theory_booklet(&content, &Look::default(), &PdfStamp::new("t"))
            .unwrap_err();
        assert!(
            fault.to_string().contains("the form has no question"),
            "{fault}"
        );
    }
}
