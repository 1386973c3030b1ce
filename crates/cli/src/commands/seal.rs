//! `valinch seal`.

use std::path::PathBuf;

use anyhow::Result;
use clap::Args;
use workflow::seal::{
    Locked, OpenWith, Opener, SealReport, SealRequest, UnsealRequest, check_passphrase, seal,
    unseal,
};
use workflow::{Role, Surroundings};

use super::acting::ActingArguments;
use super::json;
use crate::exit::Exit;
use crate::secrets;
use crate::talk::Talk;

/// Commit to the key before the sitting, and lock it up
///
/// The seal binds to every question with its key, every sample, every candidate's codes and the
/// seed by one root, which is printed on every booklet; on cover and answer sheet where there is no
/// theory. The key itself goes into sealed-key.age, which its owner alone may read,
/// locked by a passphrase (asked for, or from a file or VALINCH_PASSPHRASE), for recipients, or for
/// custodians of whom some open it together. Seal before you print.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch seal examples/certificate --custodians 3 --needed 2\n  \
                  valinch seal examples/certificate --open --to key.json --share a.txt --share b.txt --confirmed-by proctor"
)]
pub(crate) struct SealArguments {
    /// The exam's folder
    folder: PathBuf,
    /// A file with the passphrase in its first line
    #[arg(long, value_name = "FILE")]
    passphrase_file: Option<PathBuf>,
    /// Lock the key for this recipient (age1…) and not by a passphrase; may be given more than once
    #[arg(long, value_name = "RECIPIENT", conflicts_with = "open")]
    recipient: Vec<String>,
    /// Share the key out among so many custodians
    #[arg(
        long,
        value_name = "NUMBER",
        requires = "needed",
        conflicts_with = "open"
    )]
    custodians: Option<u8>,
    /// How many custodians open it together
    #[arg(long, value_name = "NUMBER", requires = "custodians")]
    needed: Option<u8>,
    /// Open the sealed key, after the sitting
    #[arg(long, requires = "to")]
    open: bool,
    /// Where the opened key goes
    #[arg(long, value_name = "FILE", requires = "open")]
    to: Option<PathBuf>,
    /// A file with the identity of a recipient
    #[arg(long, value_name = "FILE", requires = "open")]
    identity_file: Option<PathBuf>,
    /// A custodian's share; may be given more than once
    #[arg(
        long,
        value_name = "FILE",
        requires = "open",
        conflicts_with = "identity_file"
    )]
    share: Vec<PathBuf>,
    #[command(flatten)]
    acting: ActingArguments,
    /// Who agrees to opening it
    #[arg(long, value_name = "ROLE", requires = "open")]
    confirmed_by: Option<Role>,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(given: &SealArguments, talk: &Talk, around: &dyn Surroundings) -> Result<Exit> {
    let report = match &given.to {
        Some(to) => opened(given, to.clone(), around)?,
        None => sealed(given, around)?,
    };
    if given.json {
        json(talk, &report)?;
        return Ok(Exit::Done);
    }
    talk.data(&format!("Root:   {}", report.root));
    talk.data(&format!("Leaves: {}", report.leaves));
    talk.data(&format!("Key:    {}", report.file.display()));
    for share in &report.shares {
        talk.data(&format!("Share:  {}", share.display()));
    }
    talk.data(&format!("Ledger: {}", report.head));
    if given.open {
        talk.say("The key is open: keep it where the papers are kept.");
    } else {
        if !report.shares.is_empty() {
            talk.say("Hand each share to one custodian and delete it here.");
        }
        talk.say(&format!("next: valinch print {}", given.folder.display()));
    }
    Ok(Exit::Done)
}

fn sealed(given: &SealArguments, around: &dyn Surroundings) -> Result<SealReport> {
    let locked = if given.recipient.is_empty() && given.custodians.is_none() {
        let passphrase = secrets::passphrase(given.passphrase_file.as_deref(), true, around)?;
        let name = given
            .folder
            .file_name()
            .unwrap_or_default()
            .to_string_lossy();
        check_passphrase(passphrase.look(), &[&name, "valinch"])?;
        Locked::Passphrase(passphrase)
    } else {
        Locked::Recipients(given.recipient.clone())
    };
    let request = SealRequest {
        folder: given.folder.clone(),
        locked,
        custodians: given.needed.zip(given.custodians),
        stated: given.acting.stated(),
    };
    Ok(seal(around, &request)?)
}

fn opened(given: &SealArguments, to: PathBuf, around: &dyn Surroundings) -> Result<SealReport> {
    let with = if !given.share.is_empty() {
        OpenWith::Shares(given.share.clone())
    } else if let Some(file) = &given.identity_file {
        OpenWith::One(Opener::Identity(secrets::from_file(file, around)?))
    } else {
        let passphrase = secrets::passphrase(given.passphrase_file.as_deref(), false, around)?;
        OpenWith::One(Opener::Passphrase(passphrase))
    };
    let request = UnsealRequest {
        folder: given.folder.clone(),
        with,
        to,
        stated: given.acting.confirmed(given.confirmed_by),
    };
    Ok(unseal(around, &request)?)
}
