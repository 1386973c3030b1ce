//! A class before the exam: its sheets, and the learners' notes beside the panel's.

mod notes;
mod page;
mod sheets;

use std::path::Path;

use base::Fault;
use exam_plan::Class;
use renderer::Look;
use renderer::content::ExamHead;

use crate::failure::Failure;
use crate::load;
use crate::print::head::{head_of, look_of};
use crate::surroundings::Surroundings;
use crate::texts::{Sources, Texts};

pub use notes::{ClassNotesReport, ClassNotesRequest, class_notes};
pub use sheets::{ClassSheetsReport, ClassSheetsRequest, class_sheets};

/// A class that was read, with its weaknesses.
struct ReadClass {
    class: Class,
    weaknesses: Vec<Fault>,
    sources: Sources,
}

impl ReadClass {
    /// Reads the class of a folder.
    fn read(around: &dyn Surroundings, folder: &Path) -> Result<Self, Failure> {
        let mut faults = Vec::new();
        let texts = Texts::of_class(around, folder, &mut faults)?;
        let class = load::class(&texts, &mut faults);
        faults.sort();
        faults.dedup();
        match class {
            Some(class) if faults.iter().all(Fault::is_weakness) => Ok(Self {
                class,
                weaknesses: faults,
                sources: texts.sources(),
            }),
            Some(_) | None => Err(Failure::Faults {
                faults,
                sources: texts.sources(),
            }),
        }
    }

    fn head(&self) -> ExamHead {
        let plan = &self.class.plan;
        head_of(
            &plan.title,
            plan.school.as_deref(),
            &plan.date,
            plan.start.as_deref(),
        )
    }

    fn look(&self) -> Look {
        look_of(self.class.plan.paper, &self.class.bank.language)
    }
}
