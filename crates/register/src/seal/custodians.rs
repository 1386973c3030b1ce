//! A secret shared out among custodians: any `k` of `n` give it back, fewer learn nothing.
//!
//! Shamir 1979, byte by byte over the field of 256 elements with the polynomial of AES; a share is
//! the custodian's number (1 to 255) and one byte for each byte of the secret. The arithmetic stands
//! here, since the kept library that was tried (blahaj) works in another field and does not meet
//! the published vectors (`tests/published/crypto.rs`).

use std::fmt::Write;

use rand::TryRng;
use rand::rngs::SysRng;
use sha2::{Digest, Sha256};
use zeroize::Zeroizing;

use crate::hex::{from_groups, to_groups};

/// Why shares do not give a secret, in a sentence without its full stop.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct BadShare(pub String);

fn bad<T>(why: &str) -> Result<T, BadShare> {
    Err(BadShare(why.to_owned()))
}

/// One custodian's share.
#[derive(Clone, PartialEq, Eq)]
pub struct Share {
    /// How many are needed.
    pub needed: u8,
    /// How many were made.
    pub made: u8,
    bytes: Zeroizing<Vec<u8>>,
}

impl std::fmt::Debug for Share {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Share {} of {}", self.number(), self.made)
    }
}

/// The first line of a share's file.
const FORMAT: &str = "valinch share 1";

impl Share {
    /// The custodian's number, from 1.
    #[must_use]
    pub fn number(&self) -> u8 {
        self.bytes.first().copied().unwrap_or(0)
    }
    /// As a text to print or to keep in a file; its last line shows a slip of the pen.
    #[must_use]
    pub fn to_text(&self) -> Zeroizing<String> {
        let groups = Zeroizing::new(to_groups(&self.bytes));
        // More than the words around the groups take: a text that grew would leave copies behind.
        let mut text = Zeroizing::new(String::with_capacity(groups.len() + 128));
        // Writing to a text cannot fail.
        let _ = write!(
            text,
            "{FORMAT}\nshare {} of {}, {} needed\n{}\ncheck {}\n",
            self.number(),
            self.made,
            self.needed,
            *groups,
            check_of(self.needed, &self.bytes)
        );
        text
    }
    /// Reads such a text.
    ///
    /// # Errors
    /// When it is none, or has a slip in it.
    pub fn read(text: &str) -> Result<Self, BadShare> {
        let mut lines = text.lines().map(str::trim).filter(|line| !line.is_empty());
        if lines.next() != Some(FORMAT) {
            return bad("this is no share");
        }
        let numbers: Vec<u8> = lines
            .next()
            .unwrap_or("")
            .split(|c: char| !c.is_ascii_digit())
            .filter_map(|word| word.parse().ok())
            .collect();
        let [number, made, needed] = numbers[..] else {
            return bad("its second line does not say which share it is");
        };
        let groups = lines.next().unwrap_or("");
        let check = lines
            .next()
            .and_then(|line| line.strip_prefix("check "))
            .unwrap_or("");
        match from_groups(groups).map(Zeroizing::new) {
            Some(bytes)
                if bytes.first() == Some(&number) && check_of(needed, &bytes) == check.trim() =>
            {
                Ok(Self {
                    needed,
                    made,
                    bytes,
                })
            }
            Some(_) | None => bad("there is a slip in it: compare it with what was handed out"),
        }
    }
}

fn check_of(needed: u8, bytes: &[u8]) -> String {
    let digest = Sha256::new()
        .chain_update([needed])
        .chain_update(bytes)
        .finalize();
    to_groups(digest.get(..5).unwrap_or(&[]))
}

/// Shares a secret out among `made` custodians, of whom `needed` give it back.
///
/// # Errors
/// When fewer than two are needed, or more than there are.
pub fn split(secret: &[u8], needed: u8, made: u8) -> Result<Vec<Share>, BadShare> {
    if needed < 2 || needed > made {
        return bad("at least two custodians are needed, and no more than there are");
    }
    // One polynomial for each byte: the byte itself, then random coefficients.
    let degree = usize::from(needed) - 1;
    let mut random = Zeroizing::new(vec![0; secret.len() * degree]);
    SysRng
        .try_fill_bytes(&mut random)
        .map_err(|why| BadShare(format!("the machine gives no random numbers: {why}")))?;
    let share = |number: u8| {
        let values = secret
            .iter()
            .zip(random.chunks(degree))
            .map(|(byte, coefficients)| {
                let higher = coefficients.iter().rev();
                add(
                    *byte,
                    times(number, higher.fold(0, |sum, c| add(*c, times(number, sum)))),
                )
            });
        Share {
            needed,
            made,
            bytes: Zeroizing::new(std::iter::once(number).chain(values).collect()),
        }
    };
    Ok((1..=made).map(share).collect())
}

