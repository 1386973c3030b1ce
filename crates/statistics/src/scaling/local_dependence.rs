//! Do two questions go together beyond what ability explains (one gives the other away)?
//!
//! Source: Yen 1984, Appl. Psychol. Meas. 8, 125-145: Q3, the correlation over candidates of what two
//! answers are above or below their curves. Under independence Q3 is near −1/(k − 1) (Yen 1993), so a
//! pair stands out when it lies .2 above the mean of all pairs (Christensen, Makransky & Horton 2017,
//! who simulated from 200 candidates on: the smallest n here). Invalid: curves of a model that does
//! not fit; fewer than about ten questions. Ties: none. Missing: a pair counts those who answered
//! both; pairs with fewer than 30 of these have no figure (common practice, no source).

use super::item_curve::ItemCurve;
use super::response_table::ResponseTable;
use crate::refusal::{Refusal, at_least};
use crate::sums::{correlation, is_constant, sum};

/// How far above the mean a pair stands out.
const STANDS_OUT: f64 = 0.2;
/// Candidates who answered both, below which a pair has no figure.
const FEWEST_OF_A_PAIR: usize = 30;

/// Two questions.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize)]
pub struct DependentPair {
    /// The first, counted from 0.
    pub first: usize,
    /// The second.
    pub second: usize,
    /// Correlation of what is left.
    pub q3: f64,
    /// Candidates who answered both.
    pub n: usize,
}

/// All pairs of a test.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct LocalDependence {
    /// Every pair with a figure, in order of its questions.
    pub pairs: Vec<DependentPair>,
    /// Their mean.
    pub mean: f64,
    /// Those that stand out, the strongest first.
    pub standing_out: Vec<DependentPair>,
    /// Pairs without a figure.
    pub without: usize,
}

/// Correlates what the curves leave over. An ability of none leaves the candidate out.
///
/// # Errors
/// `Refusal::TooFew` below 200 candidates or three questions, `Refusal::UnequalLengths`,
/// `Refusal::NotDefined` where no pair has a figure.
pub fn local_dependence(
    table: &ResponseTable,
    curves: &[ItemCurve],
    abilities: &[Option<f64>],
) -> Result<LocalDependence, Refusal> {
    at_least(3, table.items(), "questions", "a mean of pairs wants three")?;
    let lengths = [
        ("curves beside questions", curves.len(), table.items()),
        (
            "abilities beside candidates",
            abilities.len(),
            table.persons(),
        ),
    ];
    for (of, have, expected) in lengths {
        if have != expected {
            return Err(Refusal::UnequalLengths { of, have, expected });
        }
    }
    for curve in curves {
        curve.check()?;
    }
    let measured = abilities.iter().flatten().filter(|a| a.is_finite()).count();
    at_least(
        200,
        measured,
        "candidates with an ability",
        "Christensen, Makransky & Horton 2017 simulated from 200 on",
    )?;
    let left: Vec<Vec<Option<f64>>> = table
        .rows()
        .zip(abilities)
        .filter_map(|(row, ability)| {
            let ability = ability.filter(|ability| ability.is_finite())?;
            let cells = row.iter().zip(curves);
            Some(
                cells
                    .map(|(answer, curve)| {
                        answer.map(|category| f64::from(category) - curve.expected_score(ability))
                    })
                    .collect(),
            )
        })
        .collect();
    let mut pairs = Vec::new();
    let mut without = 0;
    for first in 0..table.items() {
        for second in first + 1..table.items() {
            let both: (Vec<f64>, Vec<f64>) = left
                .iter()
                .filter_map(|row| Some(((*row.get(first)?)?, (*row.get(second)?)?)))
                .unzip();
            let n = both.0.len();
            if n < FEWEST_OF_A_PAIR || is_constant(&both.0) || is_constant(&both.1) {
                without += 1;
                continue;
            }
            pairs.push(DependentPair {
                first,
                second,
                q3: correlation(&both.0, &both.1)?,
                n,
            });
        }
    }
    if pairs.is_empty() {
        return Err(Refusal::NotDefined {
            of: "the dependence of questions",
            because: "no two questions were answered by thirty candidates with unlike results",
        });
    }
    let mean = sum(pairs.iter().map(|pair| pair.q3)) / pairs.len() as f64;
    let mut standing_out: Vec<DependentPair> = pairs
        .iter()
        .filter(|pair| pair.q3 - mean > STANDS_OUT)
        .copied()
        .collect();
    standing_out.sort_by(|one, other| other.q3.total_cmp(&one.q3));
    Ok(LocalDependence {
        pairs,
        mean,
        standing_out,
        without,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::simulated::Uniform;
    use super::*;

    fn curve(item: u8) -> ItemCurve {
        ItemCurve::Logistic {
            slope: 1.0,
            intercept: 1.0 - f64::from(item) / 5.0,
            guessing: 0.0,
        }
    }

    /// Answers to twelve questions, the last copied from the one before where `copied`.
    fn made(persons: usize, copied: bool) -> Result<LocalDependence, Refusal> {
        let curves: Vec<ItemCurve> = (0..12).map(curve).collect();
        let mut uniform = Uniform::new(11);
        let mut abilities = Vec::new();
        let rows: Vec<Vec<Option<u8>>> = (0..persons)
            .map(|_| {
                let ability = uniform.normal();
                abilities.push(Some(ability));
                let mut row: Vec<Option<u8>> = curves
                    .iter()
                    .map(|curve| Some(uniform.category(curve, ability)))
                    .collect();
                if copied {
                    row[11] = row[10];
                }
                row
            })
            .collect();
        local_dependence(&ResponseTable::new(&rows).unwrap(), &curves, &abilities)
    }

    #[test]
    fn a_copied_question_stands_out_alone_and_independent_ones_do_not() {
        let one = made(600, true).unwrap();
        let [pair] = &one.standing_out[..] else {
            unreachable!("{:?}", one.standing_out)
        };
        assert_eq!((pair.first, pair.second, pair.n), (10, 11, 600));
        assert!(pair.q3 > 0.8 && one.pairs.len() == 66 && one.without == 0);
        let none = made(600, false).unwrap();
        // Abilities are the true ones here, so the mean is 0, not −1/11.
        assert!(none.standing_out.is_empty() && none.mean.abs() < 0.02);
    }

    #[test]
    fn fewer_than_two_hundred_are_refused() {
        assert!(matches!(
            made(199, false),
            Err(Refusal::TooFew {
                have: 199,
                need: 200,
                ..
            })
        ));
    }
}
