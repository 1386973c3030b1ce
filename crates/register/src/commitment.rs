//! Commitments: a hash that binds to a message without showing it.
//!
//! SHA-256 over three fields, each led by its length as a 64-bit big-endian number: domain, salt,
//! message. The lengths keep one field from running into the next; the salt, secret until the
//! message is shown, keeps anybody from trying out messages.

use hkdf::Hkdf;
use sha2::{Digest, Sha256};

use crate::hex::Digest32;

/// The commitment to a message.
#[must_use]
pub fn commit(domain: &str, salt: &[u8], message: &[u8]) -> Digest32 {
    let mut hash = Sha256::new();
    for field in [domain.as_bytes(), salt, message] {
        hash.update((field.len() as u64).to_be_bytes());
        hash.update(field);
    }
    hash.finalize().into()
}

/// A secret of 32 bytes made from another: HKDF with SHA-256 (RFC 5869).
#[must_use]
pub fn derive(secret: &[u8], salt: &[u8], info: &[u8]) -> Digest32 {
    let mut out = [0; 32];
    derive_into(secret, salt, info, &mut out);
    out
}

/// The same at any length up to 8,160 bytes (255 times 32), which is all that HKDF gives; beyond
/// that `out` is left as it is.
pub fn derive_into(secret: &[u8], salt: &[u8], info: &[u8], out: &mut [u8]) {
    // The only failure is a length beyond the bound above.
    let _ = Hkdf::<Sha256>::new(Some(salt), secret).expand(info, out);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_do_not_run_together() {
        assert_ne!(commit("ab", b"c", b""), commit("a", b"bc", b""));
        assert_ne!(commit("a", b"salt", b"x"), commit("a", b"salx", b"x"));
        assert_ne!(derive(b"s", b"a", b"1"), derive(b"s", b"a", b"2"));
        assert_ne!(derive(b"s", b"a", b"1"), [0; 32]);
    }
}
