//! Small invented contents, one for each sheet: for trying out templates. Nothing here is real.

mod candidate;
mod examiner;
mod print_sample;
mod released;
mod tasting_page;

pub use candidate::{
    answer_sheets, candidate_covers, labels, packing_lists, reference_list, theory_booklet,
};
pub use examiner::{
    class_summary, key, marker_guide, pour_sheet, print_list, rehearsal_forecast, room_sheet,
};
pub use print_sample::render;
pub use released::candidate_report;

use crate::content::ExamHead;

/// The invented exam of all samples.
fn exam() -> ExamHead {
    ExamHead {
        title: "Certificate in Spirits Tasting, first level".to_owned(),
        school: "Lindenhof School of Tasting".to_owned(),
        date: "14 March 2031".to_owned(),
        note: String::new(),
    }
}

/// Plain words as owned text.
fn words(list: &[&str]) -> Vec<String> {
    list.iter().map(|word| (*word).to_owned()).collect()
}

/// The cautions wherever pouring or tasting is printed.
fn cautions() -> Vec<String> {
    words(&[
        "A spit cup and water stand at every place; use them.",
        "Nobody drives after tasting, however little was swallowed.",
        "Legal drinking age, licensing, carriage of spirits and drink-drive limits are local law.",
        "Nosing only is allowed: ask the proctor for the nosing form.",
        "Allergy, pregnancy and medication are asked beforehand, privately.",
    ])
}
