//! A draw that nobody could choose: a secret is fixed and announced together with the words that say
//! which public value will be taken, and mixed with that value when it is known (RFC 3797's manner).

use std::path::Path;

use base::ExamSeed;
use register::hex::{Digest32, digest_from_hex, digest_from_words, to_groups, to_hex};
use register::public_value::{announcement, bound_texts, key_text, mixed, read_sources};
use register::{Act, Beside, Details, Entry, Moment, Register, StoredText, digests};
use serde::{Deserialize, Serialize};
use zeroize::Zeroizing;

use crate::assemble::{LoadedFolder, REGISTER};
use crate::failure::Failure;
use crate::roles::{Doing, Stated, acting};
use crate::surroundings::Surroundings;

/// What is announced, beside the plan: to be put where others see it and cannot change it.
pub const ANNOUNCED: &str = "draw-announced.json";
/// The secret of the announcement, for its owner alone until after the sitting.
pub const SECRET: &str = "draw-secret.txt";
const FORMAT: &str = "valinch announcement 1";

/// The members of the entry.
const WHICH: &str = "which";
const COMMITMENT: &str = "commitment";
const TEXTS: &str = "texts";
const TIME: &str = "announced";
const VALUE: &str = "value";

/// What is announced before the value is known.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Announcement {
    /// Says what the file is.
    pub format: String,
    /// Which public value will be taken, in words.
    pub which: String,
    /// When it was announced; none where no clock was at hand.
    pub time: Option<String>,
    /// What binds to the texts of the exam and shows nothing of them, in hexadecimal digits.
    pub texts: String,
    /// The commitment to the secret and to all of this, in groups.
    pub commitment: String,
}

impl Announcement {
    fn is_of(&self, secret: &ExamSeed) -> bool {
        let texts = digest_from_hex(&self.texts);
        let told = digest_from_words(&self.commitment);
        self.format == FORMAT
            && texts.zip(told).is_some_and(|(texts, told)| {
                told == announcement(secret, &self.which, self.time.as_deref(), &texts)
            })
    }
}

/// The seed of an announced draw, and what is said of it.
#[derive(Debug, Clone)]
pub(crate) struct Draw {
    /// The exam seed.
    pub seed: ExamSeed,
    /// The public value, as it was read.
    pub value: String,
    /// What the ledger says of it.
    pub noted: Beside,
}

/// What a check of a draw shows.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct DrawShown {
    /// What is not as it was announced.
    pub faults: Vec<String>,
    /// What should be known.
    pub notes: Vec<String>,
}

/// Fixes the secret of a draw and says which public value will be mixed into it.
///
/// # Errors
/// When the role may not, it was announced or drawn already, no words say which value, the exam has
/// faults or cannot be drawn, or a file cannot be written.
pub fn announce(
    around: &dyn Surroundings,
    folder: &Path,
    which: &str,
    stated: Stated,
) -> Result<Announcement, Failure> {
    let which = which.trim();
    let by = acting(around, None, Doing::Assemble, stated)?;
    if around.has_file(&folder.join(REGISTER)) {
        return Failure::refused(
            "this exam is assembled already",
            "a draw is announced before it is made",
        );
    }
    if has_either(around, folder) {
        return Failure::refused(
            "a draw of this exam is announced already",
            format!(
                "it stands in {ANNOUNCED}, its secret in {SECRET}; who may announce again may choose. \
                 If both came with a folder that was copied, take both away"
            ),
        );
    }
    if which.is_empty() || which.chars().any(char::is_control) {
        return Failure::refused(
            "nothing says in one line which public value will be taken",
            "name source, day and order: \"the numbers of the state lottery of 3 May 2027\"",
        );
    }
    let loaded = LoadedFolder::load(around, folder)?;
    // Once the value is known nothing can be mended any more, so whether it can be drawn at all is
    // tried now, and forgotten.
    loaded.draw(&around.fresh_seed()?)?;
    let secret = around.fresh_seed()?;
    let texts = bound_texts(&secret, &digests(&loaded.texts.to_store()));
    let time = by.time.map(|time| time.as_str().to_owned());
    let commitment = announcement(&secret, which, time.as_deref(), &texts);
    let announced = Announcement {
        format: FORMAT.to_owned(),
        which: which.to_owned(),
        time,
        texts: to_hex(&texts),
        commitment: to_groups(&commitment),
    };
    let mut text = serde_json::to_vec_pretty(&announced)
        .map_err(|error| Failure::Defect(error.to_string()))?;
    text.push(b'\n');
    let hex = Zeroizing::new(format!("{}\n", *secret.to_hex()));
    around.write_secret(&folder.join(SECRET), hex.as_bytes())?;
    if let Err(failure) = around.write(&folder.join(ANNOUNCED), &text) {
        // Nobody saw its commitment yet. Where it stays, the next attempt says so; the failure
        // itself is told.
        let _ = around.remove(&folder.join(SECRET));
        return Err(failure);
    }
    Ok(announced)
}

