//! The sheets of a class, what is poured for it, and a table to type the notes into.

use std::path::PathBuf;

use assembler::class_pour;
use assembler::pour_plan::PourPlan;
use assembler::service_list::class_service_list;
use base::Fault;
use base::table_out::row;
use exam_plan::Class;
use exam_plan::class_plan::Noted;
use exam_plan::read::NamedRoster;
use question_bank::SampleRecord;
use question_bank::sample_record::Age;
use renderer::PdfStamp;
use renderer::content::ExamHead;
use renderer::content::candidate::{ClassLearner, ClassRow, ClassSample, ClassSheets};
use renderer::content::examiner::PourSheet;
use serde::Serialize;

use super::ReadClass;
use crate::failure::Failure;
use crate::pour::{PourLine, lines};
use crate::print::head::strength;
use crate::print::open_sheets::cautions;
use crate::print::{SheetFile, Sides, closed, renderer_for};
use crate::surroundings::Surroundings;
use crate::texts::Sources;

/// What `practise class-sheets` is asked.
#[derive(Debug, Clone, Default)]
pub struct ClassSheetsRequest {
    /// The class's folder.
    pub folder: PathBuf,
    /// Where the sheets go; the folder `papers` below the class's where none is named.
    pub to: Option<PathBuf>,
    /// A folder with templates of one's own.
    pub templates: Option<PathBuf>,
}

/// What was printed, and what is poured.
#[derive(Debug, Clone, Serialize)]
pub struct ClassSheetsReport {
    /// The sheets.
    pub sheets: PathBuf,
    /// The sheet for whoever pours.
    pub pour_sheet: PathBuf,
    /// Pages of the sheets in all.
    pub pages: usize,
    /// How often the sheet is to be printed: 1 where each learner's is in the file.
    pub copies: u32,
    /// The table to type notes into; none where there are tables already.
    pub table: Option<PathBuf>,
    /// How many taste.
    pub learners: u32,
    /// What is poured.
    pub samples: Vec<PourLine>,
    /// What must be there besides the bottles.
    pub bring: Vec<String>,
    /// Ethanol of all glasses of one learner if nothing were spat, g.
    pub ethanol_grams: f64,
    /// What wants a look.
    pub weaknesses: Vec<Fault>,
    /// The texts, for the snippets of messages.
    #[serde(skip)]
    pub sources: Sources,
    /// To be read before anything is poured.
    pub cautions: Vec<String>,
}

/// How a glass is gone about.
const HOW: [&str; 5] = [
    "Look first, then nose, then a small sip; spit. Write down what you find before anybody speaks.",
    "Then add a little water, wait a minute, and note what grew, what faded, what appeared.",
    "Words of your own are welcome. A short word is worth more than a long sentence.",
    "Quality is how well it is made, whether you like it or not. Liking is yours alone.",
    "Nothing on this sheet is marked.",
];

/// Prints the sheets of a class.
///
/// # Errors
/// When the class has faults, something cannot be poured, or a file cannot be written.
pub fn class_sheets(
    around: &dyn Surroundings,
    request: &ClassSheetsRequest,
) -> Result<ClassSheetsReport, Failure> {
    let read = ReadClass::read(around, &request.folder)?;
    let class = &read.class;
    let plan = class_pour(class).map_err(|faults| Failure::Faults {
        faults,
        sources: read.sources.clone(),
    })?;
    let renderer = renderer_for(around, &request.folder, request.templates.as_deref())?;
    let head = read.head();
    let copies = if class.roster.is_some() {
        1
    } else {
        class.people()
    };
    let content = ClassSheets {
        exam: head.clone(),
        how: HOW.map(str::to_owned).to_vec(),
        cautions: cautions(),
        ethanol: ethanol(&plan),
        samples: class
            .flight()
            .enumerate()
            .map(|(place, record)| sample(class, place, record))
            .collect(),
        learners: learners(class),
    };
    let stamp = PdfStamp::new(format!("{}/{}/class-sheets", head.title, head.date));
    let printed = renderer
        .class_sheets(&content, &read.look(), &stamp)
        .map_err(|fault| Failure::Faults {
            faults: fault.into_faults(),
            sources: Sources::new(),
        })?;
    let folder = request
        .to
        .clone()
        .unwrap_or_else(|| request.folder.join("papers"));
    let file = SheetFile::new(
        1,
        "class-sheets",
        "one-each",
        copies as usize,
        Sides::Single,
    );
    let sheets = folder.join(file.name_for(printed.pages));
    let bring = class_service_list(class, &plan).in_words();
    let stamp = PdfStamp::new(format!("{}/{}/class-pour", head.title, head.date));
    let poured = renderer
        .pour_sheet(&pour_sheet(&head, &plan, &bring), &read.look(), &stamp)
        .map_err(|fault| Failure::Faults {
            faults: fault.into_faults(),
            sources: Sources::new(),
        })?;
    let file = SheetFile::new(2, "pour-sheet", "pourer", 1, Sides::Single);
    let pour_sheet = folder.join(file.name_for(poured.pages));
    around.write(&sheets, &printed.pdf)?;
    around.write(&pour_sheet, &poured.pdf)?;
    Ok(ClassSheetsReport {
        sheets,
        pour_sheet,
        pages: printed.pages,
        copies,
        table: table(around, &request.folder.join("notes"), class)?,
        learners: class.people(),
        samples: lines(&plan),
        bring,
        ethanol_grams: plan.load.ethanol.value(),
        weaknesses: read.weaknesses,
        sources: read.sources,
        cautions: cautions(),
    })
}

