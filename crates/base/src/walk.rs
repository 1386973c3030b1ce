//! Walks a text tree into checked values and notes every fault on the way.
//!
//! A walk never stops at a fault: each question to it answers an option, and the fault is noted.

use std::ops::Range;
use std::str::FromStr;

use crate::fault::Fault;
use crate::id::Readable;
use crate::marks::Marks;
use crate::place::{Lines, Place, SourceText};
use crate::shape::{Ask, Record, Shape};
use crate::text::Text;
use crate::tree::{Field, Tree, Value};

/// A text under reading, with the faults found so far.
#[derive(Debug)]
pub struct Walk<'t> {
    source: &'t SourceText,
    lines: Lines,
    faults: Vec<Fault>,
    record: Option<Box<Record>>,
}

/// The fields of one thing, each asked for by name.
#[derive(Debug)]
pub struct Fields<'t> {
    what: &'static str,
    tree: &'t Tree,
    fields: &'t [Field],
    asked: Vec<&'static str>,
    required: Vec<&'static str>,
}

impl<'t> Walk<'t> {
    /// Begins to read a text.
    #[must_use]
    pub fn new(source: &'t SourceText) -> Self {
        Self {
            source,
            lines: Lines::of(&source.text),
            faults: Vec::new(),
            record: None,
        }
    }
    /// Begins to read a text and writes down what is asked of it: see [`Walk::shape`].
    #[must_use]
    pub fn recording(source: &'t SourceText) -> Self {
        Self {
            record: Some(Box::default()),
            ..Self::new(source)
        }
    }
    /// What was asked of this tree; none where nothing was written down.
    #[must_use]
    pub fn shape(&self, tree: &Tree) -> Option<Shape> {
        Some(self.record.as_ref()?.shape(tree))
    }
    fn saw(&mut self, tree: &Tree, ask: impl FnOnce() -> Ask) {
        if let Some(record) = &mut self.record {
            record.note(tree, ask());
        }
    }
    /// Writes down that a text of this form is wanted (a pattern of ECMA 262, and its meaning in
    /// words). Whether the text has the form is the reader's to see.
    pub fn of_form(&mut self, tree: &Tree, pattern: &'static str, words: &'static str) {
        self.saw(tree, || Ask::Pattern {
            pattern,
            words,
            number: false,
        });
    }
    /// Writes down that no other names than these may stand in named fields.
    pub fn named_among(&mut self, tree: &Tree, names: &[&'static str]) {
        self.saw(tree, || Ask::NamedAmong(names.to_vec()));
    }
    /// Writes down that the name of a field, which the author chose, is wanted in this form (a
    /// pattern of ECMA 262). Whether it has the form is the reader's to see.
    pub fn name_of_form(&mut self, field: &Field, pattern: &'static str) {
        self.saw(&field.tree, || Ask::NamedBy(pattern));
    }
    /// Ends the reading; the faults in the order of the text.
    #[must_use]
    pub fn finish(mut self) -> Vec<Fault> {
        self.faults.sort();
        self.faults
    }
    /// Notes a fault.
    pub fn note(&mut self, fault: Fault) {
        self.faults.push(fault);
    }
    /// The place of these bytes.
    #[must_use]
    pub fn place(&self, bytes: &Range<usize>) -> Place {
        Place::in_lines(
            &self.source.name,
            &self.source.text,
            &self.lines,
            bytes.clone(),
        )
    }
    /// What is written there, to the letter.
    #[must_use]
    pub fn written(&self, tree: &Tree) -> &'t str {
        self.source
            .text
            .get(tree.bytes.clone())
            .unwrap_or("")
            .trim()
    }
    fn mismatch(&mut self, tree: &Tree, wanted: &str) {
        let found = match &tree.value {
            Value::Text(words) => format!("\"{}\"", shortened(words)),
            Value::Number => self.written(tree).to_owned(),
            Value::Truth(truth) => truth.to_string(),
            other @ (Value::Nothing | Value::List(_) | Value::Fields(_)) => other.kind().to_owned(),
        };
        let place = self.place(&tree.bytes);
        self.note(
            Fault::new(
                "wrong-type",
                place,
                format!("{found} stands where {wanted} is wanted"),
            )
            .allowed(wanted),
        );
    }

