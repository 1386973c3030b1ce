//! What becomes of free words: 500 and more phrases as candidates write them, each with the word
//! that a reader takes it for, against the lexicon of the foundation bank.
//!
//! The phrases in word_phrases.csv are this project's own, written for this table; no source. The
//! column `expected` holds the lexicon's word, "not: word" where the text denies it, several joined
//! by " + ", or "person" where a careful reader would not decide.

use std::collections::BTreeMap;
use std::fmt::Write;

use base::SourceText;
use question_bank::read::read_lexicon;
use question_bank::word_match::{Resolved, resolve_list};

/// What became of a kind's phrases.
#[derive(Default, Clone, Copy, PartialEq, Eq, Debug)]
struct Counts {
    right: usize,
    wrong: usize,
    person: usize,
}

/// The words in an answer as the table writes them.
fn read_as(answer: &[(&str, Resolved)]) -> String {
    let mut words: Vec<String> = Vec::new();
    for (_, resolved) in answer {
        let word = match resolved {
            Resolved::Known { word, .. } => word.clone(),
            Resolved::Negated { word, .. } => format!("not: {word}"),
            Resolved::Unknown { .. } => return "person".to_owned(),
        };
        if !words.contains(&word) {
            words.push(word);
        }
    }
    if words.is_empty() {
        "person".to_owned()
    } else {
        words.join(" + ")
    }
}

/// The table as it stands (kind "in the rough" was written without a look at the lexicon, the others
/// with it at hand, so that their figures are what the matching is meant to do); a change to the lexicon or to the matching shows here.
const TABLE: &str = "\
adjective           72 right   0 wrong   0 to a person
case-hyphen-accent  20 right   0 wrong   0 to a person
exact               59 right   0 wrong   0 to a person
generic             32 right   0 wrong   0 to a person
half-denied         28 right   0 wrong   0 to a person
in the rough        86 right   0 wrong  31 to a person
list                38 right   0 wrong   0 to a person
negation            61 right   0 wrong   0 to a person
order               24 right   0 wrong   0 to a person
phrase              79 right   0 wrong   0 to a person
plural              50 right   0 wrong   0 to a person
spelling            65 right   0 wrong   0 to a person
stage               25 right   0 wrong   0 to a person
strength            61 right   0 wrong   0 to a person
synonym             53 right   0 wrong   0 to a person
unknown             46 right   0 wrong   0 to a person
";

#[test]
fn no_phrase_is_taken_for_a_wrong_word_and_the_table_stands_as_measured() {
    let lexicon = SourceText::new(
        "lexicon.yaml",
        include_str!("../../question-banks/foundation/lexicon.yaml"),
    );
    let lexicon = read_lexicon(&lexicon).value.unwrap();
    let mut phrases = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(include_str!("word_phrases.csv").as_bytes());
    let mut kinds: BTreeMap<String, Counts> = BTreeMap::new();
    let mut wrong = String::new();
    let mut to_a_person = String::new();
    let mut total = 0;
    for row in phrases.records() {
        let row = row.unwrap();
        let (phrase, expected, kind) = (&row[0], &row[1], &row[2]);
        let read = read_as(&resolve_list(&lexicon, phrase));
        let counts = kinds.entry(kind.to_owned()).or_default();
        total += 1;
        if read == expected {
            counts.right += 1;
        } else if read == "person" {
            counts.person += 1;
            writeln!(to_a_person, "{kind}: \"{phrase}\" ({expected})").unwrap();
        } else {
            counts.wrong += 1;
            writeln!(wrong, "{kind}: \"{phrase}\" read as {read}, not {expected}").unwrap();
        }
    }
    let mut table = String::new();
    for (kind, counts) in &kinds {
        writeln!(
            table,
            "{kind:<18} {:>3} right {:>3} wrong {:>3} to a person",
            counts.right, counts.wrong, counts.person
        )
        .unwrap();
    }
    assert!(total >= 500, "{total} phrases");
    assert!(
        wrong.is_empty(),
        "wrong words:\n{wrong}to a person:\n{to_a_person}"
    );
    assert_eq!(table, TABLE, "to a person although clear:\n{to_a_person}");
}
