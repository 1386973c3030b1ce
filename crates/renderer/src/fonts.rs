//! The fonts that travel in the program, with their licences.

use std::sync::OnceLock;

use typst::foundations::Bytes;
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;

/// The font files, unchanged as published by their makers.
const FILES: [&[u8]; 11] = [
    include_bytes!("../fonts/LibertinusSerif-Regular.otf"),
    include_bytes!("../fonts/LibertinusSerif-Italic.otf"),
    include_bytes!("../fonts/LibertinusSerif-Semibold.otf"),
    include_bytes!("../fonts/LibertinusSerif-Bold.otf"),
    include_bytes!("../fonts/LibertinusSerif-BoldItalic.otf"),
    include_bytes!("../fonts/Lato-Regular.ttf"),
    include_bytes!("../fonts/Lato-Italic.ttf"),
    include_bytes!("../fonts/Lato-Bold.ttf"),
    include_bytes!("../fonts/DejaVuSans.ttf"),
    include_bytes!("../fonts/DejaVuSansMono.ttf"),
    include_bytes!("../fonts/DejaVuSansMono-Bold.ttf"),
];

/// A font family and the licence under which it travels.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FontLicence {
    /// The family.
    pub family: &'static str,
    /// The licence's name.
    pub licence: &'static str,
    /// The licence's text.
    pub text: &'static str,
}

/// The licences of all embedded fonts.
#[must_use]
pub const fn font_licences() -> [FontLicence; 3] {
    [
        FontLicence {
            family: "Libertinus Serif",
            licence: "SIL Open Font License 1.1",
            text: include_str!("../../../licences/libertinus-serif-OFL-1.1.txt"),
        },
        FontLicence {
            family: "Lato",
            licence: "SIL Open Font License 1.1",
            text: include_str!("../../../licences/lato-OFL-1.1.txt"),
        },
        FontLicence {
            family: "DejaVu Sans, DejaVu Sans Mono",
            licence: "Bitstream Vera and Arev licences, DejaVu changes in the public domain",
            text: include_str!("../../../licences/dejavu-fonts.txt"),
        },
    ]
}

/// Fonts ready for use.
pub(crate) struct Fonts {
    /// The fonts in the order of the book.
    pub(crate) fonts: Vec<Font>,
    /// Their families, styles and characters.
    pub(crate) book: LazyHash<FontBook>,
    /// The same fonts, to be asked for single characters.
    faces: Vec<ttf_parser::Face<'static>>,
}

impl Fonts {
    /// The embedded fonts; read once for the whole program.
    pub(crate) fn embedded() -> &'static Self {
        static FONTS: OnceLock<Fonts> = OnceLock::new();
        FONTS.get_or_init(|| {
            let fonts: Vec<Font> = FILES
                .into_iter()
                .flat_map(|file| Font::iter(Bytes::new(file)))
                .collect();
            let book = FontBook::from_infos(fonts.iter().map(|font| font.info().clone()));
            let faces = FILES
                .into_iter()
                .filter_map(|file| ttf_parser::Face::parse(file, 0).ok())
                .collect();
            Self {
                fonts,
                book: LazyHash::new(book),
                faces,
            }
        })
    }

    /// Whether some font has a picture of this character. The coverage that typst keeps is of no
    /// use here: it counts characters that a font's table names and gives the empty glyph.
    pub(crate) fn has(&self, character: char) -> bool {
        self.faces.iter().any(|face| {
            face.glyph_index(character)
                .is_some_and(|glyph| glyph.0 != 0)
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_file_is_a_font_and_the_families_are_known() {
        let fonts = Fonts::embedded();
        assert_eq!(fonts.fonts.len(), FILES.len());
        for family in [
            "libertinus serif",
            "lato",
            "dejavu sans",
            "dejavu sans mono",
        ] {
            assert!(fonts.book.contains_family(family), "{family}");
        }
        assert!(fonts.has('ß') && fonts.has('✓') && fonts.has('Ж') && fonts.has('α'));
        assert_eq!(fonts.faces.len(), FILES.len());
        // The last is named by a table of DejaVu Sans, which has no picture of it.
        assert!(!fonts.has('中') && !fonts.has('\u{e86}'));
    }

    #[test]
    fn no_font_comes_under_a_licence_that_binds_the_program() {
        for licence in font_licences() {
            assert!(licence.text.len() > 1000, "{}", licence.family);
            assert!(
                !licence.text.contains("GNU GENERAL PUBLIC"),
                "{}",
                licence.family
            );
        }
    }
}
