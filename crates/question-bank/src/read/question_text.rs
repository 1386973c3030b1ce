//! Reads `questions/*.yaml`: a list of questions.

use std::collections::BTreeMap;
use std::ops::Range;

use base::tree::{Tree, read_tree};
use base::walk::{Fields, Walk};
use base::{CellId, Fault, Marks, QuestionId, SetId, SourceText};

use super::calendar_date::read_date;
use super::picture_field::read_picture;
use super::set_text::{join_sets, read_sets};
use super::translations::read_translations;
use super::waivers::read_waivers;
use crate::question::{Difficulty, Evidence, Level, Question, ReviewState, Source};
use crate::question_kind::QuestionKind;

/// The words for how an author knows something.
pub(crate) const EVIDENCE: [(&str, Evidence); 4] = [
    ("read", Evidence::Read),
    ("computed", Evidence::Computed),
    ("common-practice", Evidence::CommonPractice),
    ("memory", Evidence::Memory),
];

/// The word for how an author knows something.
pub(crate) fn evidence_word(evidence: Evidence) -> &'static str {
    EVIDENCE
        .iter()
        .find(|(_, one)| *one == evidence)
        .map_or("", |(word, _)| word)
}

/// A question as far as it could be read, with what refers to elsewhere.
pub(crate) struct ReadQuestion<'t> {
    pub(crate) source: &'t SourceText,
    pub(crate) id: Option<(QuestionId, Range<usize>)>,
    pub(crate) cell: Option<(CellId, Range<usize>)>,
    pub(crate) enemies: Vec<(QuestionId, Range<usize>)>,
    pub(crate) picture: Option<Box<(String, Range<usize>)>>,
    pub(crate) set: Option<(SetId, Range<usize>)>,
    /// In the place where it stays.
    pub(crate) question: Option<Box<Question>>,
}

/// Reads one text of questions.
pub(crate) fn read_question_text<'t>(
    source: &'t SourceText,
    faults: &mut Vec<Fault>,
) -> Vec<ReadQuestion<'t>> {
    let tree = match read_tree(source) {
        Ok(tree) => tree,
        Err(fault) => {
            faults.push(*fault);
            return Vec::new();
        }
    };
    let mut walk = Walk::new(source);
    let questions = read_questions(&mut walk, source, &tree);
    faults.extend(walk.finish());
    questions
}

/// Reads what stands in the text.
pub(crate) fn read_questions<'s, 't>(
    walk: &mut Walk<'t>,
    source: &'s SourceText,
    tree: &'t Tree,
) -> Vec<ReadQuestion<'s>> {
    let mut questions = Vec::new();
    if let Some(mut fields) = walk.fields(tree, "a text of questions") {
        let sets = fields
            .optional("sets")
            .map_or_else(Vec::new, |tree| read_sets(walk, tree));
        let list = fields.required(walk, "questions");
        fields.finish(walk);
        for item in list.map_or(&[][..], |tree| walk.list(tree, "questions")) {
            questions.extend(read_question(walk, source, item));
        }
        join_sets(walk, sets, &mut questions);
    }
    questions
}

