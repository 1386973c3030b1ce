//! Two more ways of setting a cut: from the best of the class (Cohen), and from questions that judges
//! match to levels (item-descriptor matching).

use base::Purpose;
use statistics::standard_setting::cohen_cut::{CohenRule, cohen_cut};
use statistics::standard_setting::item_descriptor_matching::level_boundary;
use statistics::{ScoreTable, distribution::student_t};

use super::LEVEL;
use super::other_ways::{ScoredCandidate, highest_of, set};
use super::setting::{CutSet, Ratings};
use crate::resampling::Resampling;

/// What Cohen's way is told.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BestOfClass {
    /// The share of candidates below the score that stands for the best.
    pub best: f64,
    /// The share of the way from guessing to there.
    pub way: f64,
    /// The marks that guessing yields.
    pub guessing: f64,
}

pub(super) fn best_of_class(
    scored: &[ScoredCandidate],
    rule: BestOfClass,
    highest: Option<f64>,
) -> Result<CutSet, String> {
    let highest = highest_of(scored, highest)?;
    let scores: Vec<f64> = scored.iter().map(|candidate| candidate.score).collect();
    let mut random = Resampling::new(Purpose::CandidateResample, 0);
    let told = CohenRule {
        best: rule.best,
        way: rule.way,
        guessing: rule.guessing,
    };
    let made = cohen_cut(&scores, told, LEVEL, &mut random).map_err(|r| r.to_string())?;
    let mut result = set("Cohen's method", made.cut, highest, scores.len(), false);
    let limits = &made.resampled.interval;
    result.limits = Some((limits.lower, limits.upper));
    result.error_says =
        "The limits are percentiles of 1,000 resamples of the candidates: other classes of the same kind."
            .to_owned();
    result.sentences.push(format!(
        "The score of the best, below which {:.0} % of the class lie, is {:.2}; the cut lies {:.0} % of the way from guessing ({:.2}) to it.",
        rule.best * 100.0,
        made.best,
        rule.way * 100.0,
        rule.guessing
    ));
    result.sentences.push(
        "A class whose best are weaker than other years' has a lower cut: look at the best scripts, and at other years, before this cut is taken."
            .to_owned(),
    );
    Ok(result)
}

pub(super) fn matched_levels(
    placed: &Ratings,
    difficulties: &[f64],
    level: f64,
) -> Result<CutSet, String> {
    let table = ScoreTable::new(&placed.estimates).map_err(|r| r.to_string())?;
    let made = level_boundary(&table, difficulties, level).map_err(|r| r.to_string())?;
    // Marks expected of a candidate whose ability is the boundary's difficulty.
    let total = |ability: f64| -> f64 {
        difficulties
            .iter()
            .map(|b| 1.0 / (1.0 + libm::exp(b - ability)))
            .sum()
    };
    let mut result = set(
        "item-descriptor matching",
        total(made.difficulty),
        difficulties.len() as f64,
        made.judges,
        true,
    );
    result.sentences.push(format!(
        "Half of the placements are at level {level} or above from {:.2} logits on: that is how hard a question is which a candidate at the cut has right as often as wrong.",
        made.difficulty
    ));
    let without: Vec<f64> = (0..placed.judges.len())
        .filter_map(|judge| {
            let rows: Vec<Vec<f64>> = placed
                .estimates
                .iter()
                .map(|row| {
                    let others = row.iter().enumerate().filter(|(place, _)| *place != judge);
                    others.map(|(_, level)| *level).collect()
                })
                .collect();
            let table = ScoreTable::new(&rows).ok()?;
            level_boundary(&table, difficulties, level)
                .ok()
                .map(|m| total(m.difficulty))
        })
        .collect();
    let m = without.len() as f64;
    if without.len() == placed.judges.len() && without.len() >= 3 {
        // Each judge left out in turn (Quenouille 1956, Tukey 1958: the jackknife).
        let middle = without.iter().sum::<f64>() / m;
        let squares: f64 = without
            .iter()
            .map(|cut| (cut - middle) * (cut - middle))
            .sum();
        let error = ((m - 1.0) / m * squares).sqrt();
        let reach = student_t::quantile_of_upper_tail(LEVEL.each_tail(), m - 1.0) * error;
        result.error = Some(error);
        result.limits = Some((result.cut - reach, result.cut + reach));
        result.error_says =
            "The error is over judges, each left out in turn (jackknife, Student's t).".to_owned();
    } else {
        result.error_says =
            "No error: it takes three judges or more, each of whom can be left out.".to_owned();
    }
    Ok(result)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn scored(scores: &[f64]) -> Vec<ScoredCandidate> {
        scores
            .iter()
            .map(|score| ScoredCandidate {
                score: *score,
                grade: None,
                competent: None,
            })
            .collect()
    }

    #[test]
    fn the_way_from_guessing_to_the_best_is_gone_by_its_share() {
        let class: Vec<f64> = (0..40).map(f64::from).collect();
        let rule = BestOfClass {
            best: 0.95,
            way: 0.6,
            guessing: 4.0,
        };
        let made = best_of_class(&scored(&class), rule, Some(40.0)).unwrap();
        // The 95th per cent of 0 to 39 is 37.05.
        assert!(
            (made.cut - (4.0 + 0.6 * 33.05)).abs() < 1e-9,
            "{}",
            made.cut
        );
        let (low, high) = made.limits.unwrap();
        assert!(low <= made.cut && made.cut <= high);
        let few = best_of_class(&scored(&class[..19]), rule, Some(40.0)).unwrap_err();
        assert!(few.contains("at least 20"), "{few}");
    }

    #[test]
    fn levels_that_rise_with_difficulty_make_a_cut_with_the_judges_error() {
        let difficulties: Vec<f64> = (0..12).map(|q| f64::from(q) / 3.0 - 2.0).collect();
        // Judges put the border between levels 1 and 2 at questions 6, 7 and 5, and waver once.
        let estimates: Vec<Vec<f64>> = (0..12)
            .map(|q| {
                [6, 7, 5]
                    .map(|border| {
                        if (q >= border) != (q == 4 && border == 6) {
                            2.0
                        } else {
                            1.0
                        }
                    })
                    .to_vec()
            })
            .collect();
        let placed = Ratings {
            questions: (1..=12).map(|q| format!("q{q}")).collect(),
            judges: ["A", "B", "C"].map(str::to_owned).to_vec(),
            estimates,
        };
        let made = matched_levels(&placed, &difficulties, 2.0).unwrap();
        assert!(made.cut > 4.0 && made.cut < 8.0 && made.highest == 12.0);
        assert!(made.error.unwrap() > 0.0 && made.sentence().contains("each left out in turn"));
        let nobody = matched_levels(&placed, &difficulties, 3.0).unwrap_err();
        assert!(!nobody.is_empty());
    }
}
