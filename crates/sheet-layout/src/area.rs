//! A rectangle on a page, measured from the page's upper left corner.

use serde::Serialize;

use crate::millimetres::Millimetres;

/// A rectangle on a page; left and top count from the page's upper left corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Area {
    /// Distance from the left edge of the page.
    pub left: Millimetres,
    /// Distance from the upper edge of the page.
    pub top: Millimetres,
    /// Width.
    pub width: Millimetres,
    /// Height.
    pub height: Millimetres,
}

impl Area {
    /// The position of the right side.
    #[must_use]
    pub fn right(&self) -> Millimetres {
        self.left + self.width
    }
    /// The position of the lower side.
    #[must_use]
    pub fn bottom(&self) -> Millimetres {
        self.top + self.height
    }
    /// Whether two rectangles share more than an edge.
    #[must_use]
    pub fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right()
            && other.left < self.right()
            && self.top < other.bottom()
            && other.top < self.bottom()
    }
    /// Whether this rectangle lies wholly in the other.
    #[must_use]
    pub fn lies_in(&self, outer: &Self) -> bool {
        self.left >= outer.left
            && self.top >= outer.top
            && self.right() <= outer.right()
            && self.bottom() <= outer.bottom()
    }
    /// The rectangle that is left when this much is taken off each side.
    #[must_use]
    pub fn inset(&self, by: Millimetres) -> Self {
        Self {
            left: self.left + by,
            top: self.top + by,
            width: self.width - by.times(2),
            height: self.height - by.times(2),
        }
    }
    /// The same rectangle moved right and down.
    #[must_use]
    pub fn moved(&self, right: Millimetres, down: Millimetres) -> Self {
        Self {
            left: self.left + right,
            top: self.top + down,
            ..*self
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn touching_is_not_overlapping() {
        let at = |left| Area {
            left: Millimetres::whole(left),
            top: Millimetres::ZERO,
            width: Millimetres::whole(10),
            height: Millimetres::whole(10),
        };
        assert!(!at(0).overlaps(&at(10)));
        assert!(at(0).overlaps(&at(9)));
        assert!(at(1).inset(Millimetres::whole(1)).lies_in(&at(1)));
        assert!(!at(1).lies_in(&at(2)));
    }
}
