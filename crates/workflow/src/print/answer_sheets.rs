//! Answer sheets: one for each candidate, laid out by sheet-layout.

use assembler::candidate_view::{PrintedBody, printed_questions};
use assembler::{CandidatePlace, WARM_UP_LABEL};
use exam_plan::flight_rules::AromaOf;
use exam_plan::plan::{AgeAnswer, Asked, TastingQuestion, band_names};
use renderer::content::ExamHead;
use renderer::content::candidate::{AnswerSheets, CandidateSheet};
use sheet_layout::{
    GlassAsk, GlassBoxes, GlassQuestion, Stage, TheoryBoxKind, TheoryBoxes, lay_out,
};

use super::booklets::{by_seat, seal_root};
use super::head::warm_up_name;
use super::{Job, SheetFile, Sides};
use crate::open_sitting::DrawnSitting;

/// The answer sheets of the class in one file, in the order of the seats.
pub(super) fn jobs<'o>(open: &'o DrawnSitting, head: &'o ExamHead) -> Vec<Job<'o>> {
    vec![Job {
        file: SheetFile::new(3, "answer-sheets", "one-each", 1, Sides::Single),
        document: "answer-sheets".to_owned(),
        make: Box::new(move |renderer, look, stamp| {
            let sheets = by_seat(open)
                .into_iter()
                .map(|place| CandidateSheet {
                    candidate_number: place.candidate.to_string(),
                    seat: place
                        .seat
                        .as_ref()
                        .map(ToString::to_string)
                        .unwrap_or_default(),
                    form: place
                        .form
                        .as_ref()
                        .map(ToString::to_string)
                        .unwrap_or_default(),
                    sheet_id: place.candidate.to_string(),
                    layout: lay_out(look.paper, &theory(open, place), &glasses(open, place)),
                })
                .collect();
            let content = AnswerSheets {
                exam: head.clone(),
                how_to_mark: "Fill a bubble wholly. To change it, cross it out and fill another.".to_owned(),
                tasting_caution: "Spit. Water and spit cup are at your place. Nobody drives after tasting. You may nose only.".to_owned(),
                warm_up: warm_up_name(open).map_or_else(String::new, |_| {
                    format!("Taste glass {WARM_UP_LABEL}, the warm-up, first: nothing is asked of it.")
                }),
                seal_root: seal_root(open),
                sheets,
            };
            renderer.answer_sheets(&content, look, stamp)
        }),
    }]
}

/// Things on a form are few: a number that does not fit is the largest.
fn few(number: usize) -> u8 {
    u8::try_from(number).unwrap_or(u8::MAX)
}

fn theory(open: &DrawnSitting, place: &CandidatePlace) -> Vec<TheoryBoxes> {
    let Some(form) = place.form.as_ref().and_then(|f| open.sitting.form(f)) else {
        return Vec::new();
    };
    printed_questions(&open.exam.bank, form)
        .into_iter()
        .map(|question| TheoryBoxes {
            number: u16::try_from(question.number).unwrap_or(u16::MAX),
            kind: match question.body {
                PrintedBody::Options {
                    options,
                    choose_one: true,
                } => TheoryBoxKind::Letter {
                    options: few(options.len()),
                },
                PrintedBody::Options {
                    options,
                    choose_one: false,
                } => TheoryBoxKind::Letters {
                    options: few(options.len()),
                },
                PrintedBody::Number { unit } => TheoryBoxKind::Number { unit },
                PrintedBody::Steps { steps } => TheoryBoxKind::Order {
                    items: few(steps.len()),
                },
                PrintedBody::Columns { left, right } => TheoryBoxKind::Match {
                    left: few(left.len()),
                    right: few(right.len()),
                },
                PrintedBody::Words { lines } => TheoryBoxKind::Words { lines: few(lines) },
                // A column is half as wide as a page.
                PrintedBody::Space { lines } => TheoryBoxKind::Words {
                    lines: few(2 * lines),
                },
            },
        })
        .collect()
}

/// Behind the number of words, where the plan takes the chance score off.
const LESS_CHANCE: &str = "; what guessing earns is taken off";

fn glasses(open: &DrawnSitting, place: &CandidatePlace) -> Vec<GlassBoxes> {
    let way = open.exam.way_of(&place.candidate);
    let ask: Vec<&TastingQuestion> = open
        .exam
        .plan
        .tasting
        .iter()
        .flat_map(|part| part.asked_of(way))
        .collect();
    let less = match &open.exam.plan.tasting {
        Some(part) if part.less_chance => LESS_CHANCE,
        _ => "",
    };
    let part = open.exam.plan.tasting.as_ref();
    let aroma_of = part.map_or(AromaOf::Together, |part| part.aroma_of(way));
    place
        .glasses
        .iter()
        .map(|glass| GlassBoxes {
            code: glass.code.clone(),
            asked: ask
                .iter()
                .map(|question| boxes(question, aroma_of, less))
                .collect(),
        })
        .collect()
}

