//! Is a passphrase strong enough to lock a key?

use crate::failure::Failure;

/// The least score of the estimate, from 0 to 4: "safely unguessable, moderate protection from
/// offline slow-hash scenario" in the words of its authors (Wheeler 2016).
const LEAST: u8 = 3;

/// Refuses a weak passphrase, by zxcvbn's estimate of how many guesses it withstands. Words that
/// stand near the exam count as known to whoever guesses.
///
/// # Errors
/// When it is weak, with what would make it stronger.
pub fn check_passphrase(passphrase: &str, near: &[&str]) -> Result<(), Failure> {
    let estimate = zxcvbn::zxcvbn(passphrase, near);
    if u8::from(estimate.score()) >= LEAST {
        return Ok(());
    }
    let hints: Vec<String> = estimate
        .feedback()
        .map(|feedback| {
            feedback
                .suggestions()
                .iter()
                .map(ToString::to_string)
                .collect()
        })
        .unwrap_or_default();
    let hint = if hints.is_empty() {
        "four or more words that do not belong together are strong and easy to keep".to_owned()
    } else {
        hints.join(" ")
    };
    Err(Failure::Refused {
        what: format!(
            "this passphrase is weak: about 10^{:.0} guesses find it",
            estimate.guesses_log10()
        ),
        hint,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weak_ones_are_refused_with_a_hint() {
        for weak in ["", "whisky", "password1", "certificate", "12345678901"] {
            assert!(check_passphrase(weak, &["certificate"]).is_err(), "{weak}");
        }
        assert!(check_passphrase("heron lantern forty gravel", &[]).is_ok());
    }
}
