//! A drawing that a question shows, and the words that stand for it where it cannot be seen.

use base::{Fault, SourceText, Text};

/// What a question says of its picture.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// The file in the bank's folder `pictures`, an SVG.
    pub file: String,
    /// What is to be seen, in words: printed into the PDF for screen readers, shown in practice.
    pub alternative: Text,
}

/// A checked drawing (SVG 2, W3C): one text that loads nothing and runs nothing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Drawing {
    /// The text of the SVG.
    pub svg: String,
    /// Width in thousandths of the height.
    pub ratio_thousandths: u32,
}

/// The most bytes of a drawing: many times what a plain line drawing needs.
const MOST_BYTES: usize = 300_000;
/// The most elements, and the deepest they may stand.
const MOST_ELEMENTS: u32 = 20_000;
const DEEPEST: usize = 100;

/// What would load, run or draw what a page cannot hold.
const REFUSED: [&str; 9] = [
    "a",
    "animate",
    "animateMotion",
    "animateTransform",
    "foreignObject",
    "image",
    "script",
    "set",
    "style",
];

/// Reads a drawing; none where there is a fault.
pub(crate) fn read_drawing(source: &SourceText, faults: &mut Vec<Fault>) -> Option<Drawing> {
    let before = faults.len();
    if source.text.len() > MOST_BYTES {
        faults.push(
            Fault::new(
                "large-picture",
                source.place(0..0),
                format!("the picture has {} bytes", source.text.len()),
            )
            .allowed(format!("{MOST_BYTES} bytes"))
            .hint("save it as a plain drawing, without embedded photographs"),
        );
        return None;
    }
    // No document type, so that no entity can grow; few elements, so that nothing is deep.
    let options = roxmltree::ParsingOptions {
        allow_dtd: false,
        nodes_limit: MOST_ELEMENTS,
        ..roxmltree::ParsingOptions::default()
    };
    let document = match roxmltree::Document::parse_with_options(&source.text, options) {
        Ok(document) => document,
        Err(error) => {
            let at = place_in(&source.text, error.pos());
            faults.push(
                Fault::new(
                    "bad-picture",
                    source.place(at),
                    format!("no SVG can be read here: {error}"),
                )
                .allowed("one SVG element, without a document type")
                .hint("save it as a plain SVG"),
            );
            return None;
        }
    };
    for node in document.descendants().filter(roxmltree::Node::is_element) {
        note_refused(source, node, faults);
    }
    let root = document.root_element();
    let size = size_of(root);
    if root.tag_name().name() != "svg" || size.is_none() {
        faults.push(
            Fault::new(
                "bad-picture",
                source.place(root.range()),
                "the picture does not say how large it is",
            )
            .allowed("an svg element with viewBox=\"0 0 WIDTH HEIGHT\", neither more than ten times the other"),
        );
    }
    if faults.len() > before {
        return None;
    }
    Some(Drawing {
        svg: source.text.to_string(),
        ratio_thousandths: size?,
    })
}

fn note_refused(source: &SourceText, node: roxmltree::Node<'_, '_>, faults: &mut Vec<Fault>) {
    let name = node.tag_name().name();
    // Told where the depth is first passed, and not again for everything below.
    if node.ancestors().take(DEEPEST + 2).count() == DEEPEST + 1 {
        let what = format!("<{name}> stands more than {DEEPEST} elements deep");
        faults.push(Fault::new("bad-picture", source.place(node.range()), what));
    }
    if REFUSED.contains(&name) {
        faults.push(
            Fault::new(
                "bad-picture",
                source.place(node.range()),
                format!("a picture may not hold <{name}>"),
            )
            .hint("draw it with paths, lines, shapes and text"),
        );
    }
    for attribute in node.attributes() {
        let value = attribute.value().trim();
        let loads = match attribute.name() {
            "href" => !value.starts_with('#'),
            name if name.starts_with("on") => true,
            _ => {
                let plain: String = value.split_whitespace().collect();
                plain.match_indices("url(").any(|(at, _)| {
                    let target = plain.get(at + 4..).unwrap_or("");
                    !target.trim_start_matches(['"', '\'']).starts_with('#')
                })
            }
        };
        if loads {
            faults.push(
                Fault::new(
                    "bad-picture",
                    source.place(attribute.range()),
                    format!("\"{}\" would load or run something", attribute.name()),
                )
                .allowed("references to this picture's own parts: #NAME"),
            );
        }
    }
}

