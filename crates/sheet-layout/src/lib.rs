//! Where each box, bubble and mark sits on a page, in millimetres.

pub mod answer_sheet;
pub mod area;
pub mod asked;
pub mod code_on_label;
mod column_flow;
pub mod field;
mod glass_page;
pub mod label_geometry;
pub mod label_grid;
pub mod millimetres;
pub mod page_frame;
pub mod paper;
mod theory_pages;

pub use answer_sheet::{AnswerSheet, PageSubject, SheetPage, lay_out};
pub use area::Area;
pub use asked::{GlassAsk, GlassBoxes, GlassQuestion, Stage, TheoryBoxKind, TheoryBoxes};
pub use code_on_label::{CodeOnLabel, place_code};
pub use field::{Field, FieldPart, FieldShape, PlacedText, TextRole};
pub use label_grid::{LabelGrid, shipped_label_grids};
pub use millimetres::Millimetres;
pub use page_frame::PageFrame;
pub use paper::Paper;