/// An ordered scale with words at its ends.
fn scale(first: i16, points: u8, low: &str, high: &str) -> GlassQuestion {
    GlassQuestion::Scale {
        low: low.to_owned(),
        high: high.to_owned(),
        first,
        points,
    }
}

fn boxes(question: &TastingQuestion, aroma_of: AromaOf, less: &str) -> GlassAsk {
    let marks = super::head::marks_in_words(question.marks);
    let (stage, heading, answer) = match &question.asked {
        Asked::Aroma { words } => {
            let (stage, what) = match aroma_of {
                AromaOf::Together => (Stage::Nose, "Aromas and flavours, neat"),
                AromaOf::Nose => (Stage::Nose, "Aromas, by the nose alone"),
                AromaOf::Palate => (Stage::Palate, "Flavours, in the mouth and afterwards"),
            };
            (
                stage,
                format!("{what}: up to {words} words; the first {words} count{less}"),
                GlassQuestion::Words {
                    most: few(*words as usize),
                },
            )
        }
        Asked::Water { words } => (
            Stage::WithWater,
            format!("What grew or appeared with water: up to {words} words{less}"),
            GlassQuestion::Words {
                most: few(*words as usize),
            },
        ),
        Asked::Category => (
            Stage::Conclusion,
            "Category".to_owned(),
            GlassQuestion::Line,
        ),
        Asked::Region => (Stage::Conclusion, "Region".to_owned(), GlassQuestion::Line),
        Asked::Age(AgeAnswer::Band { from }) => (
            Stage::Conclusion,
            "Age".to_owned(),
            GlassQuestion::OneOf {
                options: band_names(from),
            },
        ),
        Asked::Age(AgeAnswer::Range) => (
            Stage::Conclusion,
            "Age, from – to".to_owned(),
            GlassQuestion::Range {
                unit: "years".to_owned(),
            },
        ),
        Asked::Strength { .. } => (
            Stage::Palate,
            "Strength in the glass".to_owned(),
            GlassQuestion::Number {
                unit: "% vol".to_owned(),
            },
        ),
        Asked::Colour => (
            Stage::Look,
            "Depth of colour".to_owned(),
            scale(0, 11, "clear", "darkest"),
        ),
        Asked::Body => (
            Stage::Palate,
            "Body".to_owned(),
            scale(1, 5, "light", "full"),
        ),
        Asked::Finish => (
            Stage::Finish,
            "Length".to_owned(),
            scale(1, 5, "short", "long"),
        ),
        Asked::Quality => (
            Stage::Conclusion,
            "Quality: how well it is made, whatever you like".to_owned(),
            scale(0, 11, "poor", "outstanding"),
        ),
        Asked::Fault { from } => {
            let mut options = vec!["none".to_owned()];
            options.extend(
                from.iter()
                    .filter(|f| !f.eq_ignore_ascii_case("none"))
                    .cloned(),
            );
            (
                Stage::Conclusion,
                "Fault".to_owned(),
                GlassQuestion::OneOf { options },
            )
        }
        Asked::Confidence(asked) => (
            Stage::Conclusion,
            "How sure are you? Share out 100 over these; write 0 where you give nothing".to_owned(),
            GlassQuestion::Shares {
                options: asked.from.clone(),
            },
        ),
        Asked::Producer { from } => (
            Stage::Conclusion,
            "Producer (extra credit)".to_owned(),
            GlassQuestion::OneOf {
                options: from.clone(),
            },
        ),
    };
    GlassAsk {
        name: question.asked.name().to_owned(),
        stage,
        heading: format!("{heading} ({marks})"),
        question: answer,
    }
}

#[cfg(test)]
mod tests {
    use base::Marks;

    use super::*;

    #[test]
    fn the_box_for_words_says_what_is_taken_off() {
        for asked in [Asked::Aroma { words: 6 }, Asked::Water { words: 3 }] {
            let question = TastingQuestion {
                asked,
                marks: Marks::ONE,
            };
            let plain = boxes(&question, AromaOf::Together, "").heading;
            let less = boxes(&question, AromaOf::Together, LESS_CHANCE).heading;
            let (before, marks) = plain.split_at(plain.len() - " (1 mark)".len());
            assert_eq!(less, format!("{before}{LESS_CHANCE}{marks}"));
        }
    }
}
