//! The streams of draws: ChaCha20 against RFC 8439, and the project's own vectors, worked out once
//! by a separate program from the description in base::stream (SHA-256 of a standard library, the
//! block function written after the RFC) and pinned here: a change of any means other exams from
//! old seeds.

use base::{ExamSeed, Purpose, Stream, stream::stream_key};
use rand_chacha::ChaCha20Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use sha2::{Digest, Sha256};

fn bytes(hex: &str) -> Vec<u8> {
    let digits: Vec<u8> = hex
        .chars()
        .filter(|c| !c.is_whitespace())
        .map(|c| u8::try_from(c.to_digit(16).unwrap()).unwrap())
        .collect();
    digits
        .chunks(2)
        .map(|pair| pair[0] * 16 + pair[1])
        .collect()
}

/// The seed 00 01 02 … 1f.
fn counting_seed() -> ExamSeed {
    let bytes: Vec<u8> = (0..32).collect();
    ExamSeed::from_bytes(bytes.try_into().unwrap())
}

struct BlockVector {
    name: &'static str,
    key: [u8; 32],
    counter: u32,
    nonce: &'static str,
    keystream: &'static str,
}

/// The example of section 2.3.2 and the vectors of appendix A.1 of RFC 8439.
fn rfc_8439() -> Vec<BlockVector> {
    let mut last_is_one = [0; 32];
    last_is_one[31] = 1;
    let mut second_is_ff = [0; 32];
    second_is_ff[1] = 0xff;
    vec![
        BlockVector {
            name: "RFC 8439, 2.3.2",
            key: *counting_seed().bytes(),
            counter: 1,
            nonce: "000000090000004a00000000",
            keystream: "10f1e7e4d13b5915500fdd1fa32071c4c7d1f4c733c068030422aa9ac3d46c4e\
                        d2826446079faa0914c2d705d98b02a2b5129cd1de164eb9cbd083e8a2503c4e",
        },
        BlockVector {
            name: "RFC 8439, A.1, test vector 1",
            key: [0; 32],
            counter: 0,
            nonce: "000000000000000000000000",
            keystream: "76b8e0ada0f13d90405d6ae55386bd28bdd219b8a08ded1aa836efcc8b770dc7\
                        da41597c5157488d7724e03fb8d84a376a43b8f41518a11cc387b669b2ee6586",
        },
        BlockVector {
            name: "RFC 8439, A.1, test vector 2",
            key: [0; 32],
            counter: 1,
            nonce: "000000000000000000000000",
            keystream: "9f07e7be5551387a98ba977c732d080dcb0f29a048e3656912c6533e32ee7aed\
                        29b721769ce64e43d57133b074d839d531ed1f28510afb45ace10a1f4b794d6f",
        },
        BlockVector {
            name: "RFC 8439, A.1, test vector 3",
            key: last_is_one,
            counter: 1,
            nonce: "000000000000000000000000",
            keystream: "3aeb5224ecf849929b9d828db1ced4dd832025e8018b8160b82284f3c949aa5a\
                        8eca00bbb4a73bdad192b5c42f73f2fd4e273644c8b36125a64addeb006c13a0",
        },
        BlockVector {
            name: "RFC 8439, A.1, test vector 4",
            key: second_is_ff,
            counter: 2,
            nonce: "000000000000000000000000",
            keystream: "72d54dfbf12ec44b362692df94137f328fea8da73990265ec1bbbea1ae9af0ca\
                        13b25aa26cb4a648cb9b9d1be65b2c0924a66c54d545ec1b7374f4872e99f096",
        },
        BlockVector {
            name: "RFC 8439, A.1, test vector 5",
            key: [0; 32],
            counter: 0,
            nonce: "000000000000000000000002",
            keystream: "c2c64d378cd536374ae204b9ef933fcd1a8b2288b3dfa49672ab765b54ee27c7\
                        8a970e0e955c14f3a88e741b97c286f75f8fc299e8148362fa198a39531bed6d",
        },
    ]
}

#[test]
fn the_block_function_is_that_of_rfc_8439() {
    for vector in rfc_8439() {
        // The RFC has a counter of 32 bits and a nonce of 96, the library a counter of 64 bits and a
        // stream number of 64: the first third of the nonce is the upper half of the counter.
        let nonce = bytes(vector.nonce);
        let word = |at: usize| u64::from(u32::from_le_bytes(nonce[at..at + 4].try_into().unwrap()));
        let counter = u128::from(vector.counter) | (u128::from(word(0)) << 32);
        let mut library = ChaCha20Rng::from_seed(vector.key);
        library.set_stream(word(4) | (word(8) << 32));
        library.set_word_pos(counter * 16);
        let mut block = [0; 64];
        library.fill_bytes(&mut block);
        assert_eq!(block.to_vec(), bytes(vector.keystream), "{}", vector.name);
    }
}

