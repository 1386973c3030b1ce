//! The theory paper of one form: printed once, the same for every candidate of the form.

use serde::Serialize;

use crate::content::ExamHead;
use crate::seal_root::SealRoot;

/// The theory booklet of one form.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TheoryBooklet {
    /// The exam.
    pub exam: ExamHead,
    /// The form's name: "A".
    pub form: String,
    /// Time allowed, as printed: "60 minutes".
    pub time: String,
    /// All marks of the paper, as printed: "40 marks".
    pub marks: String,
    /// How marks are given, one sentence each.
    pub rules: Vec<String>,
    /// The cautions for candidates, one sentence each.
    pub cautions: Vec<String>,
    /// The root of the seal; none where the key is not sealed.
    pub seal_root: Option<SealRoot>,
    /// The questions in print order.
    pub questions: Vec<PrintedQuestion>,
}

/// A question as the candidate sees it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PrintedQuestion {
    /// The printed number.
    pub number: u16,
    /// The text above the first of several questions about it; empty paragraphs part it.
    pub shared: Option<SharedText>,
    /// The question's text; an empty line parts paragraphs.
    pub stem: String,
    /// The picture below it.
    pub picture: Option<PrintedPicture>,
    /// The most marks, as printed: "1 mark".
    pub marks: String,
    /// What the answer looks like.
    pub answer: PrintedAnswer,
}

/// A text that the questions below it are about.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SharedText {
    /// For which questions it is, as printed: "Questions 7 to 9 are about this:".
    pub lead: String,
    /// The text.
    pub text: String,
}

/// A picture on the page, with the words that a screen reader says for it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PrintedPicture {
    /// The drawing, an SVG.
    pub svg: String,
    /// What is to be seen, in words.
    pub alternative: String,
    /// How wide it is printed, in millimetres.
    pub width: u32,
}

impl PrintedPicture {
    /// A picture of this width in thousandths of its height, as large as a question leaves room for:
    /// at most 110 mm wide and 65 mm high.
    #[must_use]
    pub fn fitted(svg: String, alternative: String, ratio_thousandths: u32) -> Self {
        const WIDEST: u32 = 110;
        const HIGHEST: u32 = 65;
        let as_high = HIGHEST.saturating_mul(ratio_thousandths) / 1000;
        Self {
            svg,
            alternative,
            width: as_high.clamp(1, WIDEST),
        }
    }
}

/// What the answer to a question looks like.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum PrintedAnswer {
    /// One of the lettered options.
    SingleBest {
        /// The options in print order.
        options: Vec<Lettered>,
    },
    /// Any number of the lettered options.
    MultipleResponse {
        /// The options in print order.
        options: Vec<Lettered>,
        /// How many hold or how it is marked: "Two or more hold."; empty for none.
        instruction: String,
    },
    /// A number with its unit.
    Numeric {
        /// The unit; empty for none.
        unit: String,
        /// How exact: "Round to one decimal."; empty for none.
        instruction: String,
    },
    /// Lettered items to be put in order.
    Ordering {
        /// The items in print order, which is not the right one.
        items: Vec<Lettered>,
        /// From what to what: "from the earliest to the latest".
        instruction: String,
    },
    /// Numbered items, for each of which a lettered one is chosen.
    Matching {
        /// The numbered items.
        left: Vec<String>,
        /// The lettered items.
        right: Vec<Lettered>,
        /// Whether letters may be used twice; empty for none.
        instruction: String,
    },
    /// A word or a few.
    ShortAnswer {
        /// How long: "One or two words."; empty for none.
        instruction: String,
    },
    /// Whole sentences.
    Essay {
        /// What is expected and how long.
        instruction: String,
    },
}

/// An option or item with its letter.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Lettered {
    /// The letter: "A".
    pub letter: String,
    /// The text.
    pub text: String,
}
