//! What would a just-passing candidate score, by how relevant and how hard the questions are?
//!
//! Source: Ebel 1972: questions sorted into cells of relevance and difficulty; the cut is the sum of
//! number of questions times the share that a just-passing candidate would answer. Invalid: where
//! the cells' shares are one person's guess. No interval: one agreed set of shares has no spread.

use crate::refusal::{Refusal, at_least};
use crate::sums::sum;

/// One cell of relevance and difficulty.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EbelCell {
    /// Questions in the cell.
    pub items: usize,
    /// Share of them that a just-passing candidate would answer, 0 to 1.
    pub borderline_share: f64,
}

/// Ebel's cut.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct EbelCut {
    /// In questions rightly answered.
    pub cut: f64,
    /// As a share of all questions.
    pub share: f64,
    /// Number of questions.
    pub items: usize,
}

/// Ebel's cut.
///
/// # Errors
/// `Refusal::TooFew` without questions, `Refusal::OutOfRange` for a share outside 0 to 1.
pub fn ebel(cells: &[EbelCell]) -> Result<EbelCut, Refusal> {
    let items: usize = cells.iter().map(|cell| cell.items).sum();
    at_least(1, items, "questions", "a cut needs one")?;
    let outside = |cell: &&EbelCell| !(0.0..=1.0).contains(&cell.borderline_share);
    if let Some(cell) = cells.iter().find(outside) {
        return Err(Refusal::OutOfRange {
            of: "share of a just-passing candidate",
            value: cell.borderline_share,
            allowed: "0 to 1",
        });
    }
    let cut = sum(cells
        .iter()
        .map(|cell| cell.items as f64 * cell.borderline_share));
    Ok(EbelCut {
        cut,
        share: cut / items as f64,
        items,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn adds_up_the_cells() {
        let cell = |items, borderline_share| EbelCell {
            items,
            borderline_share,
        };
        let made = ebel(&[cell(4, 0.75), cell(6, 0.5)]).unwrap();
        assert_eq!((made.cut, made.share), (6.0, 0.6));
        assert!(ebel(&[cell(4, 75.0)]).is_err() && ebel(&[]).is_err());
    }
}
