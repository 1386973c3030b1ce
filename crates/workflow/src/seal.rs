//! Seals the key of a sitting: commits to it by one root, and locks it up until after the sitting.

mod messages;
mod passphrase;

use std::path::{Path, PathBuf};

use register::hex::to_groups;
use register::seal::{Key, Secret, Share, lock, new_identity, open, recombine, split};
use register::{Act, Details};
use serde::Serialize;

pub use passphrase::check_passphrase;
pub use register::seal::{Locked, Opener};

use crate::failure::Failure;
use crate::open_sitting::OpenSitting;
use crate::roles::{Doing, Stated, acting};
use crate::surroundings::Surroundings;

/// The locked key beside the plan.
pub const SEALED_KEY: &str = "sealed-key.age";
/// The folder with the custodians' shares.
const CUSTODIANS: &str = "custodians";

/// What `seal` is asked.
#[derive(Debug, Clone)]
pub struct SealRequest {
    /// The exam's folder.
    pub folder: PathBuf,
    /// What locks the key.
    pub locked: Locked,
    /// How many custodians give it back together, of how many.
    pub custodians: Option<(u8, u8)>,
    /// In which role it is done, and who agrees.
    pub stated: Stated,
}

/// What `seal` did.
#[derive(Debug, Clone, Serialize)]
pub struct SealReport {
    /// The root, as it is printed.
    pub root: String,
    /// How many leaves.
    pub leaves: usize,
    /// The locked key.
    pub file: PathBuf,
    /// The custodians' shares.
    pub shares: Vec<PathBuf>,
    /// The head of the ledger after this act.
    pub head: String,
}

/// What opens a sealed key.
#[derive(Debug, Clone)]
pub enum OpenWith {
    /// A passphrase or an identity.
    One(Opener),
    /// The files of enough custodians.
    Shares(Vec<PathBuf>),
}

/// What `seal --open` is asked.
#[derive(Debug, Clone)]
pub struct UnsealRequest {
    /// The exam's folder.
    pub folder: PathBuf,
    /// What opens it.
    pub with: OpenWith,
    /// Where the key goes.
    pub to: PathBuf,
    /// In which role it is done, and who agrees.
    pub stated: Stated,
}

/// The key of a sitting: every leaf of its seal.
///
/// # Errors
/// When the sitting cannot be read as it was drawn.
pub(crate) fn key_of_sitting(sitting: &OpenSitting) -> Result<Key, Failure> {
    let drawn = sitting.as_drawn()?;
    let texts = sitting.register.digests_as_drawn()?;
    Ok(Key::new(&drawn.seed, messages::messages(&drawn, &texts)))
}

/// Seals a sitting.
///
/// # Errors
/// When the exam is not assembled, it is sealed already with another key, or a file cannot be
/// written.
pub fn seal(around: &dyn Surroundings, request: &SealRequest) -> Result<SealReport, Failure> {
    let mut sitting = OpenSitting::open(around, &request.folder)?;
    let by = acting(
        around,
        Some(&mut sitting.register),
        Doing::Seal,
        request.stated,
    )?;
    let key = key_of_sitting(&sitting)?;
    let defect = |why: register::seal::BadKey| Failure::Defect(why.to_string());
    let root = key.root().map_err(defect)?;
    if sitting
        .register
        .seal()?
        .is_some_and(|sealed| sealed.root != root)
    {
        return Failure::refused(
            "this sitting is sealed already, with another key",
            "a seal is never replaced: its root may be on paper",
        );
    }
    let (locked, shares) = with_custodians(&request.locked, request.custodians)?;
    let text = zeroize::Zeroizing::new(key.to_json().map_err(defect)?);
    let file = request.folder.join(SEALED_KEY);
    let box_of_key = lock(text.as_bytes(), &locked).map_err(cannot)?;
    // Entered first: nothing secret lies anywhere of which the ledger does not know. Where the disk then
    // takes no file, sealing again locks the same key anew.
    let head = sitting.register.put_seal(key.leaves().len(), &root, &by)?;
    around.write_secret(&file, &box_of_key)?;
    let mut written = Vec::new();
    for share in &shares {
        let name = format!("share-{}-of-{}.txt", share.number(), share.made);
        let path = request.folder.join(CUSTODIANS).join(name);
        around.write_secret(&path, share.to_text().as_bytes())?;
        written.push(path);
    }
    sitting.register.close()?;
    Ok(SealReport {
        root: to_groups(&root),
        leaves: key.leaves().len(),
        file,
        shares: written,
        head: head.to_string(),
    })
}

