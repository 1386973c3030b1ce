//! The page of an analysis, filled in.

use renderer::content::examiner::{AnalysisPage, AnalysisPart, PagePlot, QuestionCard};
use renderer::plot::PlotTable;
use results::analysis::{FurtherFigure, NEEDS, QuestionAnalysis};
use results::summary::capitalised;
use statistics::Refusal;

use super::{AnalysedPart, alike_page, group_pictures, marker_pictures, model_page, pictures};

/// The most questions for which the options of all are drawn.
const MOST_DRAWN: usize = 60;

pub(super) fn content(
    title: &str,
    source: &str,
    parts: &[AnalysedPart],
    together: Option<&FurtherFigure>,
    notes: &[String],
) -> AnalysisPage {
    AnalysisPage {
        title: title.to_owned(),
        source: std::iter::once(source)
            .chain(notes.iter().map(String::as_str))
            .collect::<Vec<_>>()
            .join(" "),
        parts: parts
            .iter()
            .enumerate()
            .map(|(place, made)| AnalysisPart {
                heading: if parts.len() == 1 {
                    "Answers".to_owned()
                } else {
                    capitalised(&made.analysis.what)
                },
                ..part(place, made, together.filter(|_| place == 0))
            })
            .collect(),
        smallest: smallest(),
    }
}

fn part(place: usize, made: &AnalysedPart, together: Option<&FurtherFigure>) -> AnalysisPart {
    let analysis = &made.analysis;
    let anchor = format!("part{}", place + 1);
    let worst: Vec<&QuestionAnalysis> = analysis
        .worst_first
        .iter()
        .filter_map(|place| analysis.questions.get(*place))
        .collect();
    let drawn = |question: &QuestionAnalysis| {
        pictures::options(&anchor, question).map(|plot| PagePlot::from(&plot))
    };
    let others = analysis
        .questions
        .iter()
        .filter(|question| question.findings.is_empty())
        .take(MOST_DRAWN)
        .filter_map(drawn)
        .collect();
    let moderation = made
        .moderation
        .as_ref()
        .and_then(|made| marker_pictures::beside_each_other(&anchor, made));
    // Where too few scripts were shared for a picture, its sentences stand with what is refused.
    let too_few = made
        .moderation
        .as_ref()
        .filter(|_| moderation.is_none())
        .map_or_else(Vec::new, |made| {
            marker_pictures::sentences(made)
                .map(str::to_owned)
                .collect()
        });
    let groups = made
        .fairness
        .as_ref()
        .map_or_else(Vec::new, |made| group_pictures::comparisons(&anchor, made));
    AnalysisPart {
        heading: String::new(),
        verdict: analysis.verdict.clone(),
        worst: worst
            .iter()
            .map(|question| QuestionCard {
                name: question.name.clone(),
                stem: question.stem.clone(),
                sentences: question
                    .findings
                    .iter()
                    .map(|finding| finding.sentence().to_owned())
                    .collect(),
                plot: drawn(question),
            })
            .collect(),
        plots: pictures::plots(&anchor, analysis, made.markers.as_ref(), &made.samples)
            .iter()
            .chain(&moderation)
            .chain(&groups)
            .map(PagePlot::from)
            .collect(),
        others,
        questions: questions(&analysis.questions),
        options: options(&analysis.questions),
        alike: made.alike.as_ref().and_then(alike_page::section),
        by_model: made
            .by_model
            .as_ref()
            .and_then(|made| made.as_ref().ok())
            .map(model_page::section),
        further: further(made, together),
        pooled: pooled(made),
        refused: analysis
            .refused
            .iter()
            .chain(made.refused_comparisons())
            .chain(made.refused_alike())
            .chain(made.refused_model())
            .chain(&too_few)
            .cloned()
            .collect(),
        anchor,
    }
}

/// Two decimals; what rounds to nothing has no sign.
fn decimals(value: f64) -> String {
    let words = format!("{value:.2}");
    match words.strip_prefix('-') {
        Some(rest) if rest.chars().all(|c| matches!(c, '0' | '.')) => rest.to_owned(),
        Some(_) | None => words,
    }
}

fn head<const N: usize>(names: [&str; N]) -> Vec<String> {
    names.map(str::to_owned).to_vec()
}

fn number(figure: &Result<f64, Refusal>) -> String {
    figure
        .as_ref()
        .map_or_else(|_| "\u{2013}".to_owned(), |value| decimals(*value))
}

fn limits(interval: Option<(f64, f64)>) -> String {
    interval.map_or_else(
        || "\u{2013}".to_owned(),
        |(lower, upper)| format!("{} to {}", decimals(lower), decimals(upper)),
    )
}

