//! A whole answer sheet: the theory pages and one page or more for each glass.

use serde::Serialize;

use crate::asked::{GlassBoxes, TheoryBoxes};
use crate::column_flow::FilledPage;
use crate::field::{Field, PlacedText};
use crate::glass_page::glass_pages;
use crate::page_frame::PageFrame;
use crate::paper::Paper;
use crate::theory_pages::theory_pages;

/// Where everything of one answer sheet sits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct AnswerSheet {
    /// The paper.
    pub paper: Paper,
    /// What is alike on every page.
    pub frame: PageFrame,
    /// The pages in order: theory first, then glass by glass.
    pub pages: Vec<SheetPage>,
}

/// One page of an answer sheet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SheetPage {
    /// Counted from 1 over the whole sheet.
    pub number: u16,
    /// What the page asks about.
    pub subject: PageSubject,
    /// Whether it goes on from the page before.
    pub continued: bool,
    /// Where a hand writes or marks.
    pub fields: Vec<Field>,
    /// What is printed beside.
    pub texts: Vec<PlacedText>,
}

/// What a page asks about.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub enum PageSubject {
    /// Theory questions.
    Theory,
    /// The glass with this code.
    Glass(String),
}

/// Lays out an answer sheet. The same request gives the same positions, always.
#[must_use]
pub fn lay_out(paper: Paper, theory: &[TheoryBoxes], glasses: &[GlassBoxes]) -> AnswerSheet {
    let frame = PageFrame::on(paper);
    let mut pages = Vec::new();
    add(
        &mut pages,
        PageSubject::Theory,
        theory_pages(theory, &frame),
    );
    for glass in glasses {
        add(
            &mut pages,
            PageSubject::Glass(glass.code.clone()),
            glass_pages(glass, &frame),
        );
    }
    AnswerSheet {
        paper,
        frame,
        pages,
    }
}

fn add(pages: &mut Vec<SheetPage>, subject: PageSubject, filled: Vec<FilledPage>) {
    for (index, page) in filled.into_iter().enumerate() {
        let number = u16::try_from(pages.len() + 1).unwrap_or(u16::MAX);
        pages.push(SheetPage {
            number,
            subject: subject.clone(),
            continued: index > 0,
            fields: page.fields,
            texts: page.texts,
        });
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::asked::{GlassAsk, GlassQuestion, Stage, TheoryBoxKind};
    use crate::millimetres::Millimetres;
    use crate::page_frame::LEAST_MARGIN;

    fn theory_kind() -> impl Strategy<Value = TheoryBoxKind> {
        prop_oneof![
            (0u8..=30).prop_map(|options| TheoryBoxKind::Letter { options }),
            (0u8..=9).prop_map(|options| TheoryBoxKind::Letters { options }),
            ".{0,40}".prop_map(|unit| TheoryBoxKind::Number { unit }),
            (0u8..=20).prop_map(|items| TheoryBoxKind::Order { items }),
            (0u8..=20, 0u8..=30).prop_map(|(left, right)| TheoryBoxKind::Match { left, right }),
            (0u8..=90).prop_map(|lines| TheoryBoxKind::Words { lines }),
        ]
    }

    fn glass_question() -> impl Strategy<Value = GlassQuestion> {
        prop_oneof![
            (0u8..=30).prop_map(|most| GlassQuestion::Words { most }),
            Just(GlassQuestion::Line),
            (0u8..=60).prop_map(|lines| GlassQuestion::Lines { lines }),
            proptest::collection::vec(".{0,80}", 0..60)
                .prop_map(|options| GlassQuestion::OneOf { options }),
            proptest::collection::vec(".{0,80}", 0..60)
                .prop_map(|options| GlassQuestion::Shares { options }),
            ".{0,20}".prop_map(|unit| GlassQuestion::Number { unit }),
            ".{0,20}".prop_map(|unit| GlassQuestion::Range { unit }),
            (".{0,90}", ".{0,90}", any::<i16>(), any::<u8>()).prop_map(
                |(low, high, first, points)| GlassQuestion::Scale {
                    low,
                    high,
                    first,
                    points
                }
            ),
        ]
    }

    fn glass() -> impl Strategy<Value = GlassBoxes> {
        let ask = (0usize..6, ".{0,200}", glass_question());
        ("[1-9][0-9]{2}", proptest::collection::vec(ask, 0..9)).prop_map(|(code, asks)| {
            GlassBoxes {
                code,
                asked: asks
                    .into_iter()
                    .enumerate()
                    .map(|(index, (stage, heading, question))| GlassAsk {
                        name: format!("ask-{index}"),
                        stage: Stage::ALL[stage],
                        heading,
                        question,
                    })
                    .collect(),
            }
        })
    }

    fn assert_sound(sheet: &AnswerSheet) {
        let paper = sheet.paper.area();
        let least = Millimetres::whole(5);
        for page in &sheet.pages {
            for (index, field) in page.fields.iter().enumerate() {
                assert!(field.area.lies_in(&sheet.frame.answers), "{field:?}");
                assert!(field.area.lies_in(&paper.inset(LEAST_MARGIN)), "{field:?}");
                assert!(
                    field.area.width >= least && field.area.height >= least,
                    "{field:?}"
                );
                for other in &page.fields[index + 1..] {
                    assert!(!field.area.overlaps(&other.area), "{field:?} {other:?}");
                }
                for text in &page.texts {
                    assert!(!field.area.overlaps(&text.area), "{field:?} {text:?}");
                }
            }
            for text in &page.texts {
                assert!(text.area.lies_in(&sheet.frame.answers), "{text:?}");
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(96))]
        #[test]
        fn boxes_never_overlap_never_leave_the_margins_and_are_large_enough(
            kinds in proptest::collection::vec(theory_kind(), 0..60),
            glasses in proptest::collection::vec(glass(), 0..4),
            letter in any::<bool>(),
        ) {
            let paper = if letter { Paper::Letter } else { Paper::A4 };
            let theory: Vec<TheoryBoxes> = (1u16..).zip(kinds).map(|(number, kind)| TheoryBoxes { number, kind }).collect();
            let sheet = lay_out(paper, &theory, &glasses);
            assert_sound(&sheet);
            // Every question has its place, and no part of an answer has two.
            for question in &theory {
                let number = question.number.to_string();
                let mut parts: Vec<_> = sheet.pages.iter()
                    .filter(|page| page.subject == PageSubject::Theory)
                    .flat_map(|page| &page.fields)
                    .filter(|field| field.question == number)
                    .map(|field| field.part)
                    .collect();
                prop_assert!(!parts.is_empty());
                let all = parts.len();
                parts.sort();
                parts.dedup();
                prop_assert_eq!(parts.len(), all);
            }
            prop_assert_eq!(&sheet, &lay_out(paper, &theory, &glasses));
        }
    }

    #[test]
    fn forty_single_best_answers_take_one_page_and_every_option_has_a_bubble() {
        let theory: Vec<TheoryBoxes> = (1..=40)
            .map(|number| TheoryBoxes {
                number,
                kind: TheoryBoxKind::Letter { options: 3 },
            })
            .collect();
        for paper in Paper::ALL {
            let sheet = lay_out(paper, &theory, &[]);
            assert_eq!(sheet.pages.len(), 1, "{paper}");
            assert_eq!(sheet.pages[0].fields.len(), 120);
        }
    }

    #[test]
    fn nothing_asked_gives_no_page() {
        assert!(lay_out(Paper::A4, &[], &[]).pages.is_empty());
    }
}
