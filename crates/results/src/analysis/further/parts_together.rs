//! How reliable the total of several parts is, each with an alpha of its own.

use std::collections::BTreeMap;

use statistics::Refusal;
use statistics::reliability::composite_reliability::{Part, composite_reliability};
use statistics::reliability::cronbach_alpha::cronbach_alpha;

use super::super::LEVEL;
use super::super::responses::Responses;
use super::FurtherFigure;

/// A part and its weight in the total.
#[derive(Debug, Clone, Copy)]
pub struct PartOfTotal<'r> {
    /// Its answers.
    pub responses: &'r Responses,
    /// The weight of its share of full marks.
    pub weight: f64,
}

/// The reliability of the weighted total of those who did all parts; none with fewer than two parts.
#[must_use]
pub fn parts_together(parts: &[PartOfTotal<'_>]) -> Option<FurtherFigure> {
    if parts.len() < 2 {
        return None;
    }
    let (n, made) = composite(parts);
    let names: Vec<&str> = parts
        .iter()
        .map(|part| part.responses.what.as_str())
        .collect();
    Some(FurtherFigure::new(
        &names.join(" and "),
        "reliability of the parts together",
        n,
        made,
    ))
}

/// Each candidate's share of a part's marks, and the part's alpha in its largest set.
struct Known {
    shares: BTreeMap<(String, String), f64>,
    alpha: Result<f64, Refusal>,
}

fn known(responses: &Responses) -> Known {
    let (present, _) = responses.with_answers();
    let alpha = match present.sets().first() {
        Some(set) => present
            .score_table(set)
            .and_then(|table| cronbach_alpha(&table, LEVEL))
            .map(|made| made.alpha),
        None => Err(Refusal::TooFew {
            of: "candidates",
            have: 0,
            need: 2,
            reason: "a variance needs two",
        }),
    };
    let shares = present
        .candidates
        .iter()
        .map(|candidate| {
            let who = (candidate.sitting.clone(), candidate.candidate.clone());
            (who, present.total(candidate, None).share())
        })
        .collect();
    Known { shares, alpha }
}

fn composite(parts: &[PartOfTotal<'_>]) -> (usize, Result<(f64, String), Refusal>) {
    let known: Vec<Known> = parts.iter().map(|part| known(part.responses)).collect();
    let all = known.first().map_or_else(Vec::new, |first| {
        let mut who: Vec<&(String, String)> = first.shares.keys().collect();
        who.retain(|one| known.iter().all(|part| part.shares.contains_key(*one)));
        who
    });
    let scores: Vec<Vec<f64>> = known
        .iter()
        .map(|part| {
            all.iter()
                .filter_map(|who| part.shares.get(*who).copied())
                .collect()
        })
        .collect();
    let made = known
        .iter()
        .zip(&scores)
        .zip(parts)
        .map(|((known, scores), part)| {
            Ok(Part {
                scores,
                // No reliability lies below 0; a part with such an alpha adds error alone.
                reliability: known.alpha?.max(0.0),
                weight: part.weight,
            })
        })
        .collect::<Result<Vec<_>, Refusal>>()
        .and_then(|parts| composite_reliability(&parts));
    let told = made.map(|made| {
        let alphas: Vec<String> = known
            .iter()
            .zip(parts)
            .filter_map(|(known, part)| {
                Some(format!("{} {:.2}", part.responses.what, known.alpha.ok()?))
            })
            .collect();
        (
            made.reliability,
            format!(
                "Of the total of those who did all parts (alpha of each: {}); one error of measurement is {:.1} % of the marks.",
                alphas.join(", "),
                made.error * 100.0 / parts.iter().map(|part| part.weight).sum::<f64>()
            ),
        )
    });
    (all.len(), told)
}

#[cfg(test)]
#[allow(clippy::expect_used)]
mod tests {
    use super::super::super::responses::tests::right_or_wrong;
    use super::*;

    #[test]
    fn two_parts_make_a_total_and_one_makes_none() {
        let rows: Vec<Vec<u8>> = (0..20_u8)
            .map(|c| {
                (0..6_u8)
                    .map(|q| u8::from((c * 5 + q * 7) % 23 < 6 + c))
                    .collect()
            })
            .collect();
        let rows: Vec<&[u8]> = rows.iter().map(Vec::as_slice).collect();
        let (one, other) = (right_or_wrong(&rows), right_or_wrong(&rows));
        let part = |responses| PartOfTotal {
            responses,
            weight: 0.5,
        };
        let made = parts_together(&[part(&one), part(&other)]).expect("two parts");
        // The same part twice: its errors are taken for new ones, so the whole is surer than each.
        let alpha = known(&one).alpha.expect("alpha");
        let stepped = 1.0 - (1.0 - alpha) / 2.0;
        assert!(
            (made.value.unwrap_or(0.0) - stepped).abs() < 1e-9,
            "{made:?}"
        );
        assert!(parts_together(&[part(&one)]).is_none());
    }
}
