//! Checks what was entered: the register against its ledger, and proofs that were taken from it.

use std::path::{Path, PathBuf};

pub use register::hex::digest_from_words as root_from_words;
use register::hex::{Digest32, to_groups};
use register::ledger::{ConsistencyProof, InclusionProof};
use register::seal::{Key, LeafProof};
use register::{Act, Details, Entry, Head, Register};
use serde::Serialize;

use crate::assemble::REGISTER;
use crate::failure::Failure;
use crate::open_sitting::OpenSitting;
use crate::person::overdue;
use crate::public_draw::look_at_draw;
use crate::roles::{Doing, Stated, acting};
use crate::seal::key_of_sitting;
use crate::surroundings::Surroundings;

/// What `verify` is asked.
#[derive(Debug, Clone)]
pub struct VerifyRequest {
    /// An exam's folder, a register, or a proof.
    pub what: PathBuf,
    /// A head that was kept: from a sheet, or from an earlier call.
    pub head: Option<Head>,
    /// The root of the seal, as printed.
    pub root: Option<Digest32>,
    /// What to take out of the register, and where it goes.
    pub export: Option<(Export, PathBuf)>,
    /// Show this leaf of the seal with its proof: `question A 7`, and where it goes.
    pub leaf: Option<(String, PathBuf)>,
    /// Copy the register whole, while others may be using it, and where the copy goes.
    pub backup: Option<PathBuf>,
    /// In which role a leaf is shown.
    pub stated: Stated,
}

/// What can be taken out of a register and checked without it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Export {
    /// The ledger itself, one entry a line.
    Ledger,
    /// The proof that the entry with this number stands in the ledger.
    Entry(usize),
    /// The proof that the ledger goes on from its first so many entries.
    Growth(usize),
}

/// What `verify` found.
#[derive(Debug, Clone, Serialize)]
pub struct VerifyReport {
    /// What was checked, in words.
    pub checked: String,
    /// The head of the ledger.
    pub head: Option<String>,
    /// The root of the seal.
    pub root: Option<String>,
    /// What was shown of the key.
    pub shown: Option<serde_json::Value>,
    /// Everything that is not as it was written, one sentence each.
    pub faults: Vec<String>,
    /// What should be known and is no fault.
    pub notes: Vec<String>,
    /// The file that was written.
    pub written: Option<PathBuf>,
}

/// Checks a register, a ledger that was taken from it, or a proof.
///
/// # Errors
/// When there is nothing to check, or it cannot be read. What is not as it was written is no error:
/// it is in the report.
pub fn verify(around: &dyn Surroundings, request: &VerifyRequest) -> Result<VerifyReport, Failure> {
    let beside = request.what.join(REGISTER);
    let path = if around.has_file(&beside) {
        beside
    } else {
        request.what.clone()
    };
    if !around.has_file(&path) {
        return Err(Failure::Refused {
            what: format!("{} holds nothing to check", path.display()),
            hint: "name an exam's folder that is assembled, a register, or a proof".to_owned(),
        });
    }
    if let Some((name, to)) = &request.leaf {
        return show_leaf(around, request, name, to);
    }
    if is_database(around, &path)? {
        return of_register(around, &path, request);
    }
    if request.export.is_some() || request.backup.is_some() {
        return Err(Failure::Refused {
            what: format!(
                "{} is no register: nothing can be taken from it",
                path.display()
            ),
            hint: "name the register or its folder".to_owned(),
        });
    }
    let bytes = around.read(&path)?;
    let text = String::from_utf8_lossy(&bytes);
    if let Some(report) = of_seal(&text, request.root.as_ref()) {
        return Ok(report);
    }
    of_text(&path, &text, request.head.as_ref())
}

/// Whether a file begins as SQLite's do.
fn is_database(around: &dyn Surroundings, path: &Path) -> Result<bool, Failure> {
    use std::io::Read;
    let mut start = Vec::new();
    around
        .open(path)?
        .take(16)
        .read_to_end(&mut start)
        .map_err(|error| Failure::cannot_read(path, &error))?;
    Ok(start == b"SQLite format 3\0")
}

