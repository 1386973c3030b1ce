//! An adversary holds everything that a candidate holds and tries to learn the key, the sample or
//! the producer from it: from bytes, sizes, codes, orders and the code on the booklet.
//!
//! Two ways. First, exams that differ in nothing but what is secret must give candidates the same
//! papers, to the byte: what is equal teaches nothing. Second, where papers must differ (draws, the
//! seal's root), a simple learner is trained on some sittings and asked about others; it may do no
//! better than chance allows. `VALINCH_SEEDS` sets how many sittings it sees.
// What was counted, or is missing, is said where the test is run.
#![allow(clippy::print_stdout)]

use std::collections::BTreeMap;

use assembler::{Form, Sitting};
use register::Register;
use register::hex::to_hex;
use register::seal::Key;
use tests::Room;

/// Changes of the small exam that a candidate must not see: file, old words, new words.
const SECRETS: [(&str, &str, &str); 10] = [
    (
        "questions/all-kinds.yaml",
        "37.5 % vol or more\", key: true,",
        "37.5 % vol or more\",",
    ),
    (
        "questions/all-kinds.yaml",
        "35 % vol or more\",",
        "35 % vol or more\", key: true,",
    ),
    (
        "questions/all-kinds.yaml",
        "text: Heads, key: true,",
        "text: Heads,",
    ),
    (
        "questions/all-kinds.yaml",
        "text: Hearts,",
        "text: Hearts, key: true,",
    ),
    ("questions/all-kinds.yaml", "answer: 280", "answer: 290"),
    (
        "samples/cane-copper-8.yaml",
        "name: Copper Bay Eight Years",
        "name: Grey Gull Four Years",
    ),
    (
        "samples/cane-copper-8.yaml",
        "producer: Copper Bay Estate",
        "producer: Grey Gull Works",
    ),
    ("samples/cane-copper-8.yaml", "stated: 8", "stated: 4"),
    (
        "samples/cane-copper-8.yaml",
        "lot: CB-8-0117",
        "lot: GG-4-2201",
    ),
    ("samples/cane-copper-8.yaml", "colour: 6", "colour: 3"),
];

/// How many sittings the adversary sees; `usual` where nothing else is asked.
fn seeds(usual: u32) -> u32 {
    let told = std::env::var("VALINCH_SEEDS").ok();
    told.and_then(|text| text.parse().ok()).unwrap_or(usual)
}

/// The seed of the n-th sitting.
fn seed(n: u32) -> String {
    let drawn_from = base::ExamSeed::from_bytes([9; 32]);
    let key = base::stream::stream_key(&drawn_from, base::Purpose::Seats, u64::from(n));
    to_hex(&key)
}

/// The small exam with these changes.
fn exam(changes: &[(&str, &str, &str)]) -> Room {
    let room = Room::empty();
    tests::copy(
        &tests::top().join("tests/papers/small-exam"),
        &room.path("exam"),
    );
    for (file, old, new) in changes {
        room.replace(&format!("exam/bank/{file}"), old, new);
    }
    room
}

/// Draws the exam anew.
fn drawn(room: &Room, seed: &str) {
    for ending in ["", "-wal", "-shm"] {
        let _ = std::fs::remove_file(room.path(&format!("exam/sitting.register{ending}")));
    }
    room.run(&["assemble", "exam", "--seed", seed]).exits(0);
}

/// Everything that candidates hold, by name.
fn held(room: &Room, seed: &str) -> BTreeMap<String, Vec<u8>> {
    drawn(room, seed);
    let _ = std::fs::remove_dir_all(room.path("exam/papers"));
    room.run(&["print", "exam"]).exits(0);
    let for_candidates = |name: &String| {
        ["01-", "02-", "03-", "04-", "05-", "06-", "07-", "09-"]
            .iter()
            .any(|begins| name.starts_with(begins))
    };
    room.files("exam/papers")
        .into_iter()
        .filter(|(name, _)| for_candidates(name))
        .collect()
}

#[test]
fn exams_that_differ_in_secrets_alone_give_candidates_the_same_bytes() {
    let (room, secretly_other) = (exam(&[]), exam(&SECRETS));
    let sittings = seeds(2);
    for n in 0..sittings {
        let plain = held(&room, &seed(n));
        let other = held(&secretly_other, &seed(n));
        assert!(plain.len() >= 7, "{:?}", plain.keys());
        let differing: Vec<&String> = plain
            .keys()
            .chain(other.keys())
            .filter(|name| plain.get(*name) != other.get(*name))
            .collect();
        assert!(differing.is_empty(), "{differing:?}");
    }
    println!("papers of exams with other secrets: the same bytes in {sittings} sittings");
}

