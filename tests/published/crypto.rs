//! The building blocks of ledger and seal against published vectors: RFC 5869, RFC 3797, RFC 8032,
//! C2SP signed notes, Shamir's sharing, commitments.

use ed25519_dalek::{Signature, Signer, SigningKey, Verifier, VerifyingKey};
use hkdf::Hkdf;
use register::commitment::{commit, derive, derive_into};
use register::hex::{from_hex, to_hex};
use register::public_value::{key_text, selection};
use register::seal::recombine;
use serde_json::Value;
use sha2::{Digest, Sha256};

use crate::md5::md5;
use crate::record::{Record, reference_json};

const FILE: &str = "assessment-standards/crypto.json";

fn part(name: &str) -> Record {
    Record::new(name.to_owned(), &reference_json(FILE)[name])
}

fn cases(of: &Record) -> Vec<Record> {
    let list = of.value("cases").as_array().unwrap();
    assert!(!list.is_empty());
    list.iter()
        .map(|value| Record::new("case".to_owned(), value))
        .collect()
}

fn bytes(record: &Record, key: &str) -> Vec<u8> {
    from_hex(record.text(key)).unwrap()
}

#[test]
fn every_part_of_the_file_is_compared() {
    let file = reference_json(FILE);
    let parts: Vec<&String> = file.as_object().unwrap().keys().collect();
    assert_eq!(
        parts,
        [
            "commitment",
            "ed25519",
            "hkdf_sha256",
            "rfc3797",
            "shamir_gf256",
            "signed_note"
        ]
    );
}

#[test]
fn hkdf_of_rfc_5869() {
    let part = part("hkdf_sha256");
    for case in cases(&part) {
        let (secret, salt, info) = (
            bytes(&case, "ikm"),
            bytes(&case, "salt"),
            bytes(&case, "info"),
        );
        assert!(case.text("name").starts_with("A."));
        let (extracted, _) = Hkdf::<Sha256>::extract(Some(&salt), &secret);
        assert_eq!(
            to_hex(&extracted),
            case.text("prk"),
            "{}",
            case.text("name")
        );
        let mut out = vec![0; case.value("length").as_u64().unwrap().try_into().unwrap()];
        derive_into(&secret, &salt, &info, &mut out);
        assert_eq!(to_hex(&out), case.text("okm"));
        case.finish();
    }
    let domains = Record::new("domains".to_owned(), part.value("domain_separation"));
    let salt = domains.text("salt").strip_suffix(" (ASCII)").unwrap();
    domains.compare("length", 32.0, 0.0);
    for seed in domains.value("seeds").as_array().unwrap() {
        let label = seed["label"].as_str().unwrap();
        let derived = derive(&bytes(&domains, "ikm"), salt.as_bytes(), label.as_bytes());
        assert_eq!(to_hex(&derived), seed["seed"].as_str().unwrap(), "{label}");
    }
    domains.finish();
    part.finish();
}

#[test]
fn the_selection_of_rfc_3797() {
    let part = part("rfc3797");
    assert!(part.text("note").contains("SHA-256"));
    let sources = [
        vec![9319],
        vec![8, 2, 12, 5, 10],
        vec![9, 18, 26, 34, 41, 45],
    ];
    let key = key_text(&sources);
    assert_eq!(key, part.text("seed"));
    let wanted: Vec<u64> = part
        .value("selected")
        .as_array()
        .unwrap()
        .iter()
        .map(|n| n.as_u64().unwrap())
        .collect();
    let pool = part.value("pool").as_u64().unwrap().try_into().unwrap();
    let mut hashes = Vec::new();
    let selected = selection(&key, pool, wanted.len(), |bytes| {
        let hash = md5(bytes);
        hashes.push(to_hex(&hash).to_uppercase());
        hash.to_vec()
    });
    assert_eq!(
        selected.iter().map(|n| *n as u64).collect::<Vec<_>>(),
        wanted
    );
    let listed: Vec<&str> = part
        .value("md5_hex")
        .as_array()
        .unwrap()
        .iter()
        .map(|h| h.as_str().unwrap())
        .collect();
    assert_eq!(hashes, listed);
    part.finish();
}

#[test]
fn commitments() {
    let part = part("commitment");
    assert!(part.text("definition").contains("8-byte big-endian length"));
    for case in cases(&part) {
        let found = commit(
            case.text("domain"),
            &bytes(&case, "salt"),
            case.text("message_utf8").as_bytes(),
        );
        assert_eq!(to_hex(&found), case.text("commitment"));
        case.finish();
    }
    part.finish();
}