fn cannot(why: impl std::fmt::Display) -> Failure {
    Failure::Refused {
        what: format!("the key cannot be locked or opened: {why}"),
        hint: "nothing was changed".to_owned(),
    }
}

/// Adds an identity that custodians share to the recipients.
fn with_custodians(
    locked: &Locked,
    custodians: Option<(u8, u8)>,
) -> Result<(Locked, Vec<Share>), Failure> {
    let Some((needed, made)) = custodians else {
        return Ok((locked.clone(), Vec::new()));
    };
    let Locked::Recipients(list) = locked else {
        return Failure::refused(
            "a key is locked either by a passphrase or for custodians",
            "leave the passphrase out; recipients may stand beside custodians",
        );
    };
    let (identity, recipient) = new_identity();
    let shares = split(identity.look().as_bytes(), needed, made).map_err(cannot)?;
    let mut list = list.clone();
    list.push(recipient);
    Ok((Locked::Recipients(list), shares))
}

/// Opens a sealed key and puts it down: two roles must agree, and the act is entered.
///
/// # Errors
/// When one role acts alone, the key does not open, or it is not the one that was sealed.
pub fn unseal(around: &dyn Surroundings, request: &UnsealRequest) -> Result<SealReport, Failure> {
    let mut sitting = OpenSitting::open(around, &request.folder)?;
    let by = acting(
        around,
        Some(&mut sitting.register),
        Doing::Unseal,
        request.stated,
    )?;
    let Some(sealed) = sitting.register.seal()? else {
        return Failure::refused("this sitting is not sealed", "there is nothing to open");
    };
    let file = request.folder.join(SEALED_KEY);
    let opener = match &request.with {
        OpenWith::One(opener) => opener.clone(),
        OpenWith::Shares(paths) => Opener::Identity(from_shares(around, paths)?),
    };
    let text = open(&around.read(&file)?, &opener).map_err(cannot)?;
    let key = Key::read(&text).map_err(cannot)?;
    let root = key.root().map_err(cannot)?;
    if root != sealed.root {
        return Failure::refused(
            "the key in this file is not the one that was sealed",
            "keep the file as it is, and look for the right one",
        );
    }
    // Entered first: a key that lies open without an entry would be worse than an entry too many.
    let details = Details::from([("root".to_owned(), to_groups(&root))]);
    let head = sitting.register.note(Act::Unsealed, &by, details)?;
    around.write_secret(&request.to, text.as_bytes())?;
    sitting.register.close()?;
    Ok(SealReport {
        root: to_groups(&root),
        leaves: key.leaves().len(),
        file: request.to.clone(),
        shares: Vec::new(),
        head: head.to_string(),
    })
}

/// The identity that custodians share.
fn from_shares(around: &dyn Surroundings, paths: &[PathBuf]) -> Result<Secret, Failure> {
    let mut shares = Vec::new();
    for path in paths {
        shares.push(read_share(around, path)?);
    }
    let needed = shares.first().map_or(2, |share| share.needed);
    let bytes = recombine(&shares, needed).map_err(cannot)?;
    match std::str::from_utf8(&bytes) {
        Ok(text) => Ok(Secret::new(text.to_owned())),
        Err(_) => Err(cannot("these shares do not belong together")),
    }
}

fn read_share(around: &dyn Surroundings, path: &Path) -> Result<Share, Failure> {
    let bytes = zeroize::Zeroizing::new(around.read(path)?);
    Share::read(&String::from_utf8_lossy(&bytes)).map_err(|why| Failure::Refused {
        what: format!("{}: {why}", path.display()),
        hint: "nothing was changed".to_owned(),
    })
}