fn of_register(
    around: &dyn Surroundings,
    path: &Path,
    request: &VerifyRequest,
) -> Result<VerifyReport, Failure> {
    let found = Register::verify(path, request.head.as_ref())?;
    let mut report = VerifyReport {
        checked: format!(
            "the register, its ledger of {} and every table",
            entries(found.head.size)
        ),
        head: Some(found.head.to_string()),
        root: found.sealed.as_ref().map(|sealed| to_groups(&sealed.root)),
        shown: None,
        faults: found.faults.iter().map(fault_in_words).collect(),
        notes: clock_notes(&found.clock_set_back),
        written: None,
    };
    if let Some(printed) = &request.root {
        match &found.sealed {
            Some(sealed) if sealed.root == *printed => {}
            Some(_) => report
                .faults
                .push("the root in the register is not the printed one".to_owned()),
            None => report
                .faults
                .push("this sitting is not sealed, so it has no root to compare".to_owned()),
        }
    }
    // A register that was named alone may lie anywhere, without what lay beside it.
    let folder = (path != request.what).then_some(request.what.as_path());
    let draw = look_at_draw(around, path, folder)?;
    report.faults.extend(draw.faults);
    report.notes.extend(draw.notes);
    if let Some(end) = overdue(around, path) {
        report.notes.push(format!(
            "names were to be kept until {end}: valinch results retention FOLDER removes them"
        ));
    }
    if let Some(to) = &request.backup {
        Register::back_up(path, to)?;
        // A copy that was not looked at is none.
        let copy = Register::verify(to, Some(&found.head))?;
        let faults = copy.faults.iter().map(fault_in_words);
        report
            .faults
            .extend(faults.map(|fault| format!("in the copy, {fault}")));
        report.written = Some(to.clone());
    }
    if let Some((export, to)) = &request.export {
        let texts = Register::ledger_of(path)?;
        around.write(to, &exported(*export, &texts)?)?;
        report.written = Some(to.clone());
    }
    Ok(report)
}

fn entries(number: u64) -> String {
    if number == 1 {
        "1 entry".to_owned()
    } else {
        format!("{number} entries")
    }
}

fn fault_in_words(fault: &register::ledger::LedgerFault) -> String {
    match fault.entry {
        Some(number) => format!("entry {number}: {}", fault.what),
        None => fault.what.clone(),
    }
}

fn clock_notes(entries: &[u64]) -> Vec<String> {
    entries
        .iter()
        .map(|number| format!("entry {number}: the clock showed less than at the entry before"))
        .collect()
}

/// What is taken out, as it is written to a file.
fn exported(export: Export, texts: &[String]) -> Result<Vec<u8>, Failure> {
    let too_many = |what: &str| Failure::Refused {
        what: format!("the ledger has {}: {what}", entries(texts.len() as u64)),
        hint: "entries are numbered from 0".to_owned(),
    };
    let json = match export {
        Export::Ledger => {
            let mut lines = texts.join("\n");
            lines.push('\n');
            return Ok(lines.into_bytes());
        }
        Export::Entry(place) => InclusionProof::of(texts, place)
            .ok_or_else(|| too_many("there is no such entry"))?
            .to_json(),
        Export::Growth(earlier) => ConsistencyProof::of(texts, earlier)
            .ok_or_else(|| too_many("it did not begin with so many"))?
            .to_json(),
    };
    let mut text =
        serde_json::to_vec_pretty(&json).map_err(|error| Failure::Defect(error.to_string()))?;
    text.push(b'\n');
    Ok(text)
}

/// A released key, or one leaf of it, against the printed root; none where the text is neither.
fn of_seal(text: &str, printed: Option<&Digest32>) -> Option<VerifyReport> {
    let says = |format: &str| text.contains(&format!("\"{format}\""));
    let (checked, root, shown, mut faults) = if says("valinch leaf 1") {
        match LeafProof::read(text) {
            Ok(proof) => {
                let mut faults = Vec::new();
                if !proof.holds() {
                    faults.push(
                        "the proof does not hold: this leaf does not stand below the root"
                            .to_owned(),
                    );
                }
                let checked = format!("one leaf of {}: {}", proof.size, proof.leaf.name);
                (
                    checked,
                    Some(proof.root),
                    Some(proof.leaf.message.clone()),
                    faults,
                )
            }
            Err(why) => ("one leaf of a seal".to_owned(), None, None, vec![why]),
        }
    } else if says("valinch key 1") {
        match Key::read(text).and_then(|key| Ok((key.root()?, key.leaves().len()))) {
            Ok((root, leaves)) => (
                format!("a key of {leaves} leaves"),
                Some(root),
                None,
                Vec::new(),
            ),
            Err(why) => ("a key".to_owned(), None, None, vec![why.to_string()]),
        }
    } else {
        return None;
    };
    let mut notes = Vec::new();
    match (printed, root) {
        (Some(printed), Some(root)) if *printed != root => {
            faults.push("its root is not the printed one".to_owned());
        }
        (None, Some(_)) => {
            notes.push("compare the root with the printed one, or name it with --root".to_owned())
        }
        (Some(_), _) | (None, None) => {}
    }
    Some(VerifyReport {
        checked,
        head: None,
        root: root.map(|root| to_groups(&root)),
        shown,
        faults,
        notes,
        written: None,
    })
}