fn read_question<'s, 't>(
    walk: &mut Walk<'t>,
    source: &'s SourceText,
    item: &'t Tree,
) -> Option<ReadQuestion<'s>> {
    let mut fields = walk.fields(item, "a question")?;
    let id_tree = fields.required(walk, "id");
    let id = id_tree.and_then(|t| Some((walk.id::<QuestionId>(t)?, t.bytes.clone())));
    let cell = fields
        .required(walk, "cell")
        .and_then(|t| Some((walk.id::<CellId>(t)?, t.bytes.clone())));
    let level = fields
        .required(walk, "level")
        .and_then(|t| walk.choice(t, &Level::ALL.map(|level| (level.word(), level))));
    let difficulty = match fields.optional("difficulty") {
        Some(t) => walk.choice(t, &Difficulty::ALL.map(|d| (d.word(), d))),
        None => Some(Difficulty::Medium),
    };
    let state = fields
        .required(walk, "state")
        .and_then(|t| walk.choice(t, &ReviewState::ALL.map(|state| (state.word(), state))));
    let reviewed_by = fields.optional("reviewed_by").and_then(|t| walk.letters(t));
    let from = fields
        .required(walk, "source")
        .and_then(|t| read_source(walk, t));
    let verified = fields
        .required(walk, "verified")
        .and_then(|t| read_date(walk, t));
    let marks = match fields.optional("marks") {
        Some(t) => walk.marks(t),
        None => Some(Marks::ONE),
    };
    let mut enemies = Vec::new();
    if let Some(t) = fields.optional("enemies") {
        for enemy in walk.list(t, "question ids") {
            if let Some(id) = walk.id::<QuestionId>(enemy) {
                enemies.push((id, enemy.bytes.clone()));
            }
        }
    }
    let anchor = flag(walk, &mut fields, "anchor");
    let practice_only = flag(walk, &mut fields, "practice_only");
    let live = flag(walk, &mut fields, "live");
    let waived = fields
        .optional("waive")
        .map_or_else(Vec::new, |t| read_waivers(walk, t));
    let kind = read_kind(walk, &mut fields);
    if let (Some(kind), Some(marks)) = (&kind, marks)
        && let Some(mut fault) = kind.disagrees_with(marks)
    {
        let tree = fields.optional(kind.name());
        fault.place = tree.map(|tree| walk.place(&tree.bytes));
        walk.note(fault);
    }
    let picture_tree = fields.optional("picture");
    let picture = picture_tree.and_then(|t| Some((read_picture(walk, t)?, t.bytes.clone())));
    let translations = match (fields.optional("translations"), &kind) {
        (Some(tree), Some(kind)) => read_translations(walk, tree, kind),
        (Some(_), None) | (None, _) => BTreeMap::new(),
    };
    let set = fields
        .optional("set")
        .and_then(|t| Some((walk.id::<SetId>(t)?, t.bytes.clone())));
    let start = id_tree.map_or_else(|| fields.start(), |t| t.bytes.clone());
    let place = walk.place(&start);
    fields.finish(walk);
    let question = (|| {
        Some(Box::new(Question {
            id: id.as_ref()?.0.clone(),
            place,
            cell: cell.as_ref()?.0.clone(),
            level: level?,
            difficulty: difficulty?,
            state: state?,
            reviewed_by,
            source: from?,
            verified: verified?,
            marks: marks?,
            enemies: enemies.iter().map(|(id, _)| id.clone()).collect(),
            anchor: anchor?,
            practice_only: practice_only?,
            live: live?,
            waived,
            kind: kind?,
            // Filled in when all questions of the text are read.
            set: None,
            picture: picture
                .as_ref()
                .map(|(picture, _)| Box::new(picture.clone())),
            translations,
        }))
    })();
    Some(ReadQuestion {
        source,
        id,
        cell,
        enemies,
        picture: picture.map(|(picture, bytes)| Box::new((picture.file, bytes))),
        set,
        question,
    })
}

/// A field that is `false` when left out.
fn flag<'t>(walk: &mut Walk<'t>, fields: &mut Fields<'t>, name: &'static str) -> Option<bool> {
    match fields.optional(name) {
        Some(tree) => walk.truth(tree),
        None => Some(false),
    }
}

/// Where the key can be looked up.
fn read_source<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Source> {
    let mut fields = walk.fields(tree, "a source")?;
    let work = fields.required(walk, "work").and_then(|t| walk.letters(t));
    let clause = fields.optional("clause").and_then(|t| walk.letters(t));
    let evidence = fields
        .required(walk, "evidence")
        .and_then(|t| walk.choice(t, &EVIDENCE));
    fields.finish(walk);
    Some(Source {
        work: work?,
        clause,
        evidence: evidence?,
    })
}

