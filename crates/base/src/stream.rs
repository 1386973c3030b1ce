//! Named streams of random numbers, documented to the byte, so that an exam can be drawn again
//! from its seed in twenty years with any software.
//!
//! # The bytes
//! The key of a stream is `SHA-256(f(domain) f(seed) f(purpose) f(index))`, where `f(x)` is the
//! length of `x` in bytes as a 32-bit big-endian number followed by `x`; the domain is the ASCII
//! text `valinch draw 1`, the seed its 32 bytes, the purpose its ASCII name, the index a 64-bit
//! big-endian number. The key seeds ChaCha20 (RFC 8439 block function, 20 rounds) with nonce 0 and
//! block counter 0; the stream is its key stream, read as 64-bit little-endian numbers.
//!
//! # The draws
//! A number below `n`: take 64-bit numbers until one is below the largest multiple of `n` that
//! 2^64 holds, then its remainder by `n`. A shuffle: for `i` from the last place down to 1, swap
//! place `i` with place `below(i + 1)` (Fisher and Yates, as in Durstenfeld 1964).
//!
//! Because every purpose has a stream of its own, adding a draw never changes another.

use rand_chacha::ChaCha20Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use sha2::{Digest, Sha256};

use crate::seed::ExamSeed;

/// What a stream is for. Each name is fixed for ever: changing one changes every exam.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Purpose {
    /// Which questions a form gets; index: attempt.
    FormQuestions,
    /// In which order they stand; index: form.
    QuestionOrder,
    /// In which order a question's options stand; index: form and question.
    OptionOrder,
    /// The glass codes; index: group that shares codes.
    GlassCodes,
    /// Which candidate gets which row of the serving design.
    ServingOrder,
    /// Who sits where and gets which form.
    Seats,
    /// Numbers of variant questions; index: form and question.
    VariantNumbers,
    /// A simulated candidate; index: candidate within all sittings.
    RehearsalCandidate,
    /// Practice sessions; index: session.
    Practice,
    /// Which glasses a second person looks at after pouring.
    CrossCheck,
    /// Who marks which essay, under which code, in which order.
    ScriptSharing,
    /// What a guesser gets; of no exam and therefore drawn from the seed of zero bytes.
    ChanceScore,
    /// Assessors drawn again for an interval; of no exam, from the seed of zero bytes; index: stage.
    PanelResample,
    /// Candidates drawn again for an error; of no exam, from the seed of zero bytes.
    CandidateResample,
    /// The codes on the strips that close kits.
    KitSeal,
}

impl Purpose {
    /// Every purpose, for the tests that walk the list.
    pub const ALL: [Self; 15] = [
        Self::FormQuestions,
        Self::QuestionOrder,
        Self::OptionOrder,
        Self::GlassCodes,
        Self::ServingOrder,
        Self::Seats,
        Self::VariantNumbers,
        Self::RehearsalCandidate,
        Self::Practice,
        Self::CrossCheck,
        Self::ScriptSharing,
        Self::ChanceScore,
        Self::PanelResample,
        Self::CandidateResample,
        Self::KitSeal,
    ];

    /// The name that goes into the hash.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::FormQuestions => "form questions",
            Self::QuestionOrder => "question order",
            Self::OptionOrder => "option order",
            Self::GlassCodes => "glass codes",
            Self::ServingOrder => "serving order",
            Self::Seats => "seats",
            Self::VariantNumbers => "variant numbers",
            Self::RehearsalCandidate => "rehearsal candidate",
            Self::Practice => "practice",
            Self::CrossCheck => "cross check",
            Self::ScriptSharing => "script sharing",
            Self::ChanceScore => "chance score",
            Self::PanelResample => "panel resample",
            Self::CandidateResample => "candidate resample",
            Self::KitSeal => "kit seal",
        }
    }
}

/// The domain of this way of drawing. A change of the way gets a new number.
pub const DOMAIN: &str = "valinch draw 1";

