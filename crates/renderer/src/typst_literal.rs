//! Values become typst literals: what people wrote can never become markup.
//!
//! Every character of a string except ASCII letters, digits and the space is written as
//! `\u{…}`. Such a literal is the same text in code (`"…"` is a string) and in markup (where it
//! prints with its quotation marks): whichever place a template puts it in, nothing in it can
//! open a function, a comment, a heading or a list. The only thing a template's author can get
//! wrong is that the page does not compile or shows quotation marks.

use std::fmt::Write as _;

use minijinja::value::{Value, ValueKind};
use minijinja::{Error, ErrorKind, Output, State};

use crate::clean_text::clean_text;

/// A cleaned text as a typst string literal.
pub(crate) fn string_literal(text: &str) -> String {
    let clean = clean_text(text);
    let mut literal = String::with_capacity(clean.len() + clean.len() / 2 + 2);
    literal.push('"');
    for character in clean.chars() {
        if character.is_ascii_alphanumeric() || character == ' ' {
            literal.push(character);
        } else {
            // Writing to a string cannot fail.
            let _ = write!(literal, "\\u{{{:x}}}", u32::from(character));
        }
    }
    literal.push('"');
    literal
}

/// The formatter of the template engine: each `{{ value }}` becomes a typst literal, whatever
/// the template says about escaping.
pub(crate) fn write_value(
    output: &mut Output,
    _state: &mut State,
    value: &Value,
) -> Result<(), Error> {
    let mut literal = String::new();
    literal_of(value, &mut literal, 0)?;
    output
        .write_str(&literal)
        .map_err(|_| Error::new(ErrorKind::WriteFailure, "the page could not be written"))
}

/// Nesting beyond this is not content of ours.
const DEEPEST: usize = 32;

fn literal_of(value: &Value, literal: &mut String, depth: usize) -> Result<(), Error> {
    if depth > DEEPEST {
        return Err(Error::new(
            ErrorKind::BadSerialization,
            "the value is nested too deeply",
        ));
    }
    match value.kind() {
        ValueKind::Undefined => {
            return Err(Error::new(
                ErrorKind::UndefinedError,
                "this name is not in the sheet's content",
            ));
        }
        ValueKind::Invalid => {
            return Err(Error::new(ErrorKind::BadSerialization, value.to_string()));
        }
        ValueKind::None => literal.push_str("none"),
        ValueKind::Bool => literal.push_str(if value.is_true() { "true" } else { "false" }),
        ValueKind::Number => literal.push_str(&number_literal(value)?),
        ValueKind::String => literal.push_str(&string_literal(value.as_str().unwrap_or_default())),
        ValueKind::Seq | ValueKind::Iterable => {
            literal.push('(');
            for item in value.try_iter()? {
                literal_of(&item, literal, depth + 1)?;
                literal.push_str(", ");
            }
            literal.push(')');
        }
        ValueKind::Map => {
            literal.push('(');
            let mut empty = true;
            for key in value.try_iter()? {
                literal.push_str(&string_literal(&key.to_string()));
                literal.push_str(": ");
                literal_of(&value.get_item(&key)?, literal, depth + 1)?;
                literal.push_str(", ");
                empty = false;
            }
            literal.push_str(if empty { ":)" } else { ")" });
        }
        ValueKind::Bytes | ValueKind::Plain => {
            return Err(Error::new(
                ErrorKind::InvalidOperation,
                "only text, numbers, lists and records can be printed",
            ));
        }
        // The engine's list of kinds is open; a new kind is refused until it is known here.
        _ => {
            return Err(Error::new(
                ErrorKind::InvalidOperation,
                "this kind of value cannot be printed",
            ));
        }
    }
    Ok(())
}

