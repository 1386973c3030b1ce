//! Analyses a sitting, several sittings pooled by form, or tables of answers from anywhere; writes a
//! page, and what each question did into the bank's history.

mod alike_page;
mod group_pictures;
mod history;
mod marker_pictures;
mod model_page;
mod page;
mod pass_share;
mod pictures;
mod sitting_responses;

use std::path::{Path, PathBuf};

use renderer::content::examiner::AnalysisPage;
use results::analysis::{
    Alikeness, Analysis, ByModel, FurtherFigure, GroupFairness, MarkerSeverity, PartOfTotal,
    Responses, SampleWords, ScaleModel, SideBySide, alikeness, analyse as analyse_responses,
    by_model, group_fairness, marker_severity, marker_shares, parts_together,
};
use results::moderation::Moderation;
use serde::Serialize;

use crate::assemble::REGISTER;
use crate::failure::Failure;
use crate::print::pages_for;
use crate::response_tables::{GroupTable, ReadTables, SeatTable, TableOptions, read_tables, stem};
use crate::surroundings::Surroundings;
use crate::texts::Sources;

/// What `analyse` is asked.
#[derive(Debug, Clone, Default)]
pub struct AnalyseRequest {
    /// Folders of sittings, or tables; not both.
    pub inputs: Vec<PathBuf>,
    /// How tables are read.
    pub options: TableOptions,
    /// A table with the group of each candidate, for sittings and tables.
    pub groups: Option<PathBuf>,
    /// A table of seats; a sitting knows its own, and of tables all pairs are compared without one.
    pub seats: Option<PathBuf>,
    /// The group that the others stand beside; the largest where none is named.
    pub reference: Option<String>,
    /// A model for a scale of its own, besides the usual one.
    pub model: Option<ScaleModel>,
    /// The cut; the plan's where none is named.
    pub pass_mark: Option<PassMark>,
    /// The page; beside the first input where none is named.
    pub to: Option<PathBuf>,
    /// A folder with templates of one's own.
    pub templates: Option<PathBuf>,
    /// Leave the bank's history as it is.
    pub no_history: bool,
}

/// A cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PassMark {
    /// In marks.
    Marks(f64),
    /// In per cent of full marks.
    Percent(f64),
}

/// What was found.
#[derive(Debug, Clone, Serialize)]
pub struct AnalyseReport {
    /// One part for each table of answers: theory, tasting, or the tables pooled.
    pub parts: Vec<AnalysedPart>,
    /// The reliability of the parts together; none where there is one part.
    pub together: Option<FurtherFigure>,
    /// What was assumed.
    pub notes: Vec<String>,
    /// The page.
    pub page: PathBuf,
    /// Files of the bank's history that were written.
    pub history: Vec<PathBuf>,
}

/// One part.
#[derive(Debug, Clone, Serialize)]
pub struct AnalysedPart {
    /// The figures.
    pub analysis: Analysis,
    /// The markers, where several marked.
    pub markers: Option<MarkerSeverity>,
    /// How much of the spread of marks is markers; empty where fewer than two marked.
    pub marker_shares: Vec<FurtherFigure>,
    /// The markers of a sitting on the scripts that two of them marked.
    pub moderation: Option<Moderation>,
    /// Groups of candidates beside each other, where groups are named.
    pub fairness: Option<GroupFairness>,
    /// Candidates whose answers are more alike than ability explains; none where no question has
    /// options and a key.
    pub alike: Option<Alikeness>,
    /// The scale by the model that was asked for, or why there is none.
    pub by_model: Option<Result<ByModel, String>>,
    /// Which words of the panel were found in which sample.
    pub samples: Vec<SampleWords>,
}

impl AnalysedPart {
    /// Why there is no scale by the model that was asked for.
    pub fn refused_model(&self) -> impl Iterator<Item = &String> {
        self.by_model.iter().filter_map(|made| made.as_ref().err())
    }

    /// Why answers are not compared.
    pub fn refused_alike(&self) -> impl Iterator<Item = &String> {
        self.alike.iter().flat_map(|made| &made.refused)
    }