/// The 32-byte ChaCha20 key of a stream.
#[must_use]
pub fn stream_key(seed: &ExamSeed, purpose: Purpose, index: u64) -> [u8; 32] {
    let index = index.to_be_bytes();
    let parts: [&[u8]; 4] = [
        DOMAIN.as_bytes(),
        seed.bytes(),
        purpose.name().as_bytes(),
        &index,
    ];
    let mut hash = Sha256::new();
    for part in parts {
        // No part is longer than a few dozen bytes.
        hash.update(u32::try_from(part.len()).unwrap_or(u32::MAX).to_be_bytes());
        hash.update(part);
    }
    hash.finalize().into()
}

/// A stream of random numbers for one purpose.
#[derive(Clone)]
pub struct Stream(ChaCha20Rng);

impl Stream {
    /// The stream of this seed for this purpose and index.
    #[must_use]
    pub fn new(seed: &ExamSeed, purpose: Purpose, index: u64) -> Self {
        Self(ChaCha20Rng::from_seed(stream_key(seed, purpose, index)))
    }

    /// The next 64 bits.
    pub fn next_u64(&mut self) -> u64 {
        self.0.next_u64()
    }

    /// A number from 0 to `below - 1`, each equally likely; 0 where `below` is 0 or 1.
    pub fn below(&mut self, below: u64) -> u64 {
        if below < 2 {
            return 0;
        }
        // 2^64 mod n, without 128-bit numbers.
        let excess = (u64::MAX % below + 1) % below;
        loop {
            let drawn = self.next_u64();
            if drawn <= u64::MAX - excess {
                return drawn % below;
            }
        }
    }

    /// A place in a slice of this length; 0 for an empty one.
    pub fn index(&mut self, length: usize) -> usize {
        // Lengths fit 64 bits on every machine, and what lies below one fits back.
        usize::try_from(self.below(length as u64)).unwrap_or(0)
    }

    /// Shuffles in place, every order equally likely.
    pub fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            let other = self.index(last + 1);
            items.swap(last, other);
        }
    }

    /// A number from 0 up to but not 1, in steps of 2^-53.
    pub fn unit(&mut self) -> f64 {
        (self.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }
}

impl std::fmt::Debug for Stream {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Stream(secret)")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use std::collections::BTreeSet;

    #[test]
    fn purposes_have_names_of_their_own() {
        let names: BTreeSet<_> = Purpose::ALL.iter().map(|p| p.name()).collect();
        assert_eq!(names.len(), Purpose::ALL.len());
    }

    proptest! {
        #[test]
        fn a_number_below_is_below(seed in any::<[u8; 32]>(), n in 1_u64..) {
            let mut stream = Stream::new(&ExamSeed::from_bytes(seed), Purpose::Seats, 0);
            prop_assert!(stream.below(n) < n);
        }

        #[test]
        fn a_shuffle_keeps_everything(seed in any::<[u8; 32]>(), length in 0_usize..50) {
            let mut items: Vec<_> = (0..length).collect();
            Stream::new(&ExamSeed::from_bytes(seed), Purpose::Seats, 0).shuffle(&mut items);
            items.sort_unstable();
            prop_assert_eq!(items, (0..length).collect::<Vec<_>>());
        }
    }

    #[test]
    fn all_orders_of_three_come_about_equally_often() {
        let seed = ExamSeed::from_bytes([7; 32]);
        let mut stream = Stream::new(&seed, Purpose::Seats, 3);
        let mut counts = std::collections::BTreeMap::new();
        for _ in 0..6000 {
            let mut order = [0, 1, 2];
            stream.shuffle(&mut order);
            *counts.entry(order).or_insert(0_i32) += 1;
        }
        // Chi-squared with 5 degrees of freedom: 20.5 is exceeded once in a thousand seeds; this
        // seed is fixed, so the test says that this stream is sound, not that luck held.
        let chi: f64 = counts
            .values()
            .map(|&c| f64::from(c - 1000).powi(2) / 1000.0)
            .sum();
        assert!(counts.len() == 6 && chi < 20.5, "{counts:?}");
    }
}
