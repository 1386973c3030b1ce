//! What the ledger says of the items in dispute: of every entry only what concerns this candidate or
//! the sitting as a whole. What is not named here is left out, so that no other person is in the file.

use grader::ruling::subject_of;
use grader::ruling_table::subject_words;
use grader::{Award, Item};
use question_bank::word_match::fold;
use register::{Act, Details, Entry, Register, RegisterError};
use results::AppealFile;
use results::regrade::item_name;

use crate::assemble::key_of;
use crate::decisions::{CANDIDATE, DECISION, OF, WRITTEN};
use crate::failure::Failure;
use crate::incidents::INCIDENT;

/// What an appeal is about.
struct Dispute<'a> {
    candidate: &'a str,
    awards: Vec<&'a Award>,
    others: Vec<&'a str>,
}

/// The entries that concern the items in dispute, in words.
///
/// # Errors
/// When the register is damaged.
pub(super) fn concerning(
    register: &Register,
    appeal: &AppealFile,
    awards: &[Award],
) -> Result<Vec<String>, Failure> {
    let candidate = appeal.candidate.as_str();
    let mut others: Vec<&str> = awards.iter().map(|a| a.candidate.as_str()).collect();
    others.retain(|other| *other != candidate);
    others.dedup();
    let own = awards.iter().filter(|award| {
        let name = item_name(&award.item);
        award.candidate.as_str() == candidate && appeal.items.iter().any(|i| i.item == name)
    });
    let dispute = Dispute {
        candidate,
        awards: own.collect(),
        others,
    };
    let mut words = Vec::new();
    for text in register.ledger()? {
        let entry = Entry::read(&text).map_err(RegisterError::Damaged)?;
        words.extend(dispute.told(entry));
    }
    Ok(words)
}

