//! The verdicts of reviewers, read from their paper and put into the questions' texts. Of a text
//! nothing changes but the two fields: every other byte stays as it was.

use std::collections::BTreeMap;
use std::ops::Range;

use base::tree::{Field, Tree, Value, read_tree};
use base::walk::shortened;
use base::{Checked, Fault, Place, QuestionId, SourceName, SourceText};

use super::plain_yaml::scalar;
use super::review_out::{HEADING, REVIEWED_BY, STATE};
use crate::question::{Question, ReviewState};
use crate::read::read_question_text;

/// What reviewers say about one question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Verdict {
    /// The question.
    pub id: QuestionId,
    /// Its state from now on.
    pub state: ReviewState,
    /// Who reviewed it; none leaves what stands there.
    pub reviewed_by: Option<String>,
    /// Where the verdict stands in the paper.
    pub place: Place,
}

/// Reads the verdicts from a paper for reviewers.
#[must_use]
pub fn read_review(source: &SourceText) -> Checked<Vec<Verdict>> {
    let mut reading = Reading {
        source,
        faults: Vec::new(),
        verdicts: BTreeMap::new(),
        open: None,
    };
    let mut at = 0;
    for line in source.text.split_inclusive('\n') {
        reading.line(line.trim_end(), at);
        at += line.len();
    }
    reading.close();
    let Reading {
        mut faults,
        verdicts,
        ..
    } = reading;
    if verdicts.is_empty() && faults.is_empty() {
        faults.push(
            Fault::new(
                "empty-review",
                Place::whole(&source.name),
                "this paper names no question",
            )
            .hint(format!(
                "each question begins with a line \"{HEADING}ID\"; valinch bank to-review makes one"
            )),
        );
    }
    faults.sort();
    Checked::new(Some(verdicts.into_values().collect()), faults)
}

/// A question whose lines are being read.
struct Open {
    id: QuestionId,
    place: Place,
    state: Option<ReviewState>,
    state_seen: bool,
    reviewed_by: Option<String>,
}

struct Reading<'t> {
    source: &'t SourceText,
    faults: Vec<Fault>,
    verdicts: BTreeMap<QuestionId, Verdict>,
    open: Option<Open>,
}

impl Reading<'_> {
    fn line(&mut self, line: &str, at: usize) {
        let place = |from: usize| self.source.place(at + from..at + line.len());
        if let Some(name) = line.strip_prefix(HEADING) {
            let place = place(HEADING.len());
            self.close();
            match QuestionId::parse(name.trim()) {
                Ok(id) => {
                    self.open = Some(Open {
                        id,
                        place,
                        state: None,
                        state_seen: false,
                        reviewed_by: None,
                    });
                }
                Err(_) => self.faults.push(
                    Fault::new(
                        "bad-id",
                        place,
                        format!("\"{}\" is no question id", shortened(name)),
                    )
                    .allowed(QuestionId::ALLOWED)
                    .hint("headings of your own begin with three # or more"),
                ),
            }
            return;
        }
        let Some(open) = &mut self.open else {
            return;
        };
        if let Some(word) = line.strip_prefix(STATE) {
            let place = self.source.place(at + STATE.len()..at + line.len());
            if open.state_seen {
                self.faults.push(
                    Fault::new(
                        "doubled-entry",
                        place,
                        format!("\"{}\" has two lines \"{STATE}\"", open.id),
                    )
                    .hint("leave one of them"),
                );
                return;
            }
            open.state_seen = true;
            let word = word.trim();
            open.state = ReviewState::ALL.into_iter().find(|s| s.word() == word);
            if open.state.is_none() {
                let words = ReviewState::ALL.map(ReviewState::word);
                self.faults.push(
                    Fault::new(
                        "unknown-word",
                        place,
                        format!("\"{}\" is no state", shortened(word)),
                    )
                    .allowed(words.join(", "))
                    .near(word, words),
                );
            }
        } else if let Some(who) = line.strip_prefix(REVIEWED_BY) {
            let who = who.trim();
            open.reviewed_by = (!who.is_empty()).then(|| who.to_owned());
        }
    }

    /// Ends the question whose lines were read.
    fn close(&mut self) {
        let Some(open) = self.open.take() else {
            return;
        };
        if !open.state_seen {
            self.faults.push(
                Fault::new(
                    "missing-field",
                    open.place,
                    format!("\"{}\" has no line \"{STATE}\"", open.id),
                )
                .hint("write its state there, or take the question out of the paper"),
            );
            return;
        }
        let Some(state) = open.state else {
            return;
        };
        if self.verdicts.contains_key(&open.id) {
            self.faults.push(
                Fault::new(
                    "doubled-id",
                    open.place,
                    format!("\"{}\" stands twice in this paper", open.id),
                )
                .hint("leave one of them"),
            );
            return;
        }
        let verdict = Verdict {
            id: open.id.clone(),
            state,
            reviewed_by: open.reviewed_by,
            place: open.place,
        };
        self.verdicts.insert(open.id, verdict);
    }
}

