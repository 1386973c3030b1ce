//! The forecast of a rehearsal.

use crate::content::examiner::RehearsalForecast;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// The forecast of a rehearsal.
    pub fn rehearsal_forecast(
        &self,
        content: &RehearsalForecast,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        let title = format!("{}: rehearsal forecast", content.exam.title);
        self.render(Sheet::RehearsalForecast, &title, content, look, stamp)
    }
}