fn has_either(around: &dyn Surroundings, folder: &Path) -> bool {
    around.has_file(&folder.join(ANNOUNCED)) || around.has_file(&folder.join(SECRET))
}

/// Refuses a draw without a public value where one is announced.
///
/// # Errors
/// When one is.
pub(crate) fn refuse_where_announced(
    around: &dyn Surroundings,
    folder: &Path,
) -> Result<(), Failure> {
    if has_either(around, folder) {
        return Failure::refused(
            "a draw of this exam is announced, and no public value is given",
            format!(
                "valinch assemble {} --public-value NUMBERS, as published. If {ANNOUNCED} and {SECRET} \
                 came with a folder that was copied, take both away",
                folder.display()
            ),
        );
    }
    Ok(())
}

fn announced_in(around: &dyn Surroundings, folder: &Path) -> Result<Announcement, Failure> {
    if !around.has_file(&folder.join(ANNOUNCED)) {
        let hint = format!(
            "valinch assemble {} --announce \"which value will be taken\", before it is known",
            folder.display()
        );
        if around.has_file(&folder.join(SECRET)) {
            return Failure::refused(
                format!("{SECRET} lies here, and {ANNOUNCED} is missing"),
                format!(
                    "put it back as it was published; where none was, take {SECRET} away and begin again"
                ),
            );
        }
        return Failure::refused("no draw of this exam was announced before", hint);
    }
    let bytes = around.read(&folder.join(ANNOUNCED))?;
    serde_json::from_slice(&bytes).or_else(|why| {
        Failure::refused(
            format!("{ANNOUNCED} is no announcement: {why}"),
            "put it back as it was announced",
        )
    })
}

fn secret_in(around: &dyn Surroundings, folder: &Path) -> Result<Option<ExamSeed>, Failure> {
    let bytes = Zeroizing::new(around.read(&folder.join(SECRET))?);
    let text = std::str::from_utf8(&bytes).ok();
    Ok(text.and_then(|text| text.trim().parse().ok()))
}

/// The seed of an announced draw from the value that was published, and what the ledger says of it.
///
/// # Errors
/// When nothing was announced, the secret is not the announced one, the texts are not those of the
/// announcement, it is from later than now, or the value has another form.
pub(crate) fn drawn_from(
    around: &dyn Surroundings,
    folder: &Path,
    value: &str,
    texts: &[StoredText],
    now: Option<&Moment>,
) -> Result<Draw, Failure> {
    let announced = announced_in(around, folder)?;
    let Some(secret) = secret_in(around, folder)? else {
        return Failure::refused(
            format!("{SECRET} holds no secret"),
            "it has one line of 64 hexadecimal digits, as it was written",
        );
    };
    if !announced.is_of(&secret) {
        return Failure::refused(
            format!("{SECRET} and {ANNOUNCED} do not belong together: one of them was changed"),
            "nothing was drawn; look for the files as they were announced",
        );
    }
    if announced.texts != to_hex(&bound_texts(&secret, &digests(texts))) {
        return Failure::refused(
            "the texts of this exam changed since the draw was announced",
            format!(
                "who may change them now may choose: put them back as they were, or take {ANNOUNCED} and \
                 {SECRET} away and announce another value, and say so where it was published"
            ),
        );
    }
    let said = announced.time.as_deref().and_then(Moment::parse);
    if let (Some(said), Some(now)) = (said, now)
        && *now < said
    {
        return Failure::refused(
            format!(
                "the draw was announced at {}, and the clock shows {}",
                said.as_str(),
                now.as_str()
            ),
            "nothing was drawn; set the clock right",
        );
    }
    let Some(sources) = read_sources(value) else {
        return Failure::refused(
            format!("\"{value}\" is no public value"),
            "write whole numbers below 2^64 parted by spaces or commas, and a slash between sources: \"9319 / 2 5 12 8 10\"",
        );
    };
    let text = key_text(&sources);
    let detail = |name: &str, words: &str| (name.to_owned(), words.to_owned());
    let mut about = Details::from([
        detail(WHICH, &announced.which),
        detail(COMMITMENT, &announced.commitment),
        detail(TEXTS, &announced.texts),
    ]);
    if let Some(time) = &announced.time {
        about.insert(TIME.to_owned(), time.clone());
    }
    Ok(Draw {
        seed: mixed(&secret, &text),
        noted: Beside {
            act: Act::PublicValueMixed,
            about,
            says: Details::from([detail(VALUE, &text)]),
        },
        value: text,
    })
}