/// What whoever pours for a class holds: nothing in it is secret.
fn pour_sheet(head: &ExamHead, plan: &PourPlan, bring: &[String]) -> PourSheet {
    let name = |place: usize| (place + 1).to_string();
    let mut checklist = vec!["Bottles as listed, and the spare of each".to_owned()];
    checklist.extend_from_slice(bring);
    checklist.push("A jug of water for each table, for the second look".to_owned());
    PourSheet {
        exam: head.clone(),
        closed: false,
        checklist,
        times: Vec::new(),
        bottles: plan
            .all()
            .enumerate()
            .map(|(place, pour)| closed::bottle(name(place), pour))
            .collect(),
        samples: plan
            .all()
            .enumerate()
            .map(|(place, pour)| closed::sample(name(place), pour, Vec::new(), String::new()))
            .collect(),
        cross_checks: Vec::new(),
        ethanol: closed::ethanol(plan, "learner"),
        cautions: cautions(),
    }
}

/// An empty table to type notes into, where nothing was typed yet.
fn table(
    around: &dyn Surroundings,
    folder: &std::path::Path,
    class: &Class,
) -> Result<Option<PathBuf>, Failure> {
    let there = around.files_in(folder)?;
    if there.iter().any(|name| name.ends_with(".csv")) {
        return Ok(None);
    }
    // Words that are not parted by stage have no box on the sheet.
    let glasses = 1..=class.plan.samples.len();
    let names: Vec<String> = glasses
        .flat_map(|glass| {
            let asked = Noted::ALL.into_iter().filter(|n| *n != Noted::Aroma);
            asked.map(move |noted| format!("g{glass}.{}", noted.name()))
        })
        .collect();
    let mut text = row(std::iter::once("candidate").chain(names.iter().map(String::as_str)));
    let learners = class
        .roster
        .iter()
        .flat_map(|named| &named.roster.candidates);
    for person in learners {
        let empty = names.iter().map(|_| "");
        text.push_str(&row(std::iter::once(person.number.as_str()).chain(empty)));
    }
    let path = folder.join("notes.csv");
    around.write(&path, text.as_bytes())?;
    Ok(Some(path))
}

fn learners(class: &Class) -> Vec<ClassLearner> {
    let Some(NamedRoster { roster, people }) = &class.roster else {
        return vec![ClassLearner {
            number: String::new(),
            name: String::new(),
        }];
    };
    roster
        .candidates
        .iter()
        .map(|person| ClassLearner {
            number: person.number.to_string(),
            name: people.name(&person.number).to_owned(),
        })
        .collect()
}

fn ethanol(plan: &PourPlan) -> Vec<String> {
    vec![format!(
        "All glasses together hold {:.1} g of ethanol if nothing is spat.",
        plan.load.ethanol.value()
    )]
}

fn sample(class: &Class, place: usize, record: &SampleRecord) -> ClassSample {
    let bank = &class.bank;
    let category = bank.categories.node(&record.category);
    let region = bank.regions.node(&record.region);
    let age = match record.age {
        Age::Stated(1) => "1 year".to_owned(),
        Age::Stated(years) => format!("{years} years"),
        Age::NotStated => "no age stated".to_owned(),
        Age::Unknown => "age not known".to_owned(),
    };
    let served = class.plan.pour.served(record.strength);
    let what = [
        record.producer.clone(),
        category.map_or_else(String::new, |node| node.name.clone()),
        region.map_or_else(String::new, |node| node.name.clone()),
        age,
        format!("served at {}", strength(served)),
    ];
    ClassSample {
        number: place + 1,
        name: record.name.clone(),
        what: what.join(" · "),
        allergens: record.allergens.join(", "),
        rows: rows(),
    }
}

/// What is noted on every glass, from look to liking.
fn rows() -> Vec<ClassRow> {
    let words = |heading: &str, help: &str, lines| ClassRow {
        heading: heading.to_owned(),
        help: help.to_owned(),
        lines,
        scale: Vec::new(),
        low: String::new(),
        high: String::new(),
    };
    let scale = |row: ClassRow, first: u8, last: u8, low: &str, high: &str| ClassRow {
        scale: (first..=last).collect(),
        low: low.to_owned(),
        high: high.to_owned(),
        ..row
    };
    vec![
        scale(
            words("Look", "depth of colour", 0),
            0,
            10,
            "clear",
            "darkest",
        ),
        words("Nose", "words", 2),
        scale(words("Palate", "words; body", 2), 1, 5, "light", "full"),
        scale(words("Finish", "words; length", 1), 1, 5, "short", "long"),
        words("With water", "grew or appeared", 1),
        words("With water", "faded", 1),
        scale(
            words("Quality", "well made, liked or not", 0),
            0,
            10,
            "poor",
            "outstanding",
        ),
        scale(
            words("Liking", "yours alone", 0),
            0,
            10,
            "not at all",
            "very much",
        ),
    ]
}
