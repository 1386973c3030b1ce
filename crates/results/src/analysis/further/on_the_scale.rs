//! Whether the scale holds: the same for weak and strong, no question gives another away, each curve
//! as steep as the answers.

use statistics::Refusal;
use statistics::scaling::ability_prior::AbilityPrior;
use statistics::scaling::andersen_test::{andersen_test, split_at_mean};
use statistics::scaling::item_curve::ItemCurve;
use statistics::scaling::local_dependence::local_dependence;
use statistics::scaling::response_table::ResponseTable;
use statistics::scaling::summed_score_fit::summed_score_fit;
use statistics::similarity::many_pairs::many_pairs;

use super::super::smallest::Need;
use super::FurtherFigure;

/// Below this an adjusted probability is told as more than chance.
const BEYOND_CHANCE: f64 = 0.05;
/// The most pairs of questions that are named.
const MOST_NAMED: usize = 5;

/// A scale as it was built.
pub(in super::super) struct Built<'s> {
    pub(in super::super) table: &'s ResponseTable,
    pub(in super::super) curves: &'s [ItemCurve],
    pub(in super::super) abilities: &'s [Option<f64>],
    /// Spread of the population.
    pub(in super::super) deviation: f64,
    /// The names of the questions.
    pub(in super::super) names: &'s [&'s str],
}

pub(in super::super) fn checks(built: &Built<'_>) -> Vec<FurtherFigure> {
    let n = built.table.persons();
    let mut lines = vec![FurtherFigure::new(
        "the scale",
        "the same for weak and strong (Andersen)",
        n,
        same_for_all(built),
    )];
    // What nobody expects of so few stands in the list of smallest numbers.
    if Need::LocalDependence.refused(n).is_none() {
        lines.push(FurtherFigure::new(
            "the scale",
            "questions that go together (Q3, the strongest pair)",
            n,
            together(built),
        ));
    }
    if Need::CurveFit.refused(n).is_none() {
        lines.push(FurtherFigure::new(
            "the scale",
            "fit at each total (S-X², the worst question)",
            n,
            curve_fit(built),
        ));
    }
    lines
}

fn same_for_all(built: &Built<'_>) -> Result<(f64, String), Refusal> {
    let groups = split_at_mean(built.table)?;
    let made = andersen_test(built.table, &groups)?;
    let p = made.p_value.probability;
    let told = if p < BEYOND_CHANCE {
        "questions are not equally hard, beside each other, for the lower and the upper half: read the ability of a candidate with care, and the questions that fit badly first"
    } else {
        "no sign that questions are hard for others in the lower half than in the upper"
    };
    Ok((
        made.likelihood_ratio,
        format!(
            "Chi-square with {} degrees of freedom, p = {}: {told}.",
            made.degrees_of_freedom,
            chance(p)
        ),
    ))
}

fn together(built: &Built<'_>) -> Result<(f64, String), Refusal> {
    let made = local_dependence(built.table, built.curves, built.abilities)?;
    let name = |place: usize| built.names.get(place).copied().unwrap_or("?");
    let strongest = made
        .pairs
        .iter()
        .max_by(|a, b| a.q3.total_cmp(&b.q3))
        .ok_or(Refusal::NotDefined {
            of: "Q3",
            because: "no pair of questions has a figure",
        })?;
    let named: Vec<String> = made
        .standing_out
        .iter()
        .take(MOST_NAMED)
        .map(|pair| {
            format!(
                "{} and {} ({:.2})",
                name(pair.first),
                name(pair.second),
                pair.q3
            )
        })
        .collect();
    let says = if named.is_empty() {
        format!(
            "No pair lies .2 above the mean of all pairs ({:.2}); the nearest are {} and {}.",
            made.mean,
            name(strongest.first),
            name(strongest.second)
        )
    } else {
        format!(
            "Beyond what ability explains {} go together; does one give the other away, or do both hang on one text? The mean of all pairs is {:.2}.{}",
            named.join(", "),
            made.mean,
            if built.table.persons() < 500 {
                " With so few candidates chance alone lets some pair stand out in one paper of four (simulated: 200 candidates, 15 questions)."
            } else {
                ""
            }
        )
    };
    Ok((strongest.q3, says))
}

fn curve_fit(built: &Built<'_>) -> Result<(f64, String), Refusal> {
    let population = AbilityPrior::new(0.0, built.deviation)?;
    // One parameter of each question was estimated: its difficulty.
    let made = summed_score_fit(built.table, built.curves, population, 1)?;
    let known: Vec<(usize, f64, f64)> = made
        .iter()
        .enumerate()
        .filter_map(|(place, fit)| {
            let fit = fit.as_ref()?;
            Some((place, fit.chi_square, fit.p_value.probability))
        })
        .collect();
    let chances: Vec<f64> = known.iter().map(|(_, _, p)| *p).collect();
    let adjusted = many_pairs(&chances, chances.len())?;
    let (place, chi_square) = known
        .iter()
        .zip(&adjusted)
        .min_by(|a, b| a.0.2.total_cmp(&b.0.2))
        .map(|((place, chi_square, _), _)| (*place, *chi_square))
        .ok_or(Refusal::NotDefined {
            of: "S-X²",
            because: "no question leaves a degree of freedom",
        })?;
    let name = |place: usize| built.names.get(place).copied().unwrap_or("?");
    let misfits: Vec<&str> = known
        .iter()
        .zip(&adjusted)
        .filter(|(_, p)| **p < BEYOND_CHANCE)
        .map(|((place, _, _), _)| name(*place))
        .collect();
    let says = if misfits.is_empty() {
        format!(
            "{} fits worst, and no question misfits beyond chance once all are counted (Holm).",
            name(place)
        )
    } else {
        format!(
            "Beyond chance, all questions counted (Holm), one slope for all does not fit: {}. Look at their options; with 200 candidates each may have its own slope.",
            misfits.join(", ")
        )
    };
    Ok((chi_square, says))
}

fn chance(p: f64) -> String {
    if p < 0.001 {
        "below .001".to_owned()
    } else {
        format!("{p:.3}")
    }
}
