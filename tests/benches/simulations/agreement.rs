//! Agreement, with truth from a very large table of the same kind.

use statistics::agreement::bland_altman::bland_altman;
use statistics::agreement::category_table::{CategoryTable, Weighting};
use statistics::agreement::cohen_kappa::cohen_kappa;
use statistics::agreement::conger_kappa::conger_kappa;
use statistics::agreement::fleiss_kappa::fleiss_kappa;
use statistics::agreement::gwet_coefficient::{GwetWeights, gwet_coefficient};
use statistics::agreement::intraclass_correlation::intraclass_correlation;
use statistics::agreement::kendall_w::kendall_w;
use statistics::agreement::krippendorff_alpha::{Scale, krippendorff_alpha};
use statistics::agreement::light_kappa::light_kappa;
use statistics::agreement::rating_table::RatingTable;
use statistics::{Confidence, Refusal};

use crate::tally::{Tally, normal, stream};

const P95: Confidence = Confidence::P95;
type Limits = Option<(f64, f64)>;
type Rows = Vec<Vec<Option<f64>>>;

pub(crate) fn run() {
    for n in [10, 25, 60] {
        of_names(n);
        of_numbers(n);
    }
}

/// Three raters see the true one of four categories in seven cases of ten and else say any.
fn categories(draws: &mut base::Stream, n: usize) -> Rows {
    (0..n)
        .map(|_| {
            let truth = (draws.unit() * draws.unit() * 4.0).floor();
            (0..3)
                .map(|_| {
                    let seen = draws.unit() < 0.7;
                    Some(if seen {
                        truth
                    } else {
                        (draws.unit() * 4.0).floor()
                    })
                })
                .collect()
        })
        .collect()
}

fn named(rows: Rows, which: usize) -> Result<(f64, Limits), Refusal> {
    let table = RatingTable::new(rows)?;
    let two = |weighting: &Weighting| {
        let column = |place: usize| -> Vec<usize> {
            let cells = table.ratings_of(place).flatten();
            cells.map(|value| value as usize).collect()
        };
        let counted = CategoryTable::of_ratings(&column(0), &column(1), 4)?;
        let made = cohen_kappa(&counted, weighting, P95)?;
        Ok((made.kappa, Some((made.interval.lower, made.interval.upper))))
    };
    let gwet = |weights| {
        gwet_coefficient(&table, weights, P95)
            .map(|m| (m.coefficient, m.interval.ok().map(|l| (l.lower, l.upper))))
    };
    match which {
        0 => two(&Weighting::Unweighted),
        1 => two(&Weighting::Quadratic),
        2 => fleiss_kappa(&table).map(|m| (m.kappa, None)),
        3 => conger_kappa(&table).map(|m| (m.kappa, None)),
        4 => light_kappa(&table).map(|m| (m.kappa, None)),
        5 => gwet(GwetWeights::Unweighted),
        6 => gwet(GwetWeights::Ordinal),
        _ => krippendorff_alpha(&table, Scale::Nominal).map(|m| (m.alpha, None)),
    }
}

fn of_names(n: usize) {
    let mut draws = stream(21);
    let all = categories(&mut draws, 100_000);
    for (which, what) in [
        "Cohen's kappa, 2 raters",
        "weighted kappa, quadratic, 2 raters",
        "Fleiss' kappa, 3 raters",
        "Conger's kappa, 3 raters",
        "Light's kappa, 3 raters",
        "Gwet's AC1, 3 raters",
        "Gwet's AC2 by ranks, 3 raters",
        "Krippendorff's alpha, names, 3 raters",
    ]
    .into_iter()
    .enumerate()
    {
        let (truth, _) = named(all.clone(), which).unwrap();
        let mut tally = Tally::default();
        for _ in 0..1_000 {
            tally.take(named(categories(&mut draws, n), which), truth);
        }
        tally.print(what, n);
    }
}

/// Things spread by 1, markers by .5, the rest by .7.
fn of_numbers(n: usize) {
    let mut draws = stream(22);
    let (things, markers, rest) = (1.0, 0.25, 0.49);
    let single = things / (things + markers + rest);
    let mean = things / (things + (markers + rest) / 4.0);
    let fixed = things / (things + rest);
    let fixed_mean = things / (things + rest / 4.0);
    let mut tallies: [Tally; 7] = Default::default();
    for _ in 0..1_000 {
        let markers: Vec<f64> = (0..4).map(|_| 0.5 * normal(&mut draws)).collect();
        let rows: Rows = (0..n)
            .map(|_| {
                let thing = normal(&mut draws);
                markers
                    .iter()
                    .map(|m| Some(thing + m + 0.7 * normal(&mut draws)))
                    .collect()
            })
            .collect();
        let table = RatingTable::new(rows.clone()).unwrap();
        let made = intraclass_correlation(&table, P95);
        let all = |form: &statistics::agreement::intraclass_correlation::IntraclassForm| {
            (form.value, Some((form.interval.lower, form.interval.upper)))
        };
        tallies[0].take(made.as_ref().map(|m| all(&m.random_single)), single);
        tallies[1].take(made.as_ref().map(|m| (m.random_mean, None)), mean);
        tallies[2].take(made.as_ref().map(|m| all(&m.fixed_single)), fixed);
        tallies[3].take(made.as_ref().map(|m| all(&m.fixed_mean)), fixed_mean);
        let both = |place: usize| -> Vec<f64> { rows.iter().filter_map(|r| r[place]).collect() };
        let made = bland_altman(&both(0), &both(1), P95);
        tallies[4].take(
            made.map(|m| {
                (
                    m.mean_difference,
                    Some((m.interval.lower, m.interval.upper)),
                )
            }),
            markers[0] - markers[1],
        );
        // Other markers for every thing: markers are part of the rest.
        let rows: Rows = (0..n)
            .map(|_| {
                let thing = normal(&mut draws);
                (0..4)
                    .map(|_| Some(thing + 0.74_f64.sqrt() * normal(&mut draws)))
                    .collect()
            })
            .collect();
        let table = RatingTable::new(rows).unwrap();
        let made = intraclass_correlation(&table, P95);
        tallies[5].take(made.as_ref().map(|m| all(&m.one_way_single)), single);
        tallies[6].take(
            krippendorff_alpha(&table, Scale::Interval).map(|m| (m.alpha, None)),
            single,
        );
    }
    for (tally, what) in tallies.iter().zip([
        "ICC(2,1), 4 markers",
        "ICC(2,k)",
        "ICC(3,1)",
        "ICC(3,k)",
        "mean difference of two markers",
        "ICC(1,1), other markers for each",
        "Krippendorff's alpha, numbers, other markers for each",
    ]) {
        tally.print(what, n);
    }
    let truth = {
        let rows = orders(&mut draws, 200, 2_000);
        kendall_w(&RatingTable::new(rows).unwrap()).unwrap().w
    };
    let mut tally = Tally::default();
    for _ in 0..500 {
        let rows = orders(&mut draws, n, 12);
        tally.take(
            kendall_w(&RatingTable::new(rows).unwrap()).map(|m| (m.w, None)),
            truth,
        );
    }
    tally.print(
        "Kendall's W, 12 assessors (n samples; truth of 2,000 assessors)",
        n,
    );
}

fn orders(draws: &mut base::Stream, samples: usize, assessors: usize) -> Rows {
    (0..samples)
        .map(|_| {
            let thing = normal(draws);
            (0..assessors)
                .map(|_| Some(thing + normal(draws)))
                .collect()
        })
        .collect()
}
