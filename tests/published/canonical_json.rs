//! Canonical JSON against the test data of RFC 8785, and against a signature that rests on it.

use ed25519_dalek::{Signature, Signer, SigningKey, Verifier, VerifyingKey};
use register::canonical;
use register::hex::{from_hex, to_hex};
use serde_json::Value;
use sha2::{Digest, Sha256};

use crate::record::{Record, reference_json};

const FILE: &str = "assessment-standards/rfc8785-jcs.json";

#[test]
fn every_case_of_rfc_8785() {
    let file = reference_json(FILE);
    for value in file["cases"].as_array().unwrap() {
        let record = Record::new(value["name"].as_str().unwrap().to_owned(), value);
        let name = record.text("name");
        let read = canonical::read(record.text("input")).unwrap();
        let written = canonical::write(&read).unwrap();
        assert_eq!(
            to_hex(written.as_bytes()),
            record.text("output_hex"),
            "{name}"
        );
        record.finish();
    }
}

#[test]
fn every_number_of_rfc_8785() {
    let file = reference_json(FILE);
    let numbers = file["numbers"].as_array().unwrap();
    let errors = file["number_errors"].as_array().unwrap();
    for value in numbers.iter().chain(errors) {
        let record = Record::new(value["ieee754_hex"].to_string(), value);
        let bits = u64::from_str_radix(record.text("ieee754_hex"), 16).unwrap();
        let written = canonical::number(f64::from_bits(bits));
        match record.value("expected") {
            Value::Null => assert!(
                written
                    .unwrap_err()
                    .to_string()
                    .contains(record.text("error"))
            ),
            expected => assert_eq!(written.unwrap(), expected.as_str().unwrap()),
        }
        record.finish();
    }
}

#[test]
fn every_text_that_must_be_refused_is() {
    let file = reference_json(FILE);
    let mut refused = 0;
    for value in file["must_reject"].as_array().unwrap() {
        let text = match value.as_str().unwrap() {
            "duplicate member names" => r#"{"a":1,"a":2}"#,
            "lone surrogate \\ud800 in a string" => r#"["\ud800"]"#,
            "NaN or infinity" => "[NaN]",
            other => panic!("{other}: no check"),
        };
        assert!(canonical::read(text).is_err(), "{text}");
        refused += 1;
    }
    assert_eq!(refused, 3);
    // Openly not compared: `number_stream` wants a list of numbers that is not in the file.
    let parts: Vec<&String> = file.as_object().unwrap().keys().collect();
    assert_eq!(
        parts,
        [
            "cases",
            "licence",
            "must_reject",
            "number_errors",
            "number_stream",
            "numbers",
            "source"
        ]
    );
}

const BASE58: &str = "123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz";

/// A base 58 number as bytes, the `z` of multibase before it.
fn from_multibase(text: &str) -> Vec<u8> {
    let mut bytes: Vec<u8> = Vec::new();
    for c in text.strip_prefix('z').unwrap().chars() {
        let mut carry = BASE58.find(c).unwrap();
        for byte in bytes.iter_mut().rev() {
            carry += usize::from(*byte) * 58;
            *byte = u8::try_from(carry & 255).unwrap();
            carry >>= 8;
        }
        while carry > 0 {
            bytes.insert(0, u8::try_from(carry & 255).unwrap());
            carry >>= 8;
        }
    }
    bytes
}

fn sha256(text: &str) -> [u8; 32] {
    Sha256::digest(text.as_bytes()).into()
}

/// What is signed: the digests of the canonical proof options and of the canonical document.
fn hash_data(document: &Value, options: &Value) -> Vec<u8> {
    let text = |value: &Value| canonical::write(value).unwrap();
    [sha256(&text(options)), sha256(&text(document))].concat()
}

/// Whether a secured document holds for this key.
fn holds(secured: &Value, key: &VerifyingKey) -> bool {
    let mut document = secured.clone();
    let mut proof = document.as_object_mut().unwrap().remove("proof").unwrap();
    let signature = proof.as_object_mut().unwrap().remove("proofValue").unwrap();
    let signature = Signature::from_slice(&from_multibase(signature.as_str().unwrap())).unwrap();
    key.verify(&hash_data(&document, &proof), &signature)
        .is_ok()
}

#[test]
fn a_credential_of_the_w3c_is_signed_byte_for_byte() {
    let file = reference_json("assessment-standards/eddsa-jcs-2022.json");
    let file = Record::new("eddsa-jcs-2022".to_owned(), &file);
    let keys = file.value("key");
    // Two bytes say the kind of key.
    let secret = from_multibase(keys["privateKeyMultibase"].as_str().unwrap());
    let signer = SigningKey::from_bytes(secret[2..].try_into().unwrap());
    let public = from_multibase(keys["publicKeyMultibase"].as_str().unwrap());
    assert_eq!(signer.verifying_key().as_bytes()[..], public[2..]);
    let unsigned = file.value("unsigned");
    let mut options = file.value("proof_options").clone();
    options["@context"] = unsigned["@context"].clone();
    assert!(file.text("order_note").contains("followed by"));
    let steps = Record::new("steps".to_owned(), file.value("steps"));
    assert_eq!(
        canonical::write(unsigned).unwrap(),
        steps.text("canonical_document")
    );
    assert_eq!(
        canonical::write(&options).unwrap(),
        steps.text("canonical_proof_config")
    );
    assert_eq!(
        to_hex(&sha256(steps.text("canonical_proof_config"))),
        steps.text("proof_hash")
    );
    assert_eq!(
        to_hex(&sha256(steps.text("canonical_document"))),
        steps.text("document_hash")
    );
    let data = hash_data(unsigned, &options);
    assert_eq!(to_hex(&data), steps.text("hash_data"));
    assert_eq!(
        to_hex(&signer.sign(&data).to_bytes()),
        steps.text("signature_hex")
    );
    assert_eq!(from_hex(steps.text("signature_hex")).unwrap().len(), 64);
    steps.finish();
    assert!(holds(file.value("secured"), &signer.verifying_key()));
    for negative in file.value("negatives").as_array().unwrap() {
        let expected = negative["valid"].as_bool().unwrap();
        let found = holds(&negative["secured"], &signer.verifying_key());
        assert_eq!(found, expected, "{}", negative["name"]);
    }
    file.finish();
}