    /// Why groups are not compared.
    pub fn refused_comparisons(&self) -> impl Iterator<Item = &String> {
        self.fairness
            .iter()
            .flat_map(|made| &made.comparisons)
            .filter_map(|one| one.refused.as_ref())
    }
}

/// Whose answers are set beside each other.
enum Beside {
    /// Those who sat side by side.
    Seats(Vec<SideBySide>),
    /// Everybody.
    All,
    /// Nobody: rows stand for many candidates, and these are alike since they were counted together.
    Nobody,
}

/// Answers of one part before they are analysed.
struct Part {
    responses: Responses,
    beside: Beside,
    /// What its share of full marks weighs in the total.
    weight: f64,
    pass_mark: Option<f64>,
    markers: Option<MarkerSeverity>,
    marker_shares: Vec<FurtherFigure>,
    moderation: Option<Moderation>,
    samples: Vec<SampleWords>,
}

/// Analyses, writes the page and the history.
///
/// # Errors
/// When an input cannot be read or has faults, or a file cannot be written.
pub fn analyse(
    around: &dyn Surroundings,
    request: &AnalyseRequest,
) -> Result<AnalyseReport, Failure> {
    let (tables, folders): (Vec<PathBuf>, Vec<PathBuf>) = request
        .inputs
        .iter()
        .cloned()
        .partition(|path| around.has_file(path));
    if !tables.is_empty() && !folders.is_empty() {
        return Err(Failure::Refused {
            what: "tables and folders of sittings are not analysed together".to_owned(),
            hint: "give one kind, and call again for the other".to_owned(),
        });
    }
    if tables.is_empty() && request.options.group.is_some() {
        return Err(Failure::Refused {
            what: "a sitting has no column of groups, and its register holds none".to_owned(),
            hint: "--groups TABLE names a table with the columns candidate and group".to_owned(),
        });
    }
    let mut notes = Vec::new();
    let mut history = Vec::new();
    let (title, source, mut parts, page) = if tables.is_empty() {
        for folder in &folders {
            is_sitting(around, folder)?;
        }
        let read = sitting_responses::read_sittings(around, &folders, request.pass_mark.is_some())?;
        notes.clone_from(&read.notes);
        if !request.no_history {
            history = history::made(&read);
        }
        let page = folders.first().map_or_else(PathBuf::new, |folder| {
            folder.join("results").join("analysis.html")
        });
        (read.title, read.source, read.parts, page)
    } else {
        let read = read_tables(around, &tables, &request.options)?;
        notes.clone_from(&read.notes);
        let page = tables.first().map_or_else(PathBuf::new, |table| {
            table.with_file_name(format!("{}-analysis.html", stem(table)))
        });
        let names: Vec<String> = tables.iter().map(|t| t.display().to_string()).collect();
        let title = format!("Analysis of {}", read.responses.what);
        (
            title,
            format!("From {}.", names.join(", ")),
            vec![of_tables(read, request.options.count.is_some())],
            page,
        )
    };
    let asked = match request.pass_mark {
        Some(mark) => {
            let all: Vec<&Responses> = parts.iter().map(|part| &part.responses).collect();
            Some(pass_share::share_of(mark, &all)?)
        }
        None => None,
    };
    let asks_groups = request.options.group.is_some() || request.groups.is_some();
    if let Some(path) = &request.groups {
        let groups = GroupTable::read(around, path)?;
        for part in &mut parts {
            let without = groups.put(&mut part.responses);
            if without > 0 {
                notes.push(format!(
                    "{without} candidates of {} stand in no row of {} and take no part in the comparison of groups.",
                    part.responses.what,
                    path.display()
                ));
            }
        }
    }
    if asks_groups {
        groups_are_there(&parts, request.reference.as_deref())?;
    }
    if let Some(path) = &request.seats {
        let seats = SeatTable::read(around, path)?;
        for part in &mut parts {
            let (pairs, without) = seats.beside(&part.responses);
            part.beside = Beside::Seats(pairs);
            if without > 0 {
                notes.push(format!(
                    "{without} candidates of {} stand in no row of {}: nobody is known to have sat beside them.",
                    part.responses.what,
                    path.display()
                ));
            }
        }
    }
    let together = {
        let parts: Vec<PartOfTotal<'_>> = parts
            .iter()
            .map(|part| PartOfTotal {
                responses: &part.responses,
                weight: part.weight,
            })
            .collect();
        parts_together(&parts)
    };
    let parts: Vec<AnalysedPart> = parts
        .into_iter()
        .map(|part| AnalysedPart {
            analysis: analyse_responses(&part.responses, asked.or(part.pass_mark)),
            markers: part.markers,
            marker_shares: part.marker_shares,
            moderation: part.moderation,
            alike: match &part.beside {
                Beside::Seats(pairs) => alikeness(&part.responses, Some(pairs)),
                Beside::All => alikeness(&part.responses, None),
                Beside::Nobody => None,
            },
            by_model: request.model.map(|model| by_model(&part.responses, model)),
            fairness: group_fairness(&part.responses, request.reference.as_deref()),
            samples: part.samples,
        })
        .collect();
    let page = request.to.clone().unwrap_or(page);
    let home = request
        .inputs
        .first()
        .map_or(Path::new(""), PathBuf::as_path);
    let pages = pages_for(around, home, request.templates.as_deref())?;
    let content: AnalysisPage = page::content(&title, &source, &parts, together.as_ref(), &notes);
    let html = pages.analysis(&content).map_err(|fault| Failure::Faults {
        faults: vec![*fault],
        sources: Sources::new(),
    })?;
    // Everything is read and made by now: nothing that is refused leaves a trace in the bank.
    around.write(&page, html.as_bytes())?;
    let mut written = Vec::new();
    for (path, text) in history {
        around.write(&path, text.as_bytes())?;
        written.push(path);
    }
    Ok(AnalyseReport {
        parts,
        together,
        notes,
        page,
        history: written,
    })
}

