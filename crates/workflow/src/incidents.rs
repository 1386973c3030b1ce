//! What went wrong in the room: read from `incidents.csv` of the exam's folder before marking.
//!
//! `candidate,glass,what,note`: what is `broken`, `swapped` (another sample in the glass),
//! `replaced` (poured again in time: marked as any other glass), `late`, or `absent`. A broken or swapped glass is no nought: what was asked of it waits for the chief examiner,
//! with the marks that its answers have earned so far (none in a swapped glass, whose answers speak of
//! another sample). Every incident is kept as an act of the sitting.

use std::path::Path;

use base::table::{Cell, Table};
use base::{Fault, Place, SourceText};
use exam_plan::Exam;
use grader::{Award, Item, Outcome};
use register::{Act, Beside, Details};

use crate::decisions::CANDIDATE;
use crate::failure::Failure;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};

/// The table in the exam's folder.
pub const INCIDENTS: &str = "incidents.csv";

/// What happened.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Happened {
    /// The glass broke or was spilt.
    Broken,
    /// The glass held another sample.
    Swapped,
    /// The glass was poured again, and the candidate answered on the right one.
    Replaced,
    /// The candidate came late.
    Late,
    /// The candidate did not come.
    Absent,
}

impl Happened {
    /// Every member.
    pub const ALL: [Self; 5] = [
        Self::Broken,
        Self::Swapped,
        Self::Replaced,
        Self::Late,
        Self::Absent,
    ];

    /// The word in the table.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Broken => "broken",
            Self::Swapped => "swapped",
            Self::Replaced => "replaced",
            Self::Late => "late",
            Self::Absent => "absent",
        }
    }

    /// Whether it is about a glass.
    #[must_use]
    pub const fn concerns_a_glass(self) -> bool {
        match self {
            Self::Broken | Self::Swapped | Self::Replaced => true,
            Self::Late | Self::Absent => false,
        }
    }
}

/// One incident.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Incident {
    /// Who.
    pub candidate: String,
    /// The code on the glass; none where it is about the candidate.
    pub glass: Option<String>,
    /// What happened.
    pub happened: Happened,
    /// What was done about it.
    pub note: String,
    /// Where it stands in the table.
    pub place: Place,
}

impl Incident {
    /// The incident in a sentence, as it stands in the register.
    #[must_use]
    pub fn sentence(&self) -> String {
        let glass = match &self.glass {
            Some(code) => format!(", glass {code}"),
            None => String::new(),
        };
        let note = if self.note.is_empty() {
            String::new()
        } else {
            format!(": {}", self.note)
        };
        format!(
            "candidate {}{glass}, {}{note}",
            self.candidate,
            self.happened.word()
        )
    }

    /// What the ledger says of it.
    pub(crate) fn beside(&self) -> Beside {
        Beside {
            act: Act::Incident,
            about: Details::from([
                (CANDIDATE.to_owned(), self.candidate.clone()),
                (INCIDENT.to_owned(), self.sentence()),
            ]),
            says: Details::new(),
        }
    }
}

/// The detail of an entry that says what happened, in a sentence.
pub(crate) const INCIDENT: &str = "incident";

/// The incidents of an exam, with the faults of their table.
#[derive(Debug, Default)]
pub struct Incidents {
    /// In the order of the table.
    pub incidents: Vec<Incident>,
    /// What was faulty and left out.
    pub faults: Vec<Fault>,
    /// The table, for the snippets.
    pub sources: Sources,
}

/// Reads the incidents of a folder; none where there is no such table.
///
/// # Errors
/// When the table cannot be read.
pub fn incidents(
    around: &dyn Surroundings,
    folder: &Path,
    exam: &Exam,
) -> Result<Incidents, Failure> {
    let mut all = Incidents::default();
    let path = folder.join(INCIDENTS);
    if !around.has_file(&path) {
        return Ok(all);
    }
    if let Some(source) = read_text(around, &path, &mut all.faults)? {
        read_table(&source, exam, &mut all);
        all.sources.insert(source.name, source.text);
    }
    Ok(all)
}

