//! Typst source becomes the bytes of a tagged PDF (PDF/UA-1).

use typst::WorldExt as _;
use typst::diag::SourceDiagnostic;
use typst::foundations::Smart;
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

use crate::page_world::PageWorld;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;

/// The program's name in the file's properties.
const CREATOR: &str = "valinch";

/// What stands against a page: the message, the hints, and the byte of the source.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct PageFault {
    /// What is wrong.
    pub(crate) message: String,
    /// What may help.
    pub(crate) hints: Vec<String>,
    /// Where in the typst source, if it is known.
    pub(crate) byte: Option<usize>,
}

/// Compiles a source into PDF bytes. The same source and stamp give the same bytes: no date, no
/// file, no random number goes in.
pub(crate) fn compile(source: String, stamp: &PdfStamp) -> Result<Printed, Vec<PageFault>> {
    let world = PageWorld::new(source);
    let result = compile_in(&world, stamp);
    // What typst remembered of this page helps no other; kept, it would grow with every sheet.
    comemo::evict(0);
    result
}

fn compile_in(world: &PageWorld, stamp: &PdfStamp) -> Result<Printed, Vec<PageFault>> {
    let document: PagedDocument = typst::compile(world)
        .output
        .map_err(|errors| page_faults(world, &errors))?;
    let standards = PdfStandards::new(&[PdfStandard::Ua_1]).map_err(|error| {
        vec![PageFault {
            message: error.message().to_string(),
            hints: Vec::new(),
            byte: None,
        }]
    })?;
    let options = PdfOptions {
        ident: Smart::Custom(stamp.document.clone()),
        creator: Smart::Custom(Some(CREATOR.to_owned())),
        timestamp: None,
        page_ranges: None,
        standards,
        tagged: true,
        pretty: false,
    };
    let pages = document.pages().len();
    typst_pdf::pdf(&document, &options)
        .map(|pdf| Printed { pdf, pages })
        .map_err(|errors| page_faults(world, &errors))
}

fn page_faults(world: &PageWorld, errors: &[SourceDiagnostic]) -> Vec<PageFault> {
    errors
        .iter()
        .map(|error| PageFault {
            message: error.message.to_string(),
            hints: error.hints.iter().map(|hint| hint.v.to_string()).collect(),
            byte: world.range(error.span).map(|range| range.start),
        })
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use proptest::prelude::*;
    use typst::layout::{Frame, FrameItem};

    use super::*;
    use crate::clean_text::clean_text;
    use crate::fonts::Fonts;
    use crate::typst_literal::string_literal;

    const HEAD: &str = "#set document(title: \"t\")\n#set text(lang: \"en\", font: (\"Libertinus Serif\", \"DejaVu Sans\"), hyphenate: false)\n";

    fn text_of(frame: &Frame, found: &mut String) {
        for (_, item) in frame.items() {
            match item {
                FrameItem::Group(group) => text_of(&group.frame, found),
                FrameItem::Text(text) => found.push_str(&text.text),
                FrameItem::Shape(..)
                | FrameItem::Image(..)
                | FrameItem::Link(..)
                | FrameItem::Tag(_) => {}
            }
        }
    }

    fn printed(source: &str) -> String {
        let world = PageWorld::new(source.to_owned());
        let document: PagedDocument = typst::compile(&world).output.unwrap();
        let mut found = String::new();
        for page in document.pages() {
            text_of(&page.frame, &mut found);
        }
        found
    }

    /// Text whose order on the line is its order in memory, in characters that a font has.
    fn printable() -> impl Strategy<Value = String> {
        let tricky = prop_oneof![
            Just('#'),
            Just('"'),
            Just('\\'),
            Just(']'),
            Just('['),
            Just('{'),
            Just('}'),
            Just('$'),
            Just('`'),
            Just('*'),
            Just('_'),
            Just('<'),
            Just('>'),
            Just('@'),
            Just('/'),
            Just('='),
            Just('\n'),
            Just('-'),
            Just('+'),
            Just('~'),
            Just('\''),
            Just('é'),
            Just('Ж'),
            Just('½'),
        ];
        let common = proptest::char::range('!', '~');
        let any_covered = prop_oneof![
            tricky,
            common,
            proptest::char::range('\u{a1}', '\u{24f}'),
            Just(' ')
        ];
        proptest::collection::vec(any_covered, 0..60)
            .prop_map(|characters| characters.into_iter().collect())
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        #[test]
        fn what_was_written_is_what_is_printed(text in printable()) {
            prop_assume!(clean_text(&text).chars().all(|c| c == '\n' || Fonts::embedded().has(c)));
            let page = printed(&format!("{HEAD}#{}", string_literal(&text)));
            let bare = |text: &str| text.chars().filter(|c| !c.is_whitespace()).collect::<String>();
            prop_assert_eq!(bare(&page), bare(&clean_text(&text)));
        }

        #[test]
        fn any_text_at_all_gives_a_page_or_a_named_fault(text in any::<String>()) {
            let known: String = clean_text(&text).chars().filter(|c| *c == '\n' || Fonts::embedded().has(*c)).collect();
            let source = format!("{HEAD}#{}", string_literal(&known));
            let result = compile(source, &PdfStamp::new("test"));
            prop_assert!(result.is_ok(), "{:?} {:?}", known, result.err());
        }
    }

    #[test]
    fn the_same_source_gives_the_same_bytes_and_carries_no_time() {
        let source = || format!("{HEAD}= A heading\nText.");
        let stamp = PdfStamp::new("sitting/sheet");
        let first = compile(source(), &stamp).unwrap();
        let others: Vec<Printed> = std::thread::scope(|scope| {
            let runs: Vec<_> = (0..3)
                .map(|_| scope.spawn(|| compile(source(), &stamp).unwrap()))
                .collect();
            runs.into_iter().map(|run| run.join().unwrap()).collect()
        });
        assert!(others.iter().all(|other| *other == first));
        let shown = String::from_utf8_lossy(&first.pdf);
        assert!(first.pdf.starts_with(b"%PDF-"));
        assert!(!shown.contains("CreationDate") && !shown.contains("ModDate"));
        assert!(
            !shown.contains("sitting/sheet"),
            "the stamp itself is not written"
        );
        assert_ne!(first, compile(source(), &PdfStamp::new("another")).unwrap());
    }

    #[test]
    fn no_file_can_be_read_and_there_is_no_date() {
        for source in [
            "#read(\"/etc/hostname\")",
            "#import \"x.typ\"",
            "#datetime.today().display()",
        ] {
            let faults = compile(format!("{HEAD}{source}"), &PdfStamp::new("t")).unwrap_err();
            assert_eq!(faults.len(), 1, "{source}");
            assert!(faults[0].byte.is_some());
        }
    }
}
