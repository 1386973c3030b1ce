//! A fourth digit that shows every single wrong digit and every swap of neighbours.
//!
//! Source: H. M. Damm, "Total anti-symmetrische Quasigruppen", thesis, Marburg 2004: the totally
//! anti-symmetric quasigroup of order 10 as published there (table from memory; its properties are
//! proved by trying every case in the tests, as is the published example 572 with check digit 4).

/// The quasigroup: row is the interim digit, column the next digit.
const QUASIGROUP: [[u8; 10]; 10] = [
    [0, 3, 1, 7, 5, 9, 8, 6, 4, 2],
    [7, 0, 9, 2, 1, 5, 4, 8, 6, 3],
    [4, 2, 0, 6, 8, 7, 1, 3, 5, 9],
    [1, 7, 5, 0, 9, 8, 3, 4, 2, 6],
    [6, 1, 2, 3, 0, 4, 5, 9, 7, 8],
    [3, 6, 7, 4, 2, 0, 9, 5, 8, 1],
    [5, 8, 6, 9, 7, 2, 0, 1, 3, 4],
    [8, 9, 4, 5, 3, 6, 2, 0, 1, 7],
    [9, 4, 3, 8, 6, 1, 7, 2, 0, 5],
    [2, 5, 8, 1, 4, 3, 6, 7, 9, 0],
];

/// The check digit of a row of digits; none where something else than digits stands.
#[must_use]
pub fn check_digit(digits: &str) -> Option<char> {
    let interim = interim(digits)?;
    Some(char::from(b'0' + interim))
}

/// Whether a row of digits ends in its check digit.
#[must_use]
pub fn has_valid_check_digit(code: &str) -> bool {
    code.len() > 1 && interim(code) == Some(0)
}

fn interim(digits: &str) -> Option<u8> {
    let mut interim = 0_u8;
    for digit in digits.chars() {
        let digit = usize::try_from(digit.to_digit(10)?).ok()?;
        interim = *QUASIGROUP.get(usize::from(interim))?.get(digit)?;
    }
    Some(interim)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn coded(number: u32) -> String {
        let digits = format!("{number:03}");
        let check = check_digit(&digits).unwrap();
        format!("{digits}{check}")
    }

    #[test]
    fn the_published_example() {
        assert_eq!(check_digit("572"), Some('4'));
        assert!(has_valid_check_digit("5724"));
        assert!(!has_valid_check_digit("5723"));
        assert!(!has_valid_check_digit(""));
        assert_eq!(check_digit("5x2"), None);
    }

    #[test]
    fn every_single_wrong_digit_is_caught() {
        for number in 0..1000 {
            let code = coded(number);
            assert!(has_valid_check_digit(&code));
            for place in 0..4 {
                for wrong in b'0'..=b'9' {
                    let mut bytes = code.clone().into_bytes();
                    if bytes[place] != wrong {
                        bytes[place] = wrong;
                        let wrong = String::from_utf8(bytes).unwrap();
                        assert!(!has_valid_check_digit(&wrong), "{code} read as {wrong}");
                    }
                }
            }
        }
    }

    #[test]
    fn every_swap_of_neighbours_is_caught() {
        for number in 0..1000 {
            let code = coded(number);
            for place in 0..3 {
                let mut bytes = code.clone().into_bytes();
                if bytes[place] != bytes[place + 1] {
                    bytes.swap(place, place + 1);
                    let swapped = String::from_utf8(bytes).unwrap();
                    assert!(!has_valid_check_digit(&swapped), "{code} read as {swapped}");
                }
            }
        }
    }
}
