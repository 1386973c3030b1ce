//! The room sheet.

use crate::content::examiner::RoomSheet;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The room sheet.
    pub fn room_sheet(
        &self,
        content: &RoomSheet,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        if content.seats.is_empty() {
            return Err(RenderFault::Nothing {
                sheet: Sheet::RoomSheet.name(),
                what: "there is no seat",
            });
        }
        let title = format!("{}: room sheet", content.exam.title);
        self.render(Sheet::RoomSheet, &title, content, look, stamp)
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
        let mut content = samples::room_sheet();
        content.seats.clear();
        let fault = renderer
            .room_sheet(&content, &Look::default(), &PdfStamp::new("t"))
            .unwrap_err();
        assert!(fault.to_string().contains("there is no seat"), "{fault}");
    }
}
