//! The key locked up: a file in the age format (age-encryption.org/v1), opened by a passphrase or by
//! the identities of its recipients. Any other program that knows the format opens it as well.

use std::io::{Read, Write};
use std::iter;

use age::secrecy::{ExposeSecret, SecretString};
use age::{Decryptor, Encryptor, Identity, Recipient, scrypt, x25519};
use zeroize::{Zeroize, Zeroizing};

/// A secret text: shown by no message, and wiped from memory when it is done with.
#[derive(Clone)]
pub struct Secret(SecretString);

impl Secret {
    /// Takes over a text.
    #[must_use]
    pub fn new(text: String) -> Self {
        Self(SecretString::from(text))
    }
    /// The text, to look at and not to keep.
    #[must_use]
    pub fn look(&self) -> &str {
        self.0.expose_secret()
    }
}

impl std::fmt::Debug for Secret {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Secret")
    }
}

/// To whom a file is locked. The format allows a passphrase or recipients, and never both.
#[derive(Debug, Clone)]
pub enum Locked {
    /// To whoever knows the passphrase.
    Passphrase(Secret),
    /// To whoever holds the identity of one of these recipients (`age1…`).
    Recipients(Vec<String>),
}

/// What opens a file.
#[derive(Debug, Clone)]
pub enum Opener {
    /// The passphrase.
    Passphrase(Secret),
    /// An identity (`AGE-SECRET-KEY-1…`), alone or in a file of its own with comments.
    Identity(Secret),
}

/// Why a file cannot be locked or opened, in a sentence without its full stop.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct CannotOpen(pub String);

fn cannot(why: impl std::fmt::Display) -> CannotOpen {
    CannotOpen(why.to_string())
}

/// The work of one guess at a passphrase is 2 to this power: about a second and 256 MB.
const WORK: u8 = 18;

/// Locks bytes up.
///
/// # Errors
/// When a recipient is none.
pub fn lock(bytes: &[u8], locked: &Locked) -> Result<Vec<u8>, CannotOpen> {
    let recipients: Vec<Box<dyn Recipient>> = match locked {
        Locked::Passphrase(secret) => {
            let mut recipient = scrypt::Recipient::new(secret.0.clone());
            recipient.set_work_factor(WORK);
            vec![Box::new(recipient)]
        }
        Locked::Recipients(list) => list
            .iter()
            .zip(1..)
            .map(|(text, number): (&String, usize)| {
                let read: Result<x25519::Recipient, _> = text.trim().parse();
                // What was written is not shown again: it may be an identity, pasted by mistake.
                read.map(|recipient| Box::new(recipient) as Box<dyn Recipient>)
                    .map_err(|why| CannotOpen(format!("recipient {number} is none (age1…): {why}")))
            })
            .collect::<Result<_, _>>()?,
    };
    let encryptor =
        Encryptor::with_recipients(recipients.iter().map(AsRef::as_ref)).map_err(cannot)?;
    let mut out = Vec::new();
    let mut writer = encryptor.wrap_output(&mut out).map_err(cannot)?;
    writer.write_all(bytes).map_err(cannot)?;
    writer.finish().map_err(cannot)?;
    Ok(out)
}

/// Opens a file.
///
/// # Errors
/// When it is no such file, was changed, or is opened by something else.
pub fn open(bytes: &[u8], opener: &Opener) -> Result<Zeroizing<String>, CannotOpen> {
    let identity: Box<dyn Identity> = match opener {
        Opener::Passphrase(secret) => {
            let mut identity = scrypt::Identity::new(secret.0.clone());
            // What another program made with more work is not ours to wait for.
            identity.set_max_work_factor(WORK + 4);
            Box::new(identity)
        }
        Opener::Identity(secret) => {
            let line = secret
                .look()
                .lines()
                .map(str::trim)
                .find(|line| !line.is_empty() && !line.starts_with('#'))
                .unwrap_or("");
            let read: Result<x25519::Identity, _> = line.parse();
            Box::new(read.map_err(|why| CannotOpen(format!("this is no identity: {why}")))?)
        }
    };
    let decryptor = Decryptor::new(bytes).map_err(cannot)?;
    let mut reader = decryptor
        .decrypt(iter::once(identity.as_ref()))
        .map_err(|why| CannotOpen(format!("it does not open: {why}")))?;
    // What is locked is never longer than its file: with this room nothing grows and leaves copies.
    let mut found = Zeroizing::new(Vec::with_capacity(bytes.len()));
    reader.read_to_end(&mut found).map_err(cannot)?;
    String::from_utf8(std::mem::take(&mut *found))
        .map(Zeroizing::new)
        .map_err(|error| {
            error.into_bytes().zeroize();
            CannotOpen("what is in it is no text".to_owned())
        })
}

/// A new identity and its recipient.
#[must_use]
pub fn new_identity() -> (Secret, String) {
    let identity = x25519::Identity::generate();
    let recipient = identity.to_public().to_string();
    (Secret(identity.to_string()), recipient)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn what_was_locked_opens_for_its_holder_alone() {
        let (mine, recipient) = new_identity();
        let (other, _) = new_identity();
        let file = lock(b"the key", &Locked::Recipients(vec![recipient])).unwrap();
        assert!(file.starts_with(b"age-encryption.org/v1\n"));
        let opened = open(&file, &Opener::Identity(mine.clone())).unwrap();
        assert_eq!(opened.as_str(), "the key");
        assert!(open(&file, &Opener::Identity(other)).is_err());
        let mut changed = file.clone();
        *changed.last_mut().unwrap() ^= 1;
        assert!(open(&changed, &Opener::Identity(mine)).is_err());
        assert!(lock(b"x", &Locked::Recipients(vec!["somebody".to_owned()])).is_err());
        let (pasted, _) = new_identity();
        let wrong = Locked::Recipients(vec![pasted.look().to_owned()]);
        let told = lock(b"x", &wrong).unwrap_err().to_string();
        assert!(
            told.contains("recipient 1") && !told.contains("AGE-SECRET-KEY"),
            "{told}"
        );
        assert!(!told.contains(pasted.look()));
        assert!(lock(b"x", &Locked::Recipients(vec![])).is_err());
    }

    #[test]
    fn a_passphrase_opens_and_another_does_not() {
        let secret = |text: &str| Secret::new(text.to_owned());
        let file = lock(
            b"the key",
            &Locked::Passphrase(secret("four words of ours")),
        )
        .unwrap();
        let opened = open(&file, &Opener::Passphrase(secret("four words of ours"))).unwrap();
        assert_eq!(opened.as_str(), "the key");
        assert!(open(&file, &Opener::Passphrase(secret("four words of mine"))).is_err());
        assert_eq!(format!("{:?}", secret("hidden")), "Secret");
    }
}