/// The texts that change under these verdicts, each as it is to be from now on. There is no value
/// where a verdict cannot be put in; nothing is changed by halves.
#[must_use]
pub fn apply_review(
    verdicts: &[Verdict],
    texts: &[SourceText],
) -> Checked<Vec<(SourceName, String)>> {
    let mut faults = Vec::new();
    let mut left: BTreeMap<&str, &Verdict> = verdicts.iter().map(|v| (v.id.as_str(), v)).collect();
    let mut known: Vec<String> = Vec::new();
    let mut changed = Vec::new();
    for text in texts {
        let tree = match read_tree(text) {
            Ok(tree) => tree,
            Err(fault) => {
                faults.push(*fault);
                continue;
            }
        };
        let mut edits: Vec<(Range<usize>, String)> = Vec::new();
        let mut here = Vec::new();
        for item in questions_of(&tree) {
            let Some(id) = field(item, "id").and_then(|f| written(text, &f.tree)) else {
                continue;
            };
            known.push(id.clone());
            if let Some(verdict) = left.remove(id.as_str()) {
                edits.extend(edits_of(text, item, verdict));
                here.push(verdict);
            }
        }
        if edits.is_empty() {
            continue;
        }
        let after = edited(&text.text, edits);
        if is_what_was_meant(text, &after, &here) {
            changed.push((text.name.clone(), after));
        } else {
            faults.push(
                Fault::new(
                    "cannot-edit",
                    Place::whole(&text.name),
                    "the verdicts cannot be put into this text without changing more of it",
                )
                .hint("write them in by hand; are there aliases (& and *) in it?"),
            );
        }
    }
    for verdict in left.into_values() {
        faults.push(
            Fault::new(
                "unknown-question",
                verdict.place.clone(),
                format!("the bank has no question \"{}\"", verdict.id),
            )
            .near(verdict.id.as_str(), known.iter().map(String::as_str)),
        );
    }
    faults.sort();
    Checked::new(faults.is_empty().then_some(changed), faults)
}

fn questions_of(tree: &Tree) -> &[Tree] {
    match field(tree, "questions").map(|field| &field.tree.value) {
        Some(Value::List(items)) => items,
        Some(
            Value::Nothing | Value::Truth(_) | Value::Number | Value::Text(_) | Value::Fields(_),
        )
        | None => &[],
    }
}

fn field<'t>(tree: &'t Tree, name: &str) -> Option<&'t Field> {
    match &tree.value {
        Value::Fields(fields) => fields.iter().find(|field| field.name == name),
        Value::Nothing | Value::Truth(_) | Value::Number | Value::Text(_) | Value::List(_) => None,
    }
}

/// A text or number as a text.
fn written(source: &SourceText, tree: &Tree) -> Option<String> {
    match &tree.value {
        Value::Text(words) => Some(words.trim().to_owned()),
        Value::Number => source
            .text
            .get(tree.bytes.clone())
            .map(|t| t.trim().to_owned()),
        Value::Nothing | Value::Truth(_) | Value::List(_) | Value::Fields(_) => None,
    }
}

/// What changes in the text for one verdict; nothing where all stands there already.
fn edits_of(source: &SourceText, item: &Tree, verdict: &Verdict) -> Vec<(Range<usize>, String)> {
    let mut edits = Vec::new();
    let Some(state) = field(item, "state") else {
        return edits;
    };
    if written(source, &state.tree).as_deref() != Some(verdict.state.word()) {
        edits.push((state.tree.bytes.clone(), verdict.state.word().to_owned()));
    }
    let Some(who) = &verdict.reviewed_by else {
        return edits;
    };
    match field(item, "reviewed_by").filter(|f| f.tree.value != Value::Nothing) {
        Some(field) => {
            if written(source, &field.tree).as_deref() != Some(who) {
                edits.push((field.tree.bytes.clone(), scalar(who)));
            }
        }
        None => {
            let at = state.bytes.start;
            let text: &str = &source.text;
            let line = text
                .get(..at)
                .map_or(0, |t| t.rfind('\n').map_or(0, |n| n + 1));
            let before = text.get(line..at).unwrap_or("");
            // In a block, a line of its own above the state; within braces, before it.
            let block = before.trim_start_matches([' ', '-', '\u{feff}']).is_empty();
            let new = if block {
                let end = if text.contains("\r\n") { "\r\n" } else { "\n" };
                let indent = " ".repeat(before.chars().count());
                format!("reviewed_by: {}{end}{indent}", scalar(who))
            } else {
                format!("reviewed_by: {}, ", scalar(who))
            };
            edits.push((at..at, new));
        }
    }
    edits
}

fn edited(text: &str, mut edits: Vec<(Range<usize>, String)>) -> String {
    edits.sort_by_key(|(at, _)| (at.start, at.end));
    let mut out = String::with_capacity(text.len() + 64);
    let mut from = 0;
    for (at, new) in edits {
        out.push_str(text.get(from..at.start).unwrap_or(""));
        out.push_str(&new);
        from = at.end.max(from);
    }
    out.push_str(text.get(from..).unwrap_or(""));
    out
}

