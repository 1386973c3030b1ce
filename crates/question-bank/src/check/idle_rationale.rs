//! L16: the reason given for an option says nothing: it repeats the option, only says that it is
//! right or wrong, or stands under the key and under a distractor alike. A distractor is worth its
//! place by the mistake that leads to it (HDR 29 and 30: plausible, from typical errors).

use base::Fault;

use super::choice::choice;
use crate::question::Question;
use crate::question_kind::AnswerOption;
use crate::word_match::fold;

/// Reasons that only give the verdict, folded.
const VERDICTS: [&str; 16] = [
    "correct",
    "false",
    "incorrect",
    "it is false",
    "it is right",
    "it is true",
    "it is wrong",
    "no",
    "not correct",
    "not right",
    "not true",
    "right",
    "this is right",
    "this is wrong",
    "true",
    "wrong",
];

/// Finds a reason that gives none.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let options = choice(question)?.options;
    let of_keys: Vec<String> = options
        .iter()
        .filter(|option| option.key)
        .map(|option| fold(&option.why))
        .collect();
    let (option, what) = options
        .iter()
        .find_map(|option| Some((option, idle(option, &of_keys)?)))?;
    Some(
        Fault::weakness(
            "L16-idle-rationale",
            question.place.clone(),
            format!(
                "the reason under \"{}\" of \"{}\" {what} (L16, HDR 30)",
                option.text, question.id
            ),
        )
        .hint("say which mistake leads there, or why it is right: candidates read it afterwards"),
    )
}

fn idle(option: &AnswerOption, of_keys: &[String]) -> Option<&'static str> {
    let why = fold(&option.why);
    if VERDICTS.contains(&why.as_str()) {
        Some("only says whether it is right")
    } else if why == fold(&option.text) {
        Some("repeats the option")
    } else if !option.key && of_keys.contains(&why) {
        Some("is that of the key")
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;
    use crate::question_kind::QuestionKind;

    #[test]
    fn reasons_that_give_none_are_found() {
        let found = |of_key: &str, of_other: &str| {
            let mut question = best_answer("What?", &["Copper", "Steel"]);
            if let QuestionKind::BestAnswer(kind) = &mut question.kind {
                for (option, why) in kind.options.iter_mut().zip([of_key, of_other]) {
                    option.why = why.into();
                }
            }
            find(&question).is_some()
        };
        assert!(found("It binds sulphur.", "Wrong."));
        assert!(found("Copper.", "It binds nothing."));
        assert!(found("It binds sulphur.", "It binds sulphur"));
        assert!(!found("It binds sulphur.", "It binds nothing."));
    }
}
