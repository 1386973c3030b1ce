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
        RenderFault::unless_some(Sheet::RoomSheet, &content.seats, "there is no seat")?;
        let title = format!("{}: room sheet", content.exam.title);
        self.render(Sheet::RoomSheet, &title, content, look, stamp)
    }
}
