//! Sound texts satisfy their schema; in broken ones, reader and schema refuse the same.
//!
//! Every field of every block of the READMEs is taken out, renamed and filled with something else,
//! one at a time. The reader and an independent validator of JSON Schemas are asked about each.

use base::SourceText;
use base::tree::{Tree, Value, read_tree};

use crate::format::{Format, blocks, further, shipped};
use crate::validator::judge;

/// What a schema can see. The other rules need a second look: sums, doubled words, other texts.
const SEEN: [&str; 11] = [
    "wrong-type",
    "unknown-word",
    "missing-field",
    "unknown-key",
    "out-of-range",
    "bad-id",
    "bad-language",
    "empty-text",
    "no-kind",
    "several-kinds",
    "bad-time",
];

#[test]
fn every_sound_text_satisfies_its_schema() {
    let texts: Vec<(Format, SourceText)> = shipped()
        .into_iter()
        .chain(blocks())
        .chain(further())
        .collect();
    let asked: Vec<(Format, String)> = texts
        .iter()
        .map(|(format, text)| (*format, text.text.to_string()))
        .collect();
    for ((_, text), sound) in texts.iter().zip(judge(&asked)) {
        assert!(sound, "{} does not satisfy its schema", text.name);
    }
}

#[test]
fn reader_and_schema_refuse_the_same() {
    let mut asked = Vec::new();
    let mut what = Vec::new();
    for (format, text) in blocks().into_iter().chain(further()) {
        // What stands in a drawing is a text of its own, into which no schema sees.
        if text.text.contains("drawing:") {
            continue;
        }
        let tree = read_tree(&text).unwrap();
        for (change, broken) in changes(&tree, &text.text) {
            let faults = format.faults(&SourceText::new("changed.yaml", &broken));
            asked.push((format, broken));
            what.push((text.name.to_string(), change, faults));
        }
    }
    assert!(asked.len() > 1000, "{} changes", asked.len());
    let mut differ = Vec::new();
    for (((name, change, faults), (_, text)), accepted) in
        what.iter().zip(&asked).zip(judge(&asked))
    {
        let seen = faults.iter().any(|rule| SEEN.contains(rule));
        if seen && accepted {
            differ.push(format!(
                "{name}: {change}: only the reader refuses {faults:?}"
            ));
        }
        if faults.is_empty() && !accepted {
            differ.push(format!("{name}: {change}: only the schema refuses\n{text}"));
        }
    }
    assert!(
        differ.is_empty(),
        "{} of {} differ\n{}",
        differ.len(),
        asked.len(),
        differ
            .iter()
            .take(30)
            .cloned()
            .collect::<Vec<_>>()
            .join("\n")
    );
}

/// All texts that differ from this tree in one place.
fn changes(tree: &Tree, source: &str) -> Vec<(String, String)> {
    let mut places = Vec::new();
    gather(tree, &mut Vec::new(), &mut places);
    let mut found = Vec::new();
    for place in places {
        for change in Change::ALL {
            let mut writer = Writer {
                source,
                change,
                text: String::new(),
                changed: false,
            };
            writer.write(tree, Some(&place));
            if writer.changed {
                found.push((
                    format!("{change:?} at {place:?}"),
                    format!("{}\n", writer.text),
                ));
            }
        }
    }
    found
}

/// One way to change what stands at a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Change {
    Gone,
    Renamed,
    Text,
    OddText,
    Empty,
    Number,
    Huge,
    Truth,
    List,
    Fields,
}

impl Change {
    const ALL: [Self; 10] = [
        Self::Gone,
        Self::Renamed,
        Self::Text,
        Self::OddText,
        Self::Empty,
        Self::Number,
        Self::Huge,
        Self::Truth,
        Self::List,
        Self::Fields,
    ];
    fn value(self) -> Option<&'static str> {
        match self {
            Self::Gone | Self::Renamed => None,
            Self::Text => Some("\"zzz\""),
            Self::OddText => Some("\"Zz Z!\""),
            Self::Empty => Some("\"\""),
            Self::Number => Some("1"),
            Self::Huge => Some("99999999999999"),
            Self::Truth => Some("true"),
            Self::List => Some("[\"zzz\"]"),
            Self::Fields => Some("{\"zzz\": \"zzz\"}"),
        }
    }
}

fn gather(tree: &Tree, path: &mut Vec<usize>, places: &mut Vec<Vec<usize>>) {
    let below: Vec<&Tree> = match &tree.value {
        Value::List(items) => items.iter().collect(),
        Value::Fields(fields) => fields.iter().map(|field| &field.tree).collect(),
        Value::Nothing | Value::Truth(_) | Value::Number | Value::Text(_) => return,
    };
    for (number, tree) in below.into_iter().enumerate() {
        path.push(number);
        places.push(path.clone());
        gather(tree, path, places);
        path.pop();
    }
}

/// Writes a tree as JSON, which is YAML, changed at one place.
struct Writer<'t> {
    source: &'t str,
    change: Change,
    text: String,
    changed: bool,
}

impl Writer<'_> {
    /// Parts the next entry from the one before.
    fn part(&mut self) {
        if !self.text.ends_with(['[', '{']) {
            self.text.push_str(", ");
        }
    }
    /// Writes this tree; `place` leads on to what is changed, where that stands below.
    fn write(&mut self, tree: &Tree, place: Option<&[usize]>) {
        if let (Some([]), Some(value)) = (place, self.change.value()) {
            self.changed = true;
            self.text.push_str(value);
            return;
        }
        let below = |number: usize| match place {
            Some([first, rest @ ..]) if *first == number => Some(rest),
            Some(_) | None => None,
        };
        match &tree.value {
            Value::Nothing => self.text.push_str("null"),
            Value::Truth(truth) => self.text.push_str(&truth.to_string()),
            Value::Number => self.text.push_str(self.source[tree.bytes.clone()].trim()),
            Value::Text(words) => self.text.push_str(&serde_json::to_string(words).unwrap()),
            Value::List(items) => {
                self.text.push('[');
                for (number, item) in items.iter().enumerate() {
                    let place = below(number);
                    if place == Some(&[]) && self.change == Change::Gone {
                        self.changed = true;
                        continue;
                    }
                    self.part();
                    self.write(item, place);
                }
                self.text.push(']');
            }
            Value::Fields(fields) => {
                self.text.push('{');
                for (number, field) in fields.iter().enumerate() {
                    let place = below(number);
                    let mut name = field.name.clone();
                    if place == Some(&[]) && self.change == Change::Gone {
                        self.changed = true;
                        continue;
                    }
                    if place == Some(&[]) && self.change == Change::Renamed {
                        self.changed = true;
                        name.push_str("-z Z");
                    }
                    self.part();
                    self.text.push_str(&serde_json::to_string(&name).unwrap());
                    self.text.push_str(": ");
                    self.write(&field.tree, place);
                }
                self.text.push('}');
            }
        }
    }
}
