//! Takes in the notes of a class and sets them beside the panel's: a page a learner, and a page with
//! pictures for the instructor.

use std::path::{Path, PathBuf};

use base::{Fault, SourceText};
use exam_plan::read::read_class_notes;
use rayon::prelude::*;
use renderer::content::ExamHead;
use renderer::content::released::{
    LearnerGlass, LearnerPage as Sheet, LearnerRating, LearnerStage, LearnerWord,
};
use renderer::{Look, PdfStamp, Renderer};
use results::class_beside_panel::{
    ClassBesidePanel, GlassBeside, LearnerPage, RatingBeside, Standing, class_beside_panel,
};
use serde::Serialize;

use super::{ReadClass, page};
use crate::failure::Failure;
use crate::file_name::safe_file_name;
use crate::print::{pages_for, renderer_for};
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};

/// What `practise class-notes` is asked.
#[derive(Debug, Clone, Default)]
pub struct ClassNotesRequest {
    /// The class's folder.
    pub folder: PathBuf,
    /// Tables of notes; all in the folder `notes` below the class's where none is named.
    pub notes: Vec<PathBuf>,
    /// Where the pages go; the folder `pages` below the class's where none is named.
    pub to: Option<PathBuf>,
    /// A folder with templates of one's own.
    pub templates: Option<PathBuf>,
}

/// What was set beside the panel.
#[derive(Debug, Clone, Serialize)]
pub struct ClassNotesReport {
    /// The folder of the pages.
    pub folder: PathBuf,
    /// The pages of the learners, below the folder.
    pub files: Vec<String>,
    /// The page with the pictures.
    pub page: PathBuf,
    /// Everything that was compared.
    pub beside: ClassBesidePanel,
    /// What was listed and not taken in, and what wants a look.
    pub faults: Vec<Fault>,
    /// The texts, for the snippets of messages.
    #[serde(skip)]
    pub sources: Sources,
}

/// How a learner's page is read.
const HOW: [&str; 3] = [
    "Bold words are the panel’s too. A word that the panel does not have is not wrong: it is a word to speak about.",
    "Behind the panel’s words stands how many of its assessors said them.",
    "Nothing here is a mark.",
];

/// Begins the names of learners' pages, so that stale ones are known.
const PAGE_OF: &str = "beside-the-panel_";

/// Takes in the notes of a class and sets them beside the panel's.
///
/// # Errors
/// When the class has faults, no notes are there, or a file cannot be written. What is wrong with
/// single notes is listed, and everything else is taken in.
pub fn class_notes(
    around: &dyn Surroundings,
    request: &ClassNotesRequest,
) -> Result<ClassNotesReport, Failure> {
    let read = ReadClass::read(around, &request.folder)?;
    let mut faults = read.weaknesses.clone();
    let tables = tables(around, request)?;
    let mut sources = read.sources.clone();
    let mut texts: Vec<SourceText> = Vec::new();
    for path in &tables {
        if let Some(text) = read_text(around, path, &mut faults)? {
            sources.insert(text.name.clone(), text.text.clone());
            texts.push(text);
        }
    }
    let class = &read.class;
    let glasses = class.plan.samples.len();
    let notes = read_class_notes(&texts, glasses, class.roster.as_ref());
    faults.extend(notes.faults);
    let beside = class_beside_panel(class, &notes.learners);
    if beside.learners.is_empty() {
        if faults.iter().all(Fault::is_weakness) {
            return Err(Failure::Refused {
                what: "no notes came in".to_owned(),
                hint: format!(
                    "type them into {}, one row for each learner",
                    tables.first().map_or_else(
                        || request.folder.join("notes/notes.csv").display().to_string(),
                        |table| table.display().to_string()
                    )
                ),
            });
        }
        return Err(Failure::Faults { faults, sources });
    }
    let renderer = renderer_for(around, &request.folder, request.templates.as_deref())?;
    let pages = pages_for(around, &request.folder, request.templates.as_deref())?;
    let head = read.head();
    let made = pages_of(&renderer, &read.look(), &head, &beside.learners)?;
    let html = pages
        .class(&page::content(class, &head, &beside))
        .map_err(|fault| Failure::Faults {
            faults: vec![*fault],
            sources: Sources::new(),
        })?;
    let folder = request
        .to
        .clone()
        .unwrap_or_else(|| request.folder.join("pages"));
    // A page of somebody who was taken out would lie between the new ones.
    for name in around.files_in(&folder)? {
        if name.starts_with(PAGE_OF) && name.ends_with(".pdf") {
            around.remove(&folder.join(&name))?;
        }
    }
    for (name, pdf) in &made {
        around.write(&folder.join(name), pdf)?;
    }
    let page = folder.join("class.html");
    around.write(&page, html.as_bytes())?;
    Ok(ClassNotesReport {
        files: made.into_iter().map(|(name, _)| name).collect(),
        folder,
        page,
        beside,
        faults,
        sources,
    })
}