/// A number, in brackets where it is negative so that it is one term wherever it stands.
fn number_literal(value: &Value) -> Result<String, Error> {
    let digits = if value.is_integer() {
        value.to_string()
    } else {
        let number = f64::try_from(value.clone())?;
        if !number.is_finite() {
            return Err(Error::new(
                ErrorKind::InvalidOperation,
                "a number that is not finite cannot be printed",
            ));
        }
        format!("{number:?}")
    };
    Ok(if digits.starts_with('-') {
        format!("({digits})")
    } else {
        digits
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use proptest::prelude::*;
    use typst::syntax::{SyntaxKind, SyntaxNode, ast, parse};

    use super::*;

    /// All leaves of a tree that are not white space.
    fn leaves(node: &SyntaxNode, found: &mut Vec<(SyntaxKind, String)>) {
        if node.children().len() == 0 {
            if node.kind() != SyntaxKind::Space {
                found.push((node.kind(), node.leaf_text().to_string()));
            }
        } else {
            for child in node.children() {
                leaves(child, found);
            }
        }
    }

    fn rendered(template: &str, text: &str) -> String {
        let mut environment = minijinja::Environment::new();
        environment.set_formatter(write_value);
        environment
            .render_str(template, minijinja::context! { text => text })
            .unwrap()
    }

    fn nasty() -> impl Strategy<Value = String> {
        let piece = prop_oneof![
            "\\PC{0,12}",
            any::<String>(),
            Just("#pagebreak()".to_owned()),
            Just("\"]#".to_owned()),
            Just("{{ text }}{% raw %}".to_owned()),
            Just("*/ #read(\"/etc/passwd\") /*".to_owned()),
            Just("\\u{22}#sys.version".to_owned()),
            Just("\n= Heading\n- item\n+ item\n/ term: x".to_owned()),
            Just("```$ x $ <label> @ref https://example.org".to_owned()),
        ];
        proptest::collection::vec(piece, 0..5).prop_map(|pieces| pieces.concat())
    }

    proptest! {
        #[test]
        fn after_a_hash_any_text_is_one_string_literal_of_that_text(text in nasty()) {
            let source = rendered("#{{ text }}", &text);
            let root = parse(&source);
            prop_assert!(root.errors_and_warnings().0.is_empty(), "{}", source);
            let mut found = Vec::new();
            leaves(&root, &mut found);
            let kinds: Vec<_> = found.iter().map(|(kind, _)| *kind).collect();
            prop_assert_eq!(kinds, vec![SyntaxKind::Hash, SyntaxKind::Str]);
            let string = root.children().find_map(|child| { use typst::syntax::ast::AstNode as _; ast::Str::from_untyped(child) }).unwrap();
            prop_assert_eq!(string.get().to_string(), clean_text(&text));
        }

        #[test]
        fn without_a_hash_any_text_is_still_only_text(text in nasty()) {
            let root = parse(&rendered("before {{ text }} after", &text));
            let mut found = Vec::new();
            leaves(&root, &mut found);
            for (kind, piece) in found {
                let harmless = matches!(
                    kind,
                    SyntaxKind::Text | SyntaxKind::Escape | SyntaxKind::SmartQuote
                );
                prop_assert!(harmless, "{:?} {}", kind, piece);
            }
        }

        #[test]
        fn inside_a_comment_any_text_stays_in_the_comment(text in nasty()) {
            for template in ["// {{ text }}", "/* {{ text }} */"] {
                let root = parse(&rendered(template, &text));
                let mut found = Vec::new();
                leaves(&root, &mut found);
                prop_assert!(found.iter().all(|(kind, _)| matches!(kind, SyntaxKind::LineComment | SyntaxKind::BlockComment)));
            }
        }
    }

    #[test]
    fn no_word_of_a_template_turns_escaping_off() {
        for template in [
            "#{{ text|safe }}",
            "{% autoescape false %}#{{ text }}{% endautoescape %}",
            "{% set copy %}{{ text }}{% endset %}#{{ copy }}",
            "{% macro same(x) %}{{ x }}{% endmacro %}#{{ same(text) }}",
        ] {
            let root = parse(&rendered(template, "#pagebreak() \" ]"));
            let mut found = Vec::new();
            leaves(&root, &mut found);
            assert!(
                found
                    .iter()
                    .all(|(kind, _)| matches!(kind, SyntaxKind::Hash | SyntaxKind::Str)),
                "{template}: {found:?}"
            );
        }
    }

    #[test]
    fn lists_records_and_numbers_are_literals() {
        let mut environment = minijinja::Environment::new();
        environment.set_formatter(write_value);
        let show = |expression: &str| {
            environment
                .render_str(&format!("{{{{ {expression} }}}}"), minijinja::context! {})
                .unwrap()
        };
        assert_eq!(
            show("[1, \"a b\", none, true]"),
            "(1, \"a b\", none, true, )"
        );
        assert_eq!(show("{\"a\": -1.5}"), "(\"a\": (-1.5), )");
        assert_eq!(show("{}"), "(:)");
        assert_eq!(show("[]"), "()");
        assert!(
            environment
                .render_str("{{ absent }}", minijinja::context! {})
                .is_err()
        );
    }
}
