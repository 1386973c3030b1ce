//! Reliability seen in other ways than by alpha: halves, bounds, and alpha without a question.

use statistics::Refusal;
use statistics::ScoreTable;
use statistics::reliability::alpha_if_deleted::alpha_if_deleted;
use statistics::reliability::cronbach_alpha::cronbach_alpha;
use statistics::reliability::guttman_lambdas::guttman_lambdas;
use statistics::reliability::kr20::kr20;
use statistics::reliability::kr21::kr21;
use statistics::reliability::split_half::{Split, split_half};
use statistics::reliability::standardised_alpha::standardised_alpha;

use super::super::LEVEL;
use super::super::responses::{QuestionSet, Responses};
use super::FurtherFigure;

/// How far alpha must rise without a question to be worth a word (this project's choice).
const RISES: f64 = 0.01;

pub(super) fn figures(
    responses: &Responses,
    set: &QuestionSet,
    table: &ScoreTable,
) -> Vec<FurtherFigure> {
    let n = table.persons();
    let line = |figure: &str, made| FurtherFigure::new(&set.name, figure, n, made);
    let mut lines = Vec::new();
    if table.is_right_or_wrong() {
        let made = kr20(table, LEVEL);
        let limits = made
            .as_ref()
            .ok()
            .map(|m| (m.interval.lower, m.interval.upper));
        lines.push(
            line(
                "KR-20",
                made.map(|m| {
                    (
                        m.kr20,
                        "Alpha of questions marked right or wrong.".to_owned(),
                    )
                }),
            )
            .within(limits),
        );
        lines.push(line(
            "KR-21",
            kr21(table).map(|m| {
                (
                    m.kr21,
                    "KR-20 as if all questions were equally hard: the gap between the two is what unequal questions make."
                        .to_owned(),
                )
            }),
        ));
    }
    lines.push(line(
        "lambda 2",
        guttman_lambdas(table).map(|m| {
            (
                m.lambda2,
                "Guttman's second bound: reliability lies at it or above, and it never lies below alpha."
                    .to_owned(),
            )
        }),
    ));
    let halves = split_half(table, Split::OddEven, LEVEL);
    lines.push(line(
        "odd against even questions",
        halves.as_ref().map_err(|why| *why).map(|m| {
            (
                m.spearman_brown,
                "Two halves beside each other, stepped up to the whole (Spearman and Brown); another way of halving gives another figure."
                    .to_owned(),
            )
        }),
    ));
    lines.push(line(
        "the same halves, lambda 4",
        halves.map(|m| {
            (
                m.lambda4,
                "As above, and the halves may differ in spread.".to_owned(),
            )
        }),
    ));
    let standardised = standardised_alpha(table);
    let same = match &standardised {
        Err(Refusal::ConstantColumn { column }) => set
            .questions
            .get(*column)
            .and_then(|place| responses.questions.get(*place)),
        Err(_) | Ok(_) => None,
    };
    let mut standardised = line(
        "standardised alpha",
        standardised.map(|m| {
            (
                m.alpha,
                format!(
                    "Alpha if every question had the same spread; the mean correlation of two questions is {:.2}.",
                    m.mean_correlation
                ),
            )
        }),
    );
    if let Some(question) = same {
        standardised.says = format!(
            "Not given: everybody earned the same on {}, which no spread can be given to.",
            question.name
        );
    }
    lines.push(standardised);
    lines.extend(without_a_question(responses, set, table));
    lines
}

/// The question without which alpha is highest.
fn without_a_question(
    responses: &Responses,
    set: &QuestionSet,
    table: &ScoreTable,
) -> Option<FurtherFigure> {
    let alpha = cronbach_alpha(table, LEVEL).ok()?.alpha;
    let figure = "highest alpha without one question";
    let made = alpha_if_deleted(table);
    let n = table.persons();
    let without = match made {
        Ok(made) => made.without,
        Err(why) => return Some(FurtherFigure::new(&set.name, figure, n, Err(why))),
    };
    let (place, best) = without
        .iter()
        .enumerate()
        .filter_map(|(place, one)| Some((place, one.as_ref().ok().copied()?)))
        .max_by(|a, b| a.1.total_cmp(&b.1))?;
    let name = set
        .questions
        .get(place)
        .and_then(|at| responses.questions.get(*at))
        .map_or("a question", |question| question.name.as_str());
    let says = if best > alpha + RISES {
        format!(
            "Without {name}, against {alpha:.2} with it: read {name}; what the plan asks for is not dropped for a figure."
        )
    } else {
        format!("Without {name}, against {alpha:.2} with it: no question stands in the way.")
    };
    Some(FurtherFigure::new(&set.name, figure, n, Ok((best, says))))
}