/// Exactly one kind.
fn read_kind<'t>(walk: &mut Walk<'t>, fields: &mut Fields<'t>) -> Option<QuestionKind> {
    let found = fields.one_of(walk, &QuestionKind::NAMES);
    match found.as_slice() {
        [] => {
            let place = walk.place(&fields.start());
            walk.note(
                Fault::new("no-kind", place, "this question asks nothing")
                    .allowed(format!("one of {}", QuestionKind::NAMES.join(", ")))
                    .hint("add one of these fields with a stem and the right answer"),
            );
            None
        }
        [(name, tree)] => QuestionKind::read(walk, name, tree),
        [(first, tree), others @ ..] => {
            for (name, _) in others {
                let place = walk.place(&fields.name_bytes(name));
                walk.note(
                    Fault::new(
                        "several-kinds",
                        place,
                        format!("this question has \"{first}\" already and \"{name}\" beside it"),
                    )
                    .allowed("one kind of question")
                    .hint("make two questions of it"),
                );
            }
            // All of them are read, so that their own faults are told as well.
            for (name, tree) in others {
                QuestionKind::read(walk, name, tree);
            }
            QuestionKind::read(walk, first, tree)
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
pub(crate) mod tests {
    use super::*;
    use proptest::prelude::*;

    /// One question with this kind in YAML (flow or block, indented by four).
    pub(crate) fn text_of(kind: &str) -> String {
        format!(
            "questions:\n  - id: one\n    cell: law\n    level: recall\n    state: operational\n    source: {{ work: Some law, clause: \"1\", evidence: read }}\n    verified: 2026-11-25\n    {kind}\n"
        )
    }
    /// The question of this text, and its faults as `rule:line`.
    pub(crate) fn read_one_question(text: &str) -> (Option<Question>, Vec<String>) {
        let source = SourceText::new("q.yaml", text);
        let mut faults = Vec::new();
        let mut questions = read_question_text(&source, &mut faults);
        let told = faults
            .iter()
            .map(|f| format!("{}:{}", f.rule, f.place.as_ref().map_or(0, |p| p.line)))
            .collect();
        (
            questions
                .pop()
                .and_then(|read| read.question)
                .map(|boxed| *boxed),
            told,
        )
    }
    /// The kind of the only question, which must be without fault.
    pub(crate) fn kind_of(kind: &str) -> QuestionKind {
        let (question, told) = read_one_question(&text_of(kind));
        assert_eq!(told, [""; 0]);
        question.unwrap().kind
    }
    /// Faults of a question with this kind, without lines.
    pub(crate) fn faults_of(kind: &str) -> Vec<String> {
        let (_, told) = read_one_question(&text_of(kind));
        told.iter()
            .map(|t| t.split(':').next().unwrap().to_owned())
            .collect()
    }

    pub(crate) const SOUND: &str =
        "short_answer: { stem: What is it?, accept: [rum], why: It is. }";

    #[test]
    fn what_is_left_out_has_its_default() {
        let (question, told) = read_one_question(&text_of(SOUND));
        assert_eq!(told, [""; 0]);
        let question = question.unwrap();
        assert_eq!(question.difficulty, Difficulty::Medium);
        assert_eq!(question.marks, Marks::ONE);
        assert!(!question.anchor && !question.practice_only && !question.live);
        assert_eq!(question.place.line, 2);
    }

    #[test]
    fn every_field_is_read_and_every_fault_told() {
        let text = "questions:
  - id: One
    cell: law
    level: recal
    difficulty: simple
    state: done
    reviewed_by: ''
    source: { work: Some law, evidence: hearsay, page: 3 }
    verified: 2026-02-30
    marks: 0
    enemies: [two, Three]
    anchor: yes
    practise_only: true
    waive: [{ rule: L99, because: x }]
    best_answer: { stem: a, options: [] }
    numeric: 5
";
        let (question, told) = read_one_question(text);
        assert!(question.is_none());
        assert_eq!(
            told,
            [
                "bad-id:2",
                "unknown-word:4",
                "unknown-word:5",
                "unknown-word:6",
                "empty-text:7",
                "unknown-word:8",
                "unknown-key:8",
                "bad-date:9",
                "wrong-type:10",
                "bad-id:11",
                "wrong-type:12",
                "unknown-key:13",
                "unknown-word:14",
                "number-of-entries:15",
                "several-kinds:16",
                "wrong-type:16",
            ]
        );
        assert_eq!(read_one_question(&text_of("marks: 2")).1, ["no-kind:2"]);
    }

    #[test]
    fn every_name_of_a_kind_has_a_reader() {
        for name in QuestionKind::NAMES {
            let faults = faults_of(&format!("{name}: {{ }}"));
            assert!(
                faults.contains(&"missing-field".to_owned()),
                "{name}: {faults:?}"
            );
        }
    }

    proptest! {
        #[test]
        fn any_text_is_read_without_panic(text in ".{0,200}") {
            let _ = read_one_question(&text);
        }
        #[test]
        fn any_value_of_any_field_is_read_without_panic(
            field in prop::sample::select([&["id", "marks", "enemies", "verified", "source", "waive"][..], &QuestionKind::NAMES].concat()),
            value in "[a-z0-9.,:{}\\[\\]\"' é-]{0,40}",
        ) {
            let _ = read_one_question(&text_of(&format!("{field}: {value}")));
        }
    }
}