/// Without the columns that say the same nothing in every row, the last named first.
fn without_empty(mut table: PlotTable, columns: &[(usize, &str)]) -> PlotTable {
    for (column, nothing) in columns {
        let empty = table
            .rows
            .iter()
            .all(|row| row.get(*column).is_none_or(|cell| cell == nothing));
        if empty && *column < table.head.len() {
            table.head.remove(*column);
            for row in table.rows.iter_mut().filter(|row| *column < row.len()) {
                row.remove(*column);
            }
        }
    }
    table
}

fn questions(questions: &[QuestionAnalysis]) -> PlotTable {
    let table = PlotTable {
        head: head([
            "question",
            "n",
            "left out",
            "not reached",
            "share earned",
            "95 % interval",
            "r with rest",
            "95 % interval",
            "biserial",
            "upper \u{2212} lower",
        ]),
        rows: questions
            .iter()
            .map(|question| {
                let difficulty = question.difficulty.as_ref();
                let rest = question.with_rest.as_ref();
                vec![
                    if question.counts {
                        question.name.clone()
                    } else {
                        format!("{} (does not count)", question.name)
                    },
                    question.n.to_string(),
                    question.omitted.to_string(),
                    question.not_reached.to_string(),
                    difficulty
                        .map_or_else(|_| "\u{2013}".to_owned(), |d| format!("{:.2}", d.share)),
                    limits(
                        difficulty
                            .ok()
                            .and_then(|d| d.interval.as_ref().ok())
                            .map(|l| (l.lower, l.upper)),
                    ),
                    rest.map_or_else(|_| "\u{2013}".to_owned(), |r| decimals(r.r)),
                    limits(
                        rest.ok()
                            .and_then(|r| r.interval.as_ref().ok())
                            .map(|l| (l.lower, l.upper)),
                    ),
                    match &question.biserial {
                        Some(Ok(made)) => decimals(made.r),
                        Some(Err(_)) | None => "\u{2013}".to_owned(),
                    },
                    number(&question.upper_lower),
                ]
            })
            .collect(),
    };
    without_empty(table, &[(8, "\u{2013}"), (3, "0"), (2, "0")])
}

fn options(questions: &[QuestionAnalysis]) -> PlotTable {
    PlotTable {
        head: head([
            "question",
            "option",
            "chosen by",
            "of",
            "r with rest",
            "mean share of marks",
        ]),
        rows: questions
            .iter()
            .flat_map(|question| {
                question.options.iter().map(|option| {
                    let r = option.with_rest.as_ref().map(|r| r.r).map_err(|r| *r);
                    vec![
                        question.name.clone(),
                        format!("{}{}", option.option, if option.key { " *" } else { "" }),
                        option.chosen.to_string(),
                        question.n.to_string(),
                        number(&r),
                        number(&option.mean_share),
                    ]
                })
            })
            .collect(),
    }
}

/// What else there is to know, of the answers and of the markers.
fn further(made: &AnalysedPart, together: Option<&FurtherFigure>) -> PlotTable {
    PlotTable {
        head: head(["figure", "", "95 % limits", "n", "what to make of it"]),
        rows: made
            .analysis
            .further
            .iter()
            .chain(&made.marker_shares)
            .chain(together)
            .map(|line| {
                vec![
                    format!("{}: {}", line.of, line.figure),
                    line.value.map_or_else(|| "\u{2013}".to_owned(), two_digits),
                    line.limits.map_or_else(String::new, |(low, high)| {
                        format!("{} to {}", decimals(low), decimals(high))
                    }),
                    line.n.to_string(),
                    line.says.clone(),
                ]
            })
            .collect(),
    }
}

/// Whole numbers stay whole.
fn two_digits(value: f64) -> String {
    if value.fract() == 0.0 && value.abs() >= 1.0 {
        format!("{value:.0}")
    } else {
        decimals(value)
    }
}

fn pooled(made: &AnalysedPart) -> PlotTable {
    let Ok(pooled) = &made.analysis.pooled else {
        return PlotTable::default();
    };
    PlotTable {
        head: head([
            "question",
            "answers",
            "share right",
            "weight of the data",
            "both together",
            "95 % limits",
        ]),
        rows: pooled
            .iter()
            .map(|question| {
                let share = &question.share;
                vec![
                    question.name.clone(),
                    share.n.to_string(),
                    format!("{:.2}", share.observed),
                    format!("{:.0} %", share.weight_of_data * 100.0),
                    format!("{:.2}", share.share),
                    limits(Some((share.lower, share.upper))),
                ]
            })
            .collect(),
    }
}

fn smallest() -> PlotTable {
    PlotTable {
        head: head(["figure", "candidates", "why so many", "below that"]),
        rows: NEEDS
            .iter()
            .map(|row| {
                vec![
                    row.what.to_owned(),
                    row.least.to_string(),
                    row.source.to_owned(),
                    row.instead.to_owned(),
                ]
            })
            .collect(),
    }
}
