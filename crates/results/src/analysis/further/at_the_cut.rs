//! Errors of a total and of decisions, in the ways that ask for questions marked right or wrong.

use statistics::decision::bivariate_normal::normal_consistency;
use statistics::decision::hanson_brennan::hanson_brennan;
use statistics::decision::huynh::huynh;
use statistics::decision::subkoviak::subkoviak;
use statistics::reliability::keats_error::keats_error;
use statistics::reliability::kr20::kr20;
use statistics::reliability::kr21::kr21;
use statistics::reliability::lord_error::lord_error;
use statistics::sums::{Divisor, mean, variance};
use statistics::{Refusal, ScoreTable};

use super::super::LEVEL;
use super::super::reliability_by_set::SetReliability;
use super::super::responses::QuestionSet;
use super::super::smallest::Need;
use super::FurtherFigure;

pub(super) fn figures(
    set: &QuestionSet,
    table: &ScoreTable,
    known: &SetReliability,
    pass_mark: Option<f64>,
) -> Vec<FurtherFigure> {
    if !table.is_right_or_wrong() {
        return Vec::new();
    }
    let Ok(items) = u32::try_from(table.items()) else {
        return Vec::new();
    };
    // The lowest whole total that reaches the cut; without a cut the middle of the scale.
    let share = pass_mark.unwrap_or(0.5);
    let at = ((share * f64::from(items) - 1e-9).ceil().max(0.0) as u32).min(items);
    let n = table.persons();
    let line = |figure: &str, made| FurtherFigure::new(&set.name, figure, n, made);
    let place = if pass_mark.is_some() {
        "the cut"
    } else {
        "half marks"
    };
    let mut lines = Vec::new();
    let near = |errors: Vec<statistics::reliability::lord_error::ErrorAtTotal>| {
        errors
            .into_iter()
            .find(|one| one.total == at)
            .map(|one| one.marks)
            .ok_or(Refusal::NotDefined {
                of: "an error at this total",
                because: "there is no such total",
            })
    };
    lines.push(line(
        "error of a total, Lord",
        lord_error(items).and_then(near).map(|marks| {
            (
                marks,
                format!("In marks at {place} ({at} of {items}), whoever else sat; too large where questions differ much in difficulty."),
            )
        }),
    ));
    let keats = kr20(table, LEVEL).and_then(|kr20| {
        let kr21 = kr21(table)?;
        near(keats_error(items, kr20.kr20, kr21.kr21)?)
    });
    lines.push(line(
        "error of a total, Keats",
        keats.map(|marks| {
            (
                marks,
                format!(
                    "The same, brought to this paper's reliability: the error to use at {place}."
                ),
            )
        }),
    ));
    let Some(alpha) = known.alpha.as_ref().map(|alpha| alpha.alpha) else {
        return lines;
    };
    if pass_mark.is_none() || Need::Decisions.refused(n).is_some() {
        return lines;
    }
    let totals = table.totals();
    let alike = |share: f64, kappa: f64| {
        format!(
            "A second sitting would decide alike for {:.0} of 100; {kappa:.2} of what chance leaves (kappa).",
            share * 100.0
        )
    };
    lines.push(line(
        "decisions alike, Hanson and Brennan",
        hanson_brennan(&totals, alpha, items, at).map(|m| {
            let told = format!(
                "{} {:.0} of 100 fit what candidates can do.",
                alike(m.decisions.agreement, m.decisions.kappa),
                m.decisions.accuracy * 100.0
            );
            (m.decisions.agreement, told)
        }),
    ));
    lines.push(line(
        "decisions alike, Subkoviak",
        subkoviak(&totals, alpha, items, at).map(|m| (m.agreement, alike(m.agreement, m.kappa))),
    ));
    lines.push(line(
        "decisions alike, Huynh",
        huynh(table, at).map(|m| (m.agreement, alike(m.agreement, m.kappa))),
    ));
    let normal = mean(&totals).and_then(|middle| {
        let spread = variance(&totals, Divisor::Count)?.sqrt();
        normal_consistency(
            (f64::from(at) - 0.5 - middle) / spread,
            alpha.clamp(0.0, 1.0),
        )
    });
    lines.push(line(
        "decisions alike, Peng and Subkoviak",
        normal.map(|m| (m.agreement, alike(m.agreement, m.kappa))),
    ));
    lines
}
