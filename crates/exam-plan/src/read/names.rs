//! The cells and samples that a plan names, against the bank and the exam's own samples.
//!
//! Looked up apart from the plan itself, so that a wrong name is told together with any other
//! fault of the plan.

use std::collections::BTreeMap;

use base::tree::{Tree, read_tree};
use base::walk::Walk;
use base::{Fault, SampleId, SourceText};
use question_bank::{Bank, SampleRecord};

/// A fault for every cell and every sample that a plan names and that is not there. Whatever else
/// is wrong with the plan is left to its reader.
#[must_use]
pub fn check_names(
    plan: &SourceText,
    bank: &Bank,
    own_samples: &BTreeMap<SampleId, SampleRecord>,
) -> Vec<Fault> {
    let Ok(tree) = read_tree(plan) else {
        return Vec::new();
    };
    // Its own faults are the reader's to tell: this walk is thrown away.
    let mut walk = Walk::new(plan);
    let Some(mut fields) = walk.fields(&tree, "a plan") else {
        return Vec::new();
    };
    let mut faults = Vec::new();
    if let Some(theory) = fields.optional("theory") {
        cells(&mut walk, theory, bank, &mut faults);
    }
    if let Some(tasting) = fields.optional("tasting") {
        samples(&mut walk, tasting, bank, own_samples, &mut faults);
    }
    faults
}

fn cells<'t>(walk: &mut Walk<'t>, theory: &'t Tree, bank: &Bank, faults: &mut Vec<Fault>) {
    let known: Vec<&str> = bank.cells.iter().map(|(id, _)| id.as_str()).collect();
    let Some(list) = walk
        .fields(theory, "a theory part")
        .and_then(|mut f| f.optional("cells"))
    else {
        return;
    };
    for field in walk.named(list, "the cells") {
        let sound = base::CellId::parse(&field.name).is_ok();
        if sound && !known.contains(&field.name.as_str()) {
            faults.push(
                Fault::new(
                    "unknown-cell",
                    walk.place(&field.bytes),
                    format!("the bank has no cell \"{}\"", field.name),
                )
                .allowed(known.join(", "))
                .near(&field.name, known.iter().copied()),
            );
        }
    }
}

fn samples<'t>(
    walk: &mut Walk<'t>,
    tasting: &'t Tree,
    bank: &Bank,
    own_samples: &BTreeMap<SampleId, SampleRecord>,
    faults: &mut Vec<Fault>,
) {
    let Some(mut part) = walk.fields(tasting, "a tasting part") else {
        return;
    };
    let list = part.optional("samples");
    let flight = list.map_or(&[][..], |list| walk.list(list, "the samples"));
    for item in part.optional("warm_up").into_iter().chain(flight) {
        let Some(id) = walk.id::<SampleId>(item) else {
            continue;
        };
        if own_samples.contains_key(&id) || bank.samples.contains_key(&id) {
            continue;
        }
        let known = own_samples
            .keys()
            .chain(bank.samples.keys())
            .map(SampleId::as_str);
        faults.push(
            Fault::new(
                "unknown-sample",
                walk.place(&item.bytes),
                format!("there is no sample record \"{id}\""),
            )
            .hint("sample records are the files samples/*.yaml of the exam folder and of the bank")
            .near(id.as_str(), known),
        );
    }
}