/// Learns from the first half how often each feature comes with each answer (naive Bayes with one
/// added to each count), is asked about the second half, and gives how many it guessed right.
fn learned(sittings: &[(Vec<u8>, usize)], answers: usize) -> (usize, usize) {
    let (known, asked) = sittings.split_at(sittings.len() / 2);
    let features = known[0].0.len();
    let mut counts: Vec<BTreeMap<(usize, u8), f64>> = vec![BTreeMap::new(); features];
    let mut of_answer = vec![1.0; answers];
    for (seen, answer) in known {
        of_answer[*answer] += 1.0;
        for (count, value) in counts.iter_mut().zip(seen) {
            *count.entry((*answer, *value)).or_insert(0.0) += 1.0;
        }
    }
    let guess = |seen: &[u8]| {
        let belief = |answer: usize| -> f64 {
            let each = counts.iter().zip(seen).map(|(count, value)| {
                let found = count.get(&(answer, *value)).copied().unwrap_or(0.0);
                ((found + 1.0) / (of_answer[answer] + 2.0)).ln()
            });
            of_answer[answer].ln() + each.sum::<f64>()
        };
        (0..answers)
            .max_by(|a, b| belief(*a).total_cmp(&belief(*b)))
            .unwrap()
    };
    let right = asked
        .iter()
        .filter(|(seen, answer)| guess(seen) == *answer)
        .count();
    (right, asked.len())
}

/// Fails when the learner does better than chance would in one of 30,000 runs (4 standard errors).
fn no_better_than_chance(what: &str, sittings: &[(Vec<u8>, usize)], answers: usize) {
    let (right, asked) = learned(sittings, answers);
    let (asked, chance) = (asked as f64, 1.0 / answers as f64);
    let bound = asked * chance + 4.0 * (asked * chance * (1.0 - chance)).sqrt();
    println!(
        "{what}: {right} of {asked} right, chance {:.0}, bound {bound:.0}",
        asked * chance
    );
    assert!(
        (right as f64) <= bound,
        "{what}: the learner knows something: {right} of {asked}"
    );
}

#[test]
fn the_learner_finds_a_leak_where_there_is_one() {
    let leaky: Vec<(Vec<u8>, usize)> = (0..400_usize)
        .map(|n| {
            let answer = n * 7 % 13 % 3;
            let mut seen = to_hex(&[n as u8; 8]).into_bytes();
            seen.push(if n % 4 == 0 { 0 } else { answer as u8 });
            (seen, answer)
        })
        .collect();
    let (right, asked) = learned(&leaky, 3);
    assert!(right * 2 > asked, "{right} of {asked}");
}

/// The seal's root is the only thing on a candidate's paper that is made from the key.
#[test]
fn the_printed_root_says_nothing_of_the_key() {
    let sittings: Vec<(Vec<u8>, usize)> = (0..1_000_u32)
        .map(|n| {
            let mut bytes = [0; 32];
            bytes[..4].copy_from_slice(&n.to_be_bytes());
            let seed = base::ExamSeed::from_bytes(base::stream::stream_key(
                &base::ExamSeed::from_bytes(bytes),
                base::Purpose::Seats,
                0,
            ));
            let answer = (n * 7 % 13 % 3) as usize;
            let right = ["A", "B", "C"][answer];
            let holds = serde_json::json!({ "right": right, "number": 1 });
            let key = Key::new(&seed, vec![("question A 1".to_owned(), holds)]);
            (to_hex(&key.root().unwrap()).into_bytes(), answer)
        })
        .collect();
    no_better_than_chance("key from the root", &sittings, 3);
}

/// The shuffled question of the small exam has so many options.
const OPTIONS: usize = 3;

/// Its first key is written at this place.
const KEY: usize = 0;

/// A sighting of the shuffled question: the letter of the form, the number on it and how many questions
/// the form has; and where the question's first key is printed.
type Sighting = ([u8; 3], usize);

/// Of each form that asks it.
fn sightings(sitting: &Sitting) -> Vec<Sighting> {
    let of = |form: &Form| -> Vec<Sighting> {
        let letter = form.name.as_str().as_bytes()[0];
        let asked = form.questions.iter().enumerate();
        asked
            .filter(|(_, asked)| asked.question.as_str() == "still-fractions")
            .map(|(number, asked)| {
                assert_eq!(asked.order.len(), OPTIONS);
                let seen = [letter, number as u8, form.questions.len() as u8];
                (seen, asked.order.printed_at(KEY).unwrap())
            })
            .collect()
    };
    sitting.forms.iter().flat_map(of).collect()
}

/// The codes of whoever sits first, which stand beside the question on the table.
fn first_codes(sitting: &Sitting) -> Vec<u8> {
    let glasses = sitting.places[0].glasses.iter();
    glasses.flat_map(|glass| glass.code.bytes()).collect()
}