/// Every choice of `k` of these shares.
fn choices(shares: &[Vec<u8>], k: usize) -> Vec<Vec<Vec<u8>>> {
    (0..1_u32 << shares.len())
        .filter(|set| set.count_ones() as usize == k)
        .map(|set| {
            let chosen = shares
                .iter()
                .enumerate()
                .filter(|(place, _)| set >> place & 1 == 1);
            chosen.map(|(_, share)| share.clone()).collect()
        })
        .collect()
}

#[test]
fn shares_after_shamir_recombine() {
    let part = part("shamir_gf256");
    assert!(part.text("definition").contains("AES polynomial"));
    for case in cases(&part) {
        let secret = bytes(&case, "secret");
        let threshold: usize = case
            .value("threshold")
            .as_u64()
            .unwrap()
            .try_into()
            .unwrap();
        assert_eq!(
            case.value("coefficients_hex").as_array().unwrap().len(),
            threshold - 1
        );
        let shares: Vec<Vec<u8>> = case
            .value("shares")
            .as_object()
            .unwrap()
            .iter()
            .map(|(x, y)| {
                let mut share = vec![x.parse::<u8>().unwrap()];
                share.extend(from_hex(y.as_str().unwrap()).unwrap());
                share
            })
            .collect();
        let k = u8::try_from(threshold).unwrap();
        for chosen in choices(&shares, threshold) {
            assert_eq!(recombine(&chosen, k).unwrap().to_vec(), secret);
        }
        for chosen in choices(&shares, threshold - 1) {
            assert!(recombine(&chosen, k).is_err());
            if k > 2 {
                // Told a lower threshold, it gives another value and not the secret.
                assert_ne!(recombine(&chosen, k - 1).unwrap().to_vec(), secret);
            }
        }
        case.finish();
    }
    part.finish();
}

#[test]
fn ed25519_of_rfc_8032() {
    let part = part("ed25519");
    for case in cases(&part) {
        let key = SigningKey::from_bytes(bytes(&case, "seed")[..].try_into().unwrap());
        assert_eq!(to_hex(key.verifying_key().as_bytes()), case.text("public"));
        let message = case.text("message").as_bytes().to_vec();
        let signature = key.sign(&message);
        assert_eq!(to_hex(&signature.to_bytes()), case.text("signature"));
        assert!(key.verifying_key().verify(&message, &signature).is_ok());
        assert!(key.verifying_key().verify(b"other", &signature).is_err());
        case.finish();
    }
    part.finish();
}

fn from_base64(text: &str) -> Vec<u8> {
    const LETTERS: &str = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let (mut held, mut bits, mut out) = (0_u32, 0, Vec::new());
    for c in text.trim_end_matches('=').chars() {
        held = held << 6 | u32::try_from(LETTERS.find(c).unwrap()).unwrap();
        bits += 6;
        if bits >= 8 {
            bits -= 8;
            out.push(u8::try_from(held >> bits & 255).unwrap());
        }
    }
    out
}

/// Whether a signed note (C2SP) holds for a verifier key: name+hash+key.
fn note_holds(note: &str, verifier: &str) -> bool {
    let mut parts = verifier.splitn(3, '+');
    let (name, hash) = (parts.next().unwrap(), parts.next().unwrap());
    let key = from_base64(parts.next().unwrap());
    assert_eq!(key[0], 1, "the kind of key: Ed25519");
    let mut named = name.as_bytes().to_vec();
    named.push(b'\n');
    named.extend(&key);
    assert_eq!(to_hex(&Sha256::digest(&named)[..4]), hash);
    let (text, signatures) = note.split_once("\n\n").unwrap();
    let line = signatures.trim_end().strip_prefix("\u{2014} ").unwrap();
    let (signer, signature) = line.split_once(' ').unwrap();
    let signature = from_base64(signature);
    let key = VerifyingKey::from_bytes(key[1..].try_into().unwrap()).unwrap();
    signer == name
        && to_hex(&signature[..4]) == hash
        && key
            .verify(
                format!("{text}\n").as_bytes(),
                &Signature::from_slice(&signature[4..]).unwrap(),
            )
            .is_ok()
}

#[test]
fn signed_notes_of_c2sp() {
    let part = part("signed_note");
    for case in cases(&part) {
        let holds = note_holds(case.text("note"), part.text("verifier_key"));
        assert_eq!(case.value("valid"), &Value::Bool(holds));
        case.finish();
    }
    part.finish();
}
