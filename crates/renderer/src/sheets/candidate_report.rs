//! One candidate's report.

use crate::content::released::CandidateReport;
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

impl Renderer {
    /// One candidate's report.
    pub fn candidate_report(
        &self,
        content: &CandidateReport,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        let title = format!(
            "{}: report for candidate {}",
            content.exam.title, content.candidate_number
        );
        self.render(Sheet::CandidateReport, &title, content, look, stamp)
    }
}
