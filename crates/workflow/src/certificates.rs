//! Certificates of those who passed, each with a number by which the school knows it again.
//!
//! The number is eleven digits of `SHA-256(f("valinch certificate 1") f(seed) f(statement))`, each part
//! led by its length as for a stream, and Damm's check digit: who does not know the exam seed cannot
//! make one up, and who reads one aloud is told of a slip. The statement names exam, day, candidate and
//! result, so that a corrected result has another number. What stands is never the number alone: it
//! must have been given out, by the ledger, and still be the number of the result as it is. A name may
//! change and is not in it; whoever checks compares the name that the register holds.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use assembler::check_digit::{check_digit, has_valid_check_digit};
use base::{ExamSeed, Fault};
use exam_plan::{Exam, People};
use rayon::prelude::*;
use register::{Act, Details, Entry, Register, RegisterError};
use renderer::PdfStamp;
use renderer::content::ExamHead;
use renderer::content::released::Certificate as Sheet;
use results::{Outcome, Script, named_scripts};
use serde::Serialize;
use sha2::{Digest, Sha256};

use crate::failure::Failure;
use crate::file_name::safe_file_name;
use crate::give_results::{Begun, ResultsRequest, begin};
use crate::open_sitting::{DrawnSitting, OpenSitting};
use crate::people::{Names, people_of};
use crate::print::head::{date_in_words, exam_head, sitting_look};
use crate::roles::Doing;
use crate::surroundings::Surroundings;
use crate::texts::Sources;

/// The detail of an entry that says which certificates were given out: number and candidate.
const ISSUED: &str = "issued";
/// The detail of an entry that says which were withdrawn.
const WITHDRAWN: &str = "withdrawn";
/// Digits before the check digit.
const DIGITS: usize = 11;

/// What was given out.
#[derive(Debug, Clone, Serialize)]
pub struct CertificatesReport {
    /// The folder.
    pub folder: PathBuf,
    /// Everybody who passed: number of the candidate, and of the certificate.
    pub given: Vec<(String, String)>,
    /// How many of them are new.
    pub new: usize,
    /// Numbers that were given out and stand no longer.
    pub withdrawn: Vec<String>,
}

/// What a register says of a certificate's number.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum CertificateStanding {
    /// It stands, for this candidate.
    Stands {
        /// What it says, in words.
        says: String,
    },
    /// It was given out and stands no longer.
    Withdrawn {
        /// The number of the candidate to whom it was given.
        candidate: String,
    },
    /// It was never given out by this sitting.
    Unknown,
    /// It is no number of a certificate: a digit is wrong or two are swapped.
    Slip,
}

