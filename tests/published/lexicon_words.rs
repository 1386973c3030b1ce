//! The words of the shipped lexicon against sensory/descriptors.csv: all 223 by name, and a reason
//! for every group.

use std::path::Path;

use crate::record::reference_text;
use base::SourceText;
use question_bank::read::read_lexicon;
use question_bank::word_match::How;
use question_bank::{Lexicon, Resolved, resolve};

fn lexicon() -> Lexicon {
    let path =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("../question-banks/foundation/lexicon.yaml");
    let text = std::fs::read_to_string(path).unwrap();
    let checked = read_lexicon(&SourceText::new("lexicon.yaml", &text));
    checked
        .value
        .unwrap_or_else(|| panic!("{:?}", checked.faults))
}

#[test]
fn all_223_words_are_understood_as_they_are_written() {
    let lexicon = lexicon();
    let text = reference_text("sensory/descriptors.csv");
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let mut words = 0;
    for row in reader.records() {
        let row = row.unwrap();
        let word = &row[0];
        match resolve(&lexicon, word) {
            Resolved::Known {
                how: How::Exact | How::Synonym,
                ..
            } => words += 1,
            other => panic!("{word}: {other:?}"),
        }
        assert!(!row[2].is_empty(), "{word} is grouped without a reason");
    }
    assert_eq!(words, 223);
    assert!(lexicon.words().count() >= 350);
}

#[test]
fn every_group_of_the_lexicon_says_why_its_words_belong_together() {
    for family in &lexicon().families {
        for group in &family.groups {
            let words = group.reason.split_whitespace().count();
            assert!(words >= 3, "{}: {:?}", group.id, group.reason);
            assert!(!group.words.is_empty(), "{}", group.id);
        }
    }
}
