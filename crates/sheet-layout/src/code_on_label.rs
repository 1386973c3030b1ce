//! How large a code can stand on a label, and whether it fits at all.

use serde::Serialize;

use crate::label_grid::LabelGrid;
use crate::millimetres::Millimetres;

/// The least height of a code on a glass, readable at arm's length.
pub const LEAST_CODE_HEIGHT: Millimetres = Millimetres::whole(7);
/// The greatest height used; larger digits are not easier to read on a table, and two codes of this
/// height leave 5 mm to the edge of a label 37 mm high, which printers cannot reach on the outer
/// rows of a sheet without margins.
const GREATEST_CODE_HEIGHT: Millimetres = Millimetres::whole(10);
/// The white that stays at the left and right of a code.
const QUIET_SIDE: Millimetres = Millimetres::thousandths(1_500);
/// The white that stays above and below.
const QUIET_EDGE: Millimetres = Millimetres::thousandths(750);
/// Between two codes on one label.
const BETWEEN: Millimetres = Millimetres::thousandths(3_500);
/// Room for the rule below a code, which says where its foot is: without it, 168 on its head
/// would be read as 891.
const RULE_BELOW: Millimetres = Millimetres::thousandths(1_400);
/// Width of one digit in thousandths of its height, for the bold sans face of the sheets:
/// advance .58 em over digit height .72 em, measured on the shipped font, rounded up.
const DIGIT_WIDTH_PER_HEIGHT: i32 = 830;
/// Height of the line of small text below a code, where one is asked for.
const SMALL_LINE: Millimetres = Millimetres::whole(5);

/// The code on a label.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct CodeOnLabel {
    /// Height of the digits.
    pub digit_height: Millimetres,
    /// Whether the code stands twice, the second time head down, so that it reads from two sides.
    pub from_two_sides: bool,
}

/// The largest code of so many characters on a label of this sheet, read from two sides where
/// the label is high enough; none where the digits would be lower than 7 mm.
///
/// A label with a small line of text below the code carries the code once.
#[must_use]
pub fn place_code(
    grid: &LabelGrid,
    characters: usize,
    with_small_line: bool,
) -> Option<CodeOnLabel> {
    let characters = i32::try_from(characters.max(1)).ok()?;
    let wide = grid.label_width - QUIET_SIDE.times(2);
    let by_width = i64::from(wide.in_thousandths()) * 1000
        / (i64::from(DIGIT_WIDTH_PER_HEIGHT) * i64::from(characters));
    let by_width = Millimetres::thousandths(i32::try_from(by_width).ok()?);
    let high = grid.label_height - QUIET_EDGE.times(2) - RULE_BELOW;
    let high = if with_small_line {
        high - SMALL_LINE
    } else {
        high
    };
    let fit = |height: Millimetres| {
        Some(height.min(by_width).min(GREATEST_CODE_HEIGHT)).filter(|&h| h >= LEAST_CODE_HEIGHT)
    };
    let twice = if with_small_line {
        None
    } else {
        fit((high - BETWEEN - RULE_BELOW).part_of(2))
    };
    twice
        .map(|digit_height| CodeOnLabel {
            digit_height,
            from_two_sides: true,
        })
        .or_else(|| {
            fit(high).map(|digit_height| CodeOnLabel {
                digit_height,
                from_two_sides: false,
            })
        })
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;
    use crate::label_grid::shipped_label_grids;

    fn grid(name: &str) -> LabelGrid {
        shipped_label_grids()
            .into_iter()
            .find(|grid| grid.name == name)
            .unwrap()
    }

    #[test]
    fn three_digits_fit_on_every_shipped_sheet() {
        for grid in shipped_label_grids() {
            let code = place_code(&grid, 3, false).unwrap();
            assert!(code.digit_height >= LEAST_CODE_HEIGHT, "{}", grid.name);
        }
    }

    #[test]
    fn a_high_label_reads_from_two_sides_and_a_low_one_once() {
        assert!(
            place_code(&grid("a4-3x8-70x37"), 3, false)
                .unwrap()
                .from_two_sides
        );
        assert!(
            !place_code(&grid("a4-7x27-25.4x10"), 3, false)
                .unwrap()
                .from_two_sides
        );
        assert!(
            !place_code(&grid("a4-3x8-70x37"), 3, true)
                .unwrap()
                .from_two_sides
        );
    }

    #[test]
    fn what_does_not_fit_is_refused() {
        assert_eq!(place_code(&grid("a4-7x27-25.4x10"), 3, true), None);
        assert_eq!(place_code(&grid("a4-7x27-25.4x10"), 5, false), None);
        assert_eq!(place_code(&grid("a4-3x8-70x37"), usize::MAX, false), None);
    }
}