fn read_table(source: &SourceText, exam: &Exam, all: &mut Incidents) {
    let table = match Table::read(source) {
        Ok(table) => table,
        Err(fault) => {
            all.faults.push(*fault);
            return;
        }
    };
    let Some([candidate, glass, what]) = table.columns(
        ["candidate", "glass", "what"],
        &["note", "time"],
        &mut all.faults,
    ) else {
        return;
    };
    let known: Vec<&str> = exam
        .roster
        .candidates
        .iter()
        .map(|c| c.number.as_str())
        .collect();
    for row in table.rows() {
        let (who, code, word) = (row.cell(candidate), row.cell(glass), row.cell(what));
        let wrong = |cell: &Cell, rule: &'static str, what: String| {
            Fault::new(rule, table.place(&cell.bytes), what)
        };
        if !known.contains(&who.text.as_str()) {
            all.faults.push(
                wrong(
                    &who,
                    "unknown-candidate",
                    format!("\"{}\" is no candidate of this exam", who.text),
                )
                .near(&who.text, known.iter().copied()),
            );
            continue;
        }
        let words = Happened::ALL.map(Happened::word);
        let written = word.text.to_lowercase();
        let Some(happened) = Happened::ALL.into_iter().find(|h| h.word() == written) else {
            all.faults.push(
                wrong(
                    &word,
                    "unknown-word",
                    format!("\"{}\" is no kind of incident", word.text),
                )
                .allowed(words.join(", "))
                .near(&written, words),
            );
            continue;
        };
        if happened.concerns_a_glass() && code.text.is_empty() {
            all.faults.push(
                wrong(
                    &word,
                    "no-glass",
                    format!("which glass of {} was {}?", who.text, happened.word()),
                )
                .allowed("the code on the glass"),
            );
            continue;
        }
        all.incidents.push(Incident {
            place: table.place(&word.bytes),
            candidate: who.text,
            glass: (!code.text.is_empty()).then_some(code.text),
            happened,
            note: table
                .column("note")
                .map_or_else(String::new, |column| row.cell(column).text),
        });
    }
}

/// Lets what was asked of broken and swapped glasses wait for the chief examiner. Gives back a fault
/// for each glass that its candidate did not have.
pub(crate) fn apply(incidents: &[Incident], awards: &mut [Award]) -> Vec<Fault> {
    let mut faults = Vec::new();
    for incident in incidents {
        let Some(code) = incident
            .glass
            .as_ref()
            .filter(|_| incident.happened.concerns_a_glass())
        else {
            continue;
        };
        let mut met = false;
        for award in awards.iter_mut() {
            let own = match &award.item {
                Item::Tasting { code: served, .. } => served == code,
                Item::Theory { .. } => false,
            };
            if !own || award.candidate.as_str() != incident.candidate {
                continue;
            }
            met = true;
            let (why, provisional) = match incident.happened {
                // Kept in the register and marked as any other glass.
                Happened::Replaced => continue,
                Happened::Broken => (
                    "the glass was broken: not a nought, the chief examiner decides",
                    award.marks(),
                ),
                Happened::Swapped | Happened::Late | Happened::Absent => (
                    "the glass held another sample: the chief examiner decides",
                    base::Marks::ZERO,
                ),
            };
            award.outcome = Outcome::ForAPerson {
                why: if incident.note.is_empty() {
                    why.to_owned()
                } else {
                    format!("{why} ({})", incident.note)
                },
                near: Vec::new(),
                provisional,
                words: Vec::new(),
            };
        }
        if !met {
            faults.push(
                Fault::new(
                    "no-such-glass",
                    Some(incident.place.clone()),
                    format!("candidate {} had no glass {code}", incident.candidate),
                )
                .hint("look at the code on the proctor's sheet"),
            );
        }
    }
    faults
}
