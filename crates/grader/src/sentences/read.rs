//! Reads a file of sentences: every line that there is, each with every value that it needs.

use base::tree::read_tree;
use base::walk::Walk;
use base::{Checked, Fault, Place, SourceText};

use super::Sentences;
use super::line::Line;
use super::pattern::{BadPattern, Pattern};

/// Reads a file of sentences.
#[must_use]
pub fn read_sentences(source: &SourceText) -> Checked<Sentences> {
    let tree = match read_tree(source) {
        Ok(tree) => tree,
        Err(fault) => return Checked::new(None, vec![*fault]),
    };
    let mut walk = Walk::new(source);
    let Some(mut fields) = walk.fields(&tree, "a file of sentences") else {
        return Checked::new(None, walk.finish());
    };
    let language = fields
        .required(&mut walk, "language")
        .and_then(|t| walk.text(t));
    let signs = [(".", "."), (",", ",")];
    let decimal = fields
        .required(&mut walk, "decimal")
        .and_then(|t| walk.choice(t, &signs));
    let mut patterns = Vec::new();
    for line in Line::ALL {
        let Some(tree) = fields.required(&mut walk, line.key()) else {
            continue;
        };
        let Some(text) = walk.text(tree) else {
            continue;
        };
        let place = walk.place(&tree.bytes);
        match Pattern::read(&text, line.names()) {
            Ok(pattern) => {
                for fault in left_out(*line, &pattern, &place) {
                    walk.note(fault);
                }
                patterns.push(pattern);
            }
            Err(why) => walk.note(no_pattern(*line, &why, place)),
        }
    }
    fields.finish(&mut walk);
    let read = match (language, decimal) {
        (Some(language), Some(decimal)) => Some(Sentences {
            language,
            decimal: decimal.to_owned(),
            patterns,
        }),
        _ => None,
    };
    Checked::new(read, walk.finish())
}

/// A fault for each value that the mark needs and the sentence does not show.
fn left_out(line: Line, pattern: &Pattern, place: &Place) -> Vec<Fault> {
    let names = line.names().iter().enumerate();
    names
        .filter(|(number, name)| !name.starts_with('?') && !pattern.shows(*number))
        .map(|(_, name)| {
            Fault::new(
                "value-left-out",
                place.clone(),
                format!("the sentence \"{}\" does not say {{{name}}}", line.key()),
            )
            .allowed(in_braces(line))
            .hint("every value stays, so that whoever reads it can work the mark out")
        })
        .collect()
}

fn no_pattern(line: Line, why: &BadPattern, place: Place) -> Fault {
    let what = match why {
        BadPattern::Bracket(sign) => format!("the \"{sign}\" has no other half"),
        BadPattern::Nested => "brackets stand in brackets".to_owned(),
        BadPattern::Unknown(name) => format!("{{{name}}} is not told to this sentence"),
        BadPattern::Choice(text) => format!("{{{text}}} has one text of two"),
    };
    let fault = Fault::new("bad-sentence", place, what);
    match why {
        BadPattern::Unknown(name) => {
            let known = line.names().iter().map(|name| name.trim_start_matches('?'));
            fault.allowed(in_braces(line)).near(name, known)
        }
        BadPattern::Bracket(_) | BadPattern::Nested | BadPattern::Choice(_) => {
            fault.allowed("{value}, {value?one:many}, [left out where a value in it is empty]")
        }
    }
}

fn in_braces(line: Line) -> String {
    if line.names().is_empty() {
        return "no values: the same words each time".to_owned();
    }
    let names = line.names().iter();
    let names: Vec<String> = names
        .map(|name| format!("{{{}}}", name.trim_start_matches('?')))
        .collect();
    names.join(", ")
}

#[cfg(test)]
mod tests {
    use super::super::SHIPPED;
    use super::*;

    fn rules(change: impl Fn(&str) -> String) -> Vec<(&'static str, u32)> {
        let (_, english) = SHIPPED[0];
        let text = change(english);
        let checked = read_sentences(&SourceText::new("reasons.en.yaml", &text));
        let faults = checked.faults.iter();
        faults
            .map(|fault| {
                (
                    fault.rule,
                    fault.place.as_ref().map_or(0, |place| place.line),
                )
            })
            .collect()
    }

    #[test]
    fn what_is_missing_or_unknown_is_told_at_its_line() {
        let line_of = |key: &str| {
            let (_, english) = SHIPPED[0];
            let before = english.lines().position(|line| line.starts_with(key));
            u32::try_from(before.unwrap_or(0) + 1).unwrap_or(0)
        };
        let cut = rules(|text| text.replace("nearness {nearness} less", "less"));
        assert_eq!(cut, [("value-left-out", line_of("node_near"))]);
        let unknown = rules(|text| text.replace("\"of {pairs} pairs of", "\"of {pears} pairs of"));
        assert_eq!(unknown, [("bad-sentence", line_of("pairs_in_order"))]);
        let missing = rules(|text| text.replace("no_answer: no answer\n", ""));
        assert_eq!(missing.len(), 1, "{missing:?}");
        let more = rules(|text| format!("{text}nonsense: x\n"));
        assert_eq!(more.len(), 1, "{more:?}");
        let sign = rules(|text| text.replace("decimal: \".\"", "decimal: \";\""));
        assert_eq!(sign.len(), 1, "{sign:?}");
    }

    #[test]
    fn no_text_brings_the_reader_down() {
        for text in ["", "[", "a: {", "language: en", "- x"] {
            let checked = read_sentences(&SourceText::new("reasons.xx.yaml", text));
            assert!(
                checked.value.is_none() && !checked.faults.is_empty(),
                "{text}"
            );
        }
    }
}