fn of_tables(read: ReadTables, counted: bool) -> Part {
    Part {
        beside: if counted { Beside::Nobody } else { Beside::All },
        markers: marker_severity(&read.scripts),
        marker_shares: marker_shares(&read.scripts),
        weight: 1.0,
        moderation: None,
        responses: read.responses,
        pass_mark: None,
        samples: Vec::new(),
    }
}

/// Refuses a comparison of fewer than two groups, and a reference that is none of them.
fn groups_are_there(parts: &[Part], reference: Option<&str>) -> Result<(), Failure> {
    let mut names: Vec<String> = parts
        .iter()
        .flat_map(|part| part.responses.groups().into_keys())
        .collect();
    names.sort_unstable();
    names.dedup();
    if names.len() < 2 {
        return Err(Failure::Refused {
            what: format!(
                "there is nothing to compare: {}",
                names.first().map_or_else(
                    || "no candidate has a group".to_owned(),
                    |one| format!("all candidates with a group are of {one}")
                )
            ),
            hint: "two groups are needed, named in a column (--group) or a table (--groups)"
                .to_owned(),
        });
    }
    match reference {
        Some(name) if !names.iter().any(|known| known == name) => Err(Failure::Refused {
            what: format!("no candidate is of the group \"{name}\""),
            hint: format!("there are: {}", names.join(", ")),
        }),
        Some(_) | None => Ok(()),
    }
}

/// Refuses what is neither a table nor the folder of an exam.
fn is_sitting(around: &dyn Surroundings, folder: &Path) -> Result<(), Failure> {
    let exam = [REGISTER, "plan.yaml"];
    if exam.iter().any(|name| around.has_file(&folder.join(name))) {
        return Ok(());
    }
    Err(Failure::Refused {
        what: format!(
            "{} is neither a table nor the folder of a sitting",
            folder.display()
        ),
        hint: "look whether the name is written rightly; a sitting's folder holds plan.yaml"
            .to_owned(),
    })
}
