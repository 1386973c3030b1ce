//! Prints the sample of any sheet.

use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::samples;
use crate::sheets::Sheet;

/// Prints the invented sample of a sheet, to see how a template looks.
pub fn render(sheet: Sheet, renderer: &Renderer, look: &Look) -> Result<Printed, RenderFault> {
    let stamp = PdfStamp::new(format!("sample/{}", sheet.name()));
    match sheet {
        Sheet::TheoryBooklet => renderer.theory_booklet(&samples::theory_booklet(), look, &stamp),
        Sheet::CandidateCover => {
            renderer.candidate_covers(&samples::candidate_covers(), look, &stamp)
        }
        Sheet::AnswerSheet => {
            renderer.answer_sheets(&samples::answer_sheets(look.paper), look, &stamp)
        }
        Sheet::Labels => renderer.labels(&samples::labels(), look, &stamp),
        Sheet::PourSheet => renderer.pour_sheet(&samples::pour_sheet(), look, &stamp),
        Sheet::RoomSheet => renderer.room_sheet(&samples::room_sheet(), look, &stamp),
        Sheet::PackingList => renderer.packing_lists(&samples::packing_lists(), look, &stamp),
        Sheet::SealStrip => renderer.seal_strips(&samples::seal_strips(), look, &stamp),
        Sheet::KitCheck => renderer.kit_check(&samples::kit_check(), look, &stamp),
        Sheet::MarkerGuide => renderer.marker_guide(&samples::marker_guide(), look, &stamp),
        Sheet::Key => renderer.key(&samples::key(), look, &stamp),
        Sheet::CandidateReport => {
            renderer.candidate_report(&samples::candidate_report(), look, &stamp)
        }
        Sheet::AppealFile => renderer.appeal_file(&samples::appeal_file(), look, &stamp),
        Sheet::Certificate => renderer.certificate(&samples::certificate(), look, &stamp),
        Sheet::SamplePages => renderer.sample_pages(&samples::sample_pages(), look, &stamp),
        Sheet::QuestionPages => renderer.question_pages(&samples::question_pages(), look, &stamp),
        Sheet::ClassSummary => renderer.class_summary(&samples::class_summary(), look, &stamp),
        Sheet::ReferenceList => renderer.reference_list(&samples::reference_list(), look, &stamp),
        Sheet::PrintList => renderer.print_list(&samples::print_list(), look, &stamp),
        Sheet::RehearsalForecast => {
            renderer.rehearsal_forecast(&samples::rehearsal_forecast(), look, &stamp)
        }
        Sheet::ClassSheet => renderer.class_sheets(&samples::class_sheets(), look, &stamp),
        Sheet::LearnerPage => renderer.learner_page(&samples::learner_page(), look, &stamp),
        Sheet::JudgeSheet => renderer.judge_sheet(&samples::judge_sheet(), look, &stamp),
    }
}
