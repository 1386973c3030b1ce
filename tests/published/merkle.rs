//! Trees of hashes against the probes of RFC 6962 and RFC 9162.

use register::hex::{Digest32, digest_from_hex, from_hex, to_hex};
use register::merkle;
use serde_json::Value;

use crate::record::{Record, reference_json};

const FILE: &str = "assessment-standards/rfc6962-merkle.json";

fn list<'v>(file: &'v Value, name: &str) -> &'v Vec<Value> {
    file[name].as_array().unwrap()
}

/// A digest; none where the text has another length, which must be refused.
fn digest(value: &Value) -> Option<Digest32> {
    digest_from_hex(value.as_str().unwrap())
}

fn path(record: &Record) -> Option<Vec<Digest32>> {
    record
        .value("proof")
        .as_array()
        .unwrap()
        .iter()
        .map(digest)
        .collect()
}

fn whole(record: &Record, key: &str) -> u64 {
    record.value(key).as_u64().unwrap()
}

#[test]
fn every_part_of_the_file_is_read() {
    let file = reference_json(FILE);
    let parts: Vec<&String> = file.as_object().unwrap().keys().collect();
    assert_eq!(
        parts,
        [
            "basic_hashes",
            "consistency",
            "inclusion",
            "licence",
            "note",
            "reference_tree",
            "source"
        ]
    );
}

#[test]
fn basic_hashes() {
    let file = reference_json(FILE);
    for value in list(&file, "basic_hashes") {
        let record = Record::new(value["name"].as_str().unwrap().to_owned(), value);
        let bytes = |key: &str| from_hex(record.text(key)).unwrap();
        let computed = match record.text("name") {
            "empty tree root" => merkle::empty_root(),
            name if name.contains("leaf") => merkle::leaf_hash(&bytes("leaf_hex")),
            // The probe hashes two short texts in place of hashes: the same bytes by hand.
            _ => {
                use sha2::{Digest, Sha256};
                let both = [vec![1], bytes("left_hex"), bytes("right_hex")].concat();
                Sha256::digest(both).into()
            }
        };
        assert_eq!(
            to_hex(&computed),
            record.text("hash"),
            "{}",
            record.text("name")
        );
        record.finish();
    }
    let (left, right) = ([3; 32], [4; 32]);
    let mut both = vec![1];
    both.extend([left, right].concat());
    let by_hand: Digest32 = sha2::Digest::finalize(sha2::Digest::chain_update(
        <sha2::Sha256 as sha2::Digest>::new(),
        both,
    ))
    .into();
    assert_eq!(merkle::node_hash(&left, &right), by_hand);
}

#[test]
fn the_reference_tree_has_its_roots() {
    let file = reference_json(FILE);
    let record = Record::new("reference tree".to_owned(), &file["reference_tree"]);
    let leaves: Vec<Digest32> = record
        .value("leaves_hex")
        .as_array()
        .unwrap()
        .iter()
        .map(|hex| merkle::leaf_hash(&from_hex(hex.as_str().unwrap()).unwrap()))
        .collect();
    let roots = record.value("roots_by_size").as_array().unwrap();
    assert!(roots.len() > 5);
    for (size, root) in roots.iter().enumerate() {
        assert_eq!(Some(merkle::root(&leaves[..size])), digest(root), "{size}");
    }
    record.finish();
}

#[test]
fn every_inclusion_probe() {
    let file = reference_json(FILE);
    let mut valid = 0;
    for value in list(&file, "inclusion") {
        let record = Record::new(value["file"].as_str().unwrap().to_owned(), value);
        // Taken before the digests: where one is malformed, the sizes do not matter.
        let (place, size) = (whole(&record, "leaf_index"), whole(&record, "tree_size"));
        let holds = match (
            digest(record.value("leaf_hash")),
            digest(record.value("root")),
            path(&record),
        ) {
            (Some(leaf), Some(root), Some(path)) => {
                merkle::includes(&leaf, place, size, &path, &root)
            }
            _ => false,
        };
        let what = format!("{}: {}", record.text("file"), record.text("desc"));
        assert_eq!(record.value("valid").as_bool(), Some(holds), "{what}");
        valid += usize::from(holds);
        record.finish();
    }
    assert!(valid > 0);
}

#[test]
fn every_consistency_probe() {
    let file = reference_json(FILE);
    let mut valid = 0;
    for value in list(&file, "consistency") {
        let record = Record::new(value["file"].as_str().unwrap().to_owned(), value);
        let (size1, size2) = (whole(&record, "size1"), whole(&record, "size2"));
        let holds = match (
            digest(record.value("root1")),
            digest(record.value("root2")),
            path(&record),
        ) {
            (Some(root1), Some(root2), Some(path)) => {
                merkle::begins(size1, &root1, size2, &root2, &path)
            }
            _ => false,
        };
        let what = format!("{}: {}", record.text("file"), record.text("desc"));
        assert_eq!(record.value("valid").as_bool(), Some(holds), "{what}");
        valid += usize::from(holds);
        record.finish();
    }
    assert!(valid > 0);
}
