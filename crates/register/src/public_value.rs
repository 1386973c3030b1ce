//! Draws that nobody could have chosen: a public value, announced before it is known and published
//! later, in the manner of RFC 3797.
//!
//! The RFC's own selection takes MD5 and a remainder; it stands here only to be held against its
//! printed example. This program draws everything from one exam seed, so it mixes the public value
//! into that seed: HKDF (RFC 5869) over the secret, with the value's text as salt. Whoever fixed the
//! secret before the value was known could not choose the draw, and whoever knows the value alone
//! cannot foresee it. Draws from the seed use rejection and never a remainder.

use base::ExamSeed;
use serde_json::{Map, Value, json};

use crate::canonical;
use crate::commitment::{commit, derive};
use crate::hex::{Digest32, to_hex};
use crate::inputs::Digests;

/// The text of public numbers (RFC 3797, section 4): the numbers of each source sorted, a point
/// behind each number, a slash behind each source.
#[must_use]
pub fn key_text(sources: &[Vec<u64>]) -> String {
    let mut text = String::new();
    for source in sources {
        let mut numbers = source.clone();
        numbers.sort_unstable();
        for number in numbers {
            text.push_str(&number.to_string());
            text.push('.');
        }
        text.push('/');
    }
    text
}

/// Reads a public value as a person writes it: numbers parted by spaces or commas, sources by
/// slashes; none where anything else stands there or a source is empty.
#[must_use]
pub fn read_sources(text: &str) -> Option<Vec<Vec<u64>>> {
    text.trim()
        .trim_end_matches('/')
        .split('/')
        .map(|source| {
            let numbers: Option<Vec<u64>> = source
                .split([' ', ',', '.'])
                .filter(|word| !word.is_empty())
                .map(|word| word.parse().ok())
                .collect();
            numbers.filter(|numbers| !numbers.is_empty())
        })
        .collect()
}

/// The selection of RFC 3797, section 4, with any hash: which of `pool` numbered from 1 are taken,
/// in their order. Fewer where the pool is too small.
#[must_use]
pub fn selection(
    key: &str,
    pool: usize,
    count: usize,
    mut hash: impl FnMut(&[u8]) -> Vec<u8>,
) -> Vec<usize> {
    let mut left: Vec<usize> = (1..=pool).collect();
    let mut taken = Vec::new();
    for round in 0..u16::try_from(count.min(pool)).unwrap_or(u16::MAX) {
        let number = round.to_be_bytes();
        let digest = hash(&[&number[..], key.as_bytes(), &number[..]].concat());
        let remainder = digest.iter().fold(0, |rest: u64, byte| {
            (rest * 256 + u64::from(*byte)) % left.len() as u64
        });
        taken.push(left.remove(usize::try_from(remainder).unwrap_or(0)));
    }
    taken
}

/// The exam seed from a secret that was fixed before and a public value that became known after.
#[must_use]
pub fn mixed(secret: &ExamSeed, value: &str) -> ExamSeed {
    ExamSeed::from_bytes(derive(
        secret.bytes(),
        value.as_bytes(),
        b"valinch exam seed 1",
    ))
}

/// What is announced before: a commitment to the secret together with the words that say which
/// public value will be taken, the time of the announcement (none where no clock was at hand) and
/// what binds to the texts of the exam.
#[must_use]
pub fn announcement(
    secret: &ExamSeed,
    which: &str,
    time: Option<&str>,
    texts: &Digest32,
) -> Digest32 {
    let says = json!({ "texts": to_hex(texts), "time": time, "which": which });
    bind("valinch announcement 1", secret, &says)
}

/// What binds an announcement to the texts from which will be drawn: who could still change them
/// when the value is known could choose among draws. It tells nothing of them without the secret.
#[must_use]
pub fn bound_texts(secret: &ExamSeed, texts: &Digests) -> Digest32 {
    let digests: Map<String, Value> = texts
        .iter()
        .map(|(name, digest)| (name.clone(), json!(digest)))
        .collect();
    bind("valinch announced texts 1", secret, &digests.into())
}

fn bind(domain: &str, secret: &ExamSeed, message: &Value) -> Digest32 {
    // No message above has no canonical form: none holds a number.
    let message = canonical::write(message).unwrap_or_default();
    commit(domain, secret.bytes(), message.as_bytes())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::inputs::{StoredText, digests};

    #[test]
    fn values_are_read_in_any_order() {
        let read = read_sources("9319 / 8, 2, 12,5 10").unwrap();
        assert_eq!(key_text(&read), "9319./2.5.8.10.12./");
        assert_eq!(
            read_sources(&key_text(&read)).unwrap(),
            [vec![9319], vec![2, 5, 8, 10, 12]]
        );
        assert_eq!(read_sources("12 / / 3"), None);
        assert_eq!(read_sources("twelve"), None);
    }

    #[test]
    fn neither_alone_gives_the_seed() {
        let secret = ExamSeed::from_bytes([1; 32]);
        assert!(mixed(&secret, "1./") == mixed(&secret, "1./"));
        assert!(mixed(&secret, "1./") != mixed(&secret, "2./"));
        assert!(mixed(&ExamSeed::from_bytes([2; 32]), "1./") != mixed(&secret, "1./"));
    }

    #[test]
    fn an_announcement_binds_to_secret_words_time_and_texts() {
        let secret = ExamSeed::from_bytes([1; 32]);
        let text = |name: &str, text: &str| StoredText {
            name: name.to_owned(),
            text: text.to_owned(),
        };
        let bound = |texts: &[StoredText]| bound_texts(&secret, &digests(texts));
        let exam = bound(&[text("a", "1"), text("b", "2")]);
        // The order in which texts are read says nothing.
        let turned = bound(&[text("b", "2"), text("a", "1")]);
        assert_eq!(exam, turned);
        let swapped = bound(&[text("a", "2"), text("b", "1")]);
        let time = Some("2027-06-12T09:30:00Z");
        let other = ExamSeed::from_bytes([2; 32]);
        let all = std::collections::BTreeSet::from([
            announcement(&secret, "words", time, &exam),
            announcement(&other, "words", time, &exam),
            announcement(&secret, "other", time, &exam),
            announcement(&secret, "words", None, &exam),
            announcement(&secret, "words", time, &swapped),
        ]);
        assert_eq!(all.len(), 5);
    }
}
