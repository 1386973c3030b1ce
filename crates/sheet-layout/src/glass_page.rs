//! Tasting answers: one page for each glass, the stages of tasting from top to bottom.

use crate::area::Area;
use crate::asked::{GlassAsk, GlassBoxes, GlassQuestion, Stage};
use crate::column_flow::{Block, Columns, FilledPage, Row, flow};
use crate::field::{Field, FieldPart, FieldShape, PlacedText, TextRole};
use crate::millimetres::Millimetres;
use crate::page_frame::PageFrame;

/// Width of the strip that names the stage.
const STRIP: Millimetres = Millimetres::whole(24);
/// Side of a bubble.
const BUBBLE: Millimetres = Millimetres::thousandths(5_500);
/// Height of a box to write in.
const BOX_HEIGHT: Millimetres = Millimetres::thousandths(8_500);
/// Height of a row of such boxes.
const BOX_ROW: Millimetres = Millimetres::thousandths(10_500);
/// White between fields side by side.
const BETWEEN: Millimetres = Millimetres::whole(3);
/// Height of one line of print, and the width that one letter of it needs at most on average.
const LINE_HEIGHT: Millimetres = Millimetres::thousandths(4_600);
/// Average width of a letter at 9.5 pt, rounded up.
const LETTER_WIDTH: i32 = 1_950;
/// White after each thing that is asked.
const AFTER_ASK: Millimetres = Millimetres::thousandths(1_500);
/// White above the first thing of a stage, where the rule is drawn.
const ABOVE_STAGE: Millimetres = Millimetres::whole(2);
/// The most lines of print given to one text; longer words are for the booklet.
const MOST_LINES: i32 = 6;

/// One glass's fields and words, on as many pages as it needs.
pub(crate) fn glass_pages(glass: &GlassBoxes, frame: &PageFrame) -> Vec<FilledPage> {
    let columns = Columns {
        room: frame.answers,
        count: 1,
        gutter: Millimetres::ZERO,
    };
    let width = columns.width() - STRIP;
    let mut blocks = Vec::new();
    for stage in Stage::ALL {
        let mut first_of_stage = true;
        for ask in glass.asked.iter().filter(|ask| ask.stage == stage) {
            let mut rows = rows_of(ask, width);
            if let Some(first) = rows.first_mut().filter(|_| first_of_stage) {
                let mut top = Row {
                    height: ABOVE_STAGE,
                    ..Row::default()
                };
                top.texts.push(stage_name(stage));
                *first = top.above(std::mem::take(first));
                first_of_stage = false;
            }
            blocks.push(Block {
                rows,
                gap_after: AFTER_ASK,
            });
        }
    }
    flow(&blocks, &columns)
}

fn stage_name(stage: Stage) -> PlacedText {
    PlacedText {
        area: Area {
            left: Millimetres::ZERO,
            top: Millimetres::ZERO,
            width: STRIP - Millimetres::whole(2),
            height: ABOVE_STAGE + LINE_HEIGHT,
        },
        text: stage.heading().to_owned(),
        role: TextRole::Stage,
    }
}

/// How many lines of print a text needs in this width.
fn lines_of(text: &str, width: Millimetres) -> i32 {
    let letters = i32::try_from(text.chars().count())
        .unwrap_or(i32::MAX)
        .max(1);
    let in_a_line = (width.in_thousandths() / LETTER_WIDTH).max(1);
    letters
        .div_euclid(in_a_line)
        .saturating_add(i32::from(letters.rem_euclid(in_a_line) > 0))
        .min(MOST_LINES)
}

fn rows_of(ask: &GlassAsk, width: Millimetres) -> Vec<Row> {
    let mut rows = field_rows(ask, width);
    if let Some(first) = rows.first_mut().filter(|_| !ask.heading.is_empty()) {
        let height =
            LINE_HEIGHT.times(lines_of(&ask.heading, width)) + Millimetres::thousandths(600);
        let area = Area {
            left: STRIP,
            top: Millimetres::ZERO,
            width,
            height,
        };
        let heading = Row {
            height,
            fields: Vec::new(),
            texts: vec![PlacedText {
                area,
                text: ask.heading.clone(),
                role: TextRole::Heading,
            }],
        };
        // One row with the first boxes: a heading never stays behind on the page before.
        *first = heading.above(std::mem::take(first));
    }
    rows
}

