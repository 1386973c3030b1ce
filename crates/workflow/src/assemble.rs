//! Makes a sitting: draws forms, flights, codes, orders and seats, and puts them down in a register.

use std::path::{Path, PathBuf};

use assembler::{FormsBeside, Sitting, forms_beside};
use base::{ExamSeed, Fault};
use exam_plan::{Exam, IdentityKept, People};
use register::seal::Secret;
use register::{Act, Beside, Details, Register};
use serde::Serialize;

use crate::decisions::{DECISION, OF};
use crate::failure::Failure;
use crate::forms_page::write_forms_page;
use crate::load;
use crate::people::identity_for;
use crate::public_draw::{Draw, drawn_from, refuse_where_announced};
use crate::roles::{Doing, Stated, acting};
use crate::surroundings::Surroundings;
use crate::texts::Texts;

/// The name of the register beside the plan.
pub const REGISTER: &str = "sitting.register";

/// What `assemble` is asked.
#[derive(Debug, Clone)]
pub struct AssembleRequest {
    /// The exam's folder.
    pub folder: PathBuf,
    /// The seed; taken from the machine where none is given.
    pub seed: Option<ExamSeed>,
    /// The public value, where the draw was announced.
    pub public_value: Option<String>,
    /// Where the forms side by side are written as a page; nowhere where none is named.
    pub page: Option<PathBuf>,
    /// What locks the names up, where the plan says so.
    pub passphrase: Option<Secret>,
    /// In which role it is done, and who agrees.
    pub stated: Stated,
}

/// What `assemble` did.
#[derive(Debug, Clone, Serialize)]
pub struct AssembleReport {
    /// Where the register is.
    pub register: PathBuf,
    /// Whether it was there already, with the same result.
    pub was_there: bool,
    /// Forms with their number of questions.
    pub forms: Vec<(String, usize)>,
    /// The forms side by side; none without a theory part.
    pub beside: Option<FormsBeside>,
    /// Candidates in the room.
    pub in_the_room: usize,
    /// Candidates with a kit.
    pub with_kits: usize,
    /// Glasses in all.
    pub glasses: usize,
    /// What could not be had.
    pub shortfalls: Vec<String>,
    /// Where it is kept who is behind the numbers.
    pub names: NamesKept,
    /// Weaknesses of the texts.
    pub weaknesses: Vec<Fault>,
    /// The public value that was mixed into the seed, as it was read; none where none was given.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub public_value: Option<String>,
}

/// Where it is kept who is behind the numbers, as it is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum NamesKept {
    /// In the roster, apart from the register.
    SeparateFile,
    /// Locked in the register.
    Locked,
}

/// Makes a sitting.
///
/// # Errors
/// When the texts have faults, the bank cannot fill the plan, or a register is there already with
/// another result.
pub fn assemble(
    around: &dyn Surroundings,
    request: &AssembleRequest,
) -> Result<AssembleReport, Failure> {
    let path = request.folder.join(REGISTER);
    let mut there = if around.has_file(&path) {
        Some(Register::open(&path)?)
    } else {
        None
    };
    let by = acting(around, there.as_mut(), Doing::Assemble, request.stated)?;
    drop(there);
    let loaded = LoadedFolder::load(around, &request.folder)?;
    let texts = loaded.texts.to_store();
    let draw = match &request.public_value {
        Some(value) => Some(drawn_from(
            around,
            &request.folder,
            value,
            &texts,
            by.time.as_ref(),
        )?),
        None => None,
    };
    if around.has_file(&path) {
        let seed = draw.as_ref().map(|draw| &draw.seed);
        let report = again(&path, &loaded, seed.or(request.seed.as_ref()))?;
        page(around, request, &loaded, &report)?;
        return Ok(with_value(report, draw));
    }
    let mut noted = releases(&loaded.exam);
    let seed = match (&draw, &request.seed) {
        (Some(draw), _) => {
            noted.insert(0, draw.noted.clone());
            draw.seed.clone()
        }
        (None, given) => {
            refuse_where_announced(around, &request.folder)?;
            match given {
                Some(seed) => seed.clone(),
                None => around.fresh_seed()?,
            }
        }
    };
    let sitting = loaded.draw(&seed)?;
    // A seed that was given is no secret; one that was not is not the only one who can make salts.
    let salts = match &request.seed {
        Some(given) => given.clone(),
        None => around.fresh_seed()?,
    };
    let kept = loaded.exam.plan.personal_data;
    let people = identity_for(&loaded.people, kept, request.passphrase.as_ref(), &salts)?;
    Register::create_with_people(&path, &texts, &seed, &sitting, &people, &noted, &by)?.close()?;
    let report = report(&path, false, &sitting, &loaded);
    page(around, request, &loaded, &report)?;
    Ok(with_value(report, draw))
}

/// Writes the forms side by side as a page, where one is asked for and there are forms.
fn page(
    around: &dyn Surroundings,
    request: &AssembleRequest,
    loaded: &LoadedFolder,
    report: &AssembleReport,
) -> Result<(), Failure> {
    let (Some(to), Some(beside)) = (&request.page, &report.beside) else {
        return Ok(());
    };
    let plan = &loaded.exam.plan;
    let source = format!("{}, as assembled", plan.date);
    write_forms_page(around, &request.folder, to, (&plan.title, &source), beside)
}

