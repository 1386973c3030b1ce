//! A sheet that would have nothing on it is refused by its name and by what is missing: a test.
#![allow(clippy::unwrap_used, clippy::panic)]

use std::collections::BTreeMap;

use sheet_layout::Paper;

use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::samples;

/// Each sheet with a list that must not be empty, emptied: its name, what is said, and the printing.
macro_rules! emptied {
    ($renderer:ident; $($name:literal, $what:literal: $sample:expr, $list:ident, $print:ident;)*) => {
        vec![$(($name, $what, {
            let mut content = $sample;
            content.$list.clear();
            $renderer.$print(&content, &Look::default(), &PdfStamp::new("t"))
        })),*]
    };
}

#[test]
fn an_empty_sheet_is_refused_by_name() {
    let renderer = Renderer::new(&BTreeMap::new()).unwrap();
    let refused: Vec<(&str, &str, Result<Printed, RenderFault>)> = emptied![renderer;
        "answer sheet", "there is no candidate": samples::answer_sheets(Paper::A4), sheets, answer_sheets;
        "candidate cover", "there is no candidate": samples::candidate_covers(), covers, candidate_covers;
        "judge's sheet", "there is no question": samples::judge_sheet(), questions, judge_sheet;
        "key", "there is no form": samples::key(), forms, key;
        "kit check", "there is no kit": samples::kit_check(), kits, kit_check;
        "packing list", "there is no kit": samples::packing_lists(), kits, packing_lists;
        "pour sheet", "there is no sample": samples::pour_sheet(), samples, pour_sheet;
        "print list", "there is no file": samples::print_list(), lines, print_list;
        "room sheet", "there is no seat": samples::room_sheet(), seats, room_sheet;
        "seal strips", "there is no kit": samples::seal_strips(), strips, seal_strips;
        "theory booklet", "the form has no question": samples::theory_booklet(), questions, theory_booklet;
        "labels", "there is no label": samples::labels(), labels, labels;
        "class sheet", "there is no sample": samples::class_sheets(), samples, class_sheets;
        "class sheet", "there is no learner": samples::class_sheets(), learners, class_sheets;
        "learner's page", "there is no glass": samples::learner_page(), glasses, learner_page;
    ];
    for (name, what, outcome) in refused {
        let said = outcome.err().map(|fault| fault.to_string());
        assert_eq!(
            said,
            Some(format!("{name}: there is nothing to print: {what}"))
        );
    }
}
