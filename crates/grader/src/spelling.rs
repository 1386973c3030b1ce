//! Whether a written word is a small slip of a known one.

/// The longest text that is compared, in bytes.
pub const LONGEST: usize = 200;

/// Whether a folded text is a slip of a folded form: one letter wrong, missing, doubled or swapped
/// with its neighbour in forms of five to seven letters, two in longer ones (Damerau and
/// Levenshtein), the first letter right. Nothing with digits is ever a slip.
#[must_use]
pub fn is_slip(written: &str, form: &str) -> bool {
    let digits = |text: &str| text.bytes().any(|b| b.is_ascii_digit());
    if digits(written) || digits(form) || form.len() > LONGEST || written.len() > LONGEST {
        return false;
    }
    let reach = match form.chars().filter(|c| *c != ' ').count() {
        0..=4 => return false,
        5..=7 => 1,
        _ => 2,
    };
    written.chars().next() == form.chars().next()
        && written.len().abs_diff(form.len()) <= 4 * reach
        && strsim::damerau_levenshtein(written, form) <= reach
}

#[cfg(test)]
mod tests {
    use super::is_slip;

    #[test]
    fn slips_are_small_and_never_numbers() {
        assert!(is_slip("congner", "congener") && is_slip("moladses", "molasses"));
        assert!(is_slip("agvae", "agave") && !is_slip("agvea", "agave"));
        assert!(!is_slip("run", "rum") && !is_slip("herry", "sherry"));
        assert!(!is_slip("37.4 percent", "37.5 percent"));
        assert!(!is_slip(&"a".repeat(5000), "apple") && !is_slip("", "apple"));
    }
}