fn field_rows(ask: &GlassAsk, width: Millimetres) -> Vec<Row> {
    let mut rows = Vec::new();
    let name = ask.name.as_str();
    match &ask.question {
        GlassQuestion::Words { most } => rows.extend(word_boxes(name, (*most).max(1), width)),
        GlassQuestion::Line => rows.extend(lines(name, 1, width)),
        GlassQuestion::Lines { lines: count } => rows.extend(lines(name, (*count).max(1), width)),
        GlassQuestion::OneOf { options } => {
            rows.extend(printed_words(name, options, width, &TO_FILL));
        }
        GlassQuestion::Shares { options } => {
            rows.extend(printed_words(name, options, width, &TO_WRITE));
        }
        GlassQuestion::Number { unit } => {
            rows.push(numbers(name, &[FieldPart::Number], unit, width))
        }
        GlassQuestion::Range { unit } => {
            rows.push(numbers(
                name,
                &[FieldPart::Low, FieldPart::High],
                unit,
                width,
            ));
        }
        GlassQuestion::Scale {
            low,
            high,
            first,
            points,
        } => {
            rows.extend(scale(name, low, high, *first, (*points).max(2), width));
        }
    }
    rows
}

fn word_boxes(name: &str, most: u8, width: Millimetres) -> Vec<Row> {
    const IN_A_ROW: i32 = 3;
    let box_width = (width - BETWEEN.times(IN_A_ROW - 1)).part_of(IN_A_ROW);
    let places: Vec<u16> = (0..u16::from(most)).collect();
    places
        .chunks(3)
        .map(|chunk| Row {
            height: BOX_ROW,
            fields: (0i32..)
                .zip(chunk)
                .map(|(index, &place)| Field {
                    question: name.to_owned(),
                    part: FieldPart::Line(place),
                    area: Area {
                        left: STRIP + (box_width + BETWEEN).times(index),
                        top: Millimetres::ZERO,
                        width: box_width,
                        height: BOX_HEIGHT,
                    },
                    shape: FieldShape::Box,
                    inside: (place + 1).to_string(),
                })
                .collect(),
            texts: Vec::new(),
        })
        .collect()
}

fn lines(name: &str, count: u8, width: Millimetres) -> Vec<Row> {
    (0..u16::from(count))
        .map(|line| Row {
            height: BOX_ROW,
            fields: vec![Field {
                question: name.to_owned(),
                part: FieldPart::Line(line),
                area: Area {
                    left: STRIP,
                    top: Millimetres::ZERO,
                    width,
                    height: BOX_HEIGHT,
                },
                shape: FieldShape::Line,
                inside: String::new(),
            }],
            texts: Vec::new(),
        })
        .collect()
}

/// What stands before each of the printed words.
struct Before {
    width: Millimetres,
    height: Millimetres,
    shape: FieldShape,
    part: fn(u16) -> FieldPart,
}

const TO_FILL: Before = Before {
    width: BUBBLE,
    height: BUBBLE,
    shape: FieldShape::Bubble,
    part: FieldPart::Option,
};
const TO_WRITE: Before = Before {
    width: Millimetres::whole(14),
    height: BOX_HEIGHT,
    shape: FieldShape::Box,
    part: FieldPart::Share,
};

/// Printed words with a field before each, read down the columns as a list is read.
fn printed_words(name: &str, options: &[String], width: Millimetres, before: &Before) -> Vec<Row> {
    let longest = options
        .iter()
        .map(|option| option.chars().count())
        .max()
        .unwrap_or(0);
    let columns: i32 = match longest {
        0..=12 if before.width == BUBBLE => 4,
        0..=12 => 3,
        13..=20 => 3,
        21..=34 => 2,
        _ => 1,
    };
    let columns_count = usize::try_from(columns).unwrap_or(1);
    let rows_count = options.len().div_ceil(columns_count);
    let cell = (width - BETWEEN.times(columns - 1)).part_of(columns);
    let words_left = before.width + Millimetres::thousandths(1_500);
    let words_width = cell - words_left;
    (0..rows_count)
        .map(|row| {
            let here: Vec<(i32, usize, &String)> = (0i32..)
                .zip(0..columns_count)
                .filter_map(|(column, index)| {
                    let place = index * rows_count + row;
                    options.get(place).map(|option| (column, place, option))
                })
                .collect();
            let most_lines = here
                .iter()
                .map(|(_, _, option)| lines_of(option, words_width))
                .max()
                .unwrap_or(1);
            let height = (LINE_HEIGHT.times(most_lines)).max(before.height)
                + Millimetres::thousandths(1_200);
            let inner = height - Millimetres::thousandths(1_200);
            let mut filled = Row {
                height,
                ..Row::default()
            };
            for (column, place, option) in here {
                let left = STRIP + (cell + BETWEEN).times(column);
                filled.fields.push(Field {
                    question: name.to_owned(),
                    part: (before.part)(u16::try_from(place).unwrap_or(u16::MAX)),
                    area: Area {
                        left,
                        top: (inner - before.height).part_of(2),
                        width: before.width,
                        height: before.height,
                    },
                    shape: before.shape,
                    inside: String::new(),
                });
                filled.texts.push(PlacedText {
                    area: Area {
                        left: left + words_left,
                        top: Millimetres::ZERO,
                        width: words_width,
                        height: inner,
                    },
                    text: option.clone(),
                    role: TextRole::Label,
                });
            }
            filled
        })
        .collect()
}

