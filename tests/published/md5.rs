//! MD5 (RFC 1321), only because the vectors of RFC 3797 are made with it: the program has no use
//! for it, and no library is taken in for one check. Its own check: the suite of RFC 1321, A.5.

const SHIFTS: [[u32; 4]; 4] = [
    [7, 12, 17, 22],
    [5, 9, 14, 20],
    [4, 11, 16, 23],
    [6, 10, 15, 21],
];

pub fn md5(message: &[u8]) -> [u8; 16] {
    let mut padded = message.to_vec();
    padded.push(0x80);
    while padded.len() % 64 != 56 {
        padded.push(0);
    }
    padded.extend((message.len() as u64 * 8).to_le_bytes());
    let mut state: [u32; 4] = [0x6745_2301, 0xefcd_ab89, 0x98ba_dcfe, 0x1032_5476];
    for block in padded.chunks(64) {
        let words: Vec<u32> = block
            .chunks(4)
            .map(|four| u32::from_le_bytes(four.try_into().unwrap()))
            .collect();
        let [mut a, mut b, mut c, mut d] = state;
        for step in 0..64 {
            let (mixed, word) = match step / 16 {
                0 => (b & c | !b & d, step),
                1 => (d & b | !d & c, (5 * step + 1) % 16),
                2 => (b ^ c ^ d, (3 * step + 5) % 16),
                _ => (c ^ (b | !d), 7 * step % 16),
            };
            let sine = (((step + 1) as f64).sin().abs() * 4_294_967_296.0) as u32;
            let sum = a
                .wrapping_add(mixed)
                .wrapping_add(sine)
                .wrapping_add(words[word]);
            (a, d, c) = (d, c, b);
            b = b.wrapping_add(sum.rotate_left(SHIFTS[step / 16][step % 4]));
        }
        for (kept, added) in state.iter_mut().zip([a, b, c, d]) {
            *kept = kept.wrapping_add(added);
        }
    }
    let mut out = [0; 16];
    for (four, word) in out.chunks_mut(4).zip(state) {
        four.copy_from_slice(&word.to_le_bytes());
    }
    out
}

#[test]
fn the_suite_of_rfc_1321() {
    let hex = |text: &str| register::hex::to_hex(&md5(text.as_bytes()));
    assert_eq!(hex(""), "d41d8cd98f00b204e9800998ecf8427e");
    assert_eq!(hex("abc"), "900150983cd24fb0d6963f7d28e17f72");
    assert_eq!(hex("message digest"), "f96b697d7cb7938d525a2f31aaf161d0");
    assert_eq!(
        hex("12345678901234567890123456789012345678901234567890123456789012345678901234567890"),
        "57edf4a22be3c955ac49da2e2107b67a"
    );
}