/// Writes a certificate for everybody who passed, and withdraws those that a correction made untrue.
///
/// # Errors
/// When results are not released, the role may not, a sheet cannot be made or a file not be written.
pub fn certificates(
    around: &dyn Surroundings,
    request: &ResultsRequest,
) -> Result<CertificatesReport, Failure> {
    let Begun {
        mut open,
        by,
        paper,
        folder,
    } = begin(around, request, Doing::Certify)?;
    if !open.register.is_released()? {
        return Err(Failure::Refused {
            what: "certificates are given out after the results are released".to_owned(),
            hint: format!(
                "valinch results release {} --confirmed-by ROLE",
                request.folder.display()
            ),
        });
    }
    let people = people_of(around, &request.folder, &open.register, &request.names)?;
    let awards = open.register.marks()?;
    let drawn = &open.drawn;
    let scripts = named_scripts(&drawn.exam, &drawn.sitting, &awards, &people);
    let passed: Vec<(&Script<'_>, String)> = passed(&drawn.exam, &drawn.seed, &scripts);
    let before = given_out(&open.register)?;
    let stands = |number: &String| passed.iter().any(|(_, current)| current == number);
    let withdrawn: Vec<String> = before
        .iter()
        .filter(|(number, given)| given.stands && !stands(number))
        .map(|(number, _)| number.clone())
        .collect();
    let new: Vec<String> = passed
        .iter()
        .filter(|(_, number)| !before.get(number).is_some_and(|given| given.stands))
        .map(|(script, number)| format!("{number} {}", script.place.candidate))
        .collect();
    let folder = folder.join("certificates");
    let files = sheets(drawn, &paper.sheets, &passed)?;
    // A file of who has none any more goes; that of who has another is written over.
    let gone = before.iter().filter(|(number, given)| {
        withdrawn.contains(number)
            && !passed
                .iter()
                .any(|(script, _)| script.place.candidate.as_str() == given.candidate)
    });
    let gone: Vec<PathBuf> = gone
        .map(|(_, given)| file(&folder, &given.candidate))
        .collect();
    let report = CertificatesReport {
        folder: folder.clone(),
        given: passed
            .iter()
            .map(|(script, number)| (script.place.candidate.to_string(), grouped(number)))
            .collect(),
        new: new.len(),
        withdrawn: withdrawn.iter().map(|number| grouped(number)).collect(),
    };
    if !new.is_empty() || !withdrawn.is_empty() {
        let details = Details::from([
            (ISSUED.to_owned(), new.join("; ")),
            (WITHDRAWN.to_owned(), withdrawn.join("; ")),
        ]);
        // Entered first: no certificate lies open of which the ledger does not know.
        open.register.note(Act::Certified, &by, details)?;
    }
    open.register.close()?;
    for (path, bytes) in files {
        around.write(&folder.join(path), &bytes)?;
    }
    for path in gone {
        around.remove(&path)?;
    }
    Ok(report)
}

/// What the register says of a certificate's number, however it is grouped.
///
/// # Errors
/// When the register cannot be read.
pub(crate) fn standing(
    around: &dyn Surroundings,
    folder: &Path,
    open: &OpenSitting,
    written: &str,
) -> Result<CertificateStanding, Failure> {
    let number: String = written
        .chars()
        .filter(|c| !c.is_whitespace() && *c != '-')
        .collect();
    if number.len() != DIGITS + 1 || !has_valid_check_digit(&number) {
        return Ok(CertificateStanding::Slip);
    }
    let before = given_out(&open.register)?;
    let Some(given) = before.get(&number) else {
        return Ok(CertificateStanding::Unknown);
    };
    let awards = open.register.marks()?;
    let drawn = &open.drawn;
    // Without the passphrase or the file the number alone is told.
    let people = people_of(around, folder, &open.register, &Names::default());
    let people = people.unwrap_or_else(|_| People::nobody());
    let scripts = named_scripts(&drawn.exam, &drawn.sitting, &awards, &people);
    let passed = passed(&drawn.exam, &drawn.seed, &scripts);
    let current = passed.iter().find(|(_, current)| *current == number);
    Ok(match current {
        Some((script, _)) if given.stands => CertificateStanding::Stands {
            says: format!(
                "{} passed \"{}\" of {}{}",
                holder(script),
                drawn.exam.plan.title,
                date_in_words(&drawn.exam.plan.date),
                script
                    .decision
                    .grade
                    .as_ref()
                    .map_or_else(String::new, |grade| format!(", {grade}"))
            ),
        },
        Some(_) | None => CertificateStanding::Withdrawn {
            candidate: given.candidate.clone(),
        },
    })
}

/// "Ada (candidate C-001)", or the number alone where nobody is known behind it.
fn holder(script: &Script<'_>) -> String {
    let candidate = &script.place.candidate;
    if script.name.is_empty() {
        format!("candidate {candidate}")
    } else {
        format!("{} (candidate {candidate})", script.name)
    }
}

/// Who passed, with the number of the certificate.
fn passed<'s, 'e>(
    exam: &Exam,
    seed: &ExamSeed,
    scripts: &'s [Script<'e>],
) -> Vec<(&'s Script<'e>, String)> {
    scripts
        .iter()
        .filter(|script| script.decision.outcome == Outcome::Pass)
        .map(|script| (script, number(exam, seed, script)))
        .collect()
}

/// The number of a certificate.
fn number(exam: &Exam, seed: &ExamSeed, script: &Script<'_>) -> String {
    let statement = [
        exam.plan.school.as_deref().unwrap_or(""),
        exam.plan.title.as_str(),
        exam.plan.date.as_str(),
        script.place.candidate.as_str(),
        script.decision.grade.as_deref().unwrap_or(""),
    ];
    let mut hash = Sha256::new();
    let mut part = |bytes: &[u8]| {
        hash.update(u32::try_from(bytes.len()).unwrap_or(u32::MAX).to_be_bytes());
        hash.update(bytes);
    };
    part(b"valinch certificate 1");
    part(seed.bytes());
    for words in statement {
        part(words.as_bytes());
    }
    let digest = hash.finalize();
    let first = digest
        .iter()
        .take(8)
        .fold(0_u64, |n, byte| (n << 8) | u64::from(*byte));
    // Of 2^64 values 10^11 divides all but a share of 10^-8: no number is likelier to notice.
    let digits = format!("{:011}", first % 100_000_000_000);
    let check = check_digit(&digits).unwrap_or('0');
    format!("{digits}{check}")
}

