//! Papers for examiners, markers and proctors: these may hold keys and the map of the samples.

mod analysis_page;
mod class_summary;
mod judge_sheet;
mod key_sheet;
mod kit_check_sheet;
mod marker_guide;
mod pour_sheet;
mod print_list;
mod rehearsal_forecast;
mod room_sheet;

pub use analysis_page::{
    AlikeSection, AnalysisPage, AnalysisPart, ModelSection, PagePlot, QuestionCard,
};
pub use class_summary::{CandidateLine, ClassSummary, QuestionNotice};
pub use judge_sheet::{JudgeSheet, JudgedQuestion};
pub use key_sheet::{FormKey, KeyLine, KeySheet};
pub use kit_check_sheet::{KitCheckSheet, KitFilling, KitToCheck};
pub use marker_guide::{
    GuideDescriptor, GuideFact, GuideQuestion, GuideRule, GuideSample, MarkerGuide,
};
pub use pour_sheet::{CrossCheck, PourBottle, PourSample, PourSheet};
pub use print_list::{PrintLine, PrintList};
pub use rehearsal_forecast::RehearsalForecast;
pub use room_sheet::{IfThen, ReserveLine, RoomSheet, SeatLine};
