//! Papers for candidates before and during the sitting: no type here holds a key.

mod answer_sheets;
mod candidate_covers;
mod class_sheet;
mod label_sheet;
mod packing_lists;
mod reference_list;
mod seal_strips;
mod theory_booklet;

pub use answer_sheets::{AnswerSheets, CandidateSheet};
pub use candidate_covers::{CandidateCover, CandidateCovers, PartOfDay};
pub use class_sheet::{ClassLearner, ClassRow, ClassSample, ClassSheets};
pub use label_sheet::{Label, LabelSheet};
pub use packing_lists::{Kit, KitBottle, KitItem, PackingLists};
pub use reference_list::{ReferenceList, TreeLine, WordFamily, WordGroup};
pub use seal_strips::{SealStrip, SealStrips};
pub use theory_booklet::{
    Lettered, PrintedAnswer, PrintedPicture, PrintedQuestion, SharedText, TheoryBooklet,
};
