//! How far people who rated the same things agree: assessors with samples, markers with scripts.
//!
//! Which figures fit hangs on what the ratings are: names without an order, levels with one, or
//! numbers whose differences mean something. All that fit stand side by side with what each takes for
//! chance, since one figure alone can mislead.

use serde::Serialize;
use statistics::agreement::bland_altman::bland_altman;
use statistics::agreement::category_table::{CategoryTable, Weighting};
use statistics::agreement::cohen_kappa::cohen_kappa;
use statistics::agreement::conger_kappa::conger_kappa;
use statistics::agreement::fleiss_kappa::fleiss_kappa;
use statistics::agreement::gwet_coefficient::{GwetWeights, gwet_coefficient};
use statistics::agreement::intraclass_correlation::{
    IntraclassCorrelation, IntraclassForm, intraclass_correlation,
};
use statistics::agreement::kendall_w::kendall_w;
use statistics::agreement::krippendorff_alpha::{Scale, krippendorff_alpha};
use statistics::agreement::light_kappa::light_kappa;
use statistics::agreement::rating_table::RatingTable;
use statistics::panel::cochran_q::cochran_q;
use statistics::{Confidence, Refusal};

use crate::analysis::FurtherFigure;

/// The level of every interval.
const LEVEL: Confidence = Confidence::P95;

/// What the ratings are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum RatedAs {
    /// Names without an order: categories, regions, right and wrong.
    Names,
    /// Levels with an order and no distance: ranks, grades.
    Levels,
    /// Numbers whose differences mean something: marks, intensities.
    Numbers,
}

impl RatedAs {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Names, Self::Levels, Self::Numbers];

    /// Its word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Names => "names",
            Self::Levels => "levels",
            Self::Numbers => "numbers",
        }
    }
}

/// The figures of agreement that fit. Rows are what was rated, columns who rated; names come as
/// numbers, each name its own.
///
/// # Errors
/// When there is no table: no row, rows of unlike length, what is no number.
pub fn agreement(
    rows: Vec<Vec<Option<f64>>>,
    rated_as: RatedAs,
) -> Result<Vec<FurtherFigure>, Refusal> {
    let ratings = RatingTable::new(rows)?;
    let all = Ratings {
        of: format!("{} raters", ratings.raters()),
        n: ratings.subjects(),
        two: two_columns(&ratings),
        ratings,
    };
    Ok(match rated_as {
        RatedAs::Names => all.names(),
        RatedAs::Levels => all.levels(),
        RatedAs::Numbers => all.numbers(),
    })
}

/// The two columns where there are two, of things that both rated.
fn two_columns(ratings: &RatingTable) -> Option<(Vec<f64>, Vec<f64>)> {
    (ratings.raters() == 2).then(|| {
        ratings
            .ratings_of(0)
            .zip(ratings.ratings_of(1))
            .filter_map(|(one, other)| one.zip(other))
            .unzip()
    })
}

struct Ratings {
    of: String,
    n: usize,
    two: Option<(Vec<f64>, Vec<f64>)>,
    ratings: RatingTable,
}

/// A figure of agreement with its limits.
type Made = (f64, Option<(f64, f64)>);

impl Ratings {
    fn line(&self, figure: &str, made: Result<Made, Refusal>, says: &str) -> FurtherFigure {
        let limits = made.as_ref().ok().and_then(|(_, limits)| *limits);
        let told = made.map(|(value, _)| (value, says.to_owned()));
        FurtherFigure::new(&self.of, figure, self.n, told).within(limits)
    }

