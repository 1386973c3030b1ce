//! How far marks of two markers agree: ICC(1,1), Krippendorff's alpha, and weighted kappa of pairs.
//!
//! ICC(1,1), since every script may have other markers (Shrout and Fleiss 1979, case 1), and
//! Krippendorff's alpha for an interval scale. Kappa with quadratic weights (Cohen 1968) for each
//! two markers who share enough scripts of one maximum, over the steps in which marks were given;
//! it takes both to be alike in kind, so the order in which they marked does not matter. Smallest
//! n: ten scripts (common practice, no source); below it the figure is refused.

use std::collections::BTreeMap;

use base::Marks;
use statistics::Confidence;
use statistics::agreement::category_table::{CategoryTable, Weighting};
use statistics::agreement::cohen_kappa::cohen_kappa;
use statistics::agreement::intraclass_correlation::intraclass_correlation;
use statistics::agreement::krippendorff_alpha::{Scale, krippendorff_alpha};
use statistics::agreement::rating_table::RatingTable;

use super::{FEWEST_FOR_AGREEMENT, MarkedTwice};

/// The most steps of a scale of marks over which a kappa is told.
const MOST_STEPS: i64 = 100;

/// Agreement, a sentence each; or why it is not told.
pub(super) fn sentences(names: &[String], scripts: &[MarkedTwice]) -> Vec<String> {
    let n = scripts.len();
    if n < FEWEST_FOR_AGREEMENT {
        return vec![format!(
            "Agreement is not told: {n} scripts were marked twice, {FEWEST_FOR_AGREEMENT} would do."
        )];
    }
    let rows: Vec<Vec<Option<f64>>> = scripts
        .iter()
        .map(|script| {
            let shares = script.marks.iter();
            shares
                .map(|marks| Some(marks.fraction_of(script.of)))
                .collect()
        })
        .collect();
    let table = match RatingTable::new(rows) {
        Ok(table) => table,
        Err(refusal) => return vec![format!("Agreement is not told: {refusal}.")],
    };
    let icc = match intraclass_correlation(&table, Confidence::P95) {
        Ok(icc) => format!(
            "Of the spread between scripts, one marker's mark carries {:.2} (ICC(1,1), 95 % interval {:.2} to {:.2}, {n} scripts).",
            icc.one_way_single.value,
            icc.one_way_single.interval.lower,
            icc.one_way_single.interval.upper,
        ),
        Err(refusal) => format!("The intraclass correlation is not told: {refusal}."),
    };
    let alpha = match krippendorff_alpha(&table, Scale::Interval) {
        Ok(alpha) => format!("Krippendorff's alpha is {:.2} ({n} scripts).", alpha.alpha),
        Err(refusal) => format!("Krippendorff's alpha is not told: {refusal}."),
    };
    let mut all = vec![icc, alpha];
    all.extend(kappas(names, scripts));
    all
}

/// A sentence for each two markers with enough scripts of one maximum.
fn kappas(names: &[String], scripts: &[MarkedTwice]) -> Vec<String> {
    let mut pairs: BTreeMap<([usize; 2], Marks), Vec<[Marks; 2]>> = BTreeMap::new();
    for script in scripts {
        let ([first, second], [a, b]) = (script.markers, script.marks);
        let (markers, marks) = if first <= second {
            ([first, second], [a, b])
        } else {
            ([second, first], [b, a])
        };
        pairs.entry((markers, script.of)).or_default().push(marks);
    }
    let enough = |((_, _), marks): &(&([usize; 2], Marks), &Vec<[Marks; 2]>)| {
        marks.len() >= FEWEST_FOR_AGREEMENT
    };
    pairs
        .iter()
        .filter(enough)
        .filter_map(|((markers, of), marks)| {
            let [first, second] = markers.map(|place| names.get(place));
            let told = match kappa(*of, marks) {
                Ok(words) => words,
                Err(why) => format!("weighted kappa is not told: {why}"),
            };
            Some(format!("{} and {}: {told}.", first?, second?))
        })
        .collect()
}

fn kappa(of: Marks, marks: &[[Marks; 2]]) -> Result<String, String> {
    let given = marks.iter().flatten().map(|marks| marks.thousandths());
    // The widest step in which all marks and the maximum can be counted.
    let step = given.chain([of.thousandths()]).fold(0, common_divisor);
    let steps = of.thousandths().checked_div(step).unwrap_or(0);
    if !(1..=MOST_STEPS).contains(&steps) {
        return Err(format!(
            "marks come in {steps} steps, at most {MOST_STEPS} will do"
        ));
    }
    let category = |marks: Marks| usize::try_from(marks.thousandths() / step).unwrap_or(0);
    let [first, second]: [Vec<usize>; 2] = [0, 1].map(|which| {
        marks
            .iter()
            .filter_map(|both| both.get(which).copied().map(category))
            .collect()
    });
    let categories = usize::try_from(steps + 1).unwrap_or(0);
    let table = CategoryTable::of_ratings(&first, &second, categories)
        .map_err(|refusal| refusal.to_string())?;
    let kappa = cohen_kappa(&table, &Weighting::Quadratic, Confidence::P95)
        .map_err(|refusal| refusal.to_string())?;
    Ok(format!(
        "kappa with quadratic weights {:.2} (95 % interval {:.2} to {:.2}, {} scripts)",
        kappa.kappa,
        kappa.interval.lower,
        kappa.interval.upper,
        marks.len()
    ))
}

fn common_divisor(a: i64, b: i64) -> i64 {
    let (mut a, mut b) = (a.abs(), b.abs());
    while b > 0 {
        (a, b) = (b, a % b);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_kappa_by_hand() {
        // Marks 0 or 1 of 1, ten scripts: both 0 four times, both 1 four times, two apart. Seen .8,
        // by chance .5, kappa .6; with two categories weights change nothing.
        let m = Marks::from_thousandths;
        let mut marks = vec![[m(0), m(0)]; 4];
        marks.extend(vec![[m(1000), m(1000)]; 4]);
        marks.extend([[m(0), m(1000)], [m(1000), m(0)]]);
        let told = kappa(m(1000), &marks).unwrap_or_default();
        assert!(
            told.starts_with("kappa with quadratic weights 0.60 "),
            "{told}"
        );
        assert!(kappa(m(1000), &[[m(1), m(500)]]).is_err());
    }
}
