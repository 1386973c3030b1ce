//! Theory answers: one row for each question, two columns to a page.

use crate::area::Area;
use crate::asked::{TheoryBoxKind, TheoryBoxes};
use crate::column_flow::{Block, Columns, FilledPage, Row, flow};
use crate::field::{Field, FieldPart, FieldShape, PlacedText, TextRole, option_letter};
use crate::millimetres::Millimetres;
use crate::page_frame::PageFrame;

/// Width of the question's number.
const NUMBER_WIDTH: Millimetres = Millimetres::whole(12);
/// Diameter of a bubble, side of a square to cross.
const BUBBLE: Millimetres = Millimetres::thousandths(5_500);
/// From one bubble to the next.
const BUBBLE_PITCH: Millimetres = Millimetres::whole(9);
/// Height of a row of bubbles.
const BUBBLE_ROW: Millimetres = Millimetres::thousandths(8_500);
/// Side of a box for one letter.
const LETTER_BOX: Millimetres = Millimetres::whole(8);
/// From one letter box to the next.
const LETTER_PITCH: Millimetres = Millimetres::whole(11);
/// Height of the small text above letter boxes.
const ABOVE: Millimetres = Millimetres::whole(4);
/// Height of a box or line to write on, and of its row.
const WRITE_HEIGHT: Millimetres = Millimetres::whole(8);
/// Height of the row of such a box or line.
const WRITE_ROW: Millimetres = Millimetres::whole(10);
/// White after every fifth question, so that the eye keeps its place.
const AFTER_FIVE: Millimetres = Millimetres::whole(3);

/// The theory pages' fields and words.
pub(crate) fn theory_pages(asked: &[TheoryBoxes], frame: &PageFrame) -> Vec<FilledPage> {
    let columns = Columns {
        room: frame.answers,
        count: 2,
        gutter: Millimetres::whole(9),
    };
    let width = columns.width();
    let blocks: Vec<Block> = asked
        .iter()
        .enumerate()
        .map(|(index, boxes)| Block {
            rows: rows_of(boxes, width),
            gap_after: if index % 5 == 4 {
                AFTER_FIVE
            } else {
                after(&boxes.kind)
            },
        })
        .collect();
    flow(&blocks, &columns)
}

/// White below a question's boxes: a line to write on ends at its foot and would touch what follows.
const fn after(kind: &TheoryBoxKind) -> Millimetres {
    match kind {
        TheoryBoxKind::Words { .. } => Millimetres::whole(2),
        TheoryBoxKind::Letter { .. }
        | TheoryBoxKind::Letters { .. }
        | TheoryBoxKind::Number { .. }
        | TheoryBoxKind::Order { .. }
        | TheoryBoxKind::Match { .. } => Millimetres::ZERO,
    }
}

fn rows_of(boxes: &TheoryBoxes, width: Millimetres) -> Vec<Row> {
    let question = boxes.number.to_string();
    let mut rows = match &boxes.kind {
        TheoryBoxKind::Letter { options } => {
            bubbles(&question, *options, FieldShape::Bubble, width)
        }
        TheoryBoxKind::Letters { options } => {
            bubbles(&question, *options, FieldShape::Cross, width)
        }
        TheoryBoxKind::Number { unit } => vec![number(&question, unit, width)],
        TheoryBoxKind::Order { items } => letter_boxes(&question, *items, *items, width),
        TheoryBoxKind::Match { left, right } => letter_boxes(&question, *left, *right, width),
        TheoryBoxKind::Words { lines } => written_lines(&question, (*lines).max(1), width),
    };
    if let Some(first) = rows.first_mut() {
        let top = first
            .fields
            .first()
            .map_or(Millimetres::ZERO, |field| field.area.top);
        let height = first
            .fields
            .first()
            .map_or(first.height, |field| field.area.height);
        first.texts.push(PlacedText {
            area: Area {
                left: Millimetres::ZERO,
                top,
                width: NUMBER_WIDTH - Millimetres::whole(2),
                height,
            },
            text: question,
            role: TextRole::Number,
        });
    }
    rows
}

/// How many things of this pitch stand side by side behind the number.
fn side_by_side(width: Millimetres, pitch: Millimetres) -> u16 {
    let room = (width - NUMBER_WIDTH).in_thousandths();
    u16::try_from(room.checked_div(pitch.in_thousandths()).unwrap_or(1))
        .unwrap_or(1)
        .max(1)
}

