//! The head of a ledger: how many entries, and the root over them. Whoever copied a head finds
//! every later change of what stood before it.

use std::fmt;
use std::str::FromStr;

use crate::hex::{Digest32, digest_from_words, to_groups};

/// The head, written `12:ABCD-EFGH-…` (entries, then the root in 13 groups).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Head {
    /// How many entries.
    pub size: u64,
    /// The root over them (RFC 6962).
    pub root: Digest32,
}

impl fmt::Display for Head {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}", self.size, to_groups(&self.root))
    }
}

/// A text that is no head.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("a ledger head is the number of entries, a colon and 13 groups of four, as printed")]
pub struct BadHead;

impl FromStr for Head {
    type Err = BadHead;
    fn from_str(text: &str) -> Result<Self, BadHead> {
        let (size, root) = text.split_once(':').ok_or(BadHead)?;
        Ok(Self {
            size: size.trim().parse().map_err(|_| BadHead)?,
            root: digest_from_words(root).ok_or(BadHead)?,
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_head_is_read_as_printed() {
        let head = Head {
            size: 12,
            root: [0xa5; 32],
        };
        assert_eq!(head.to_string().parse::<Head>().unwrap(), head);
        assert!("12".parse::<Head>().is_err());
        assert!("x:AAAA".parse::<Head>().is_err());
    }
}