/// Looks at the draw of a register: what is announced beside it, does the secret give the announced
/// commitment, and with the public value the seed? `folder` is the exam's; none where the register was
/// named alone, so that what is not beside it is not missing.
///
/// # Errors
/// When the ledger, or a file that is there, cannot be read.
pub(crate) fn look_at_draw(
    around: &dyn Surroundings,
    register: &Path,
    folder: Option<&Path>,
) -> Result<DrawShown, Failure> {
    let mut shown = DrawShown::default();
    let ledger = Register::ledger_of(register)?;
    let mut entries = ledger.iter().filter_map(|text| Entry::read(text).ok());
    let Some(entry) = entries.find(|entry| entry.act == Act::PublicValueMixed) else {
        if folder.is_some_and(|folder| has_either(around, folder)) {
            shown.faults.push(format!(
                "a draw is announced in {ANNOUNCED}, and this sitting was drawn without a public value"
            ));
        }
        return Ok(shown);
    };
    let told = |name: &str| entry.details.get(name).map_or("", String::as_str);
    let time = entry.details.get(TIME).map(String::as_str);
    shown.notes.push(format!(
        "the draw was announced{} as \"{}\" with the commitment {}, to be compared with the published one; the value was {}",
        time.map(|time| format!(" at {time}")).unwrap_or_default(),
        told(WHICH),
        told(COMMITMENT),
        told(VALUE)
    ));
    let folder = match (folder, register.parent()) {
        (Some(folder), _) => folder,
        (None, Some(parent)) if around.has_file(&parent.join(SECRET)) => parent,
        (None, _) => {
            shown.notes.push(format!(
                "{SECRET} is not beside this register: that it was drawn so was not looked at"
            ));
            return Ok(shown);
        }
    };
    if around.has_file(&folder.join(ANNOUNCED)) {
        let same = announced_in(around, folder).is_ok_and(|announced| {
            announced.commitment == told(COMMITMENT)
                && announced.which == told(WHICH)
                && announced.texts == told(TEXTS)
                && announced.time.as_deref() == time
        });
        if !same {
            shown.faults.push(format!(
                "{ANNOUNCED} is not the announcement from which the sitting was drawn"
            ));
        }
    }
    if !around.has_file(&folder.join(SECRET)) {
        shown.faults.push(format!(
            "the draw was announced, and {SECRET} is gone: that it was kept cannot be shown"
        ));
        return Ok(shown);
    }
    let Some(secret) = secret_in(around, folder)? else {
        shown.faults.push(format!("{SECRET} holds no secret"));
        return Ok(shown);
    };
    // What cannot be read of the register is told by its own check.
    let Ok((seed, texts)) = Register::drawn_from(register) else {
        return Ok(shown);
    };
    let bound: Option<Digest32> = digest_from_hex(told(TEXTS));
    let commitment: Option<Digest32> = digest_from_words(told(COMMITMENT));
    let kept =
        bound.is_some_and(|b| commitment == Some(announcement(&secret, told(WHICH), time, &b)));
    if !kept {
        shown
            .faults
            .push(format!("{SECRET} is not the secret that was announced"));
    } else if bound != Some(bound_texts(&secret, &texts)) {
        shown.faults.push(
            "the sitting was drawn from other texts than were there when it was announced"
                .to_owned(),
        );
    }
    if mixed(&secret, told(VALUE)) != seed {
        shown
            .faults
            .push("the sitting was not drawn from the announced secret and the value".to_owned());
    }
    Ok(shown)
}
