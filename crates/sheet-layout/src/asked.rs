//! What an answer sheet must have room for, in the plainest terms.

use serde::Serialize;

/// Room for the answer to one theory question.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct TheoryBoxes {
    /// The question's printed number.
    pub number: u16,
    /// What its answer looks like.
    pub kind: TheoryBoxKind,
}

/// What the answer to a theory question looks like on paper.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub enum TheoryBoxKind {
    /// One of so many letters: round bubbles, fill one.
    Letter {
        /// How many options, A onwards.
        options: u8,
    },
    /// Any number of so many letters: square boxes, cross all that hold.
    Letters {
        /// How many options, A onwards.
        options: u8,
    },
    /// A number with its unit.
    Number {
        /// The unit printed behind the box; empty for none.
        unit: String,
    },
    /// The letters of so many items in their right order: one box for each place.
    Order {
        /// How many items.
        items: u8,
    },
    /// For each numbered item on the left the letter of one on the right.
    Match {
        /// How many items on the left, one box each.
        left: u8,
        /// How many letters there are to choose from.
        right: u8,
    },
    /// Written words, on so many lines.
    Words {
        /// How many lines.
        lines: u8,
    },
}

/// Room for everything that is asked about one glass.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct GlassBoxes {
    /// The code on the glass.
    pub code: String,
    /// What is asked, in any order; the page follows the stages of tasting.
    pub asked: Vec<GlassAsk>,
}

/// One thing that is asked about a glass.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct GlassAsk {
    /// A short stable name: `aroma`, `category`. Together with the glass it names the answer.
    pub name: String,
    /// When in the tasting it is asked.
    pub stage: Stage,
    /// The words above the boxes.
    pub heading: String,
    /// What the answer looks like.
    pub question: GlassQuestion,
}

/// The stages of tasting, in the order of the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub enum Stage {
    /// Colour, clarity, how it runs down the glass.
    Look,
    /// By nose alone.
    Nose,
    /// In the mouth.
    Palate,
    /// What stays.
    Finish,
    /// What water changed.
    WithWater,
    /// What it is, and how good.
    Conclusion,
}

impl Stage {
    /// All stages in order.
    pub const ALL: [Self; 6] = [
        Self::Look,
        Self::Nose,
        Self::Palate,
        Self::Finish,
        Self::WithWater,
        Self::Conclusion,
    ];

    /// The word on the page.
    #[must_use]
    pub const fn heading(self) -> &'static str {
        match self {
            Self::Look => "Look",
            Self::Nose => "Nose",
            Self::Palate => "Palate",
            Self::Finish => "Finish",
            Self::WithWater => "With water",
            Self::Conclusion => "Conclusion",
        }
    }
}

/// What the answer to a question about a glass looks like on paper.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub enum GlassQuestion {
    /// Up to so many words, one box each.
    Words {
        /// How many words count.
        most: u8,
    },
    /// One line to write on.
    Line,
    /// Several lines to write on.
    Lines {
        /// How many lines.
        lines: u8,
    },
    /// One of the printed words.
    OneOf {
        /// The words, in print order.
        options: Vec<String>,
    },
    /// A number for each of the printed words.
    Shares {
        /// The words, in print order.
        options: Vec<String>,
    },
    /// A number with its unit.
    Number {
        /// The unit printed behind the box; empty for none.
        unit: String,
    },
    /// A lower and an upper number with their unit.
    Range {
        /// The unit printed behind the boxes.
        unit: String,
    },
    /// One point of an ordered scale.
    Scale {
        /// What the lowest point means.
        low: String,
        /// What the highest point means.
        high: String,
        /// The number on the first point.
        first: i16,
        /// How many points.
        points: u8,
    },
}