/// The secret from `needed` shares, each a number and the bytes after it.
///
/// # Errors
/// When they are too few or do not belong together.
pub fn recombine<S: AsRef<[u8]>>(shares: &[S], needed: u8) -> Result<Zeroizing<Vec<u8>>, BadShare> {
    let mut read: Vec<(u8, Zeroizing<Vec<u8>>)> = Vec::new();
    for share in shares {
        match share.as_ref() {
            [] | [0, ..] => return bad("a share numbered 0 is none"),
            [number, values @ ..] => {
                if !read.iter().any(|(other, _)| other == number) {
                    read.push((*number, Zeroizing::new(values.to_vec())));
                }
            }
        }
    }
    read.truncate(usize::from(needed));
    let length = read.first().map_or(0, |(_, values)| values.len());
    if read.len() < usize::from(needed) {
        let given = read.len();
        return bad(&format!(
            "{given} different shares are too few, {needed} are needed"
        ));
    }
    if length == 0 || read.iter().any(|(_, values)| values.len() != length) {
        return bad("these shares do not belong together");
    }
    // The value at 0 of the polynomial through all points (Lagrange).
    let mut secret = Zeroizing::new(vec![0; length]);
    for (number, values) in &read {
        let others = read.iter().filter(|(other, _)| other != number);
        let weight = others.fold(1, |product, (other, _)| {
            times(product, times(*other, inverse(add(*other, *number))))
        });
        for (byte, value) in secret.iter_mut().zip(values.iter()) {
            *byte = add(*byte, times(weight, *value));
        }
    }
    Ok(secret)
}

/// The sum in the field, and the difference.
const fn add(a: u8, b: u8) -> u8 {
    a ^ b
}

/// The product in the field of 256 elements with the polynomial of AES (FIPS 197, 4.2).
const fn times(a: u8, b: u8) -> u8 {
    let (mut a, mut b, mut product) = (a, b, 0);
    while b > 0 {
        product ^= a * (b & 1);
        a = (a << 1) ^ (0x1b * (a >> 7));
        b >>= 1;
    }
    product
}

/// What gives 1 in a product: the 254th power.
const fn inverse(a: u8) -> u8 {
    let (mut power, mut left, mut square) = (1, 254_u8, a);
    while left > 0 {
        if left & 1 == 1 {
            power = times(power, square);
        }
        square = times(square, square);
        left >>= 1;
    }
    power
}

impl AsRef<[u8]> for Share {
    fn as_ref(&self) -> &[u8] {
        &self.bytes
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn enough_shares_give_the_secret_back_and_fewer_do_not() {
        let shares = split(b"a secret of some length", 3, 5).unwrap();
        assert_eq!(shares.len(), 5);
        let texts: Vec<_> = shares.iter().map(Share::to_text).collect();
        let again: Vec<Share> = texts
            .iter()
            .map(|text| Share::read(text).unwrap())
            .collect();
        assert_eq!(again, shares);
        let found = recombine(&again[1..4], 3).unwrap();
        assert_eq!(found.as_slice(), b"a secret of some length");
        assert!(recombine(&again[..2], 3).is_err());
        let doubled = [again[0].clone(), again[0].clone(), again[1].clone()];
        assert!(recombine(&doubled, 3).is_err());
        assert!(split(b"x", 1, 5).is_err() && split(b"x", 4, 3).is_err());
    }

    #[test]
    fn the_field_is_that_of_aes() {
        // FIPS 197, 4.2.
        assert_eq!((times(0x57, 0x83), times(0x57, 0x13)), (0xc1, 0xfe));
        for a in 1..=255 {
            assert_eq!(times(a, inverse(a)), 1);
        }
    }

    #[test]
    fn a_slip_of_the_pen_is_found() {
        let share = &split(b"secret", 2, 3).unwrap()[0];
        let text = share.to_text();
        for (at, c) in text
            .char_indices()
            .filter(|(_, c)| c.is_ascii_alphanumeric())
        {
            let other = if c == 'A' { 'C' } else { 'A' };
            let mut slip = text.to_string();
            slip.replace_range(at..=at, &other.to_string());
            let read = Share::read(&slip);
            // "share 1 of 3" may also say how many were made; nothing depends on it.
            assert!(
                read.is_err() || read.unwrap().as_ref() == share.as_ref(),
                "{slip}"
            );
        }
        assert_eq!(format!("{share:?}"), "Share 1 of 3");
    }
}
