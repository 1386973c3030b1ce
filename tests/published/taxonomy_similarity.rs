//! Similarity in a tree and chance-corrected credit against
//! assessment-standards/taxonomy-similarity.json.

use std::collections::BTreeMap;

use crate::record::{Record, reference_json};
use base::NodeId;
use question_bank::Taxonomy;
use question_bank::similarity::{
    chance, chance_corrected_credit, edges, leacock_chodorow, lin, path, resnik, wu_palmer,
};
use question_bank::taxonomy::Node;
use serde_json::Value;

/// Half a unit of the last of the twelve digits that the file prints, for values below ten.
const PRINTED: f64 = 5e-12;

/// The file writes underscores, ids have hyphens.
fn id(name: &str) -> NodeId {
    NodeId::parse(&name.replace('_', "-")).unwrap()
}

fn tree_of(value: &Value) -> Taxonomy {
    let nodes = value
        .as_object()
        .unwrap()
        .iter()
        .map(|(name, parent)| Node {
            id: id(name),
            name: name.clone(),
            parent: parent.as_str().map(id),
            aliases: Vec::new(),
            inside: Vec::new(),
            source: None,
            evidence: None,
            law: question_bank::taxonomy::NodeLaw::default(),
        });
    Taxonomy::new("reference".to_owned(), nodes.collect()).unwrap()
}

#[test]
fn the_published_pair_has_its_published_values() {
    let file = reference_json("assessment-standards/taxonomy-similarity.json");
    let published = file["published"].as_array().unwrap();
    assert_eq!(published.len(), 1);
    for value in published {
        let tree = tree_of(&value["tree"]);
        let record = Record::new("published pair".to_owned(), value);
        let (a, b) = (id(record.text("a")), id(record.text("b")));
        let depth = record.number("D") as usize;
        record.compare("wu_palmer", wu_palmer(&tree, &a, &b).unwrap(), 1e-15);
        record.compare("path", path(&tree, &a, &b).unwrap(), 1e-15);
        let computed = leacock_chodorow(&tree, &a, &b, depth).unwrap();
        record.compare("leacock_chodorow", computed, 1e-15);
    }
}

#[test]
fn every_case_agrees() {
    let file = reference_json("assessment-standards/taxonomy-similarity.json");
    let tree = tree_of(&file["tree"]);
    let weights: BTreeMap<NodeId, f64> = file["leaf_weights"]
        .as_object()
        .unwrap()
        .iter()
        .map(|(name, weight)| (id(name), weight.as_f64().unwrap()))
        .collect();
    assert_eq!(weights.len(), tree.leaves().len());
    let depth = tree.greatest_depth();
    assert_eq!(Some(depth as u64), file["max_depth_nodes"].as_u64());
    let cases = file["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 6);
    for (place, value) in cases.iter().enumerate() {
        let record = Record::new(format!("case {place}"), value);
        let (a, b) = (id(record.text("a")), id(record.text("b")));
        assert_eq!(
            tree.lowest_common(&a, &b).unwrap().id,
            id(record.text("lcs"))
        );
        record.compare("edges", edges(&tree, &a, &b).unwrap() as f64, 0.0);
        record.compare("wu_palmer", wu_palmer(&tree, &a, &b).unwrap(), PRINTED);
        record.compare("path", path(&tree, &a, &b).unwrap(), PRINTED);
        let computed = leacock_chodorow(&tree, &a, &b, depth).unwrap();
        record.compare("leacock_chodorow", computed, PRINTED);
        record.compare("resnik", resnik(&tree, &a, &b, &weights).unwrap(), PRINTED);
        record.compare("lin", lin(&tree, &a, &b, &weights).unwrap(), PRINTED);
        record.finish();
    }
}

#[test]
fn credit_is_corrected_for_chance() {
    let file = reference_json("assessment-standards/taxonomy-similarity.json");
    let tree = tree_of(&file["tree"]);
    let chances = file["chance"].as_array().unwrap();
    assert_eq!(chances.len(), 1);
    for value in chances {
        let truth = id(value["truth"].as_str().unwrap());
        let expected = value["answer_uniform_over_leaves"].as_f64().unwrap();
        assert!((chance(&tree, &truth).unwrap() - expected).abs() <= PRINTED);
        let credits = value["chance_corrected_credit_for"].as_object().unwrap();
        assert_eq!(credits.len(), tree.leaves().len());
        for (answer, expected) in credits {
            let credit = chance_corrected_credit(&tree, &truth, &id(answer)).unwrap();
            assert!(
                (credit - expected.as_f64().unwrap()).abs() <= PRINTED,
                "{answer}: {credit}"
            );
        }
    }
}