/// Purpose, index, key and the first two numbers of the stream of the counting seed.
const STREAMS: [(&str, u64, &str, [u64; 2]); 15] = [
    (
        "form questions",
        0,
        "c8a938463d788cfd327b757a013f36bb5fb88eeecde342e987872aec2219184f",
        [0xd3df_0454_0a03_7bb6, 0xa9e8_e68d_d6dd_d47f],
    ),
    (
        "question order",
        1,
        "6e2ac9adabbdf084eb486047f3ebe02a32e401ed1e5cfcd841925a908bdc9006",
        [0x30a7_9f32_a888_27db, 0xbbab_a9b1_1400_02fa],
    ),
    (
        "option order",
        2,
        "cf500df0bf1c78510476df825cf3aa5538c29c09e2886c9046ef8b03160c5fcf",
        [0x1484_cefc_f353_3e09, 0xb5d6_8459_ada3_aeeb],
    ),
    (
        "glass codes",
        3,
        "34a591d6ef1f36364ffdf61f2986d51f351054fb237ad6fdd3ab704b03480366",
        [0x0df9_6812_ecd7_fdb8, 0xfba3_78a7_0ef5_bde2],
    ),
    (
        "serving order",
        4,
        "4289f8965a4fe35cc3c73f1e89d16bece852685c9d3175c7e7fbc4a3ff20e3a6",
        [0x0555_a2b1_d6c6_f952, 0x8cb6_dfb1_6faa_abd5],
    ),
    (
        "seats",
        5,
        "419f495e06f27bce437bd40bd0f3a910d8b434f3368e9e1cb853f7623fd292b0",
        [0xf5ae_aef2_c85a_f905, 0x9e6a_2e72_ad5b_acaf],
    ),
    (
        "variant numbers",
        6,
        "0434c3c98d9798153860d54b25c1a55d81daec568f6ad075e963e02966f82499",
        [0x7e66_62cf_348e_eddb, 0xf210_3778_cbf8_d36c],
    ),
    (
        "rehearsal candidate",
        7,
        "394c4fd1b8809f33ef47488dae80c2d7061479b76aeb58159523c82602d1dbed",
        [0xeea2_df8a_8113_0f9e, 0x754f_f716_7598_c8cc],
    ),
    (
        "practice",
        8,
        "32583d4a7f5e92871fea24f61dce126b770d17f8c1a8c4990673c17216d7be66",
        [0x888a_3a3f_3f1c_a1d2, 0xe572_72cb_a794_9a1d],
    ),
    (
        "cross check",
        9,
        "8b27f82e45d3328dd9d14e5f5b81f3bf8c66c6551deac58ea2456b654eadb610",
        [0x9a2e_686d_2220_2795, 0x6d69_7557_2bb9_17e8],
    ),
    (
        "script sharing",
        11,
        "24ede411806585413ef9031f94ce55b4e8412c8768e95a31a219f4baa6f90d8e",
        [0x52de_b47a_74bb_f48e, 0x45d5_061d_b8a8_1a56],
    ),
    (
        "chance score",
        10,
        "66e593192f479c5f25a9c4f73f8b3f76936e2cd5f609da74505d463a4c02613e",
        [0x80f0_4ce6_8034_047a, 0x10ea_81ab_2e90_6d99],
    ),
    (
        "panel resample",
        11,
        "38439bd22724e444cb6e99aeb31f2d756ee42c29c05f5ee96d1df6961143d9f7",
        [0xadb3_2085_eb72_d695, 0xf940_0d6d_1855_eb57],
    ),
    (
        "candidate resample",
        12,
        "2b339b6a38239262fe581f4a2355f64c591bf82acbee1c572cb8858d971caaf5",
        [0xb60d_eb69_2992_5984, 0x529c_a652_193a_da03],
    ),
    (
        "kit seal",
        13,
        "a2f6b2454089c4e3957083db2d51e0ee127f453ef16348b403939755e8714560",
        [0xe9cc_0ead_e501_22a2, 0x186f_1587_b94c_c4a2],
    ),
];

#[test]
fn every_purpose_has_its_pinned_stream() {
    assert_eq!(STREAMS.len(), Purpose::ALL.len());
    for (purpose, (name, index, key, numbers)) in Purpose::ALL.into_iter().zip(STREAMS) {
        assert_eq!(purpose.name(), name);
        let computed = stream_key(&counting_seed(), purpose, index);
        assert_eq!(computed.to_vec(), bytes(key), "{name}");
        let mut stream = Stream::new(&counting_seed(), purpose, index);
        assert_eq!([stream.next_u64(), stream.next_u64()], numbers, "{name}");
    }
}

#[test]
fn a_key_is_the_hash_that_the_description_says() {
    // Written out byte by byte, lengths included; nothing of base but the description.
    let mut text = vec![0, 0, 0, 14];
    text.extend(b"valinch draw 1");
    text.extend([0, 0, 0, 32]);
    text.extend(0..32_u8);
    text.extend([0, 0, 0, 12]);
    text.extend(b"option order");
    text.extend([0, 0, 0, 8]);
    text.extend([0, 0, 0, 1, 0, 0, 0, 7]);
    let hash: [u8; 32] = Sha256::digest(&text).into();
    let index = (1 << 32) | 7;
    assert_eq!(
        hash,
        stream_key(&counting_seed(), Purpose::OptionOrder, index)
    );
}

#[test]
fn numbers_and_shuffles_are_pinned() {
    let stream = || Stream::new(&counting_seed(), Purpose::Seats, 0);
    // The three large bounds leave a quarter of all 64-bit numbers out: some are drawn again.
    let bounds = [
        2,
        3,
        10,
        900,
        (1 << 33) + 1,
        3 << 62,
        3 << 62,
        3 << 62,
        u64::MAX,
    ];
    let mut drawn = stream();
    assert_eq!(
        bounds.map(|bound: u64| drawn.below(bound)),
        [
            1,
            1,
            7,
            766,
            7_223_406_871,
            8_477_668_608_906_113_457,
            8_353_363_427_102_857_697,
            13_389_606_310_190_402_561,
            17_448_918_087_176_546_887,
        ]
    );
    let mut items: Vec<u32> = (0..12).collect();
    stream().shuffle(&mut items);
    assert_eq!(items, [0, 4, 2, 3, 6, 5, 8, 10, 1, 7, 9, 11]);
}