fn with_value(report: AssembleReport, draw: Option<Draw>) -> AssembleReport {
    AssembleReport {
        public_value: draw.map(|draw| draw.value),
        ..report
    }
}

/// The named decisions by which keys below the floor are used all the same.
fn releases(exam: &Exam) -> Vec<Beside> {
    let part = exam.plan.tasting.as_ref();
    let flight = |part: &exam_plan::plan::TastingPart, id: &base::SampleId| {
        part.samples.iter().any(|(own, _)| own == id)
    };
    part.map_or_else(Vec::new, |part| {
        part.rules
            .released
            .iter()
            .filter(|release| flight(part, &release.sample))
            .map(|release| Beside {
                act: Act::Decided,
                about: Details::from([(OF.to_owned(), key_of(&release.sample))]),
                says: Details::from([(DECISION.to_owned(), release.sentence())]),
            })
            .collect()
    })
}

/// What the ledger calls the key of a sample.
pub(crate) fn key_of(sample: &base::SampleId) -> String {
    format!("key of {sample}")
}

/// Assembling again is allowed where it changes nothing.
fn again(
    path: &Path,
    loaded: &LoadedFolder,
    seed: Option<&ExamSeed>,
) -> Result<AssembleReport, Failure> {
    let register = Register::open(path)?;
    let kept = register.seed()?;
    let refused = |what: String| Failure::Refused {
        what,
        hint: format!(
            "the sitting in {} stays as it is; move it to another folder if you want a new draw",
            path.display()
        ),
    };
    if seed.is_some_and(|seed| *seed != kept) {
        return Err(refused(
            "this exam is assembled already, from another seed".to_owned(),
        ));
    }
    // A register of before version 6 names people; who they are is no part of the draw.
    let stored = Texts::of_register(register.inputs()?).to_store();
    let now = loaded.texts.to_store();
    let changed: Vec<String> = now
        .iter()
        .filter(|text| !stored.contains(text))
        .map(|text| text.name.clone())
        .chain(
            stored
                .iter()
                .filter(|text| !now.iter().any(|other| other.name == text.name))
                .map(|text| format!("{} (gone)", text.name)),
        )
        .collect();
    if !changed.is_empty() {
        return Err(refused(format!(
            "this exam is assembled already, and its texts have changed since: {}",
            changed.join(", ")
        )));
    }
    let sitting = loaded.draw(&kept)?;
    if sitting != register.sitting()? {
        return Err(refused(
            "this exam is assembled already, by a version of this program that drew otherwise"
                .to_owned(),
        ));
    }
    register.close()?;
    Ok(report(path, true, &sitting, loaded))
}

fn report(
    path: &Path,
    was_there: bool,
    sitting: &Sitting,
    loaded: &LoadedFolder,
) -> AssembleReport {
    let in_the_room = sitting.places.iter().filter(|p| p.seat.is_some()).count();
    AssembleReport {
        register: path.to_owned(),
        was_there,
        forms: sitting
            .forms
            .iter()
            .map(|f| (f.name.to_string(), f.questions.len()))
            .collect(),
        beside: forms_beside(&loaded.exam.bank, &loaded.exam.plan, &sitting.forms),
        in_the_room,
        with_kits: sitting.places.len() - in_the_room,
        glasses: sitting.places.iter().map(|p| p.glasses.len()).sum(),
        shortfalls: sitting.shortfalls.clone(),
        names: match loaded.exam.plan.personal_data.identity {
            IdentityKept::SeparateFile => NamesKept::SeparateFile,
            IdentityKept::Locked => NamesKept::Locked,
        },
        weaknesses: loaded.weaknesses.clone(),
        public_value: None,
    }
}

/// An exam folder, read and found sound.
#[derive(Debug)]
pub struct LoadedFolder {
    /// Its texts.
    pub texts: Texts,
    /// The checked exam.
    pub exam: Exam,
    /// Who is behind the numbers.
    pub people: People,
    /// What a person should look at.
    pub weaknesses: Vec<Fault>,
}

impl LoadedFolder {
    /// Reads an exam folder.
    ///
    /// # Errors
    /// When it has faults or cannot be read.
    pub fn load(around: &dyn Surroundings, folder: &Path) -> Result<Self, Failure> {
        if !around.has_file(&folder.join("plan.yaml")) {
            return Err(Failure::Refused {
                what: format!(
                    "{} is no exam folder: it has no plan.yaml",
                    folder.display()
                ),
                hint: "copy one of the folders in examples/ and change its plan".to_owned(),
            });
        }
        let mut faults = Vec::new();
        let texts = Texts::of_exam(around, folder, &mut faults)?;
        let exam = load::named_exam(&texts, &mut faults);
        faults.sort();
        faults.dedup();
        match exam {
            Some((exam, people)) if faults.iter().all(Fault::is_weakness) => Ok(Self {
                texts,
                exam,
                people,
                weaknesses: faults,
            }),
            Some(_) | None => Err(Failure::Faults {
                faults,
                sources: texts.sources(),
            }),
        }
    }

    /// Draws the sitting.
    ///
    /// # Errors
    /// When the bank cannot fill the plan.
    pub fn draw(&self, seed: &ExamSeed) -> Result<Sitting, Failure> {
        assembler::assemble(&self.exam, seed).map_err(|faults| Failure::Faults {
            faults,
            sources: self.texts.sources(),
        })
    }
}
