//! The two papers that sheets are made for.

use std::fmt;

use serde::Serialize;

use crate::area::Area;
use crate::millimetres::Millimetres;

/// A sheet of paper, upright.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Paper {
    /// ISO 216 A4, 210 by 297 mm.
    A4,
    /// North American letter (ANSI A), 8.5 by 11 inches.
    Letter,
}

impl Paper {
    /// All papers.
    pub const ALL: [Self; 2] = [Self::A4, Self::Letter];

    /// The width of the upright sheet.
    #[must_use]
    pub const fn width(self) -> Millimetres {
        match self {
            Self::A4 => Millimetres::whole(210),
            Self::Letter => Millimetres::thousandths(215_900),
        }
    }
    /// The height of the upright sheet.
    #[must_use]
    pub const fn height(self) -> Millimetres {
        match self {
            Self::A4 => Millimetres::whole(297),
            Self::Letter => Millimetres::thousandths(279_400),
        }
    }
    /// The word a person writes: `a4`, `letter`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::Letter => "letter",
        }
    }
    /// The paper of this name, whatever its case.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|paper| paper.name().eq_ignore_ascii_case(name))
    }
    /// The whole sheet.
    #[must_use]
    pub const fn area(self) -> Area {
        Area {
            left: Millimetres::ZERO,
            top: Millimetres::ZERO,
            width: self.width(),
            height: self.height(),
        }
    }
}

impl fmt::Display for Paper {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::A4 => "A4",
            Self::Letter => "Letter",
        })
    }
}
