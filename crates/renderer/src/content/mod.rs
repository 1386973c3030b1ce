//! What each sheet says, in plain words and numbers, filled in by whoever knows the exam.
//!
//! Three doors: papers for candidates before and during the sitting hold no key; papers for
//! examiners may; papers released after the decision tell candidates what would have counted.

pub mod candidate;
mod exam_head;
pub mod examiner;
mod figures;
pub mod released;

pub use exam_head::ExamHead;
pub use figures::{Bar, Distribution, Figure, TimedStep};
