//! Takes a secret from a person: by prompt, from a file, or from the environment; never from the
//! command line, where others can read it.

use std::io::IsTerminal;
use std::path::Path;

use anyhow::Result;
use workflow::{Failure, Secret, Surroundings};

/// The variable that may hold the passphrase.
pub(crate) const VARIABLE: &str = "VALINCH_PASSPHRASE";

/// A passphrase; asked for twice where it will lock something.
pub(crate) fn passphrase(
    file: Option<&Path>,
    twice: bool,
    around: &dyn Surroundings,
) -> Result<Secret> {
    if let Some(file) = file {
        return Ok(first_line(&from_file(file, around)?));
    }
    if let Ok(text) = std::env::var(VARIABLE) {
        return Ok(Secret::new(text));
    }
    let nobody = |why: &str| Failure::Refused {
        what: format!("no passphrase can be asked for here: {why}"),
        hint: format!("name a file with --passphrase-file, or set {VARIABLE}"),
    };
    if !std::io::stdin().is_terminal() {
        return Err(nobody("nobody sits at the input").into());
    }
    let ask = |prompt: &str| {
        rpassword::prompt_password(prompt)
            .map(Secret::new)
            .map_err(|error| nobody(&error.to_string()))
    };
    let first = ask("Passphrase: ")?;
    if twice && ask("Again: ")?.look() != first.look() {
        return Err(Failure::Refused {
            what: "the two are not the same".to_owned(),
            hint: "try again".to_owned(),
        }
        .into());
    }
    Ok(first)
}

/// The first line, without its line end.
fn first_line(text: &Secret) -> Secret {
    Secret::new(text.look().lines().next().unwrap_or_default().to_owned())
}

/// The text of a file, its last line break left out.
pub(crate) fn from_file(file: &Path, around: &dyn Surroundings) -> Result<Secret, Failure> {
    let text = String::from_utf8(around.read(file)?).map_err(|_| Failure::CannotRead {
        path: file.to_owned(),
        why: "it is no text".to_owned(),
    })?;
    // Kept as a secret from here on, so that what is cut off is cleared too.
    let text = Secret::new(text);
    let kept = text.look().trim_end_matches(['\n', '\r']);
    Ok(Secret::new(kept.to_owned()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_passphrase_is_the_first_line_and_keeps_its_spaces() {
        for (text, first) in [
            ("heron lantern\nkept by the chief\n", "heron lantern"),
            ("heron lantern\r\nsecond", "heron lantern"),
            (" heron ", " heron "),
            ("", ""),
        ] {
            assert_eq!(first_line(&Secret::new(text.to_owned())).look(), first);
        }
    }
}
