//! The appeal file of one candidate: what the marks in dispute were made from, as a PDF.

mod concerning;

use std::path::PathBuf;

use register::{Act, Details};
use renderer::PdfStamp;
use renderer::content::released::{AppealEntry, AppealFile as Sheet, AppealWord};
use results::candidate_report::PanelWord;
use results::{AppealFile, AppealItem, appeal_file, scripts};
use serde::Serialize;

use crate::decisions::CANDIDATE;
use crate::failure::Failure;
use crate::file_name::safe_file_name;
use crate::give_results::NOT_RELEASED;
use crate::open_sitting::OpenSitting;
use crate::print::head::{exam_head, sitting_look};
use crate::print::{renderer_for, templates_of};
use crate::roles::{Doing, Stated, acting};
use crate::surroundings::Surroundings;
use crate::texts::Sources;

/// What an appeal file is asked for.
#[derive(Debug, Clone, Default)]
pub struct AppealRequest {
    /// The exam's folder.
    pub folder: PathBuf,
    /// The candidate's number.
    pub candidate: String,
    /// The items in dispute: `theory 7`, `tasting 417 aroma`, `tasting 417`.
    pub items: Vec<String>,
    /// A folder with templates of one's own.
    pub templates: Option<PathBuf>,
    /// In which role it is done.
    pub stated: Stated,
}

/// What was put down.
#[derive(Debug, Clone, Serialize)]
pub struct AppealReport {
    /// The file.
    pub file: PathBuf,
    /// What it says.
    pub appeal: AppealFile,
}

/// Writes the appeal file of one candidate. That it was written is entered in the ledger.
///
/// # Errors
/// When the role may not, the sitting is not marked, the candidate did not sit it or was not asked one of the items,
/// or the file cannot be written.
pub fn appeal(around: &dyn Surroundings, request: &AppealRequest) -> Result<AppealReport, Failure> {
    let mut open = OpenSitting::open(around, &request.folder)?;
    let by = acting(
        around,
        Some(&mut open.register),
        Doing::Appeal,
        request.stated,
    )?;
    let renderer = renderer_for(around, &request.folder, request.templates.as_deref())?;
    let awards = open.register.marks()?;
    if awards.is_empty() {
        return Err(Failure::Refused {
            what: "this sitting is not marked yet".to_owned(),
            hint: "valinch mark FOLDER --answers TABLE".to_owned(),
        });
    }
    let drawn = &open.drawn;
    let scripts = scripts(&drawn.exam, &drawn.sitting, &awards);
    let Some(script) = scripts
        .iter()
        .find(|script| script.place.candidate.as_str() == request.candidate)
    else {
        let known = scripts.iter().map(|script| script.place.candidate.as_str());
        let near = base::near::nearest(&request.candidate, known);
        return Err(Failure::Refused {
            what: format!(
                "nobody with the number \"{}\" sat this exam",
                request.candidate
            ),
            hint: match near.first() {
                Some(near) => format!("did you mean \"{near}\"?"),
                None => "the class list has the numbers".to_owned(),
            },
        });
    };
    let found = appeal_file(&drawn.exam, &drawn.sitting, script, &request.items).map_err(
        |unknown| Failure::Refused {
            what: format!(
                "candidate {} was not asked: {}",
                request.candidate,
                unknown.join(", ")
            ),
            hint: "name items as answer tables do: \"theory 7\", \"tasting 417 aroma\", or \"tasting 417\" for the whole glass".to_owned(),
        },
    )?;
    let origins = open.register.answers()?;
    let origin = |item: &str| {
        origins
            .iter()
            .find(|answer| {
                answer.candidate == script.place.candidate && answer.item.eq_ignore_ascii_case(item)
            })
            .map(|answer| {
                let table = answer.source.rsplit(['/', '\\']).next().unwrap_or("");
                format!("{table}, line {}", answer.line)
            })
            .unwrap_or_default()
    };
    let mut head = exam_head(&drawn.exam);
    if !open.register.is_released()? {
        head.note = NOT_RELEASED.to_owned();
    }
    let sheet = Sheet {
        exam: head,
        candidate_number: found.candidate.clone(),
        scope: vec![
            "This file holds what the marks in dispute were made from, and nothing about other questions or other people.".to_owned(),
            "Whoever marked the paper does not decide the appeal.".to_owned(),
        ],
        items: found
            .items
            .iter()
            .map(|item| entry(item, origin(&item.item)))
            .collect(),
        acts: concerning::concerning(&open.register, &found, &awards)?,
    };
    let stamp = PdfStamp::new(format!(
        "{}/{}/appeal/{}",
        sheet.exam.title, sheet.exam.date, found.candidate
    ));
    let printed = renderer
        .appeal_file(&sheet, &sitting_look(drawn), &stamp)
        .map_err(|fault| Failure::Faults {
            faults: fault.into_faults(),
            sources: Sources::new(),
        })?;
    let name = format!("{}.pdf", safe_file_name(&found.candidate));
    let file = request.folder.join("appeals").join(name);
    let names: Vec<&str> = found.items.iter().map(|item| item.item.as_str()).collect();
    let details = Details::from([
        (CANDIDATE.to_owned(), found.candidate.clone()),
        ("items".to_owned(), names.join(", ")),
    ]);
    // Entered first: no key is shown without an entry, whatever breaks.
    let templates = templates_of(&renderer);
    open.register
        .note_papers(Act::AppealFileMade, &by, details, &templates)?;
    around.write(&file, &printed.pdf)?;
    open.register.close()?;
    Ok(AppealReport {
        file,
        appeal: found,
    })
}

fn entry(item: &AppealItem, origin: String) -> AppealEntry {
    let mut name = item.item.clone();
    if let Some(first) = name.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    AppealEntry {
        item: name,
        asked: item.asked.clone(),
        answered: item.answered.clone(),
        right: item.right.clone(),
        marks: item.marks.to_string(),
        of: item.of.to_string(),
        reason: item.reason.clone(),
        rule: item.rule.clone(),
        evidence: item.evidence.clone(),
        origin,
        words: item.panel_words.iter().map(word).collect(),
    }
}

fn word(word: &PanelWord) -> AppealWord {
    AppealWord {
        word: word.word.clone(),
        weight: format!("{:.3}", word.weight),
        cited: word.cited_by.to_string(),
        found: word.found,
    }
}
