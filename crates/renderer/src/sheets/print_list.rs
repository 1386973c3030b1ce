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
        RenderFault::unless_some(Sheet::PrintList, &content.lines, "there is no file")?;
        let title = format!("{}: print list", content.exam.title);
        self.render(Sheet::PrintList, &title, content, look, stamp)
    }
}