/// Width by height of the view box, in thousandths.
fn size_of(root: roxmltree::Node<'_, '_>) -> Option<u32> {
    let numbers: Vec<f64> = root
        .attribute("viewBox")?
        .split([' ', ','])
        .filter(|part| !part.is_empty())
        .map(|part| part.parse::<f64>().ok())
        .collect::<Option<_>>()?;
    let [_, _, width, height] = numbers.as_slice() else {
        return None;
    };
    let ratio = width / height;
    let sound = *width > 0.0 && *height > 0.0 && (0.1..=10.0).contains(&ratio);
    // Between 100 and 10 000, so that nothing is cut off.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    sound.then(|| (ratio * 1000.0).round() as u32)
}

/// The byte at which the XML library stopped.
fn place_in(text: &str, stopped: roxmltree::TextPos) -> std::ops::Range<usize> {
    let row = usize::try_from(stopped.row).unwrap_or(1).max(1);
    let before: usize = text.split_inclusive('\n').take(row - 1).map(str::len).sum();
    let line = text.get(before..).unwrap_or("");
    let column = usize::try_from(stopped.col).unwrap_or(1).max(1);
    let within: usize = line.chars().take(column - 1).map(char::len_utf8).sum();
    let at = (before + within).min(text.len());
    at..at
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn read(svg: &str) -> (Option<Drawing>, Vec<String>) {
        let source = SourceText::new("pictures/p.svg", svg);
        let mut faults = Vec::new();
        let drawing = read_drawing(&source, &mut faults);
        let told = faults
            .iter()
            .map(|f| format!("{}: {}", f.rule, f.what))
            .collect();
        (drawing, told)
    }

    #[test]
    fn a_plain_drawing_is_taken_with_its_ratio() {
        let (drawing, told) = read(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 40, 20\"><path id=\"a\" d=\"M0 0 L1 1\" fill=\"url(#b)\"/></svg>",
        );
        assert_eq!(told, [""; 0]);
        assert_eq!(drawing.unwrap().ratio_thousandths, 2000);
    }

    #[test]
    fn nesting_of_nineteen_thousand_is_refused_on_a_small_stack() {
        let open = "<g>".repeat(19_000);
        let closed = format!("{open}{}", "</g>".repeat(19_000));
        for (inner, words) in [(open, "no SVG can be read here"), (closed, "elements deep")] {
            let svg = format!(
                "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 4 2\">{inner}</svg>"
            );
            // A reader that called itself for each element would need far more than this.
            let reading = std::thread::Builder::new()
                .stack_size(256 * 1024)
                .spawn(move || read(&svg));
            let (drawing, told) = reading.unwrap().join().unwrap();
            assert!(drawing.is_none());
            assert_eq!(told.len(), 1, "{:?}", told.first());
            assert!(told[0].contains(words), "{}", told[0]);
        }
    }

    #[test]
    fn what_loads_runs_or_grows_is_refused() {
        let svg = |inner: &str| {
            format!(
                "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" viewBox=\"0 0 4 2\">{inner}</svg>"
            )
        };
        for inner in [
            "<script>1</script>",
            "<image href=\"#a\"/>",
            "<use xlink:href=\"other.svg#a\"/>",
            "<path fill=\"url( 'http://elsewhere/x' )\"/>",
            "<rect onclick=\"x()\"/>",
            "<style>@import 'x'</style>",
        ] {
            let (drawing, told) = read(&svg(inner));
            assert_eq!((drawing, told.len()), (None, 1), "{inner}: {told:?}");
        }
        for broken in [
            "",
            "<svg",
            "<!DOCTYPE svg [<!ENTITY a 'aaaa'>]><svg viewBox='0 0 1 1'>&a;</svg>",
            "<svg viewBox='0 0 0 1'/>",
            "<svg viewBox='0 0 1'/>",
            "<svg/>",
            "<html viewBox='0 0 1 1'/>",
        ] {
            let (drawing, told) = read(broken);
            assert_eq!((drawing, told.len()), (None, 1), "{broken}: {told:?}");
        }
        assert!(read(&svg(&"<g>".repeat(50_000))).0.is_none());
        let deep = format!("{}{}", "<g>".repeat(200), "</g>".repeat(200));
        assert!(read(&svg(&deep)).1.iter().all(|told| told.contains("deep")));
        assert!(
            read(&svg(&" ".repeat(MOST_BYTES)))
                .1
                .iter()
                .any(|told| told.contains("bytes"))
        );
    }

    proptest! {
        #[test]
        fn whatever_is_written_there_is_told_and_never_breaks(text in "[<>/&a-z\"'= #!\\[\\]\nä]{0,120}") {
            let (drawing, told) = read(&text);
            prop_assert!(drawing.is_some() || !told.is_empty());
        }
    }
}