    fn names(&self) -> Vec<FurtherFigure> {
        let mut lines = Vec::new();
        lines.extend(self.cohen(
            "Cohen's kappa",
            &Weighting::Unweighted,
            "What chance leaves of agreement, and how much of it there is; chance from how often each of the two uses each name.",
        ));
        let fleiss = fleiss_kappa(&self.ratings).map(|made| (made.kappa, None));
        lines.push(self.line(
            "Fleiss' kappa",
            fleiss,
            "As for raters drawn anew for each thing; chance from how often each name is used by all.",
        ));
        let conger = conger_kappa(&self.ratings).map(|made| (made.kappa, None));
        lines.push(self.line(
            "Conger's kappa",
            conger,
            "As for the same few raters each time; chance from each rater's own habits.",
        ));
        let light = light_kappa(&self.ratings).map(|made| (made.kappa, None));
        lines.push(self.line(
            "Light's kappa",
            light,
            "The mean of Cohen's kappa over all pairs of raters.",
        ));
        lines.push(self.line(
            "Gwet's AC1",
            self.gwet(GwetWeights::Unweighted),
            "Holds where one name is so common that kappa is small although people agree.",
        ));
        lines.push(self.krippendorff(Scale::Nominal));
        if self
            .ratings
            .values()
            .iter()
            .all(|value| *value == 0.0 || *value == 1.0)
        {
            let made = self
                .ratings
                .complete_rows()
                .and_then(|table| cochran_q(&table));
            let told = made.map(|made| {
                let p = made.p_value.probability;
                (
                    made.q,
                    format!(
                        "{} degrees of freedom, p = {p:.3}: {}.",
                        made.degrees_of_freedom,
                        if p < 0.05 {
                            "some columns have more ones than others beyond chance"
                        } else {
                            "no sign that some columns have more ones than others"
                        }
                    ),
                )
            });
            lines.push(FurtherFigure::new(&self.of, "Cochran's Q", self.n, told));
        }
        lines
    }

    fn levels(&self) -> Vec<FurtherFigure> {
        let mut lines = Vec::new();
        lines.extend(self.cohen(
            "weighted kappa, linear",
            &Weighting::Linear,
            "A level apart counts as little amiss, the whole scale apart as fully.",
        ));
        lines.extend(self.cohen(
            "weighted kappa, quadratic",
            &Weighting::Quadratic,
            "As above with squared distances: near to an intraclass correlation.",
        ));
        lines.push(self.line(
            "Gwet's AC2",
            self.gwet(GwetWeights::Ordinal),
            "Agreement by ranks; holds where most ratings are of one level.",
        ));
        lines.push(self.krippendorff(Scale::Ordinal));
        lines.push(self.order());
        lines
    }

    fn numbers(&self) -> Vec<FurtherFigure> {
        let mut lines = Vec::new();
        let made = intraclass_correlation(&self.ratings, LEVEL);
        let form = |which: fn(&IntraclassCorrelation) -> Made| {
            made.as_ref().map(which).map_err(|why| *why)
        };
        lines.push(self.line(
            "ICC(1,1)",
            form(|m| with_limits(&m.one_way_single)),
            "One rating, every thing by other raters.",
        ));
        lines.push(self.line(
            "ICC(2,1)",
            form(|m| with_limits(&m.random_single)),
            "One rating, raters standing for others: hard and mild raters count as error.",
        ));
        lines.push(self.line(
            "ICC(3,1)",
            form(|m| with_limits(&m.fixed_single)),
            "One rating, just these raters: only the order of things counts.",
        ));
        lines.push(self.line(
            "ICC(1,k)",
            form(|m| with_limits(&m.one_way_mean)),
            "The mean of all ratings, every thing by other raters.",
        ));
        lines.push(self.line(
            "ICC(2,k)",
            form(|m| (m.random_mean, None)),
            "The mean of all ratings, raters standing for others.",
        ));
        lines.push(self.line(
            "ICC(3,k)",
            form(|m| with_limits(&m.fixed_mean)),
            "The mean of all ratings, just these raters; alpha of the raters is the same.",
        ));
        lines.push(self.krippendorff(Scale::Interval));
        lines.push(self.order());
        if let Some((first, second)) = &self.two {
            let made = bland_altman(first, second, LEVEL);
            let told = made.map(|made| {
                (
                    made.mean_difference,
                    format!(
                        "So much higher is the first on average; 95 of 100 differences lie from {:.2} to {:.2}.",
                        made.lower_limit, made.upper_limit
                    ),
                )
            });
            let limits = made
                .as_ref()
                .ok()
                .map(|m| (m.interval.lower, m.interval.upper));
            let figure = "mean difference (Bland and Altman)";
            lines.push(FurtherFigure::new(&self.of, figure, self.n, told).within(limits));
        }
        lines
    }

    fn gwet(&self, weights: GwetWeights) -> Result<Made, Refusal> {
        gwet_coefficient(&self.ratings, weights, LEVEL).map(|made| {
            let limits = made.interval.as_ref().ok();
            (made.coefficient, limits.map(|l| (l.lower, l.upper)))
        })
    }

