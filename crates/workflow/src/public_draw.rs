//! A draw that nobody could choose: a secret is fixed and announced together with the words that say
//! which public value will be taken, and mixed with that value when it is known (RFC 3797's manner).

use std::path::Path;

use base::ExamSeed;
use register::hex::{Digest32, digest_from_words, to_groups};
use register::public_value::{announcement, key_text, mixed, read_sources};
use register::{Act, Beside, Details, Entry};
use serde::{Deserialize, Serialize};
use zeroize::Zeroizing;

use crate::assemble::REGISTER;
use crate::failure::Failure;
use crate::roles::{Doing, Stated, acting};
use crate::surroundings::Surroundings;

/// What is announced, beside the plan: to be put where others see it and cannot change it.
pub const ANNOUNCED: &str = "draw-announced.json";
/// The secret of the announcement, for its owner alone until after the sitting.
pub const SECRET: &str = "draw-secret.txt";
const FORMAT: &str = "valinch announcement 1";

/// What is announced before the value is known.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Announcement {
    /// Says what the file is.
    pub format: String,
    /// Which public value will be taken, in words.
    pub which: String,
    /// The commitment to secret and words, in groups.
    pub commitment: String,
    /// When it was announced; none where no clock was at hand.
    pub time: Option<String>,
}

fn refused<T>(what: impl Into<String>, hint: impl Into<String>) -> Result<T, Failure> {
    Err(Failure::Refused {
        what: what.into(),
        hint: hint.into(),
    })
}

/// Fixes the secret of a draw and says which public value will be mixed into it.
///
/// # Errors
/// When the role may not, it was announced or drawn already, no words say which value, or a file cannot
/// be written.
pub fn announce(
    around: &dyn Surroundings,
    folder: &Path,
    which: &str,
    stated: Stated,
) -> Result<Announcement, Failure> {
    let which = which.trim();
    let by = acting(around, None, Doing::Assemble, stated)?;
    if around.has_file(&folder.join(REGISTER)) {
        return refused(
            "this exam is assembled already",
            "a draw is announced before it is made",
        );
    }
    if around.has_file(&folder.join(ANNOUNCED)) || around.has_file(&folder.join(SECRET)) {
        return refused(
            "a draw of this exam is announced already",
            format!("it stands in {ANNOUNCED}; who may announce again may choose"),
        );
    }
    if !around.has_file(&folder.join("plan.yaml")) {
        return refused(
            format!(
                "{} is no exam folder: it has no plan.yaml",
                folder.display()
            ),
            "copy one of the folders in examples/ and change its plan",
        );
    }
    if which.is_empty() {
        return refused(
            "nothing says which public value will be taken",
            "name source, day and order: \"the numbers of the state lottery of 3 May 2027\"",
        );
    }
    let secret = around.fresh_seed()?;
    let announced = Announcement {
        format: FORMAT.to_owned(),
        which: which.to_owned(),
        commitment: to_groups(&announcement(&secret, which)),
        time: by.time.map(|time| time.as_str().to_owned()),
    };
    let mut text = serde_json::to_vec_pretty(&announced)
        .map_err(|error| Failure::Defect(error.to_string()))?;
    text.push(b'\n');
    let hex = Zeroizing::new(format!("{}\n", secret.to_hex()));
    around.write_secret(&folder.join(SECRET), hex.as_bytes())?;
    around.write(&folder.join(ANNOUNCED), &text)?;
    Ok(announced)
}

/// Whether a draw of this exam is announced.
pub(crate) fn is_announced(around: &dyn Surroundings, folder: &Path) -> bool {
    around.has_file(&folder.join(ANNOUNCED))
}

/// The seed of an announced draw from the value that was published, and what the ledger says of it.
///
/// # Errors
/// When nothing was announced, the secret is not the announced one, or the value has another form.
pub(crate) fn drawn_from(
    around: &dyn Surroundings,
    folder: &Path,
    value: &str,
) -> Result<(ExamSeed, Beside), Failure> {
    if !is_announced(around, folder) {
        return refused(
            "no draw of this exam was announced before",
            "valinch assemble FOLDER --announce \"which value will be taken\", before it is known",
        );
    }
    let bytes = around.read(&folder.join(ANNOUNCED))?;
    let announced: Announcement = match serde_json::from_slice(&bytes) {
        Ok(announced) => announced,
        Err(why) => {
            return refused(
                format!("{ANNOUNCED} is no announcement: {why}"),
                "put it back as it was announced",
            );
        }
    };
    let secret = secret_in(around, folder)?;
    let fits = digest_from_words(&announced.commitment)
        .is_some_and(|told| told == announcement(&secret, &announced.which));
    if announced.format != FORMAT || !fits {
        return refused(
            format!("{SECRET} and {ANNOUNCED} do not belong together: one of them was changed"),
            "nothing was drawn; look for the files as they were announced",
        );
    }
    let Some(sources) = read_sources(value) else {
        return refused(
            format!("\"{value}\" is no public value"),
            "write whole numbers parted by spaces or commas, and a slash between sources: \"9319 / 2 5 12 8 10\"",
        );
    };
    let text = key_text(&sources);
    let detail = |name: &str, words: &str| (name.to_owned(), words.to_owned());
    let mut about = Details::from([
        detail(WHICH, &announced.which),
        detail(COMMITMENT, &announced.commitment),
    ]);
    if let Some(time) = &announced.time {
        about.insert("announced".to_owned(), time.clone());
    }
    let noted = Beside {
        act: Act::PublicValueMixed,
        about,
        says: Details::from([detail(VALUE, &text)]),
    };
    Ok((mixed(&secret, &text), noted))
}

const WHICH: &str = "which";
const COMMITMENT: &str = "commitment";
const VALUE: &str = "value";

fn secret_in(around: &dyn Surroundings, folder: &Path) -> Result<ExamSeed, Failure> {
    let bytes = Zeroizing::new(around.read(&folder.join(SECRET))?);
    let text = String::from_utf8_lossy(&bytes);
    text.trim().parse().map_err(|_| Failure::Refused {
        what: format!("{SECRET} holds no secret"),
        hint: "it has one line of 64 hexadecimal digits, as it was written".to_owned(),
    })
}

/// Checks an announced draw: does the secret beside the register give the announced commitment, and
/// with the public value the seed? Gives back what does not hold; nothing where no value was mixed in.
///
/// # Errors
/// When the secret cannot be read.
pub(crate) fn faults_of_draw(
    around: &dyn Surroundings,
    folder: &Path,
    ledger: &[String],
    seed: &ExamSeed,
) -> Result<Vec<String>, Failure> {
    let mut entries = ledger.iter().filter_map(|text| Entry::read(text).ok());
    let Some(entry) = entries.rfind(|entry| entry.act == Act::PublicValueMixed) else {
        return Ok(Vec::new());
    };
    if !around.has_file(&folder.join(SECRET)) {
        return Ok(vec![format!(
            "the draw was announced, and {SECRET} is gone: that it was kept cannot be shown"
        )]);
    }
    let secret = secret_in(around, folder)?;
    let told = |name: &str| entry.details.get(name).map_or("", String::as_str);
    let commitment: Option<Digest32> = digest_from_words(told(COMMITMENT));
    let mut faults = Vec::new();
    if commitment != Some(announcement(&secret, told(WHICH))) {
        faults.push(format!("{SECRET} is not the secret that was announced"));
    }
    if mixed(&secret, told(VALUE)) != *seed {
        faults.push("the sitting was not drawn from the announced secret and the value".to_owned());
    }
    Ok(faults)
}
