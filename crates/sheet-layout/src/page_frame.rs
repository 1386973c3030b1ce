//! The parts of an answer sheet's page that are the same on every page.

use serde::Serialize;

use crate::area::Area;
use crate::millimetres::Millimetres;
use crate::paper::Paper;

/// Least distance of anything to write in from the edge of the page.
pub const LEAST_MARGIN: Millimetres = Millimetres::whole(15);
/// Left margin: wider, clear of punch holes.
const LEFT_MARGIN: Millimetres = Millimetres::whole(20);
/// Distance of the corner marks from the edge: office printers leave 4 to 6 mm white.
pub const CORNER_MARGIN: Millimetres = Millimetres::whole(8);
/// Side of a corner mark.
const CORNER_SIDE: Millimetres = Millimetres::whole(5);
/// Height of the head: who, what, which page.
const HEAD_HEIGHT: Millimetres = Millimetres::whole(24);
/// Between the head and the answers.
const BELOW_HEAD: Millimetres = Millimetres::whole(3);
/// Side of the quiet square for a machine-readable code.
const CODE_SIDE: Millimetres = Millimetres::whole(20);

/// Corner marks, head, place for a machine-readable code, and the room for answers.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PageFrame {
    /// Four squares: upper left, upper right, lower left, lower right.
    pub corner_marks: Vec<Area>,
    /// Which of the four is drawn hollow, so that a page on its head is noticed.
    pub hollow_corner: usize,
    /// Who, what and which page.
    pub head: Area,
    /// Kept free for a machine-readable code.
    pub machine_code: Area,
    /// Room for the answers.
    pub answers: Area,
    /// The line between the lower corner marks.
    pub foot: Area,
}

impl PageFrame {
    /// The frame on this paper.
    #[must_use]
    pub fn on(paper: Paper) -> Self {
        let (width, height) = (paper.width(), paper.height());
        let far = CORNER_MARGIN + CORNER_SIDE;
        let corner = |left, top| Area {
            left,
            top,
            width: CORNER_SIDE,
            height: CORNER_SIDE,
        };
        let inner_width = width - LEFT_MARGIN - LEAST_MARGIN;
        let answers_top = LEAST_MARGIN + HEAD_HEIGHT + BELOW_HEAD;
        Self {
            corner_marks: vec![
                corner(CORNER_MARGIN, CORNER_MARGIN),
                corner(width - far, CORNER_MARGIN),
                corner(CORNER_MARGIN, height - far),
                corner(width - far, height - far),
            ],
            hollow_corner: 1,
            head: Area {
                left: LEFT_MARGIN,
                top: LEAST_MARGIN,
                width: inner_width - CODE_SIDE - Millimetres::whole(6),
                height: HEAD_HEIGHT,
            },
            machine_code: Area {
                left: width - LEAST_MARGIN - CODE_SIDE,
                top: LEAST_MARGIN + Millimetres::whole(1),
                width: CODE_SIDE,
                height: CODE_SIDE,
            },
            answers: Area {
                left: LEFT_MARGIN,
                top: answers_top,
                width: inner_width,
                height: height - LEAST_MARGIN - answers_top,
            },
            foot: Area {
                left: LEFT_MARGIN,
                top: height - far,
                width: inner_width,
                height: CORNER_SIDE,
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_parts_of_the_frame_keep_clear_of_each_other() {
        for paper in Paper::ALL {
            let frame = PageFrame::on(paper);
            let safe = paper.area().inset(CORNER_MARGIN);
            let mut parts = frame.corner_marks.clone();
            parts.extend([frame.head, frame.machine_code, frame.answers, frame.foot]);
            for (index, part) in parts.iter().enumerate() {
                assert!(part.lies_in(&safe), "{paper}: part {index}");
                for (other, area) in parts.iter().enumerate().skip(index + 1) {
                    assert!(!part.overlaps(area), "{paper}: parts {index} and {other}");
                }
            }
            assert!(frame.answers.lies_in(&paper.area().inset(LEAST_MARGIN)));
        }
    }
}