    fn krippendorff(&self, scale: Scale) -> FurtherFigure {
        let made = krippendorff_alpha(&self.ratings, scale).map(|made| (made.alpha, None));
        self.line(
            "Krippendorff's alpha",
            made,
            "Takes gaps, any number of raters; chance from all ratings thrown together.",
        )
    }

    fn order(&self) -> FurtherFigure {
        let told = kendall_w(&self.ratings).map(|made| {
            (
                made.w,
                format!(
                    "Agreement on the order of {} things, 1 for the same order by all; chi-square {:.1} with {} degrees of freedom, p = {:.3}.",
                    made.samples, made.chi_square, made.degrees_of_freedom, made.p_value.probability
                ),
            )
        });
        FurtherFigure::new(&self.of, "Kendall's W", self.n, told)
    }

    /// Cohen's kappa where there are two raters.
    fn cohen(&self, figure: &str, weighting: &Weighting, says: &str) -> Option<FurtherFigure> {
        let (first, second) = self.two.as_ref()?;
        let values = self.ratings.values();
        let place = |rating: &f64| values.iter().position(|value| value == rating).unwrap_or(0);
        let places = |ratings: &[f64]| ratings.iter().map(place).collect::<Vec<usize>>();
        let made = CategoryTable::of_ratings(&places(first), &places(second), values.len())
            .and_then(|table| cohen_kappa(&table, weighting, LEVEL))
            .map(|made| (made.kappa, Some((made.interval.lower, made.interval.upper))));
        Some(self.line(figure, made, says))
    }
}

fn with_limits(form: &IntraclassForm) -> Made {
    (form.value, Some((form.interval.lower, form.interval.upper)))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn table(rows: &[[f64; 3]]) -> Vec<Vec<Option<f64>>> {
        rows.iter()
            .map(|row| row.iter().map(|v| Some(*v)).collect())
            .collect()
    }

    #[test]
    fn each_kind_of_rating_has_its_figures_and_none_is_no_number() {
        let rows = [
            [1.0, 1.0, 2.0],
            [2.0, 2.0, 2.0],
            [3.0, 3.0, 2.0],
            [1.0, 2.0, 1.0],
            [3.0, 3.0, 3.0],
        ];
        for (rated_as, first) in [
            (RatedAs::Names, "Fleiss' kappa"),
            (RatedAs::Levels, "Gwet's AC2"),
            (RatedAs::Numbers, "ICC(1,1)"),
        ] {
            let made = agreement(table(&rows), rated_as).unwrap();
            assert_eq!(made[0].figure, first);
            assert!(
                made.iter()
                    .all(|line| line.value.is_some_and(f64::is_finite)),
                "{made:?}"
            );
        }
    }

    #[test]
    fn equal_ratings_one_thing_and_gaps_are_told_by_name() {
        for rows in [
            table(&[[2.0, 2.0, 2.0]; 4]),
            table(&[[1.0, 2.0, 3.0]]),
            vec![vec![Some(1.0), None]; 3],
        ] {
            for rated_as in RatedAs::ALL {
                let made = agreement(rows.clone(), rated_as).unwrap();
                for line in &made {
                    assert!(line.value.is_none_or(f64::is_finite), "{line:?}");
                    assert!(
                        line.value.is_some() || line.says.starts_with("Not given"),
                        "{line:?}"
                    );
                }
            }
        }
        assert!(agreement(Vec::new(), RatedAs::Names).is_err());
    }

    #[test]
    fn two_raters_are_set_beside_each_other() {
        let rows: Vec<Vec<Option<f64>>> = (0..12)
            .map(|thing| {
                vec![
                    Some(f64::from(thing % 4)),
                    Some(f64::from((thing + thing / 6) % 4)),
                ]
            })
            .collect();
        let names = agreement(rows.clone(), RatedAs::Names).unwrap();
        assert_eq!(names[0].figure, "Cohen's kappa");
        // Light's kappa of one pair is Cohen's.
        let light = names
            .iter()
            .find(|line| line.figure.starts_with("Light"))
            .unwrap();
        assert!((light.value.unwrap() - names[0].value.unwrap()).abs() < 1e-12);
        let numbers = agreement(rows, RatedAs::Numbers).unwrap();
        assert!(numbers.last().unwrap().figure.contains("Bland"));
    }
}