/// "4711 2233 4450".
fn grouped(number: &str) -> String {
    let digits: Vec<char> = number.chars().collect();
    let groups: Vec<String> = digits
        .chunks(4)
        .map(|group| group.iter().collect())
        .collect();
    groups.join(" ")
}

/// A certificate that was given out.
struct Given {
    candidate: String,
    stands: bool,
}

/// Every number that was given out, by the ledger.
fn given_out(register: &Register) -> Result<BTreeMap<String, Given>, Failure> {
    let mut all: BTreeMap<String, Given> = BTreeMap::new();
    for text in register.ledger()? {
        let entry = Entry::read(&text).map_err(RegisterError::Damaged)?;
        if entry.act != Act::Certified {
            continue;
        }
        let listed = |name: &str| entry.details.get(name).cloned().unwrap_or_default();
        for number in listed(WITHDRAWN).split("; ") {
            if let Some(given) = all.get_mut(number) {
                given.stands = false;
            }
        }
        for one in listed(ISSUED).split("; ") {
            if let Some((number, candidate)) = one.split_once(' ') {
                let given = Given {
                    candidate: candidate.to_owned(),
                    stands: true,
                };
                all.insert(number.to_owned(), given);
            }
        }
    }
    Ok(all)
}

fn file(folder: &Path, candidate: &str) -> PathBuf {
    folder.join(format!("{}.pdf", safe_file_name(candidate)))
}

/// The certificates as files below the folder.
fn sheets(
    drawn: &DrawnSitting,
    renderer: &renderer::Renderer,
    passed: &[(&Script<'_>, String)],
) -> Result<Vec<(PathBuf, Vec<u8>)>, Failure> {
    let head = exam_head(&drawn.exam);
    let look = sitting_look(drawn);
    let made: Vec<Result<_, Vec<Fault>>> = passed
        .par_iter()
        .map(|(script, number)| {
            let content = content(&drawn.exam, &head, script, number);
            let stamp = PdfStamp::new(format!("{}/{}/certificate/{number}", head.title, head.date));
            let printed = renderer
                .certificate(&content, &look, &stamp)
                .map_err(renderer::RenderFault::into_faults)?;
            Ok((
                file(Path::new(""), script.place.candidate.as_str()),
                printed.pdf,
            ))
        })
        .collect();
    let (mut files, mut faults) = (Vec::new(), Vec::new());
    for one in made {
        match one {
            Ok(file) => files.push(file),
            Err(found) => faults.extend(found),
        }
    }
    if faults.is_empty() {
        Ok(files)
    } else {
        Err(Failure::Faults {
            faults,
            sources: Sources::new(),
        })
    }
}

fn content(exam: &Exam, head: &ExamHead, script: &Script<'_>, number: &str) -> Sheet {
    Sheet {
        exam: head.clone(),
        day: date_in_words(&exam.plan.date),
        name: script.name.to_owned(),
        candidate_number: script.place.candidate.to_string(),
        grade: script.decision.grade.clone().unwrap_or_default(),
        examined: examined(exam),
        number: grouped(number),
        check: "The school tells from its register whether this certificate stands.".to_owned(),
    }
}

/// What the examination consists of, whoever brought a part of it along.
fn examined(exam: &Exam) -> String {
    const IN_WORDS: [&str; 12] = [
        "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
        "twelve",
    ];
    let tasting = exam.plan.tasting.as_ref().map(|part| {
        let samples = part.samples.len();
        let word = samples.checked_sub(1).and_then(|place| IN_WORDS.get(place));
        let number = word.map_or_else(|| samples.to_string(), |word| (*word).to_owned());
        let noun = if samples == 1 { "spirit" } else { "spirits" };
        format!("a blind tasting of {number} {noun}")
    });
    match (&exam.plan.theory, tasting) {
        (Some(_), Some(tasting)) => format!("a theory paper and {tasting}"),
        (Some(_), None) => "a theory paper".to_owned(),
        (None, Some(tasting)) => tasting,
        (None, None) => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_read_in_groups_of_four() {
        assert_eq!(grouped("471122334450"), "4711 2233 4450");
    }
}