/// The small exam with three samples, so that there is something to guess.
fn three_samples() -> Room {
    let room = exam(&[]);
    for other in ["cane-copper-9", "cane-copper-10"] {
        for ending in ["yaml", "panel.csv"] {
            let text = room.text(&format!("exam/bank/samples/cane-copper-8.{ending}"));
            let name = format!("exam/bank/samples/{other}.{ending}");
            room.put(&name, text.replacen("cane-copper-8", other, 1));
        }
    }
    room.replace(
        "exam/plan.yaml",
        "[cane-copper-8]",
        "[cane-copper-8, cane-copper-9, cane-copper-10]",
    );
    room
}

/// The sample in a place's first glass, as its place among all of them.
fn first_sample(place: &assembler::CandidatePlace) -> usize {
    let mut names: Vec<_> = place.glasses.iter().map(|glass| &glass.sample).collect();
    names.sort();
    let first = &place.glasses[0].sample;
    names.iter().position(|name| *name == first).unwrap()
}

/// What can be told of the papers from outside: of each its size, how many objects it has and in what
/// order they stand, its two identifiers, and which was written when.
fn outside(room: &Room, papers: &BTreeMap<String, Vec<u8>>) -> Vec<u8> {
    let written = |name: &String| {
        let file = std::fs::metadata(room.path("exam/papers").join(name)).unwrap();
        file.modified().unwrap()
    };
    let mut by_time: Vec<&String> = papers.keys().collect();
    by_time.sort_by_key(|name| (written(name), *name));
    let mut seen = Vec::new();
    for (name, bytes) in papers {
        let size = bytes.len();
        seen.extend([(size % 256) as u8, (size / 64 % 256) as u8]);
        let text = String::from_utf8_lossy(bytes);
        let objects: Vec<u8> = text
            .match_indices(" 0 obj")
            .filter_map(|(at, _)| text[..at].bytes().next_back())
            .collect();
        seen.push((objects.len() % 256) as u8);
        let mixed = objects.iter().fold(0_u8, |mixed, digit| {
            mixed.wrapping_mul(31).wrapping_add(*digit)
        });
        seen.push(mixed);
        let (_, identifiers) = text.rsplit_once("/ID").unwrap_or_default();
        let mut letters = identifiers.bytes().filter(u8::is_ascii_alphanumeric);
        seen.extend([letters.next().unwrap_or(0), letters.next().unwrap_or(0)]);
        seen.push(by_time.iter().position(|other| *other == name).unwrap() as u8);
    }
    seen
}

/// The papers themselves, looked at from outside.
#[test]
fn sizes_and_order_of_papers_say_nothing_of_samples() {
    let room = three_samples();
    let mut sittings = Vec::new();
    for n in 0..seeds(80) {
        let papers = held(&room, &seed(n));
        let path = room.path("exam/sitting.register");
        let sitting = Register::open(&path).unwrap().sitting().unwrap();
        sittings.push((outside(&room, &papers), first_sample(&sitting.places[0])));
    }
    let features = sittings[0].0.len();
    assert!(features > 40 && sittings.iter().all(|(seen, _)| seen.len() == features));
    no_better_than_chance("first sample from papers", &sittings, 3);
}

/// What is drawn: codes, serving orders, option orders, forms.
#[test]
fn codes_and_orders_say_nothing_of_samples() {
    let room = three_samples();
    let path = room.path("exam/sitting.register");
    let mut sittings = Vec::new();
    let mut samples = 0;
    let mut orders = Vec::new();
    for n in 0..seeds(300) {
        drawn(&room, &seed(n));
        let sitting = Register::open(&path).unwrap().sitting().unwrap();
        for (around, key) in sightings(&sitting) {
            let seen = around.into_iter().chain(first_codes(&sitting));
            orders.push((seen.collect(), key));
        }
        for place in sitting.places.iter().take(3) {
            // What the candidate sees: all codes in their order, the seat, the form.
            let mut seen: Vec<u8> = place
                .glasses
                .iter()
                .flat_map(|glass| glass.code.bytes())
                .collect();
            seen.extend(
                place
                    .seat
                    .as_ref()
                    .map_or(0, |seat| seat.as_str().len() as u8)
                    .to_be_bytes(),
            );
            seen.extend(
                place
                    .form
                    .as_ref()
                    .map_or(0, |form| form.as_str().as_bytes()[0])
                    .to_be_bytes(),
            );
            samples = place.glasses.len();
            sittings.push((seen, first_sample(place)));
        }
    }
    assert!(samples > 1);
    no_better_than_chance("first sample from codes", &sittings, samples);
    no_better_than_chance("key from orders", &orders, OPTIONS);
}
