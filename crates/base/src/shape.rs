//! The shape of a text as its reader sees it: which fields it asks for and what may stand in them.
//!
//! A shape is written down by the reader itself while it reads (`Walk::recording`), so what an
//! editor is told about a format cannot differ from what the reader takes. What no example holds
//! stays a hole, and [`Shape::holes`] names it.

use std::collections::{BTreeMap, BTreeSet};

use crate::tree::{Tree, Value};

/// What a reader asked of one node.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Ask {
    Fields {
        what: &'static str,
        names: Vec<(&'static str, bool)>,
    },
    OneOf(Vec<&'static str>),
    Named,
    NamedAmong(Vec<&'static str>),
    NamedBy(&'static str),
    List,
    Text,
    Pattern {
        pattern: &'static str,
        words: &'static str,
        number: bool,
    },
    Truth,
    Number {
        from: f64,
        to: f64,
        unit: String,
    },
    Whole {
        from: u32,
        to: u32,
    },
    Marks,
    Choice(Vec<String>),
}

/// Everything that was asked while a text was read. A node is known by where it lies in memory,
/// which does not change while the tree is lent to the reader.
#[derive(Debug, Clone, Default)]
pub(crate) struct Record {
    asks: BTreeMap<usize, Vec<Ask>>,
}

impl Record {
    pub(crate) fn note(&mut self, tree: &Tree, ask: Ask) {
        let asks = self
            .asks
            .entry(std::ptr::from_ref(tree).addr())
            .or_default();
        if !asks.contains(&ask) {
            asks.push(ask);
        }
    }
    /// The shape of what stands at this node and below.
    pub(crate) fn shape(&self, tree: &Tree) -> Shape {
        let mut shape = Shape::default();
        let asks = self
            .asks
            .get(&std::ptr::from_ref(tree).addr())
            .map_or(&[][..], Vec::as_slice);
        for ask in asks {
            shape.add(ask);
        }
        // A text that must have a certain form is asked for as a text first.
        if !shape.patterns.is_empty() {
            shape.text = false;
        }
        match &tree.value {
            Value::Nothing => shape.nothing = true,
            Value::Truth(_) | Value::Number | Value::Text(_) => {}
            Value::List(items) => {
                if let Some(each) = &mut shape.list {
                    for item in items {
                        each.merge(&self.shape(item));
                    }
                }
            }
            Value::Fields(fields) => {
                for field in fields {
                    let below = self.shape(&field.tree);
                    if let Some(named) = &mut shape.named {
                        named.pattern = named.pattern.or_else(|| self.named_by(&field.tree));
                    }
                    shape.hang(&field.name, &below);
                }
            }
        }
        shape
    }
    fn named_by(&self, tree: &Tree) -> Option<&'static str> {
        let asks = self.asks.get(&std::ptr::from_ref(tree).addr())?;
        asks.iter().find_map(|ask| match ask {
            Ask::NamedBy(pattern) => Some(*pattern),
            _ => None,
        })
    }
}

/// What may stand at one place: any of what is set.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Shape {
    /// Nothing behind the colon.
    pub nothing: bool,
    /// `true` or `false`.
    pub truth: bool,
    /// Any text that is not empty.
    pub text: bool,
    /// Texts of a form: the pattern (ECMA 262), what it means in words, and whether a number has
    /// the form too.
    pub patterns: BTreeMap<&'static str, (&'static str, bool)>,
    /// One of these words, in their order.
    pub choices: Vec<String>,
    /// A number within bounds, and its unit.
    pub number: Option<(f64, f64, String)>,
    /// A whole number within bounds.
    pub whole: Option<(u32, u32)>,
    /// Marks.
    pub marks: bool,
    /// A list of these.
    pub list: Option<Box<Shape>>,
    /// Fields with names of the format.
    pub fields: Option<FieldsShape>,
    /// Fields with names that the author chooses, or takes from a list.
    pub named: Option<Box<NamedShape>>,
}

