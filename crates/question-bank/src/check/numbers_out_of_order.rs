//! L10: all options are numbers and stand neither in rising nor in falling order, or will be
//! shuffled out of it when printed (HDR 21).

use base::Fault;

use super::choice::choice;
use crate::question::Question;

/// Finds numbers out of order.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let choice = choice(question)?;
    let numbers: Option<Vec<f64>> = choice.options.iter().map(|o| number(&o.text)).collect();
    let numbers = numbers.filter(|numbers| numbers.len() >= 2)?;
    let rising = numbers.is_sorted();
    let falling = numbers.iter().rev().is_sorted();
    let (what, hint) = if !rising && !falling {
        (
            "stand out of order",
            "put them in rising order and add \"keep_order: true\"",
        )
    } else if !choice.keep_order {
        ("will be shuffled out of order", "add \"keep_order: true\"")
    } else {
        return None;
    };
    Some(
        Fault::weakness(
            "L10-numeric-order",
            question.place.clone(),
            format!(
                "the numbers among the options of \"{}\" {what} (L10)",
                question.id
            ),
        )
        .hint(hint),
    )
}

/// The number that an option is: digits first, perhaps a sign, and no digit in the unit behind.
fn number(text: &str) -> Option<f64> {
    let text = text.trim().replace('\u{2212}', "-");
    let end = text
        .char_indices()
        .find(|(place, c)| {
            let sign = *place == 0 && matches!(c, '-' | '+');
            !(c.is_ascii_digit() || matches!(c, '.' | ',') || sign)
        })
        .map_or(text.len(), |(place, _)| place);
    let (digits, unit) = text.split_at_checked(end)?;
    if unit.chars().any(|c| c.is_ascii_digit()) {
        return None;
    }
    let digits = digits.trim_end_matches(['.', ',']);
    // A comma before three digits groups thousands; else it is a decimal mark.
    let plain = match digits.rsplit_once(',') {
        Some((_, after)) if after.len() == 3 => digits.replace(',', ""),
        Some(_) => digits.replace(',', "."),
        None => digits.to_owned(),
    };
    plain.parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;
    use crate::question_kind::QuestionKind;

    #[test]
    fn numbers_are_read_with_their_units() {
        for (text, read) in [
            ("43 %", Some(43.0)),
            ("37.5 % vol", Some(37.5)),
            ("37,5 % vol", Some(37.5)),
            ("1,200 l", Some(1200.0)),
            ("−6 °C", Some(-6.0)),
            ("2009", Some(2009.0)),
            ("10 to 20", None),
            ("about 5", None),
            ("%", None),
        ] {
            assert_eq!(number(text), read, "{text}");
        }
    }

    #[test]
    fn order_is_kept_or_told() {
        let found = |options: &[&str]| find(&best_answer("What?", options)).is_some();
        assert!(found(&["43 %", "40 %", "41 %"]));
        assert!(!found(&["43 %", "41 %", "40 %"]));
        assert!(!found(&["3 years", "5 years", "10 years"]));
        assert!(!found(&["3 years", "none", "1 year"]));
        let mut question = best_answer("What?", &["3", "5", "10"]);
        if let QuestionKind::BestAnswer(kind) = &mut question.kind {
            kind.keep_order = false;
        }
        assert!(find(&question).is_some());
    }
}
