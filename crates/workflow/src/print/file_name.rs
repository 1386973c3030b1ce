//! Names of printed files: what it is, for whom, how many pages, how it is printed.

/// On one side of the paper or on both.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sides {
    /// On one side.
    Single,
    /// On both sides.
    Double,
}

impl Sides {
    const fn words(self) -> &'static str {
        match self {
            Self::Single => "single-sided",
            Self::Double => "double-sided",
        }
    }
}

/// What a printed file is called and how it is handled.
#[derive(Debug, Clone)]
pub struct SheetFile {
    /// Its place in the folder.
    number: u32,
    /// What it is, words joined by hyphens.
    what: String,
    /// For whom, words joined by hyphens.
    whom: String,
    /// How often it is to be printed.
    pub copies: usize,
    sides: Sides,
    /// Whether nobody but examiners may see it.
    pub closed: bool,
}

/// The folder for what nobody but examiners may see.
pub(super) const CLOSED: &str = "closed-for-examiners";

impl SheetFile {
    /// A file that anybody who helps may see.
    #[must_use]
    pub fn new(number: u32, what: &str, whom: &str, copies: usize, sides: Sides) -> Self {
        Self {
            number,
            what: what.to_owned(),
            whom: whom.to_owned(),
            copies,
            sides,
            closed: false,
        }
    }
    /// A file that nobody but examiners may see.
    #[must_use]
    pub fn closed(number: u32, what: &str, whom: &str, copies: usize, sides: Sides) -> Self {
        Self {
            closed: true,
            ..Self::new(number, what, whom, copies, sides)
        }
    }
    /// The name below the folder of papers.
    #[must_use]
    pub fn name_for(&self, pages: usize) -> String {
        let folder = if self.closed {
            format!("{CLOSED}/")
        } else {
            String::new()
        };
        let copies = if self.copies == 1 {
            String::new()
        } else {
            format!("_{}-copies", self.copies)
        };
        let pages = if pages == 1 {
            "1-page".to_owned()
        } else {
            format!("{pages}-pages")
        };
        format!(
            "{folder}{:02}-{}_{}{copies}_{pages}_{}.pdf",
            self.number,
            self.what,
            self.whom,
            self.sides.words()
        )
    }
}

/// Whether a file's name is one that this program gives.
pub(super) fn is_ours(name: &str) -> bool {
    let numbered = name
        .as_bytes()
        .first_chunk::<3>()
        .is_some_and(|[a, b, c]| a.is_ascii_digit() && b.is_ascii_digit() && *c == b'-');
    numbered && (name.ends_with("_single-sided.pdf") || name.ends_with("_double-sided.pdf"))
}

/// What a file is and for whom, in words, from its name.
pub(super) fn in_words(name: &str) -> String {
    let bare = name.rsplit('/').next().unwrap_or(name);
    let mut parts = bare.split('_');
    let what = parts
        .next()
        .and_then(|p| p.split_once('-'))
        .map_or("", |(_, what)| what)
        .replace('-', " ");
    let whom = parts.next().unwrap_or("").replace('-', " ");
    let mut letters = what.chars();
    let what: String = letters
        .next()
        .map(|c| c.to_uppercase().chain(letters).collect())
        .unwrap_or_default();
    format!("{what}, for: {whom}")
}

/// How a file is printed, from its name.
pub(super) fn sides_of(name: &str) -> &'static str {
    if name.ends_with("double-sided.pdf") {
        Sides::Double.words()
    } else {
        Sides::Single.words()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_says_what_for_whom_and_how() {
        let sheets = SheetFile::new(3, "answer-sheets", "class", 1, Sides::Single);
        assert_eq!(
            sheets.name_for(24),
            "03-answer-sheets_class_24-pages_single-sided.pdf"
        );
        let key = SheetFile::closed(22, "key", "chief-examiner", 2, Sides::Double);
        let name = key.name_for(1);
        assert_eq!(
            name,
            "closed-for-examiners/22-key_chief-examiner_2-copies_1-page_double-sided.pdf"
        );
        assert_eq!(in_words(&name), "Key, for: chief examiner");
        assert_eq!(sides_of(&name), "double-sided");
    }
}
