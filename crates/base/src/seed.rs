//! The one secret number from which everything random in an exam is drawn.

use std::fmt;
use std::str::FromStr;

use zeroize::{Zeroize, Zeroizing};

/// 32 bytes, written as 64 hexadecimal digits (spaces and hyphens between groups are read too). Its
/// memory is cleared when it is dropped.
#[derive(Clone, PartialEq, Eq)]
pub struct ExamSeed([u8; 32]);

/// Why a text is no seed.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("a seed is 64 hexadecimal digits (32 bytes); {0}")]
pub struct BadSeed(String);

impl ExamSeed {
    /// A seed from its bytes.
    #[must_use]
    pub const fn from_bytes(bytes: [u8; 32]) -> Self {
        Self(bytes)
    }
    /// The bytes.
    #[must_use]
    pub const fn bytes(&self) -> &[u8; 32] {
        &self.0
    }
    /// 64 lower-case hexadecimal digits. A method and not `Display`, so that no message writes a
    /// seed by accident.
    #[must_use]
    pub fn to_hex(&self) -> Zeroizing<String> {
        const DIGITS: [char; 16] = [
            '0', '1', '2', '3', '4', '5', '6', '7', '8', '9', 'a', 'b', 'c', 'd', 'e', 'f',
        ];
        // Long enough from the start, so that no copy is left behind where it grew.
        let mut text = Zeroizing::new(String::with_capacity(64));
        for byte in self.0 {
            for half in [byte >> 4, byte & 15] {
                text.extend(DIGITS.get(usize::from(half)));
            }
        }
        text
    }
}

impl Drop for ExamSeed {
    fn drop(&mut self) {
        self.0.zeroize();
    }
}

impl fmt::Debug for ExamSeed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("ExamSeed(secret)")
    }
}

impl FromStr for ExamSeed {
    type Err = BadSeed;
    fn from_str(text: &str) -> Result<Self, BadSeed> {
        let mut digits = Zeroizing::new(Vec::with_capacity(64));
        for c in text.chars().filter(|c| !matches!(c, ' ' | '-')) {
            match c.to_digit(16).and_then(|d| u8::try_from(d).ok()) {
                Some(digit) => digits.push(digit),
                None => return Err(BadSeed(format!("'{}' is not one", c.escape_default()))),
            }
        }
        if digits.len() != 64 {
            return Err(BadSeed(format!("{} digits were given", digits.len())));
        }
        let mut bytes = [0; 32];
        for (byte, pair) in bytes.iter_mut().zip(digits.chunks(2)) {
            *byte = pair.iter().fold(0, |high, low| high * 16 + low);
        }
        Ok(Self(bytes))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn hex_is_read_as_written() {
        let text = "000102030405060708090a0b0c0d0e0f101112131415161718191a1b1c1d1e1f";
        let seed: ExamSeed = text.parse().unwrap();
        assert_eq!(*seed.to_hex(), text);
        assert_eq!(seed.bytes()[31], 31);
        assert!("00".parse::<ExamSeed>().is_err());
        assert!("zz".repeat(32).parse::<ExamSeed>().is_err());
        assert_eq!(format!("{seed:?}"), "ExamSeed(secret)");
    }
}
