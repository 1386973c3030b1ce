//! Every printed sheet: one file each, one line in the list.

mod answer_sheet;
mod appeal_file;
mod candidate_cover;
mod candidate_report;
mod certificate;
mod class_sheet;
mod class_summary;
mod judge_sheet;
mod key;
mod kit_check;
mod labels;
mod learner_page;
mod marker_guide;
#[cfg(test)]
mod nothing_to_print;
mod packing_list;
mod pour_sheet;
mod print_list;
mod question_pages;
mod reference_list;
mod rehearsal_forecast;
mod room_sheet;
mod sample_pages;
mod seal_strip;
mod sheet_list;
mod theory_booklet;

pub use sheet_list::{Audience, Sheet};
