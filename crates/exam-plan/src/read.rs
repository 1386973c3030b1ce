//! Readers of the texts an exam folder holds.

mod asked_text;
mod class_notes_table;
mod class_text;
mod draw_text;
mod exam_check;
mod flight_check;
mod flight_rules_text;
mod names;
mod pass_text;
mod plan_text;
mod room_drawing;
mod room_text;
mod roster_parting;
mod roster_table;
mod shapes;
mod sitting_rules_check;
mod theory_text;

pub use class_notes_table::{ReadNotes, read_class_notes};
pub use class_text::{USUAL_THRESHOLD, check_class, read_class};
pub use exam_check::check_exam;
pub use names::check_names;
pub use plan_text::read_plan;
pub use room_text::read_room;
pub use roster_parting::{with_person, without_people};
pub use roster_table::{NamedRoster, read_numbers, read_roster};
pub use shapes::{ExamFormat, shape_of};
