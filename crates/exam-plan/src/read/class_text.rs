//! Reads a class before the exam, and checks it against bank and sample records.

use base::tree::{Tree, read_tree};
use base::walk::Walk;
use base::{Checked, Fault, SampleId, Severity, SourceText};
use question_bank::lots::lot_faults;
use question_bank::panel_support::panel_support_at;
use question_bank::sample_record::CarryOver;

use super::plan_text::{date, flight, pour, time, usual_pour};
use crate::class_plan::{Class, ClassPlan};
use crate::flight_rules::FlightRules;
use crate::plan::Paper;

/// The panel weight from which a word is one of the panel's main words, where no plan says it.
pub const USUAL_THRESHOLD: f64 = 0.25;

/// Reads a class.
#[must_use]
pub fn read_class(source: &SourceText) -> Checked<ClassPlan> {
    let tree = match read_tree(source) {
        Ok(tree) => tree,
        Err(fault) => return Checked::new(None, vec![*fault]),
    };
    let mut walk = Walk::new(source);
    let class = class(&mut walk, &tree);
    Checked::new(class, walk.finish())
}

/// Reads what stands in the text.
pub(super) fn class<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<ClassPlan> {
    let mut fields = walk.fields(tree, "a class")?;
    let title = fields.required(walk, "title").and_then(|t| walk.text(t));
    let school = fields.optional("school").and_then(|t| walk.text(t));
    let date = fields.required(walk, "date").and_then(|t| date(walk, t));
    let start = fields.optional("start").and_then(|t| time(walk, t));
    let bank = fields.required(walk, "bank").and_then(|t| walk.text(t));
    let paper = fields.optional("paper").map_or(Some(Paper::A4), |t| {
        walk.choice(t, &[("a4", Paper::A4), ("letter", Paper::Letter)])
    });
    let samples = fields.required(walk, "samples").map(|t| flight(walk, t));
    let pour = fields
        .optional("pour")
        .map_or(Some(usual_pour()), |t| pour(walk, t));
    let learners = match fields.optional("learners") {
        Some(t) => walk.whole(t, 1..=500).map(Some),
        None => Some(None),
    };
    fields.finish(walk);
    Some(ClassPlan {
        title: title?,
        school,
        date: date?,
        start,
        bank: bank?,
        paper: paper?,
        samples: samples?,
        pour: pour?,
        learners: learners?,
    })
}

/// Every fault and weakness that shows only when the class is put beside its sample records.
#[must_use]
pub fn check_class(class: &Class) -> Vec<Fault> {
    let mut faults = Vec::new();
    if class.people() == 0 {
        faults.push(
            Fault::new(
                "no-learners",
                class.plan.samples.first().map(|(_, place)| place.clone()),
                "nothing says how many taste",
            )
            .hint("add roster.csv, or write \"learners: 12\" in class.yaml"),
        );
    }
    let mut heavy: Option<&SampleId> = None;
    for (id, place) in &class.plan.samples {
        let Some(record) = class.sample(id) else {
            let known = class.own_samples.keys().chain(class.bank.samples.keys());
            faults.push(
                Fault::new(
                    "unknown-sample",
                    place.clone(),
                    format!("there is no sample record \"{id}\""),
                )
                .hint("sample records are the files samples/*.yaml of the class folder and of the bank")
                .near(id.as_str(), known.map(SampleId::as_str)),
            );
            continue;
        };
        // A class is set beside the panel all the same: what is weak is told, not refused.
        let support = panel_support_at(record, USUAL_THRESHOLD, &FlightRules::default().floor);
        faults.extend(support.faults.into_iter().map(|fault| Fault {
            severity: Severity::Weakness,
            ..fault
        }));
        faults.extend(lot_faults(record, &class.plan.date, None));
        match (heavy, record.carry_over) {
            (_, CarryOver::Heavy) => heavy = Some(id),
            (Some(before), CarryOver::Ordinary) => faults.push(
                Fault::weakness(
                    "heavy-before-milder",
                    place.clone(),
                    format!("\"{id}\" is tasted after \"{before}\", which lingers"),
                )
                .hint("taste smoky, very strong and sweet samples last"),
            ),
            (None, CarryOver::Ordinary) => {}
        }
    }
    faults
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn read(text: &str) -> Checked<ClassPlan> {
        read_class(&SourceText::new("class.yaml", text))
    }

    #[test]
    fn a_short_class_is_read_with_its_defaults() {
        let class =
            read("title: First evening\ndate: 2027-03-04\nbank: ../bank\nsamples: [b, a]\n")
                .value
                .unwrap();
        let order: Vec<_> = class.samples.iter().map(|(id, _)| id.as_str()).collect();
        assert_eq!(order, ["b", "a"], "the order of tasting is the written one");
        assert_eq!(class.pour, usual_pour());
        assert_eq!((class.learners, class.paper), (None, Paper::A4));
    }

    #[test]
    fn all_faults_of_a_class_are_told_at_once() {
        let text = "title: First\ndate: 2027-02-30\nbank: ../bank\nsamples: [a, a]\npour: { volume: -20 }\nlearners: 0\nforms: 3\n";
        let mut rules: Vec<_> = read(text).faults.iter().map(|f| f.rule).collect();
        rules.sort_unstable();
        assert_eq!(
            rules,
            [
                "bad-date",
                "doubled-sample",
                "out-of-range",
                "out-of-range",
                "unknown-key"
            ]
        );
    }
}
