//! How sure the decisions at the cut are, and who lies near it.

use serde::Serialize;
use statistics::Refusal;
use statistics::decision::decision_figures::DecisionFigures;
use statistics::decision::livingston_lewis::livingston_lewis;
use statistics::descriptive::proportion::{Proportion, proportion};

use super::LEVEL;
use super::reliability_by_set::SetReliability;
use super::responses::Responses;
use super::score_bars::short;
use super::smallest::Need;

/// The decisions at a cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PassMarkFigures {
    /// The cut as a share of full marks.
    pub share: f64,
    /// Who reaches it.
    pub passes: Result<Proportion, Refusal>,
    /// Candidates within one standard error of it, by number; empty where the error is not known.
    pub near: Vec<String>,
    /// Consistency and accuracy of the decisions; none where refused.
    pub decisions: Option<DecisionFigures>,
    /// In words.
    pub sentence: String,
    /// What was refused.
    pub refused: Vec<String>,
}

pub(super) fn pass_mark(
    responses: &Responses,
    share: f64,
    reliability: &[SetReliability],
) -> PassMarkFigures {
    let shares: Vec<(&str, f64)> = responses
        .candidates
        .iter()
        .map(|candidate| {
            let total = responses.total(candidate, None);
            (candidate.candidate.as_str(), total.share())
        })
        .collect();
    // A hair of rounding does not fail anybody: marks are thousandths.
    let passing = shares.iter().filter(|(_, s)| *s >= share - 1e-9).count();
    let passes = proportion(passing, shares.len(), LEVEL);
    let largest = reliability.first();
    let error = largest.and_then(|set| Some(set.error.as_ref()?.marks / set.full));
    let near: Vec<String> = error.map_or_else(Vec::new, |error| {
        shares
            .iter()
            .filter(|(_, s)| (s - share).abs() <= error)
            .map(|(name, _)| (*name).to_owned())
            .collect()
    });
    let mut refused = Vec::new();
    let decisions = decisions(responses, share, largest, &mut refused);
    let mut sentence = match &passes {
        Ok(made) => format!(
            "{passing} of {} reach the cut of {} % ({:.0} %; 95 % interval {:.0} to {:.0} %).",
            made.n,
            short(share * 100.0),
            made.share * 100.0,
            made.interval.lower * 100.0,
            made.interval.upper * 100.0
        ),
        Err(refusal) => format!("No share of passes: {refusal}."),
    };
    if let Some(error) = error {
        sentence.push_str(&format!(
            " {} within one error of measurement ({:.1} %) of it: look at their scripts before release.",
            match near.len() {
                0 => "Nobody lies".to_owned(),
                1 => "1 candidate lies".to_owned(),
                number => format!("{number} candidates lie"),
            },
            error * 100.0
        ));
    }
    if let Some(made) = &decisions {
        sentence.push_str(&format!(
            " A second sitting would decide alike for {:.0} of 100; {:.0} of 100 decisions fit what the candidates can do, {:.0} pass and {:.0} fail wrongly (Livingston and Lewis).",
            made.agreement * 100.0,
            made.accuracy * 100.0,
            made.wrongly_passed * 100.0,
            made.wrongly_failed * 100.0
        ));
    }
    PassMarkFigures {
        share,
        passes,
        near,
        decisions,
        sentence,
        refused,
    }
}

fn decisions(
    responses: &Responses,
    share: f64,
    largest: Option<&SetReliability>,
    refused: &mut Vec<String>,
) -> Option<DecisionFigures> {
    let set = largest?;
    if let Some(why) = Need::Decisions.refused(set.n) {
        refused.push(why);
        return None;
    }
    let alpha = set.alpha.as_ref()?.alpha;
    let of_set = responses.sets().into_iter().next()?;
    let totals: Vec<f64> = of_set
        .candidates
        .iter()
        .filter_map(|place| responses.candidates.get(*place))
        .map(|candidate| responses.total(candidate, None).marks)
        .collect();
    match livingston_lewis(&totals, alpha, 0.0, set.full, share * set.full) {
        Ok(made) => Some(made.decisions),
        Err(why) => {
            refused.push(format!(
                "No consistency of decisions: {why}. Instead: {}.",
                Need::Decisions.row().instead
            ));
            None
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::reliability_by_set::by_set;
    use super::super::responses::tests::right_or_wrong;
    use super::*;

    #[test]
    fn those_near_the_pass_mark_are_named_and_few_candidates_refused() {
        let rows: [&[u8]; 7] = [
            &[1, 1, 1, 1, 1, 1],
            &[1, 1, 1, 1, 0, 0],
            &[1, 1, 1, 0, 0, 0],
            &[0, 0, 0, 0, 0, 0],
            &[1, 1, 0, 0, 0, 0],
            &[1, 1, 1, 1, 1, 0],
            &[1, 0, 0, 0, 0, 0],
        ];
        let table = right_or_wrong(&rows);
        let made = pass_mark(&table, 0.5, &by_set(&table, &table.sets()));
        assert_eq!(made.passes.unwrap().successes, 4);
        assert!(made.near.contains(&"3".to_owned()) && !made.near.contains(&"1".to_owned()));
        assert!(made.refused[0].contains("at least 30"));
    }
}
