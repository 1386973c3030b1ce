//! The rules of item writing by number, and their waivers.

use base::Text;

/// A rule of item writing. What a rule says stands at the head of its file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ItemRule {
    /// The source names no clause or page.
    QuestionWithoutClause,
    /// The stem is negative (HDR 17).
    NegativeStem,
    /// An option is "all of the above" (HDR 26).
    AllOfTheAbove,
    /// An option is "none of the above" (HDR 25).
    NoneOfTheAbove,
    /// An option names other options (HDR 9).
    OptionsNamedInOption,
    /// The key is much the longest option (HDR 24).
    LongestOptionIsKey,
    /// An option holds an absolute word (HDR 28a).
    AbsoluteWord,
    /// A word of the stem stands in one option only (HDR 28b).
    StemWordInOneOption,
    /// The stem ends in an article that not every option fits (HDR 28c).
    ArticleCue,
    /// Two options say the same (HDR 22).
    DuplicateOptions,
    /// Numbers stand out of order (HDR 21).
    NumbersOutOfOrder,
    /// The distractors resemble the key and not each other (HDR 28).
    Convergence,
    /// Only the key is hedged (HDR 28).
    HedgedKey,
    /// The options are not of one kind (HDR 23).
    UnlikeOptions,
    /// There are more or fewer options than is usual in the bank (HDR 18).
    NumberOfOptions,
    /// The stem asks nothing by itself, has a blank within, or is long (HDR 13 to 16).
    EmptyStem,
    /// The reason given for an option says nothing (HDR 30).
    IdleRationale,
    /// The stem asks for an opinion (HDR 6).
    Opinion,
    /// All options begin with the same words (HDR 15).
    RepeatedOpening,
    /// It names a sample of the bank (HDR 4).
    SampleNamed,
    /// The stem is very hard to read (HDR 13).
    HardToRead,
    /// Another question asks nearly the same.
    SimilarStem,
    /// The stem holds the key of another question.
    KeyInOtherStem,
}

impl ItemRule {
    /// All rules, in order of their numbers.
    pub const ALL: [Self; 23] = [
        Self::QuestionWithoutClause,
        Self::NegativeStem,
        Self::AllOfTheAbove,
        Self::NoneOfTheAbove,
        Self::OptionsNamedInOption,
        Self::LongestOptionIsKey,
        Self::AbsoluteWord,
        Self::StemWordInOneOption,
        Self::ArticleCue,
        Self::DuplicateOptions,
        Self::NumbersOutOfOrder,
        Self::Convergence,
        Self::HedgedKey,
        Self::UnlikeOptions,
        Self::NumberOfOptions,
        Self::EmptyStem,
        Self::IdleRationale,
        Self::Opinion,
        Self::RepeatedOpening,
        Self::SampleNamed,
        Self::HardToRead,
        Self::SimilarStem,
        Self::KeyInOtherStem,
    ];
    /// The number under which texts waive the rule.
    #[must_use]
    pub const fn number(self) -> &'static str {
        match self {
            Self::QuestionWithoutClause => "clause",
            Self::NegativeStem => "L01",
            Self::AllOfTheAbove => "L02",
            Self::NoneOfTheAbove => "L03",
            Self::OptionsNamedInOption => "L04",
            Self::LongestOptionIsKey => "L05",
            Self::AbsoluteWord => "L06",
            Self::StemWordInOneOption => "L07",
            Self::ArticleCue => "L08",
            Self::DuplicateOptions => "L09",
            Self::NumbersOutOfOrder => "L10",
            Self::Convergence => "L11",
            Self::HedgedKey => "L12",
            Self::UnlikeOptions => "L13",
            Self::NumberOfOptions => "L14",
            Self::EmptyStem => "L15",
            Self::IdleRationale => "L16",
            Self::Opinion => "L17",
            Self::RepeatedOpening => "L18",
            Self::SampleNamed => "L19",
            Self::HardToRead => "readability",
            Self::SimilarStem => "similar",
            Self::KeyInOtherStem => "gives-away",
        }
    }
}

/// A rule that the author sets aside for one question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Waiver {
    /// Which.
    pub rule: ItemRule,
    /// Why.
    pub because: Text,
}