/// One box for a number, or two with "to" between them.
fn numbers(name: &str, parts: &[FieldPart], unit: &str, width: Millimetres) -> Row {
    let box_width = Millimetres::whole(28);
    let to_width = Millimetres::whole(8);
    let mut row = Row {
        height: BOX_ROW,
        ..Row::default()
    };
    let mut left = STRIP;
    for (index, &part) in parts.iter().enumerate() {
        if index > 0 {
            let area = Area {
                left: left + Millimetres::whole(2),
                top: Millimetres::ZERO,
                width: to_width,
                height: BOX_HEIGHT,
            };
            row.texts.push(PlacedText {
                area,
                text: "to".to_owned(),
                role: TextRole::Label,
            });
            left = left + to_width;
        }
        row.fields.push(Field {
            question: name.to_owned(),
            part,
            area: Area {
                left,
                top: Millimetres::ZERO,
                width: box_width,
                height: BOX_HEIGHT,
            },
            shape: FieldShape::Box,
            inside: String::new(),
        });
        left = left + box_width;
    }
    // The word between the boxes must not reach into the second one.
    for text in &mut row.texts {
        text.area.width = to_width - Millimetres::whole(2);
    }
    if !unit.is_empty() {
        let unit_left = left + BETWEEN;
        row.texts.push(PlacedText {
            area: Area {
                left: unit_left,
                top: Millimetres::ZERO,
                width: STRIP + width - unit_left,
                height: BOX_HEIGHT,
            },
            text: unit.to_owned(),
            role: TextRole::Label,
        });
    }
    row
}

/// Bubbles in order, the meaning of the lowest point before them and of the highest behind them.
fn scale(
    name: &str,
    low: &str,
    high: &str,
    first: i16,
    points: u8,
    width: Millimetres,
) -> Vec<Row> {
    let pitch = Millimetres::whole(8);
    // As wide as the longer meaning on one line, so that the points have the rest.
    let letters = low.chars().count().max(high.chars().count());
    let words = Millimetres::thousandths(LETTER_WIDTH).times(
        i32::try_from(letters)
            .unwrap_or(i32::from(u8::MAX))
            .min(i32::from(u8::MAX)),
    ) + Millimetres::whole(2);
    let words = words
        .max(Millimetres::whole(12))
        .min(Millimetres::whole(33));
    let in_a_row =
        usize::try_from((width - words.times(2)).in_thousandths() / pitch.in_thousandths())
            .unwrap_or(1)
            .max(1);
    let places: Vec<u16> = (0..u16::from(points)).collect();
    let rows_count = places.len().div_ceil(in_a_row);
    let words_lines = lines_of(low, words).max(lines_of(high, words)).min(3);
    let row_height = LINE_HEIGHT.times(words_lines).max(BUBBLE) + Millimetres::whole(2);
    let inner = row_height - Millimetres::whole(2);
    places
        .chunks(in_a_row)
        .enumerate()
        .map(|(index, chunk)| {
            let mut row = Row {
                height: row_height,
                ..Row::default()
            };
            let start = STRIP + words;
            let text = |left, text: &str, role| PlacedText {
                area: Area {
                    left,
                    top: Millimetres::ZERO,
                    width: words - Millimetres::thousandths(1_500),
                    height: inner,
                },
                text: text.to_owned(),
                role,
            };
            if index == 0 && !low.is_empty() {
                row.texts.push(text(STRIP, low, TextRole::BeforeField));
            }
            let count = i32::try_from(chunk.len()).unwrap_or(1);
            if index + 1 == rows_count && !high.is_empty() {
                let left = start + pitch.times(count);
                row.texts.push(text(left, high, TextRole::Label));
            }
            for (column, &place) in (0i32..).zip(chunk) {
                row.fields.push(Field {
                    question: name.to_owned(),
                    part: FieldPart::Option(place),
                    area: Area {
                        left: start + pitch.times(column),
                        top: (inner - BUBBLE).part_of(2),
                        width: BUBBLE,
                        height: BUBBLE,
                    },
                    shape: FieldShape::Bubble,
                    inside: (i32::from(first) + i32::from(place)).to_string(),
                });
            }
            row
        })
        .collect()
}
