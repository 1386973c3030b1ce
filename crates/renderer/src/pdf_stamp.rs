//! What identifies a PDF file: given by the caller, so that the same content gives the same bytes.

/// The identity of a PDF. No time is ever written into a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PdfStamp {
    /// Names the sitting and the sheet, `2031-spring/theory-booklet/A`; only its hash is written,
    /// as the file's identifier. It must hold no key: a short one could be guessed from its hash.
    pub document: String,
}

impl PdfStamp {
    /// A stamp for this document.
    #[must_use]
    pub fn new(document: impl Into<String>) -> Self {
        Self {
            document: document.into(),
        }
    }
}