/// Fields with names of the format.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct FieldsShape {
    /// What they are the fields of ("a question").
    pub what: String,
    /// Each field in the order in which the reader asks.
    pub fields: Vec<FieldShape>,
    /// Exactly one of these must stand; empty where nothing of the kind holds.
    pub one_of: Vec<String>,
}

/// One field.
#[derive(Debug, Clone, PartialEq)]
pub struct FieldShape {
    /// Its name.
    pub name: String,
    /// Whether it must stand.
    pub required: bool,
    /// What may stand in it.
    pub shape: Shape,
}

/// Fields with names that the author chooses.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct NamedShape {
    /// The pattern of the names.
    pub pattern: Option<&'static str>,
    /// What stands behind a name of the author.
    pub each: Shape,
    /// The only names there are, each with what stands behind it; empty where the author chooses.
    pub among: Vec<(String, Shape)>,
}

impl Shape {
    fn add(&mut self, ask: &Ask) {
        match ask {
            Ask::Fields { what, names } => {
                let fields = self.fields.get_or_insert_default();
                fields.what = (*what).to_owned();
                fields.fields = names
                    .iter()
                    .map(|(name, required)| FieldShape {
                        name: (*name).to_owned(),
                        required: *required,
                        shape: Self::default(),
                    })
                    .collect();
            }
            Ask::OneOf(names) => {
                self.fields.get_or_insert_default().one_of =
                    names.iter().map(|name| (*name).to_owned()).collect();
            }
            Ask::Named => {
                self.named.get_or_insert_default();
            }
            Ask::NamedAmong(names) => {
                self.named.get_or_insert_default().among = names
                    .iter()
                    .map(|name| ((*name).to_owned(), Self::default()))
                    .collect();
            }
            Ask::NamedBy(_) => {}
            Ask::List => {
                self.list.get_or_insert_default();
            }
            Ask::Text => self.text = true,
            Ask::Pattern {
                pattern,
                words,
                number,
            } => {
                self.patterns.insert(pattern, (words, *number));
            }
            Ask::Truth => self.truth = true,
            Ask::Number { from, to, unit } => self.number = Some((*from, *to, unit.clone())),
            Ask::Whole { from, to } => self.whole = Some((*from, *to)),
            Ask::Marks => self.marks = true,
            Ask::Choice(words) => self.choices.clone_from(words),
        }
    }

    /// Puts what stands behind one name into its place.
    fn hang(&mut self, name: &str, below: &Self) {
        if let Some(fields) = &mut self.fields
            && let Some(field) = fields.fields.iter_mut().find(|field| field.name == name)
        {
            field.shape.merge(below);
        }
        if let Some(named) = &mut self.named {
            match named.among.iter_mut().find(|(known, _)| known == name) {
                Some((_, shape)) => shape.merge(below),
                None => named.each.merge(below),
            }
        }
    }

    /// Allows what another shape allows as well.
    pub fn merge(&mut self, other: &Self) {
        self.nothing |= other.nothing;
        self.truth |= other.truth;
        self.text |= other.text;
        self.marks |= other.marks;
        self.patterns.extend(&other.patterns);
        for word in &other.choices {
            if !self.choices.contains(word) {
                self.choices.push(word.clone());
            }
        }
        self.number = match (self.number.take(), &other.number) {
            (Some((from, to, unit)), Some((other_from, other_to, other_unit))) => Some((
                from.min(*other_from),
                to.max(*other_to),
                // Where the author names the unit it is none of the format's.
                if unit == *other_unit {
                    unit
                } else {
                    String::new()
                },
            )),
            (one, None) => one,
            (None, other) => other.clone(),
        };
        self.whole = match (self.whole, other.whole) {
            (Some((from, to)), Some((other_from, other_to))) => {
                Some((from.min(other_from), to.max(other_to)))
            }
            (one, None) => one,
            (None, other) => other,
        };
        if let Some(item) = &other.list {
            self.list.get_or_insert_default().merge(item);
        }
        if let Some(theirs) = &other.fields {
            match &mut self.fields {
                Some(ours) => ours.merge(theirs),
                None => self.fields = Some(theirs.clone()),
            }
        }
        if let Some(theirs) = &other.named {
            match &mut self.named {
                Some(ours) => {
                    ours.pattern = ours.pattern.or(theirs.pattern);
                    ours.each.merge(&theirs.each);
                    for (name, shape) in &theirs.among {
                        match ours.among.iter_mut().find(|(known, _)| known == name) {
                            Some((_, known)) => known.merge(shape),
                            None => ours.among.push((name.clone(), shape.clone())),
                        }
                    }
                }
                None => self.named = Some(theirs.clone()),
            }
        }
    }

