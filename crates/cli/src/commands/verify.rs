//! `valinch verify`.

use std::path::PathBuf;

use anyhow::Result;
use clap::Args;
use workflow::verify::{Export, VerifyRequest, verify};
use workflow::{CertificateStanding, Head, Surroundings};

use super::acting::ActingArguments;
use super::json;
use crate::exit::Exit;
use crate::talk::Talk;

/// Check a register, a proof taken from it, or a released key, against what was written down
///
/// Every act leaves an entry in the register's ledger, chained by hashes. This finds every changed
/// byte, every entry that was dropped, swapped or put in, and, with a head that was kept (it is
/// printed at the foot of what proctors and examiners hold), an end that was cut off. With
/// --root, a folder, a register, a released key or a leaf is held against the root that was printed.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch verify examples/certificate\n  valinch verify examples/certificate --certificate \"4711 2233 4450\"\n  valinch verify examples/certificate --backup --to backup.register\n  valinch verify key.json --root \"MFRG-GZDF-…\""
)]
pub(crate) struct VerifyArguments {
    /// The exam's folder, a register, or a proof
    what: PathBuf,
    /// A head that was kept, as printed
    #[arg(long, value_name = "HEAD")]
    head: Option<Head>,
    /// The root of the seal, as printed on every booklet (without theory, on every cover): 13 groups
    #[arg(long, value_name = "ROOT", value_parser = root)]
    root: Option<Root>,
    /// The number of a certificate: whether this sitting gave it, to whom, and whether it stands
    #[arg(long, value_name = "NUMBER")]
    certificate: Option<String>,
    /// Show one leaf of the seal with its proof, for an appeal: question A 7, sample NAME, codes
    /// CANDIDATE, text NAME
    #[arg(long, value_name = "LEAF", requires = "to", conflicts_with_all = ["ledger", "entry", "growth"])]
    leaf: Option<String>,
    /// Write the ledger itself to a file, one entry a line
    #[arg(long, requires = "to", conflicts_with_all = ["entry", "growth"])]
    ledger: bool,
    /// Write the proof that this entry stands in the ledger
    #[arg(
        long,
        value_name = "NUMBER",
        requires = "to",
        conflicts_with = "growth"
    )]
    entry: Option<usize>,
    /// Write the proof that the ledger goes on from its first so many entries
    #[arg(long, value_name = "NUMBER", requires = "to")]
    growth: Option<usize>,
    /// Copy the register whole and check the copy, also while somebody is using it; a copy made by hand
    /// beside an open register may miss the last acts
    #[arg(long, requires = "to", conflicts_with_all = ["leaf", "ledger", "entry", "growth"])]
    backup: bool,
    /// Where that is written
    #[arg(long, value_name = "FILE")]
    to: Option<PathBuf>,
    #[command(flatten)]
    acting: ActingArguments,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

/// The root of a seal.
#[derive(Debug, Clone, Copy)]
struct Root([u8; 32]);

fn root(text: &str) -> Result<Root, String> {
    let wrong = || "a root is 13 groups of four, as printed".to_owned();
    workflow::verify::root_from_words(text)
        .map(Root)
        .ok_or_else(wrong)
}

pub(crate) fn run(given: &VerifyArguments, talk: &Talk, around: &dyn Surroundings) -> Result<Exit> {
    let export = match (given.ledger, given.entry, given.growth) {
        (true, _, _) => Some(Export::Ledger),
        (false, Some(number), _) => Some(Export::Entry(number)),
        (false, None, Some(number)) => Some(Export::Growth(number)),
        (false, None, None) => None,
    };
    let request = VerifyRequest {
        stated: given.acting.stated(),
        what: given.what.clone(),
        head: given.head,
        root: given.root.map(|root| root.0),
        export: export.zip(given.to.clone()),
        leaf: given.leaf.clone().zip(given.to.clone()),
        certificate: given.certificate.clone(),
        backup: given.to.clone().filter(|_| given.backup),
    };
    let report = verify(around, &request)?;
    let certified = match &report.certificate {
        None | Some(CertificateStanding::Stands { .. }) => true,
        Some(
            CertificateStanding::Withdrawn { .. }
            | CertificateStanding::Unknown
            | CertificateStanding::Slip,
        ) => false,
    };
    let exit = if report.faults.is_empty() && certified {
        Exit::Done
    } else {
        Exit::NotAsWritten
    };
    if given.json {
        json(talk, &report)?;
        return Ok(exit);
    }
    talk.data(&format!("Checked: {}.", report.checked));
    if let Some(head) = &report.head {
        talk.data(&format!("Head:    {head}"));
    }
    if let Some(root) = &report.root {
        talk.data(&format!("Root:    {root}"));
    }
    if let Some(shown) = &report.shown {
        talk.data(&serde_json::to_string_pretty(shown)?);
    }
    for note in &report.notes {
        talk.data(&format!("Note:    {note}."));
    }
    for fault in &report.faults {
        talk.data(&format!("Changed: {fault}."));
    }
    if report.faults.is_empty() {
        talk.data("All is as it was written.");
    } else {
        talk.say("hint: keep this file as it is, and compare it with a backup");
    }
    if let Some(certificate) = &report.certificate {
        talk.data(&format!("Certificate: {}", in_words(certificate)));
    }
    if let Some(file) = &report.written {
        talk.say(&format!("Written: {}", file.display()));
    }
    Ok(exit)
}

/// What the register says of a certificate.
fn in_words(certificate: &CertificateStanding) -> String {
    match certificate {
        CertificateStanding::Stands { says } => {
            format!("it stands. {says}. Compare the name with the paper.")
        }
        CertificateStanding::Withdrawn { candidate } => format!(
            "withdrawn. It was given to candidate {candidate}, and the result was corrected since."
        ),
        CertificateStanding::Unknown => "this sitting never gave it.".to_owned(),
        CertificateStanding::Slip => {
            "this is no number of a certificate: twelve digits, one of them is wrong or two are swapped."
                .to_owned()
        }
    }
}