fn bubbles(question: &str, options: u8, shape: FieldShape, width: Millimetres) -> Vec<Row> {
    let in_a_row = side_by_side(width, BUBBLE_PITCH);
    let places: Vec<u16> = (0..u16::from(options.max(1))).collect();
    places
        .chunks(usize::from(in_a_row))
        .map(|chunk| Row {
            height: BUBBLE_ROW,
            fields: (0i32..)
                .zip(chunk)
                .map(|(index, &place)| Field {
                    question: question.to_owned(),
                    part: FieldPart::Option(place),
                    area: Area {
                        left: NUMBER_WIDTH + BUBBLE_PITCH.times(index),
                        top: (BUBBLE_ROW - BUBBLE).part_of(2),
                        width: BUBBLE,
                        height: BUBBLE,
                    },
                    shape,
                    inside: option_letter(place),
                })
                .collect(),
            texts: Vec::new(),
        })
        .collect()
}

fn number(question: &str, unit: &str, width: Millimetres) -> Row {
    let box_width = Millimetres::whole(36);
    let top = (WRITE_ROW - WRITE_HEIGHT).part_of(2);
    let unit_left = NUMBER_WIDTH + box_width + Millimetres::whole(3);
    Row {
        height: WRITE_ROW,
        fields: vec![Field {
            question: question.to_owned(),
            part: FieldPart::Number,
            area: Area {
                left: NUMBER_WIDTH,
                top,
                width: box_width,
                height: WRITE_HEIGHT,
            },
            shape: FieldShape::Box,
            inside: String::new(),
        }],
        texts: unit_text(
            unit,
            Area {
                left: unit_left,
                top,
                width: width - unit_left,
                height: WRITE_HEIGHT,
            },
        ),
    }
}

fn unit_text(unit: &str, area: Area) -> Vec<PlacedText> {
    if unit.is_empty() {
        Vec::new()
    } else {
        vec![PlacedText {
            area,
            text: unit.to_owned(),
            role: TextRole::Label,
        }]
    }
}

/// One box for each place or left item, its number above it, the letters allowed below the
/// question's number.
fn letter_boxes(question: &str, boxes: u8, letters: u8, width: Millimetres) -> Vec<Row> {
    let in_a_row = side_by_side(width, LETTER_PITCH);
    let places: Vec<u16> = (0..u16::from(boxes.max(1))).collect();
    let mut rows: Vec<Row> = places
        .chunks(usize::from(in_a_row))
        .map(|chunk| {
            let lefts = (0i32..).map(|index| NUMBER_WIDTH + LETTER_PITCH.times(index));
            let mut row = Row {
                height: ABOVE + WRITE_ROW,
                ..Row::default()
            };
            for (left, &place) in lefts.zip(chunk) {
                row.texts.push(PlacedText {
                    area: Area {
                        left,
                        top: Millimetres::ZERO,
                        width: LETTER_BOX,
                        height: ABOVE,
                    },
                    text: (place + 1).to_string(),
                    role: TextRole::Above,
                });
                row.fields.push(Field {
                    question: question.to_owned(),
                    part: FieldPart::Letter(place),
                    area: Area {
                        left,
                        top: ABOVE,
                        width: LETTER_BOX,
                        height: LETTER_BOX,
                    },
                    shape: FieldShape::Box,
                    inside: String::new(),
                });
            }
            row
        })
        .collect();
    if let Some(first) = rows.first_mut() {
        first.texts.push(PlacedText {
            area: Area {
                left: Millimetres::ZERO,
                top: Millimetres::ZERO,
                width: NUMBER_WIDTH - Millimetres::whole(1),
                height: ABOVE,
            },
            text: format!("A–{}", option_letter(u16::from(letters.max(1)) - 1)),
            role: TextRole::Above,
        });
    }
    rows
}

fn written_lines(question: &str, lines: u8, width: Millimetres) -> Vec<Row> {
    (0..u16::from(lines))
        .map(|line| Row {
            height: WRITE_ROW,
            fields: vec![Field {
                question: question.to_owned(),
                part: FieldPart::Line(line),
                area: Area {
                    left: NUMBER_WIDTH,
                    top: WRITE_ROW - WRITE_HEIGHT,
                    width: width - NUMBER_WIDTH,
                    height: WRITE_HEIGHT,
                },
                shape: FieldShape::Line,
                inside: String::new(),
            }],
            texts: Vec::new(),
        })
        .collect()
}