    /// The places of which no example shows what may stand there.
    #[must_use]
    pub fn holes(&self) -> BTreeSet<String> {
        let mut found = BTreeSet::new();
        self.find_holes("", &mut found);
        found
    }

    fn find_holes(&self, path: &str, found: &mut BTreeSet<String>) {
        if *self == Self::default() {
            found.insert(path.trim_start_matches('.').to_owned());
        }
        if let Some(item) = &self.list {
            item.find_holes(&format!("{path}[]"), found);
        }
        if let Some(fields) = &self.fields {
            for field in &fields.fields {
                field
                    .shape
                    .find_holes(&format!("{path}.{}", field.name), found);
            }
        }
        if let Some(named) = &self.named {
            for (name, shape) in &named.among {
                shape.find_holes(&format!("{path}.{name}"), found);
            }
            if named.among.is_empty() {
                named.each.find_holes(&format!("{path}.*"), found);
            }
        }
    }
}

impl FieldsShape {
    fn merge(&mut self, other: &Self) {
        for ours in &mut self.fields {
            // Required is what every reading requires.
            ours.required &= other
                .fields
                .iter()
                .any(|theirs| theirs.name == ours.name && theirs.required);
        }
        for theirs in &other.fields {
            match self.fields.iter_mut().find(|ours| ours.name == theirs.name) {
                Some(ours) => ours.shape.merge(&theirs.shape),
                None => self.fields.push(FieldShape {
                    required: false,
                    ..theirs.clone()
                }),
            }
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use crate::place::SourceText;
    use crate::tree::read_tree;
    use crate::walk::Walk;

    #[test]
    fn a_reader_writes_down_what_it_asks() {
        let source = SourceText::new(
            "x.yaml",
            "title: a\nitems:\n  - { level: recall }\n  - { level: easy, n: 3 }\n",
        );
        let tree = read_tree(&source).unwrap();
        let mut walk = Walk::recording(&source);
        let mut fields = walk.fields(&tree, "a thing").unwrap();
        let title = fields.required(&mut walk, "title").unwrap();
        walk.text(title);
        let _ = fields.optional("note");
        let items = fields.required(&mut walk, "items").unwrap();
        for item in walk.list(items, "items") {
            let mut item = walk.fields(item, "an item").unwrap();
            let level = item.required(&mut walk, "level").unwrap();
            walk.choice(level, &[("recall", 1), ("easy", 2)]);
            if let Some(n) = item.optional("n") {
                walk.whole(n, 1..=5);
            }
            item.finish(&mut walk);
        }
        fields.finish(&mut walk);
        let shape = walk.shape(&tree).unwrap();
        let fields = shape.fields.as_ref().unwrap();
        let names: Vec<_> = fields
            .fields
            .iter()
            .map(|f| (f.name.as_str(), f.required))
            .collect();
        assert_eq!(names, [("title", true), ("note", false), ("items", true)]);
        let item = fields.fields[2].shape.list.as_ref().unwrap();
        let item = item.fields.as_ref().unwrap();
        assert_eq!(item.fields[0].shape.choices, ["recall", "easy"]);
        assert_eq!(item.fields[1].shape.whole, Some((1, 5)));
        assert_eq!(shape.holes().into_iter().collect::<Vec<_>>(), ["note"]);
        assert!(Walk::new(&source).shape(&tree).is_none());
    }
}