/// Reads both texts and sees that nothing differs but what the verdicts say.
fn is_what_was_meant(before: &SourceText, after: &str, verdicts: &[&Verdict]) -> bool {
    let nowhere = Place::whole(&before.name);
    let read = |source: &SourceText| -> (Vec<Option<Question>>, usize) {
        let mut faults = Vec::new();
        let questions = read_question_text(source, &mut faults)
            .into_iter()
            .map(|read| {
                read.question.map(|question| Question {
                    place: nowhere.clone(),
                    ..*question
                })
            })
            .collect();
        (questions, faults.len())
    };
    let (mut wanted, _) = read(before);
    for question in wanted.iter_mut().flatten() {
        if let Some(verdict) = verdicts.iter().find(|v| v.id == question.id) {
            question.state = verdict.state;
            if let Some(who) = &verdict.reviewed_by {
                question.reviewed_by = Some(who.as_str().into());
            }
        }
    }
    let after = SourceText {
        name: before.name.clone(),
        text: after.into(),
    };
    read(&after).0 == wanted
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    const BANK: &str = "# a remark\nquestions:\n  - id: one   # first\n    cell: law\n    level: recall\n    state: draft  # not yet\n    source: { work: Some law, clause: \"1\", evidence: read }\n    verified: 2026-11-25\n    short_answer: { stem: \"What is 1?\", accept: [rum], why: So. }\n  - { id: two, cell: law, level: recall, state: \"draft\", source: { work: Some law, clause: \"1\", evidence: read }, verified: 2026-11-25, short_answer: { stem: What?, accept: [gin], why: So. } }\n  - state: draft\n    reviewed_by: 'A B'\n    id: three\n    cell: law\n    level: recall\n    source: { work: Some law, clause: \"1\", evidence: read }\n    verified: 2026-11-25\n    short_answer: { stem: What?, accept: [gin], why: So. }\n";

    fn review(text: &str) -> Checked<Vec<Verdict>> {
        read_review(&SourceText::new("review.md", text))
    }
    fn applied(paper: &str, bank: &str) -> Checked<Vec<(SourceName, String)>> {
        let verdicts = review(paper).value.unwrap();
        apply_review(&verdicts, &[SourceText::new("q.yaml", bank)])
    }

    #[test]
    fn nothing_changes_but_state_and_reviewer() {
        let paper = "# x\n\n## one\n> ## two\n> State: retired\nState: reviewed\nReviewed by: CE: second\nComments:\n\n### note\n\n## two\nState: operational\nReviewed by: CE\n\n## three\nState: pretest\nReviewed by: C D\n";
        let expected = BANK
            .replace(
                "    state: draft  # not yet",
                "    reviewed_by: \"CE: second\"\n    state: reviewed  # not yet",
            )
            .replace("state: \"draft\"", "reviewed_by: CE, state: operational")
            .replace("- state: draft", "- state: pretest")
            .replace("'A B'", "C D");
        for (bank, expected) in [
            (BANK.to_owned(), expected.clone()),
            (BANK.replace('\n', "\r\n"), expected.replace('\n', "\r\n")),
        ] {
            let changed = applied(paper, &bank);
            assert_eq!(changed.faults, []);
            assert_eq!(changed.value.unwrap()[0].1, expected);
        }
        // What stands there already changes nothing.
        let same = "## one\nState: draft\n\n## three\nState: draft\nReviewed by: A B\n";
        assert_eq!(applied(same, BANK).value.unwrap(), []);
    }

    #[test]
    fn faults_are_placed_in_the_paper() {
        let paper = "## one\nState: revewed\n## two\n## One\n## three\nState: draft\nState: draft\n## three\nState: draft\n";
        let told: Vec<String> = review(paper)
            .faults
            .iter()
            .map(|f| format!("{}:{}", f.rule, f.place.as_ref().unwrap().line))
            .collect();
        assert_eq!(
            told,
            [
                "unknown-word:2",
                "missing-field:3",
                "bad-id:4",
                "doubled-entry:7",
                "doubled-id:8"
            ]
        );
        assert_eq!(review("nothing").faults[0].rule, "empty-review");
        let unknown = applied("## ones\nState: draft\n", BANK);
        assert!(unknown.value.is_none());
        assert_eq!(
            unknown.faults[0].hint.as_deref(),
            Some("did you mean \"one\"?")
        );
    }

    #[test]
    fn what_cannot_be_edited_alone_is_refused() {
        let bank = BANK
            .replace("    state: draft  # not yet", "    state: &s draft")
            .replace("state: \"draft\"", "state: *s");
        // The alias itself can be replaced; what it repeats cannot be changed alone.
        assert!(applied("## two\nState: retired\n", &bank).value.is_some());
        let changed = applied("## one\nState: retired\n", &bank);
        assert!(changed.value.is_none());
        assert_eq!(changed.faults[0].rule, "cannot-edit");
    }

    proptest::proptest! {
        #[test]
        fn any_paper_is_read_without_panic(text in "(## |State:|Reviewed by:|\n|[a-z ]{0,6}){0,20}") {
            let verdicts = review(&text);
            if let Some(verdicts) = verdicts.value {
                let _ = apply_review(&verdicts, &[SourceText::new("q.yaml", BANK)]);
            }
        }
    }
}