/// Shows one leaf with its proof, for an appeal: it opens nothing else, and the act is entered.
fn show_leaf(
    around: &dyn Surroundings,
    request: &VerifyRequest,
    name: &str,
    to: &Path,
) -> Result<VerifyReport, Failure> {
    let mut open = OpenSitting::open(around, &request.what)?;
    checked_before_showing(around, request)?;
    let by = acting(
        around,
        Some(&mut open.register),
        Doing::ShowLeaf,
        request.stated,
    )?;
    let refused = |what: &str, hint: &str| Failure::Refused {
        what: what.to_owned(),
        hint: hint.to_owned(),
    };
    let Some(sealed) = open.register.seal()? else {
        return Err(refused(
            "this sitting is not sealed: there is no root to prove anything against",
            "valinch seal FOLDER, before the papers are printed",
        ));
    };
    if name == "seed" {
        return Err(refused(
            "the seed opens every other leaf: it is not shown alone",
            "open the whole key with valinch seal --open",
        ));
    }
    let key = key_of_sitting(&open)?;
    let bad = |why: register::seal::BadKey| Failure::Defect(why.to_string());
    let Some(proof) = key.prove(name).map_err(bad)? else {
        return Err(refused(
            &format!("the seal has no leaf \"{name}\""),
            "leaves are named: question A 7, sample NAME, codes CANDIDATE, text plan.yaml",
        ));
    };
    if proof.root != sealed.root {
        return Err(refused(
            "the register gives another root than the one that was sealed: nothing can be proven",
            "look into the register with valinch verify FOLDER; nothing was shown",
        ));
    }
    let mut json = serde_json::to_vec_pretty(&proof.to_json())
        .map_err(|error| Failure::Defect(error.to_string()))?;
    json.push(b'\n');
    // Entered first: nothing is shown that the ledger does not know of.
    let details = Details::from([("leaf".to_owned(), name.to_owned())]);
    let head = open.register.note(Act::LeafShown, &by, details)?;
    around.write_secret(to, &json)?;
    open.register.close()?;
    Ok(VerifyReport {
        checked: format!("one leaf of {}: {name}", proof.size),
        head: Some(head.to_string()),
        root: Some(to_groups(&proof.root)),
        shown: Some(proof.leaf.message.clone()),
        faults: Vec::new(),
        notes: Vec::new(),
        written: Some(to.to_owned()),
    })
}

/// Refuses to show a leaf where a head or root that was kept does not fit the register.
fn checked_before_showing(
    around: &dyn Surroundings,
    request: &VerifyRequest,
) -> Result<(), Failure> {
    if request.head.is_none() && request.root.is_none() {
        return Ok(());
    }
    let only_check = VerifyRequest {
        export: None,
        leaf: None,
        ..request.clone()
    };
    let found = of_register(around, &request.what.join(REGISTER), &only_check)?;
    if found.faults.is_empty() {
        return Ok(());
    }
    Err(Failure::Refused {
        what: format!("no leaf is shown: {}", found.faults.join("; ")),
        hint: "valinch verify FOLDER, without --leaf, tells more; nothing was changed".to_owned(),
    })
}

/// A proof or a ledger in a file of its own.
fn of_text(path: &Path, text: &str, kept: Option<&Head>) -> Result<VerifyReport, Failure> {
    let report = |checked: String, head: Option<Head>, faults: Vec<String>| VerifyReport {
        checked,
        head: head.map(|head| head.to_string()),
        root: None,
        shown: None,
        faults,
        notes: Vec::new(),
        written: None,
    };
    let other_head = |head: &Head| {
        let differs = kept.is_some_and(|kept| kept != head);
        differs.then(|| "the proof is about another head than the one that was kept".to_owned())
    };
    let unread = match InclusionProof::read(text) {
        Ok(proof) => {
            let mut faults = Vec::new();
            if !proof.holds() {
                faults.push(
                    "the proof does not hold: the entry does not stand in this ledger".to_owned(),
                );
            }
            if let Err(why) = Entry::read(&proof.entry) {
                faults.push(format!("what it shows is no entry: {why}"));
            }
            faults.extend(other_head(&proof.head));
            let checked = format!("the proof that entry {} stands in the ledger", proof.place);
            return Ok(report(checked, Some(proof.head), faults));
        }
        Err(why) => why,
    };
    if let Ok(proof) = ConsistencyProof::read(text) {
        let mut faults = Vec::new();
        if !proof.holds() {
            faults.push(
                "the proof does not hold: the later ledger does not go on from the earlier"
                    .to_owned(),
            );
        }
        if kept.is_some_and(|kept| *kept != proof.earlier && *kept != proof.later) {
            faults.push("the proof is about other heads than the one that was kept".to_owned());
        }
        let checked = format!(
            "the proof that the ledger goes on from its first {}",
            entries(proof.earlier.size)
        );
        return Ok(report(checked, Some(proof.later), faults));
    }
    if text
        .lines()
        .next()
        .is_some_and(|line| Entry::read(line).is_ok())
    {
        let found = register::ledger::check(text.lines(), kept);
        let mut faults: Vec<String> = found.faults.iter().map(fault_in_words).collect();
        if !text.ends_with('\n') || text.contains('\r') {
            faults.push("the file does not end its lines as it was written".to_owned());
        }
        let checked = format!("a ledger of {}", entries(found.head.size));
        let mut report = report(checked, Some(found.head), faults);
        report.notes = clock_notes(&found.clock_set_back);
        return Ok(report);
    }
    Err(Failure::Refused {
        what: format!(
            "{} is nothing that can be checked: {unread}",
            path.display()
        ),
        hint: "name an exam's folder, a register, or a file that verify wrote".to_owned(),
    })
}
