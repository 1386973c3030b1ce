//! The shapes of plan, room and class, written down by their readers while they read examples.

use base::shape::Shape;
use base::tree::read_tree;
use base::walk::Walk;
use base::{Fault, SourceText};

use super::class_text::class;
use super::plan_text::plan;
use super::room_text::room;

/// A text of an exam that has a format of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ExamFormat {
    /// `plan.yaml`.
    Plan,
    /// `room.yaml`.
    Room,
    /// `class.yaml`.
    Class,
}

/// The shape of a format as its reader asks for it in this example.
///
/// # Errors
/// Where the example is not of the format: a shape is taken from sound texts only. References to
/// other texts are not followed.
pub fn shape_of(format: ExamFormat, example: &SourceText) -> Result<Shape, Vec<Fault>> {
    let tree = read_tree(example).map_err(|fault| vec![*fault])?;
    let mut walk = Walk::recording(example);
    match format {
        ExamFormat::Plan => drop(plan(&mut walk, &tree)),
        ExamFormat::Room => drop(room(&mut walk, &tree)),
        ExamFormat::Class => drop(class(&mut walk, &tree)),
    }
    let shape = walk.shape(&tree).unwrap_or_default();
    let faults = walk.finish();
    if faults.iter().any(|fault| !fault.is_weakness()) {
        return Err(faults);
    }
    Ok(shape)
}