    /// The fields of a thing called `what` ("a question").
    pub fn fields(&mut self, tree: &'t Tree, what: &'static str) -> Option<Fields<'t>> {
        match &tree.value {
            Value::Fields(fields) => Some(Fields {
                what,
                tree,
                fields,
                asked: Vec::new(),
                required: Vec::new(),
            }),
            Value::Nothing | Value::Truth(_) | Value::Number | Value::Text(_) | Value::List(_) => {
                self.mismatch(tree, &format!("{what} (named fields)"));
                None
            }
        }
    }
    /// All fields with names that the author chooses.
    pub fn named(&mut self, tree: &'t Tree, what: &str) -> &'t [Field] {
        self.saw(tree, || Ask::Named);
        match &tree.value {
            Value::Fields(fields) => fields,
            Value::Nothing | Value::Truth(_) | Value::Number | Value::Text(_) | Value::List(_) => {
                self.mismatch(tree, &format!("{what} (named fields)"));
                &[]
            }
        }
    }
    /// The name of a field that the author chose, as an id.
    pub fn name_id<T: Readable>(&mut self, field: &Field) -> Option<T> {
        self.saw(&field.tree, || Ask::NamedBy(T::PATTERN));
        match T::read(&field.name) {
            Ok(id) => Some(id),
            Err(_) => {
                let place = self.place(&field.bytes);
                self.note(bad_id::<T>(place, &field.name));
                None
            }
        }
    }
    /// The items of a list; empty after a fault.
    pub fn list(&mut self, tree: &'t Tree, what: &str) -> &'t [Tree] {
        self.saw(tree, || Ask::List);
        match &tree.value {
            Value::List(items) => items,
            Value::Nothing
            | Value::Truth(_)
            | Value::Number
            | Value::Text(_)
            | Value::Fields(_) => {
                self.mismatch(tree, &format!("{what} (a list)"));
                &[]
            }
        }
    }
    /// A text that is not empty. A number is taken as written, since an author means a text.
    pub fn text(&mut self, tree: &'t Tree) -> Option<String> {
        self.saw(tree, || Ask::Text);
        let words = match &tree.value {
            Value::Text(words) => words.trim().to_owned(),
            Value::Number => self.written(tree).to_owned(),
            Value::Nothing | Value::Truth(_) | Value::List(_) | Value::Fields(_) => {
                self.mismatch(tree, "a text");
                return None;
            }
        };
        if words.is_empty() {
            let place = self.place(&tree.bytes);
            self.note(
                Fault::new("empty-text", place, "this text is empty")
                    .hint("write it, or leave the field out where it is optional"),
            );
            return None;
        }
        Some(words)
    }
    /// The same, kept as a stretch of what is read where it stands there as it is.
    pub fn letters(&mut self, tree: &'t Tree) -> Option<Text> {
        let words = self.text(tree)?;
        Some(Text::within(&self.source.text, tree.bytes.start, &words))
    }
    /// A list of texts.
    pub fn texts(&mut self, tree: &'t Tree, what: &str) -> Vec<String> {
        self.list(tree, what)
            .iter()
            .filter_map(|item| self.text(item))
            .collect()
    }
    /// An id.
    pub fn id<T: Readable>(&mut self, tree: &'t Tree) -> Option<T> {
        self.saw(tree, || Ask::Pattern {
            pattern: T::PATTERN,
            words: T::ALLOWED,
            number: T::read("7").is_ok(),
        });
        let text = self.text(tree)?;
        match T::read(&text) {
            Ok(id) => Some(id),
            Err(_) => {
                let place = self.place(&tree.bytes);
                self.note(bad_id::<T>(place, &text));
                None
            }
        }
    }
    /// A list of ids.
    pub fn ids<T: Readable>(&mut self, tree: &'t Tree, what: &str) -> Vec<T> {
        self.list(tree, what)
            .iter()
            .filter_map(|item| self.id(item))
            .collect()
    }
    /// `true` or `false`.
    pub fn truth(&mut self, tree: &'t Tree) -> Option<bool> {
        self.saw(tree, || Ask::Truth);
        match tree.value {
            Value::Truth(truth) => Some(truth),
            Value::Nothing | Value::Number | Value::Text(_) | Value::List(_) | Value::Fields(_) => {
                self.mismatch(tree, "true or false");
                None
            }
        }
    }
    /// A finite number within bounds.
    pub fn number(
        &mut self,
        tree: &'t Tree,
        bounds: std::ops::RangeInclusive<f64>,
        unit: &str,
    ) -> Option<f64> {
        self.saw(tree, || Ask::Number {
            from: *bounds.start(),
            to: *bounds.end(),
            unit: unit.to_owned(),
        });
        let wanted = format!(
            "a number from {} to {}{}{unit}",
            bounds.start(),
            bounds.end(),
            if unit.is_empty() { "" } else { " " }
        );
        let written = self.written(tree);
        let read = match tree.value {
            Value::Number => f64::from_str(written).ok().filter(|n| n.is_finite()),
            Value::Nothing
            | Value::Truth(_)
            | Value::Text(_)
            | Value::List(_)
            | Value::Fields(_) => None,
        };
        match read {
            Some(number) if bounds.contains(&number) => Some(number),
            Some(_) => {
                let place = self.place(&tree.bytes);
                self.note(
                    Fault::new("out-of-range", place, format!("{written} is out of range"))
                        .allowed(wanted),
                );
                None
            }
            None => {
                self.mismatch(tree, &wanted);
                None
            }
        }
    }
    /// A whole number within bounds.
    pub fn whole(&mut self, tree: &'t Tree, bounds: std::ops::RangeInclusive<u32>) -> Option<u32> {
        self.saw(tree, || Ask::Whole {
            from: *bounds.start(),
            to: *bounds.end(),
        });
        let wanted = format!("a whole number from {} to {}", bounds.start(), bounds.end());
        let written = self.written(tree);
        match (&tree.value, u32::from_str(written)) {
            (Value::Number, Ok(number)) if bounds.contains(&number) => Some(number),
            (Value::Number, _) => {
                let place = self.place(&tree.bytes);
                self.note(
                    Fault::new("out-of-range", place, format!("{written} is out of range"))
                        .allowed(wanted),
                );
                None
            }
            (
                Value::Nothing
                | Value::Truth(_)
                | Value::Text(_)
                | Value::List(_)
                | Value::Fields(_),
                _,
            ) => {
                self.mismatch(tree, &wanted);
                None
            }
        }
    }
    /// Marks: more than nothing, at most a thousand.
    pub fn marks(&mut self, tree: &'t Tree) -> Option<Marks> {
        self.saw(tree, || Ask::Marks);
        let wanted = "marks from 0.001 to 1000 with at most three decimal places";
        let written = self.written(tree);
        let read = match tree.value {
            Value::Number => Marks::from_str(written).ok(),
            Value::Nothing
            | Value::Truth(_)
            | Value::Text(_)
            | Value::List(_)
            | Value::Fields(_) => None,
        };
        let read = read.filter(|m| *m > Marks::ZERO && m.thousandths() <= 1_000_000);
        if read.is_none() {
            self.mismatch(tree, wanted);
        }
        read
    }
    /// One of a list of words.
    pub fn choice<T: Copy>(&mut self, tree: &'t Tree, choices: &[(&str, T)]) -> Option<T> {
        self.saw(tree, || {
            Ask::Choice(choices.iter().map(|(name, _)| (*name).to_owned()).collect())
        });
        let text = match &tree.value {
            Value::Text(words) => words.as_str(),
            Value::Number => self.written(tree),
            Value::Truth(true) => "true",
            Value::Truth(false) => "false",
            Value::Nothing | Value::List(_) | Value::Fields(_) => {
                self.mismatch(tree, &words_of(choices));
                return None;
            }
        };
        if let Some((_, chosen)) = choices.iter().find(|(name, _)| *name == text) {
            return Some(*chosen);
        }
        let place = self.place(&tree.bytes);
        self.note(
            Fault::new(
                "unknown-word",
                place,
                format!("\"{}\" is not one of the words for this", shortened(text)),
            )
            .allowed(words_of(choices))
            .near(text, choices.iter().map(|(name, _)| *name)),
        );
        None
    }
}

impl<'t> Fields<'t> {
    /// A field that may be left out. `key: ` with nothing behind it counts as left out.
    pub fn optional(&mut self, name: &'static str) -> Option<&'t Tree> {
        self.asked.push(name);
        self.fields
            .iter()
            .find(|field| field.name == name)
            .map(|field| &field.tree)
            .filter(|tree| tree.value != Value::Nothing)
    }
    /// A field that must stand.
    pub fn required(&mut self, walk: &mut Walk<'t>, name: &'static str) -> Option<&'t Tree> {
        self.required.push(name);
        let found = self.optional(name);
        if found.is_none() {
            let place = walk.place(&self.start());
            walk.note(
                Fault::new(
                    "missing-field",
                    place,
                    format!("{} has no \"{name}\"", self.what),
                )
                .hint(format!("add \"{name}: …\"")),
            );
        }
        found
    }
    /// Where the thing begins: its first field.
    #[must_use]
    pub fn start(&self) -> Range<usize> {
        self.fields
            .first()
            .map_or_else(|| self.tree.bytes.clone(), |field| field.bytes.clone())
    }
    /// The place of a field's name.
    #[must_use]
    pub fn name_bytes(&self, name: &str) -> Range<usize> {
        self.fields
            .iter()
            .find(|f| f.name == name)
            .map_or_else(|| self.start(), |f| f.bytes.clone())
    }
    /// Those of these fields that stand, where exactly one should. Whether it is one is the
    /// reader's to tell.
    pub fn one_of(
        &mut self,
        walk: &mut Walk<'t>,
        names: &[&'static str],
    ) -> Vec<(&'static str, &'t Tree)> {
        self.exactly_one(walk, names);
        names
            .iter()
            .filter_map(|name| Some((*name, self.optional(name)?)))
            .collect()
    }
    /// Writes down that exactly one of these fields must stand. Whether it is one is the reader's
    /// to tell.
    pub fn exactly_one(&self, walk: &mut Walk<'t>, names: &[&'static str]) {
        walk.saw(self.tree, || Ask::OneOf(names.to_vec()));
    }
    /// Notes every field that was not asked for.
    pub fn finish(self, walk: &mut Walk<'t>) {
        walk.saw(self.tree, || self.asks());
        for field in self
            .fields
            .iter()
            .filter(|f| !self.asked.contains(&f.name.as_str()))
        {
            let place = walk.place(&field.bytes);
            walk.note(
                Fault::new(
                    "unknown-key",
                    place,
                    format!("{} has no field \"{}\"", self.what, shortened(&field.name)),
                )
                .allowed(self.asked.join(", "))
                .near(&field.name, self.asked.iter().copied()),
            );
        }
    }
    fn asks(&self) -> Ask {
        let mut names: Vec<(&'static str, bool)> = Vec::new();
        for name in &self.asked {
            if !names.iter().any(|(known, _)| known == name) {
                names.push((name, self.required.contains(name)));
            }
        }
        Ask::Fields {
            what: self.what,
            names,
        }
    }
}

fn bad_id<T: Readable>(place: Place, text: &str) -> Fault {
    Fault::new(
        "bad-id",
        place,
        format!("\"{}\" is no {}", shortened(text), T::KIND),
    )
    .allowed(T::ALLOWED)
}

fn words_of<T>(choices: &[(&str, T)]) -> String {
    choices
        .iter()
        .map(|(name, _)| *name)
        .collect::<Vec<_>>()
        .join(", ")
}

/// A text short enough for a message.
#[must_use]
pub fn shortened(text: &str) -> String {
    const LONGEST: usize = 60;
    if text.chars().count() <= LONGEST {
        text.to_owned()
    } else {
        text.chars().take(LONGEST - 1).chain(['…']).collect()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::tree::read_tree;

    #[test]
    fn every_fault_is_noted_with_its_place() {
        let source = SourceText::new("x.yaml", "tittle: a\nforms: many\nlevel: recal\n");
        let tree = read_tree(&source).unwrap();
        let mut walk = Walk::new(&source);
        let mut fields = walk.fields(&tree, "a plan").unwrap();
        assert!(fields.required(&mut walk, "title").is_none());
        let forms = fields.required(&mut walk, "forms").unwrap();
        assert_eq!(walk.whole(forms, 1..=20), None);
        let level = fields.required(&mut walk, "level").unwrap();
        assert_eq!(walk.choice(level, &[("recall", 1), ("judgement", 2)]), None);
        fields.finish(&mut walk);
        let faults = walk.finish();
        let lines: Vec<_> = faults.iter().map(ToString::to_string).collect();
        assert_eq!(
            lines,
            [
                "x.yaml:1:1: a plan has no \"title\"; add \"title: …\"",
                "x.yaml:1:1: a plan has no field \"tittle\"; allowed: title, forms, level; did you mean \"title\"?",
                "x.yaml:2:8: \"many\" stands where a whole number from 1 to 20 is wanted; allowed: a whole number from 1 to 20",
                "x.yaml:3:8: \"recal\" is not one of the words for this; allowed: recall, judgement; did you mean \"recall\"?",
            ]
        );
    }

    #[test]
    fn nested_bombs_and_doubled_fields_are_refused() {
        let deep = format!("{}1{}", "[".repeat(10_000), "]".repeat(10_000));
        for text in [deep.as_str(), "a: 1\na: 2\n", "a: [", "\u{0}"] {
            let fault = read_tree(&SourceText::new("x.yaml", text)).unwrap_err();
            assert_eq!(fault.rule, "not-yaml", "{fault}");
        }
    }

    #[test]
    fn numbers_keep_their_digits() {
        let source = SourceText::new("x.yaml", "marks: 0.25\nword: 12abc\nflag: no\n");
        let tree = read_tree(&source).unwrap();
        let mut walk = Walk::new(&source);
        let mut fields = walk.fields(&tree, "a thing").unwrap();
        let marks = fields.optional("marks").unwrap();
        assert_eq!(walk.marks(marks).unwrap().to_string(), "0.25");
        assert!(walk.truth(fields.optional("flag").unwrap()).is_none());
    }
}
