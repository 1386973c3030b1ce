//! The lists that candidates choose from. They hold the whole lexicon and both trees, so that
//! nothing in them points to the flight.

use exam_plan::plan::{AgeAnswer, Asked, band_names};
use question_bank::Taxonomy;
use renderer::content::ExamHead;
use renderer::content::candidate::{ReferenceList, TreeLine, WordFamily, WordGroup};

use super::{Job, SheetFile, Sides};
use crate::open_sitting::DrawnSitting;

/// The reference list; none without a tasting part.
pub(super) fn jobs<'o>(open: &'o DrawnSitting, head: &'o ExamHead) -> Vec<Job<'o>> {
    if open.exam.plan.tasting.is_none() {
        return Vec::new();
    }
    vec![Job {
        file: SheetFile::new(
            4,
            "reference-list",
            "candidates",
            open.sitting.places.len(),
            Sides::Double,
        ),
        document: "reference-list".to_owned(),
        make: Box::new(move |renderer, look, stamp| {
            renderer.reference_list(&content(open, head), look, stamp)
        }),
    }]
}

fn content(open: &DrawnSitting, head: &ExamHead) -> ReferenceList {
    let ask = open
        .exam
        .plan
        .tasting
        .as_ref()
        .map_or(&[][..], |t| t.ask.as_slice());
    let mut list = ReferenceList {
        exam: head.clone(),
        rules: vec![
            "You may use any word of this list, or a word of your own.".to_owned(),
            "A word earns full credit where the panel found it, half within its group, a quarter within its family.".to_owned(),
            "A word that contradicts the sample costs marks. A repeated word counts once.".to_owned(),
        ],
        families: open
            .exam
            .bank
            .lexicon
            .families
            .iter()
            .map(|family| WordFamily {
                family: family.name.clone(),
                groups: family
                    .groups
                    .iter()
                    .map(|group| WordGroup {
                        group: group.name.clone(),
                        words: group.words.iter().map(|w| w.word.clone()).collect(),
                    })
                    .collect(),
            })
            .collect(),
        categories: Vec::new(),
        regions: Vec::new(),
        age_bands: Vec::new(),
        producers: Vec::new(),
        faults: Vec::new(),
    };
    for question in ask {
        match &question.asked {
            Asked::Category => list.categories = tree_lines(&open.exam.bank.categories),
            Asked::Region => list.regions = tree_lines(&open.exam.bank.regions),
            Asked::Age(AgeAnswer::Band { from }) => list.age_bands = band_names(from),
            Asked::Producer { from } => {
                list.producers = from.clone();
                list.producers.sort();
            }
            Asked::Fault { from } => list.faults = from.clone(),
            Asked::Age(AgeAnswer::Range)
            | Asked::Aroma { .. }
            | Asked::Water { .. }
            | Asked::Strength { .. }
            | Asked::Colour
            | Asked::Body
            | Asked::Finish
            | Asked::Quality
            // Its list stands on the sheet itself.
            | Asked::Confidence(_) => {}
        }
    }
    list
}

/// A tree from the root's children downwards, each node followed by what is below it.
fn tree_lines(tree: &Taxonomy) -> Vec<TreeLine> {
    fn below(tree: &Taxonomy, parent: &base::NodeId, depth: u8, lines: &mut Vec<TreeLine>) {
        for node in tree
            .nodes()
            .iter()
            .filter(|n| n.parent.as_ref() == Some(parent))
        {
            lines.push(TreeLine {
                depth,
                name: node.name.clone(),
            });
            below(tree, &node.id, depth.saturating_add(1), lines);
        }
    }
    let mut lines = Vec::new();
    if let Some(root) = tree.nodes().iter().find(|n| n.parent.is_none()) {
        below(tree, &root.id, 0, &mut lines);
    }
    lines
}
