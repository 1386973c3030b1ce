//! Small invented contents, one for each sheet: for trying out templates. Nothing here is real.

mod candidate;
mod class;
mod class_pages;
mod common;
mod examiner;
mod figures;
mod print_sample;
mod released;
mod tasting_page;

pub use candidate::{
    answer_sheets, candidate_covers, labels, packing_lists, reference_list, seal_strips,
    theory_booklet,
};
pub use class::{class_sheets, learner_page};
pub use class_pages::{question_pages, sample_pages};
pub use examiner::{judge_sheet, key, kit_check, marker_guide, pour_sheet, print_list, room_sheet};
pub use figures::{class_summary, rehearsal_forecast};
pub use print_sample::render;
pub use released::{appeal_file, candidate_report, certificate};

use common::{cautions, exam, words};