/// The tables named, or all of the folder.
fn tables(around: &dyn Surroundings, request: &ClassNotesRequest) -> Result<Vec<PathBuf>, Failure> {
    if !request.notes.is_empty() {
        return Ok(request.notes.clone());
    }
    let folder = request.folder.join("notes");
    let names = around.files_in(&folder)?;
    Ok(names
        .iter()
        .filter(|name| name.ends_with(".csv") && !name.starts_with('.'))
        .map(|name| folder.join(Path::new(name)))
        .collect())
}

/// A file's name and its bytes.
type NamedFile = (String, Vec<u8>);

fn pages_of(
    renderer: &Renderer,
    look: &Look,
    head: &ExamHead,
    learners: &[LearnerPage],
) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    let made: Vec<Result<NamedFile, Vec<Fault>>> = learners
        .par_iter()
        .map(|learner| {
            let stamp = PdfStamp::new(format!(
                "{}/{}/learner/{}",
                head.title, head.date, learner.learner
            ));
            let printed = renderer
                .learner_page(&sheet(head, learner), look, &stamp)
                .map_err(renderer::RenderFault::into_faults)?;
            let pages = if printed.pages == 1 {
                "1-page".to_owned()
            } else {
                format!("{}-pages", printed.pages)
            };
            let name = format!("{PAGE_OF}{}_{pages}.pdf", safe_file_name(&learner.learner));
            Ok((name, printed.pdf))
        })
        .collect();
    let mut files = Vec::new();
    let mut faults: Vec<Fault> = Vec::new();
    for outcome in made {
        match outcome {
            Ok(file) => files.push(file),
            Err(found) => faults.extend(found),
        }
    }
    if faults.is_empty() {
        return Ok(files);
    }
    faults.sort();
    faults.dedup();
    Err(Failure::Faults {
        faults,
        sources: Sources::new(),
    })
}

fn sheet(head: &ExamHead, learner: &LearnerPage) -> Sheet {
    Sheet {
        exam: head.clone(),
        number: learner.learner.clone(),
        name: learner.name.clone(),
        how: HOW.map(str::to_owned).to_vec(),
        glasses: learner.glasses.iter().map(glass).collect(),
        caution: results::candidate_report::CAUTION.to_owned(),
    }
}

fn glass(glass: &GlassBeside) -> LearnerGlass {
    LearnerGlass {
        number: glass.glass,
        what: glass.was.clone(),
        describe: glass.describe.clone(),
        sentence: glass.sentence.clone(),
        stages: glass
            .stages
            .iter()
            .map(|stage| LearnerStage {
                stage: stage.stage.to_owned(),
                words: stage
                    .words
                    .iter()
                    .map(|word| LearnerWord {
                        written: word.written.clone(),
                        how: word.how.clone(),
                        shared: match word.standing {
                            Standing::Same { .. } | Standing::OtherStage { .. } => true,
                            Standing::Near { .. }
                            | Standing::OneAssessor
                            | Standing::NotFound
                            | Standing::Contradicts
                            | Standing::Denied
                            | Standing::Faded { .. }
                            | Standing::Unknown { .. } => false,
                        },
                    })
                    .collect(),
                besides: stage.besides.join(", "),
            })
            .collect(),
        ratings: glass.ratings.iter().map(rating).collect(),
        liking: glass.liking.map_or_else(String::new, |liking| {
            format!("Your liking: {liking} of 10. It is yours alone and is compared with nothing.")
        }),
    }
}

fn rating(rating: &RatingBeside) -> LearnerRating {
    // The scales that begin at 1 end at 5, the others go from 0 to 10.
    let (first, last) = if rating.scale.starts_with('1') {
        (1.0, 5.0)
    } else {
        (0.0, 10.0)
    };
    // Between 0 and 100 after the clamp.
    let at = |value: f64| ((value - first) / (last - first) * 100.0).clamp(0.0, 100.0) as u8;
    LearnerRating {
        what: rating.what.to_owned(),
        scale: rating.scale.to_owned(),
        yours: rating.yours.to_string(),
        beside: rating.beside.clone(),
        yours_at: at(rating.yours),
        panels_at: rating.panels.map(at),
    }
}
