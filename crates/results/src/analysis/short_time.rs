//! Whether time ran out, told only where what was not reached is told apart from what was left out.

use statistics::items::speededness::{Speededness, speededness};

use super::LEVEL;
use super::responses::{Answer, QuestionSet, Responses};

/// How far the candidates of the largest set came, in the order of its questions; none where nobody
/// has a question that was not reached.
pub(super) fn short_time(
    responses: &Responses,
    set: Option<&QuestionSet>,
) -> Option<Result<Speededness, String>> {
    let set = set?;
    let reached: Vec<usize> = set
        .candidates
        .iter()
        .filter_map(|place| responses.candidates.get(*place))
        .map(|candidate| {
            let last = set.questions.iter().rposition(|place| {
                let answer = candidate.answers.get(*place);
                answer.is_some_and(|answer| *answer != Answer::NotReached)
            });
            last.map_or(0, |last| last + 1)
        })
        .collect();
    if reached
        .iter()
        .all(|reached| *reached == set.questions.len())
    {
        return None;
    }
    let made = speededness(&reached, set.questions.len(), LEVEL);
    Some(
        made.map_err(|why| {
            format!("No word on whether time was short: {why}. Instead: ask the room.")
        }),
    )
}

/// What to say of it first; nothing where time sufficed.
pub(super) fn in_words(made: &Speededness) -> Option<String> {
    (!made.unspeeded).then(|| {
        format!(
            "Time was short: {} of {} reached the last question, and the slowest {} of {}. A paper is \
             unspeeded where 80 in 100 reach the end and all three quarters (Swineford 1974); the last \
             questions measure speed too.",
            made.finished.successes, made.finished.n, made.least_reached, made.items
        )
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::responses::tests::right_or_wrong;
    use super::*;

    #[test]
    fn what_was_left_out_is_no_want_of_time() {
        let rows: Vec<&[u8]> = vec![&[1, 0, 1, 8]; 12];
        let mut made = right_or_wrong(&rows);
        let sets = made.sets();
        assert!(short_time(&made, sets.first()).is_none());
        for candidate in made.candidates.iter_mut().take(3) {
            candidate.answers[3] = Answer::NotReached;
        }
        let figures = short_time(&made, sets.first()).unwrap().unwrap();
        assert_eq!((figures.finished.successes, figures.least_reached), (9, 3));
        assert!(
            in_words(&figures)
                .unwrap()
                .contains("9 of 12 reached the last")
        );
        made.candidates.truncate(9);
        let sets = made.sets();
        assert!(short_time(&made, sets.first()).unwrap().is_err());
    }
}
