//! Where it is kept who is behind a number, and for how long: what a plan says of personal data.

/// What a plan says of personal data.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PersonalData {
    /// Where it is kept who is behind a number.
    pub identity: IdentityKept,
    /// How many months after the day of the exam it is removed; none where the plan sets no end.
    pub months: Option<u32>,
}

/// Where it is kept who is behind a number. The register's other tables hold numbers alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum IdentityKept {
    /// In a file apart from the register, the roster as it was written; the register can tell when a
    /// name in it was changed.
    #[default]
    SeparateFile,
    /// In the register, encrypted with a key that only the chief examiner's passphrase opens.
    Locked,
}

impl IdentityKept {
    /// The words of a plan.
    pub const WORDS: [(&str, Self); 2] = [
        ("separate-file", Self::SeparateFile),
        ("locked", Self::Locked),
    ];
}