impl Dispute<'_> {
    /// What of an entry concerns the dispute; none where nothing does.
    fn told(&self, mut entry: Entry) -> Option<String> {
        let kept: Details = match entry.act {
            // Of the sitting as a whole: counts, digests and roots.
            Act::Migrated
            | Act::Assembled
            | Act::Printed
            | Act::Sealed
            | Act::Unsealed
            | Act::Marked
            | Act::PublicValueMixed
            | Act::CutSet
            | Act::ResultsMade
            | Act::Released => self.of_the_sitting(&entry.details),
            Act::Decided => return self.decision(&entry.details).map(str::to_owned),
            Act::Incident => self.incident(&entry.details)?,
            Act::AppealFileMade => self.own(&entry.details)?,
            Act::Corrected => self.correction(&entry.details)?,
            // A review is of a whole script; a certificate speaks of all that passed. A leaf, a person's texts, what was tried and what was noted may be anybody's.
            Act::LeafShown
            | Act::Reviewed
            | Act::Certified
            | Act::PersonExported
            | Act::PersonCorrected
            | Act::PersonErased
            | Act::Expired
            | Act::Refused
            | Act::Noted => return None,
        };
        entry.details = kept;
        Some(entry.in_words())
    }

    /// The details that no person stands in, by their names.
    fn of_the_sitting(&self, details: &Details) -> Details {
        const HARMLESS: [&str; 15] = [
            "announced",
            "answers",
            "candidates",
            "class list",
            "commitment",
            "cut",
            "files",
            "forms",
            "from",
            "part",
            "root",
            "to",
            "value",
            "waiting",
            "which",
        ];
        let kept = details.iter();
        kept.filter(|(name, words)| HARMLESS.contains(&name.as_str()) && !self.names_another(words))
            .map(|(name, words)| (name.clone(), words.clone()))
            .collect()
    }

    /// The details, where they are this candidate's.
    fn own(&self, details: &Details) -> Option<Details> {
        let own = details.get(CANDIDATE).map(String::as_str) == Some(self.candidate);
        own.then(|| details.clone())
    }

    /// An incident of this candidate, with no glass or with one in dispute.
    fn incident(&self, details: &Details) -> Option<Details> {
        let sentence = details.get(INCIDENT)?;
        // Sentences of before this detail was entered begin with the number; no number holds a comma.
        let begins = format!("candidate {},", self.candidate);
        let own = match details.get(CANDIDATE) {
            Some(candidate) => candidate == self.candidate,
            None => sentence.starts_with(&begins),
        };
        let rest = sentence.strip_prefix(&begins).unwrap_or(sentence);
        let disputed = match rest.strip_prefix(" glass ") {
            None => true,
            Some(rest) => self.awards.iter().any(|award| match &award.item {
                Item::Tasting { code, .. } => rest.starts_with(&format!("{code},")),
                Item::Theory { .. } => false,
            }),
        };
        (own && disputed)
            .then(|| Details::from([(INCIDENT.to_owned(), self.without_others(sentence))]))
    }

    /// A decision about a word or an answer of this candidate, or about a key in dispute.
    fn decision<'d>(&self, details: &'d Details) -> Option<&'d str> {
        let sentence = details.get(DECISION)?.as_str();
        let concerns = self.awards.iter().any(|award| {
            let of = subject_words(&subject_of(&award.item));
            match details.get(OF) {
                Some(said) if *said == of => {
                    let script = details.get(CANDIDATE);
                    script.is_none_or(|script| script == self.candidate)
                        && details
                            .get(WRITTEN)
                            .is_some_and(|written| wrote(award, written))
                }
                Some(said) => is_key_of(award, said),
                // Before these details were entered, the sentence said all.
                None => match sentence.split_once(&format!(": {of}, \"")) {
                    Some((_, rest)) => opening(rest).any(|written| wrote(award, written)),
                    None => sentence
                        .strip_prefix("the ")
                        .and_then(|rest| rest.split_once(" is below "))
                        .is_some_and(|(said, _)| is_key_of(award, said)),
                },
            }
        });
        (concerns && !self.names_another(sentence)).then_some(sentence)
    }

    /// Of a correction the changes of this candidate's marks in dispute.
    fn correction(&self, details: &Details) -> Option<Details> {
        let marks: Vec<&str> = details
            .get("marks")?
            .split("; ")
            .filter(|change| {
                self.awards.iter().any(|award| {
                    let own = format!("{} {} from ", self.candidate, item_name(&award.item));
                    change.starts_with(&own)
                })
            })
            .collect();
        if marks.is_empty() {
            return None;
        }
        let mut kept = Details::from([("marks".to_owned(), marks.join("; "))]);
        if let Some(why) = details.get("why") {
            kept.insert("why".to_owned(), self.without_others(why));
        }
        Some(kept)
    }

    /// A person's words, where they name no other candidate.
    fn without_others(&self, words: &str) -> String {
        if self.names_another(words) {
            "not shown here, as it names another candidate".to_owned()
        } else {
            words.to_owned()
        }
    }

    /// Whether the number of another candidate stands in these words. A number of digits alone could
    /// be a mark or a count: it names nobody.
    fn names_another(&self, words: &str) -> bool {
        let part = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.' | '/');
        words
            .split(|c: char| !part(c))
            .map(|word| word.trim_end_matches(['.', '/', '-']))
            .filter(|word| !word.bytes().all(|b| b.is_ascii_digit()))
            .any(|word| self.others.contains(&word))
    }
}

/// Whether these words, or a part of the answer as it was written, are this award's answer.
fn wrote(award: &Award, written: &str) -> bool {
    let padded = |text: &str| format!(" {} ", fold(text));
    padded(&award.answer).contains(&padded(written))
        || parts(&award.answer).any(|part| fold(part) == fold(written))
}

/// The parts of an answer between its marks of separation.
fn parts(answer: &str) -> impl Iterator<Item = &str> {
    answer.split([',', ';', '\n', '/', '|', '.'])
}

/// What may have been written, where a sentence goes on behind it: up to each quotation mark.
fn opening(rest: &str) -> impl Iterator<Item = &str> {
    rest.match_indices('"')
        .filter_map(|(at, _)| rest.get(..at))
        .filter(|written| !written.is_empty())
}

fn is_key_of(award: &Award, said: &str) -> bool {
    match &award.item {
        Item::Tasting { sample, .. } => key_of(sample) == said,
        Item::Theory { .. } => false,
    }
}
