//! The sentences by which a sitting's marks are explained: the exam's own file, or the shipped one
//! of its language, or English.

use std::path::Path;

use base::Fault;
use grader::Sentences;
use grader::sentences::read_sentences;

use crate::failure::Failure;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};

/// The sentences for an exam in this language. `templates/reasons.de.yaml` of the exam's folder
/// takes the place of the shipped German; where a language has neither, English serves.
pub(crate) fn sentences_for(
    around: &dyn Surroundings,
    folder: &Path,
    language: &str,
) -> Result<Sentences, Failure> {
    let shipped = Sentences::shipped(language).unwrap_or_else(Sentences::english);
    for wanted in [language, shipped.language()] {
        let path = folder.join("templates").join(Sentences::file_name(wanted));
        if around.has_file(&path) {
            return own(around, &path, wanted);
        }
    }
    Ok(shipped.clone())
}

fn own(around: &dyn Surroundings, path: &Path, language: &str) -> Result<Sentences, Failure> {
    let mut faults = Vec::new();
    let mut sources = Sources::new();
    if let Some(source) = read_text(around, path, &mut faults)? {
        let read = read_sentences(&source).collect_into(&mut faults);
        let place = base::Place::whole(&source.name);
        sources.insert(source.name, source.text);
        match read {
            Some(sentences) if sentences.language() == language => return Ok(sentences),
            Some(sentences) => faults.push(
                Fault::new(
                    "other-language",
                    place,
                    format!(
                        "this file is named for \"{language}\" and says that it is \"{}\"",
                        sentences.language()
                    ),
                )
                .hint(format!(
                    "write language: {language}, or name the file for its language"
                )),
            ),
            None => {}
        }
    }
    Err(Failure::Faults { faults, sources })
}
