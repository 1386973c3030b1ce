//! Digests as text: hexadecimal digits, and groups of four that a person can read out and type.

/// 32 bytes: a SHA-256 digest.
pub type Digest32 = [u8; 32];

/// The letters and digits of RFC 4648 base 32.
const BASE32: &[u8; 32] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";

/// Lower-case hexadecimal digits.
#[must_use]
pub fn to_hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The bytes of hexadecimal digits; none where something else stands there or a digit is missing.
#[must_use]
pub fn from_hex(text: &str) -> Option<Vec<u8>> {
    let digits: Option<Vec<u8>> = text
        .chars()
        .map(|c| c.to_digit(16).and_then(|d| u8::try_from(d).ok()))
        .collect();
    let digits = digits?;
    let (pairs, rest) = digits.as_chunks::<2>();
    rest.is_empty()
        .then(|| pairs.iter().map(|[high, low]| high * 16 + low).collect())
}

/// A digest from 64 lower-case hexadecimal digits, as this program writes it.
#[must_use]
pub fn digest_from_hex(text: &str) -> Option<Digest32> {
    if text.chars().any(|c| c.is_ascii_uppercase()) {
        return None;
    }
    Digest32::try_from(from_hex(text)?).ok()
}

/// Bytes in groups of four letters and digits (RFC 4648 base 32 without padding), parted by hyphens.
#[must_use]
pub fn to_groups(bytes: &[u8]) -> String {
    // Room for all of it from the beginning: where the bytes are secret, a text that grew would
    // leave copies behind that nobody wipes.
    let wanted = bytes.len().saturating_mul(8).div_ceil(5);
    let mut groups = String::with_capacity(wanted + wanted / 4);
    let mut held: u32 = 0;
    let mut bits = 0;
    let mut written = 0_u8;
    let mut push = |value: u32| {
        if written == 4 {
            groups.push('-');
            written = 0;
        }
        groups.push(letter(value));
        written += 1;
    };
    for byte in bytes {
        held = (held << 8) | u32::from(*byte);
        bits += 8;
        while bits >= 5 {
            bits -= 5;
            push(held >> bits);
        }
        held &= (1 << bits) - 1;
    }
    if bits > 0 {
        push(held << (5 - bits));
    }
    groups
}

fn letter(value: u32) -> char {
    let place = usize::try_from(value & 31).unwrap_or(0);
    BASE32.get(place).map_or('?', |b| char::from(*b))
}

/// The bytes of groups as [`to_groups`] writes them. Small letters, spaces and hyphens are read too;
/// 0 is read as O and 8 as B, which do not occur else. None where anything else stands there, or
/// the last letter holds bits that belong to no byte.
#[must_use]
pub fn from_groups(text: &str) -> Option<Vec<u8>> {
    // As in `to_groups`: no copy is left behind.
    let mut bytes = Vec::with_capacity(text.len());
    let mut held: u32 = 0;
    let mut bits = 0;
    for c in text
        .chars()
        .filter(|c| !matches!(c, ' ' | '-' | '\n' | '\r' | '\t'))
    {
        let c = match c.to_ascii_uppercase() {
            '0' => 'O',
            '8' => 'B',
            other => other,
        };
        let value = BASE32.iter().position(|b| char::from(*b) == c)?;
        held = (held << 5) | u32::try_from(value).ok()?;
        bits += 5;
        if bits >= 8 {
            bits -= 8;
            bytes.push(u8::try_from(held >> bits).ok()?);
            held &= (1 << bits) - 1;
        }
    }
    (bits < 5 && held == 0).then_some(bytes)
}

/// A digest as a person types it: 64 hexadecimal digits, or 13 groups.
#[must_use]
pub fn digest_from_words(text: &str) -> Option<Digest32> {
    let bare: String = text.chars().filter(|c| !matches!(c, ' ' | '-')).collect();
    let bytes = if bare.len() == 64 {
        from_hex(&bare)
    } else {
        from_groups(&bare)
    };
    Digest32::try_from(bytes?).ok()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn groups_are_those_of_rfc_4648() {
        // Section 10 of RFC 4648, padding left out.
        for (bytes, groups) in [
            ("", ""),
            ("f", "MY"),
            ("fo", "MZXQ"),
            ("foo", "MZXW-6"),
            ("foob", "MZXW-6YQ"),
            ("fooba", "MZXW-6YTB"),
            ("foobar", "MZXW-6YTB-OI"),
        ] {
            assert_eq!(to_groups(bytes.as_bytes()), groups);
            assert!(to_groups(bytes.as_bytes()).capacity() <= groups.len() + 1);
            assert_eq!(from_groups(groups).unwrap(), bytes.as_bytes());
        }
    }

    #[test]
    fn a_digest_is_read_as_it_is_typed() {
        let digest: Digest32 = std::array::from_fn(|i| u8::try_from(i * 7).unwrap());
        let groups = to_groups(&digest);
        assert_eq!(groups.split('-').count(), 13);
        assert_eq!(digest_from_words(&groups.to_lowercase()), Some(digest));
        assert_eq!(digest_from_words(&groups.replace('-', " ")), Some(digest));
        assert_eq!(
            digest_from_words(&to_hex(&digest).to_uppercase()),
            Some(digest)
        );
        assert_eq!(digest_from_words("MZXW"), None);
        assert_eq!(digest_from_words("1!"), None);
        assert_eq!(from_hex("abc"), None);
    }
}
