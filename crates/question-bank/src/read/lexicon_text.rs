//! Reads `lexicon.yaml`: families, groups, words and their synonyms.

use std::collections::BTreeMap;
use std::ops::Range;

use base::tree::{Field, Tree, Value, read_tree};
use base::walk::{Walk, shortened};
use base::{Checked, Fault, NodeId, SourceText};

use crate::lexicon::{Family, Group, Lexicon, Word};
use crate::word_match::fold;

/// Reads a lexicon.
#[must_use]
pub fn read_lexicon(source: &SourceText) -> Checked<Lexicon> {
    let mut faults = Vec::new();
    let lexicon = read_lexicon_text(source, &mut faults);
    Checked::new(lexicon, faults)
}

/// Reads the text. The lexicon is handed out even beside faults that leave its words clear.
pub(crate) fn read_lexicon_text(source: &SourceText, faults: &mut Vec<Fault>) -> Option<Lexicon> {
    let tree = match read_tree(source) {
        Ok(tree) => tree,
        Err(fault) => {
            faults.push(*fault);
            return None;
        }
    };
    let mut walk = Walk::new(source);
    let lexicon = read_families(&mut walk, &tree);
    faults.extend(walk.finish());
    lexicon
}

/// Reads what stands in the text.
pub(crate) fn read_families<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Lexicon> {
    let mut reading = Reading::default();
    let mut fields = walk.fields(tree, "a lexicon")?;
    let families = fields.required(walk, "families");
    fields.finish(walk);
    let families: Vec<Family> = walk
        .named(families?, "families")
        .iter()
        .filter_map(|family| reading.family(walk, family))
        .collect();
    {
        match Lexicon::new(families) {
            Ok(lexicon) => Some(lexicon),
            Err(doubled) => {
                for doubled in doubled {
                    let at = |number: usize| reading.words.get(number).cloned().unwrap_or(0..0);
                    let line = walk.place(&at(doubled.first)).line;
                    let place = walk.place(&at(doubled.second));
                    walk.note(
                        Fault::new(
                            "doubled-word",
                            place,
                            format!(
                                "\"{}\" stands twice; it stands under \"{}\" in line {line} already",
                                shortened(&doubled.word),
                                doubled.stands_under,
                            ),
                        )
                        .hint("case, accents and hyphens make no difference; remove one of them"),
                    );
                }
                None
            }
        }
    }
}

/// What is remembered while reading.
#[derive(Default)]
struct Reading {
    /// Where each word and synonym stands, in the order of the text.
    words: Vec<Range<usize>>,
    /// Group ids with their lines.
    groups: BTreeMap<String, u32>,
}

impl Reading {
    fn family<'t>(&mut self, walk: &mut Walk<'t>, field: &'t Field) -> Option<Family> {
        walk.name_id::<NodeId>(field);
        let mut fields = walk.fields(&field.tree, "a family")?;
        let name = fields.required(walk, "name").and_then(|t| walk.text(t));
        let groups = fields.required(walk, "groups");
        fields.finish(walk);
        let groups = groups.map_or(&[][..], |tree| walk.named(tree, "groups"));
        let groups = groups.iter().filter_map(|group| self.group(walk, group));
        Some(Family {
            id: field.name.clone(),
            groups: groups.collect(),
            name: name.unwrap_or_default(),
        })
    }

    fn group<'t>(&mut self, walk: &mut Walk<'t>, field: &'t Field) -> Option<Group> {
        walk.name_id::<NodeId>(field);
        let place = walk.place(&field.bytes);
        match self.groups.get(&field.name) {
            Some(line) => walk.note(
                Fault::new(
                    "doubled-id",
                    place,
                    format!(
                        "the group \"{}\" stands twice; it stands in line {line} already",
                        field.name
                    ),
                )
                .hint("give one of them another id"),
            ),
            None => {
                self.groups.insert(field.name.clone(), place.line);
            }
        }
        let mut fields = walk.fields(&field.tree, "a group")?;
        let name = fields.required(walk, "name").and_then(|t| walk.text(t));
        let reason = fields.required(walk, "reason").and_then(|t| walk.text(t));
        let words = fields.required(walk, "words");
        fields.finish(walk);
        let words = words.map_or(&[][..], |tree| walk.named(tree, "words"));
        let words = words.iter().map(|word| self.word(walk, word)).collect();
        Some(Group {
            id: field.name.clone(),
            name: name.unwrap_or_default(),
            reason: reason.unwrap_or_default(),
            words,
        })
    }

    fn word<'t>(&mut self, walk: &mut Walk<'t>, field: &'t Field) -> Word {
        self.note_word(walk, &field.name, &field.bytes);
        let mut synonyms = Vec::new();
        // A word with nothing behind the colon has no synonyms.
        if field.tree.value != Value::Nothing {
            for synonym in walk.list(&field.tree, "synonyms") {
                if let Some(text) = walk.text(synonym) {
                    self.note_word(walk, &text, &synonym.bytes);
                    synonyms.push(text);
                }
            }
        }
        Word {
            word: field.name.trim().to_owned(),
            synonyms,
        }
    }

    fn note_word(&mut self, walk: &mut Walk<'_>, word: &str, bytes: &Range<usize>) {
        self.words.push(bytes.clone());
        if fold(word).is_empty() {
            let place = walk.place(bytes);
            walk.note(
                Fault::new(
                    "empty-word",
                    place,
                    format!("\"{}\" is no word", shortened(word)),
                )
                .allowed("letters, perhaps with spaces and hyphens"),
            );
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const SOUND: &str = "families:
  fruit:
    name: Fruit
    groups:
      esters:
        name: Fruit esters
        reason: esters
        words:
          apple: [fresh apple]
          pear:
";

    #[test]
    fn a_sound_lexicon_is_read() {
        let lexicon = read_lexicon(&SourceText::new("l.yaml", SOUND))
            .value
            .unwrap();
        assert_eq!(lexicon.words().count(), 2);
        assert!(lexicon.place_of("Fresh Apple").is_some());
    }

    #[test]
    fn doubled_words_and_other_faults_are_told_at_once() {
        let text = format!(
            "{SOUND}      Wood:
        name: Wood
        words:
          oak: [Fresh-Apple, \"--\"]
          char: ember
  wood:
    name: Wood
    groups:
      esters:
        name: Other
        reason: none
        words: {{}}
"
        );
        let checked = read_lexicon(&SourceText::new("l.yaml", &text));
        let told: Vec<_> = checked
            .faults
            .iter()
            .map(|f| format!("{}:{}", f.rule, f.place.as_ref().unwrap().line))
            .collect();
        assert_eq!(
            told,
            [
                "bad-id:11",
                "missing-field:12",
                "doubled-word:14",
                "empty-word:14",
                "wrong-type:15",
                "doubled-id:19"
            ]
        );
        let doubled = checked
            .faults
            .iter()
            .find(|f| f.rule == "doubled-word")
            .unwrap();
        assert!(
            doubled.what.contains("under \"apple\" in line 9"),
            "{doubled}"
        );
        assert!(checked.value.is_none());
    }

    proptest! {
        #[test]
        fn any_text_is_read_without_panic(text in ".{0,200}", cut in 0_usize..200) {
            let _ = read_lexicon(&SourceText::new("l.yaml", &text));
            let part: String = SOUND.chars().take(cut).collect();
            let _ = read_lexicon(&SourceText::new("l.yaml", &part));
        }
    }
}
