//! An essay: whole sentences, marked by a person with an analytic rubric.

use base::tree::Tree;
use base::walk::Walk;
use base::{Fault, Marks, Text};

use super::{Kind, QuestionKind};
use crate::read::note_doubled;
use crate::shape::{Criterion, Shape};

/// The most lines of one essay: two pages of writing.
const MOST_LINES: u32 = 60;
/// The most criteria that a marker can keep apart (the project's choice, no source).
const MOST_CRITERIA: usize = 10;

/// A checked essay question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Essay {
    /// What is asked.
    pub stem: Text,
    /// How many lines there are to write on.
    pub lines: usize,
    /// What a marker looks at; the marks add up to those of the question.
    pub rubric: Vec<Criterion>,
    /// What a full answer holds.
    pub model: Text,
}

impl Kind for Essay {
    fn stem(&self) -> &str {
        &self.stem
    }
    fn shape(&self) -> Shape<'_> {
        Shape::Space {
            lines: self.lines,
            rubric: &self.rubric,
            model: &self.model,
        }
    }
    fn why(&self) -> &str {
        &self.model
    }
    fn disagrees_with(&self, marks: Marks) -> Option<Fault> {
        let sum: Marks = self.rubric.iter().map(|criterion| criterion.marks).sum();
        (sum != marks).then(|| {
            Fault::new(
                "rubric-marks",
                None,
                format!("the rubric gives {sum} marks, and the question {marks}"),
            )
            .allowed("marks of the criteria that add up to those of the question")
            .hint(format!("write \"marks: {sum}\", or change the rubric"))
        })
    }
    fn translated<'t>(&self, walk: &mut Walk<'t>, tree: &'t Tree) -> Option<QuestionKind> {
        let mut fields = walk.fields(tree, "a translation")?;
        let stem = fields.required(walk, "stem").and_then(|t| walk.letters(t));
        let model = fields.optional("model").and_then(|t| walk.letters(t));
        fields.finish(walk);
        Some(QuestionKind::Essay(Self {
            stem: stem?,
            model: model.unwrap_or_else(|| self.model.clone()),
            ..self.clone()
        }))
    }
}

impl Essay {
    /// Reads one from a text.
    pub(crate) fn read<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Self> {
        let mut fields = walk.fields(tree, "an essay question")?;
        let stem = fields.required(walk, "stem").and_then(|t| walk.letters(t));
        let lines = fields
            .required(walk, "lines")
            .and_then(|t| walk.whole(t, 1..=MOST_LINES));
        let rubric_tree = fields.required(walk, "rubric");
        let rubric = rubric_tree.and_then(|t| read_rubric(walk, t));
        let model = fields.required(walk, "model").and_then(|t| walk.letters(t));
        fields.finish(walk);
        Some(Self {
            stem: stem?,
            lines: lines? as usize,
            rubric: rubric?,
            model: model?,
        })
    }
}

fn read_rubric<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Vec<Criterion>> {
    let items = walk.list(tree, "criteria");
    let is_list = matches!(tree.value, base::tree::Value::List(_));
    if is_list && !(1..=MOST_CRITERIA).contains(&items.len()) {
        let place = walk.place(&tree.bytes);
        walk.note(
            Fault::new(
                "number-of-entries",
                place,
                format!("{} criteria", items.len()),
            )
            .allowed(format!("1 to {MOST_CRITERIA} criteria")),
        );
    }
    let mut names = Vec::new();
    let mut rubric = Vec::new();
    for item in items {
        let Some(mut fields) = walk.fields(item, "a criterion") else {
            continue;
        };
        let name_tree = fields.required(walk, "criterion");
        let name = name_tree.and_then(|t| walk.letters(t));
        let marks = fields.required(walk, "marks").and_then(|t| walk.marks(t));
        let levels = match fields.optional("levels") {
            Some(t) => walk.texts(t, "levels"),
            None => Vec::new(),
        };
        fields.finish(walk);
        if let (Some(name), Some(t)) = (&name, name_tree) {
            names.push((name.clone(), t.bytes.clone()));
        }
        if let (Some(name), Some(marks)) = (name, marks) {
            rubric.push(Criterion {
                name,
                marks,
                levels,
            });
        }
    }
    note_doubled(walk, &names, "criterion");
    (is_list && rubric.len() == items.len()).then_some(rubric)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests {
    use crate::question_kind::QuestionKind;
    use crate::read::question_tests::{faults_of, kind_of};

    const RUBRIC: &str = "[{ criterion: structure, marks: 0.5, levels: ['0: none', '0.5: clear'] }, { criterion: matter, marks: 0.5 }]";

    fn text(lines: &str, rubric: &str) -> String {
        format!("essay: {{ stem: a, lines: {lines}, rubric: {rubric}, model: m }}")
    }

    #[test]
    fn the_rubric_adds_up_to_the_marks_of_the_question() {
        let QuestionKind::Essay(kind) = kind_of(&text("12", RUBRIC)) else {
            panic!("another kind")
        };
        assert_eq!((kind.lines, kind.rubric.len()), (12, 2));
        assert_eq!(kind.rubric[0].levels, ["0: none", "0.5: clear"]);
        let two = "[{ criterion: all, marks: 2 }]";
        assert_eq!(faults_of(&text("12", two)), ["rubric-marks"]);
    }

    #[test]
    fn empty_and_doubled_criteria_are_faults() {
        assert_eq!(faults_of(&text("0", RUBRIC)), ["out-of-range"]);
        assert_eq!(
            faults_of(&text("9", "[]")),
            ["rubric-marks", "number-of-entries"]
        );
        let doubled = "[{ criterion: a, marks: 0.5 }, { criterion: A, marks: 0.5 }]";
        assert_eq!(faults_of(&text("9", doubled)), ["doubled-entry"]);
        assert_eq!(
            faults_of(&text("9", "[{ criterion: a }]")),
            ["missing-field"]
        );
    }
}
