//! Papers for examiners, markers and proctors: these may hold keys and the map of the samples.

mod analysis_page;
mod class_page;
mod class_summary;
mod judge_sheet;
mod key_sheet;
mod kit_check_sheet;
mod marker_guide;
mod pour_sheet;
mod print_list;
mod question_pages;
mod rehearsal_forecast;
mod report_page;
mod room_sheet;
mod sample_pages;

pub use analysis_page::{
    AlikeSection, AnalysisPage, AnalysisPart, ModelSection, PagePlot, QuestionCard,
};
pub use class_page::{ClassPage, ClassPagePart};
pub use class_summary::{CandidateLine, ClassSummary, QuestionNotice, ReviewLine};
pub use judge_sheet::{JudgeSheet, JudgedQuestion};
pub use key_sheet::{FormKey, KeyLine, KeySheet};
pub use kit_check_sheet::{KitCheckSheet, KitFilling, KitToCheck};
pub use marker_guide::{
    GuideDescriptor, GuideFact, GuideQuestion, GuideRule, GuideSample, MarkerGuide,
};
pub use pour_sheet::{CrossCheck, PourBottle, PourSample, PourSheet};
pub use print_list::{PrintLine, PrintList};
pub use question_pages::{AnswerRow, QuestionPages, QuestionSheet};
pub use rehearsal_forecast::RehearsalForecast;
pub use report_page::{ReportPage, ReportSection, ReportTable};
pub use room_sheet::{IfThen, ReserveLine, RoomSheet, SeatLine};
pub use sample_pages::{OtherWordRow, SamplePages, SampleSheet, SampleWordRow};
