//! The picture of each comparison of groups, with its sentence and the table behind it.

use renderer::plot::{Drawn, LimitsRow, Plot, PlotTable};
use results::analysis::{GroupComparison, GroupFairness, QuestionBetweenGroups};
use statistics::Refusal;

/// The most questions in one picture of limits.
const MOST_ROWS: usize = 60;

/// One picture for each comparison that was made.
pub(super) fn comparisons(part: &str, made: &GroupFairness) -> Vec<Plot> {
    made.comparisons
        .iter()
        .enumerate()
        .filter(|(_, comparison)| comparison.refused.is_none())
        .map(|(place, comparison)| {
            let name = format!("{part}-groups{}", place + 1);
            plot(name, &made.reference, comparison)
        })
        .collect()
}

fn plot(name: String, reference: &str, made: &GroupComparison) -> Plot {
    let mut sentence = made.sentence.clone();
    for question in &made.questions {
        if let Some(finding) = &question.finding {
            sentence.push_str(&format!(" {}: {finding}", question.name));
        }
    }
    sentence.push_str(" Bars are 95 % intervals, not adjusted for the number of questions.");
    let mut shown: Vec<(f64, LimitsRow)> = made
        .questions
        .iter()
        .filter_map(|question| {
            let figures = question.mantel_haenszel.as_ref().ok()?;
            let limits = figures.delta_interval;
            let row = LimitsRow {
                name: question.name.clone(),
                value: figures.delta,
                limits: Some((limits.lower, limits.upper)),
            };
            Some((figures.delta, row))
        })
        .collect();
    // The widest apart stay where there are too many to draw.
    shown.sort_by(|one, other| other.0.abs().total_cmp(&one.0.abs()));
    shown.truncate(MOST_ROWS);
    shown.sort_by(|one, other| one.0.total_cmp(&other.0));
    Plot {
        name,
        title: format!("{} beside {reference}, at equal totals", made.group),
        sentence,
        drawn: Drawn::Limits {
            rows: shown.into_iter().map(|(_, row)| row).collect(),
            axis: format!("delta; left of 0 harder for {}", made.group),
            middle: Some(0.0),
        },
        table: table(&made.questions),
    }
}

fn table(questions: &[QuestionBetweenGroups]) -> PlotTable {
    let head = [
        "question",
        "n",
        "delta",
        "class",
        "adjusted p",
        "difference of shares",
        "gain by group",
        "adjusted p, weak and strong unlike",
    ];
    let shown = |figure: Option<f64>, why: Option<&Refusal>| match (figure, why) {
        (Some(figure), _) => format!("{figure:.3}"),
        (None, Some(why)) => format!("refused: {why}"),
        (None, None) => "refused".to_owned(),
    };
    PlotTable {
        head: head.map(str::to_owned).to_vec(),
        rows: questions
            .iter()
            .map(|question| {
                let uniform = question.mantel_haenszel.as_ref();
                let apart = question.standardised.as_ref();
                let changing = question.logistic.as_ref();
                vec![
                    question.name.clone(),
                    uniform.map_or_else(
                        |_| "\u{2013}".to_owned(),
                        |made| (made.groups.focal + made.groups.reference).to_string(),
                    ),
                    shown(uniform.ok().map(|made| made.delta), uniform.err()),
                    uniform.map_or_else(
                        |_| "\u{2013}".to_owned(),
                        |made| format!("{:?}", made.class),
                    ),
                    shown(question.adjusted, None),
                    shown(apart.ok().map(|made| made.difference), apart.err()),
                    shown(changing.ok().map(|made| made.gain), changing.err()),
                    shown(question.adjusted_changing, None),
                ]
            })
            .collect(),
    }
}
