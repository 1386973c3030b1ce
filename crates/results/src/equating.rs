//! What a mark on one form would have been on another, by the way that so many candidates carry.
//!
//! The advisor of crate statistics says which way to take first and why; a way that the numbers do
//! not carry is refused by name with the smallest number that would do.

mod by_curves;
mod resampled;

pub use by_curves::FormAnswers;
use by_curves::{Score, convert_by_curves};
use resampled::resampled;
use serde::Serialize;
use statistics::equating::advice::{Advice, EquatingMethod, advice};
use statistics::equating::anchor_group::AnchorGroup;
use statistics::equating::braun_holland::braun_holland;
use statistics::equating::chained_equipercentile::chained_equipercentile;
use statistics::equating::chained_linear::chained_linear;
use statistics::equating::circle_arc::{Equivalent, circle_arc};
use statistics::equating::equipercentile::equipercentile_equating;
use statistics::equating::frequency_estimation::frequency_estimation;
use statistics::equating::identity::identity;
use statistics::equating::levine::{AnchorPlace, levine_observed_score};
use statistics::equating::linear::linear_equating;
use statistics::equating::mean::mean_equating;
use statistics::equating::nominal_weights::nominal_weights;
use statistics::equating::presmoothing::presmoothing;
use statistics::equating::score_distribution::ScoreDistribution;
use statistics::equating::synthetic_population::PopulationWeight;
use statistics::equating::tucker::tucker;
use statistics::sums::{Divisor, mean, variance};
use statistics::{Confidence, Refusal};

/// The marks of one form.
#[derive(Debug, Clone, PartialEq)]
pub struct FormMarks {
    /// Its name.
    pub name: String,
    /// Whole marks, one for each candidate.
    pub totals: Vec<usize>,
    /// Marks on the anchor, one for each candidate.
    pub anchors: Option<Vec<usize>>,
    /// The highest possible mark.
    pub highest: usize,
    /// The highest possible mark on the anchor.
    pub highest_anchor: usize,
    /// Each question's marks, where they are known; the ways by curves want them.
    pub answers: Option<FormAnswers>,
}

/// A way of equating that can be asked for by name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Way {
    /// A mark is a mark.
    Identity,
    /// A constant is added.
    Mean,
    /// A constant from an anchor by the lengths of form and anchor.
    NominalWeights,
    /// An arc through both ends and one middle point.
    CircleArc,
    /// Mean and spread are matched.
    Linear,
    /// A line by way of the anchor, groups alike in regression.
    Tucker,
    /// A line by way of the anchor, groups that differ.
    Levine,
    /// Two lines, by way of the anchor.
    ChainedLinear,
    /// A line from mixed distributions.
    BraunHolland,
    /// The whole distribution, smoothed.
    Equipercentile,
    /// The whole distribution in a mixed population.
    FrequencyEstimation,
    /// The whole distribution, by way of the anchor.
    ChainedEquipercentile,
    /// Rasch curves of both forms at once; the same ability expected.
    RaschTrueScore,
    /// Rasch curves of both forms at once; the same expected share below.
    RaschObservedScore,
    /// Curves with slopes, linked by shared questions; the same ability expected.
    CurvesTrueScore,
    /// Curves with slopes, linked by shared questions; the same expected share below.
    CurvesObservedScore,
}

impl Way {
    /// All ways.
    pub const ALL: [Self; 16] = [
        Self::Identity,
        Self::Mean,
        Self::NominalWeights,
        Self::CircleArc,
        Self::Linear,
        Self::Tucker,
        Self::Levine,
        Self::ChainedLinear,
        Self::BraunHolland,
        Self::Equipercentile,
        Self::FrequencyEstimation,
        Self::ChainedEquipercentile,
        Self::RaschTrueScore,
        Self::RaschObservedScore,
        Self::CurvesTrueScore,
        Self::CurvesObservedScore,
    ];

    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Identity => "identity",
            Self::Mean => "mean",
            Self::NominalWeights => "nominal-weights",
            Self::CircleArc => "circle-arc",
            Self::Linear => "linear",
            Self::Tucker => "tucker",
            Self::Levine => "levine",
            Self::ChainedLinear => "chained-linear",
            Self::BraunHolland => "braun-holland",
            Self::Equipercentile => "equipercentile",
            Self::FrequencyEstimation => "frequency-estimation",
            Self::ChainedEquipercentile => "chained-equipercentile",
            Self::RaschTrueScore => "rasch-true-score",
            Self::RaschObservedScore => "rasch-observed-score",
            Self::CurvesTrueScore => "curves-true-score",
            Self::CurvesObservedScore => "curves-observed-score",
        }
    }

    /// By curves: with slopes of their own or without, and which score is made equal.
    const fn by_curves(self) -> Option<(bool, Score)> {
        match self {
            Self::RaschTrueScore => Some((false, Score::True)),
            Self::RaschObservedScore => Some((false, Score::Observed)),
            Self::CurvesTrueScore => Some((true, Score::True)),
            Self::CurvesObservedScore => Some((true, Score::Observed)),
            Self::Identity
            | Self::Mean
            | Self::NominalWeights
            | Self::CircleArc
            | Self::Linear
            | Self::Tucker
            | Self::Levine
            | Self::ChainedLinear
            | Self::BraunHolland
            | Self::Equipercentile
            | Self::FrequencyEstimation
            | Self::ChainedEquipercentile => None,
        }
    }

    /// What it asks of the numbers; the ways by curves ask [`by_curves`] instead.
    const fn asks(self) -> EquatingMethod {
        match self {
            Self::RaschTrueScore
            | Self::RaschObservedScore
            | Self::CurvesTrueScore
            | Self::CurvesObservedScore => EquatingMethod::Identity,
            Self::Identity => EquatingMethod::Identity,
            Self::Mean => EquatingMethod::Mean,
            Self::NominalWeights => EquatingMethod::NominalWeights,
            Self::CircleArc => EquatingMethod::CircleArc,
            Self::Linear
            | Self::Tucker
            | Self::Levine
            | Self::ChainedLinear
            | Self::BraunHolland => EquatingMethod::Linear,
            Self::Equipercentile | Self::FrequencyEstimation | Self::ChainedEquipercentile => {
                EquatingMethod::SmoothedEquipercentile
            }
        }
    }

    /// Whether it needs an anchor; none where it works with and without.
    const fn wants_anchor(self) -> Option<bool> {
        match self {
            Self::Identity | Self::Mean | Self::CircleArc => None,
            Self::Linear | Self::Equipercentile => Some(false),
            Self::NominalWeights
            | Self::Tucker
            | Self::Levine
            | Self::ChainedLinear
            | Self::BraunHolland
            | Self::FrequencyEstimation
            | Self::ChainedEquipercentile
            | Self::RaschTrueScore
            | Self::RaschObservedScore
            | Self::CurvesTrueScore
            | Self::CurvesObservedScore => Some(true),
        }
    }

    /// The way that the advice means, with or without an anchor.
    const fn advised(first: EquatingMethod, anchor: bool) -> Self {
        match (first, anchor) {
            (EquatingMethod::Identity, _) => Self::Identity,
            (EquatingMethod::Mean, _) => Self::Mean,
            (EquatingMethod::NominalWeights, _) => Self::NominalWeights,
            (EquatingMethod::CircleArc, _) => Self::CircleArc,
            (EquatingMethod::Linear, false) => Self::Linear,
            (EquatingMethod::Linear, true) => Self::Tucker,
            (EquatingMethod::SmoothedEquipercentile, false) => Self::Equipercentile,
            (EquatingMethod::SmoothedEquipercentile, true) => Self::FrequencyEstimation,
        }
    }
}

/// One mark.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct EquatedMark {
    /// On the form that is converted.
    pub mark: usize,
    /// On the other form.
    pub equivalent: f64,
    /// Its standard error; none for the identity, whose error is a bias that nobody knows.
    pub standard_error: Option<f64>,
}

/// Two forms equated.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Equated {
    /// The form that is converted, and the other.
    pub forms: [String; 2],
    /// Candidates on each.
    pub n: [usize; 2],
    /// Whether there is an anchor.
    pub anchor: bool,
    /// Means and standard deviations, first form and other.
    pub means: [f64; 2],
    /// Standard deviations; none for a single candidate.
    pub deviations: [Option<f64>; 2],
    /// What the advisor says.
    pub advice: Advice,
    /// The way that was taken.
    pub way: Way,
    /// Where the standard errors come from.
    pub errors_from: &'static str,
    /// The marks.
    pub marks: Vec<EquatedMark>,
    /// What to know, in plain sentences.
    pub sentences: Vec<String>,
}

/// Why forms cannot be equated, in sentences: what, and what to do.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct NotEquated {
    /// What is refused and why.
    pub what: String,
    /// What would do.
    pub instead: String,
}

/// Equates form `x` to form `y`, by the way asked for, or the one the numbers carry.
///
/// # Errors
/// When the way is not carried by the numbers, wants an anchor that is not there (or none where one
/// is), or has no value for these marks.
pub fn equate(
    x: &FormMarks,
    y: &FormMarks,
    place: AnchorPlace,
    asked: Option<Way>,
) -> Result<Equated, NotEquated> {
    let n = [x.totals.len(), y.totals.len()];
    let advice = advice(n[0].min(n[1]));
    let anchor = x.anchors.is_some() && y.anchors.is_some();
    let way = asked.unwrap_or_else(|| Way::advised(advice.first, anchor));
    allowed(way, &advice, anchor)?;
    let refused = |refusal: Refusal| NotEquated {
        what: format!("no {} equating: {refusal}", way.name()),
        instead: "a mark counts as the same mark on both forms (--way identity)".to_owned(),
    };
    let groups = Groups::of(x, y).map_err(refused)?;
    let mut told = Vec::new();
    let equivalents = match way.by_curves() {
        Some((slopes, score)) => {
            let made = convert_by_curves(x, y, slopes, score)?;
            told = made.sentences;
            made.equivalents
        }
        None => convert(way, &groups, place).map_err(refused)?,
    };
    let (errors, errors_from) = if way.by_curves().is_some() {
        (
            None,
            "none: the errors of the curves are not carried over to the marks",
        )
    } else {
        errors(way, x, y, &groups, place, equivalents.len())
    };
    let marks = equivalents
        .iter()
        .enumerate()
        .map(|(mark, equivalent)| EquatedMark {
            mark,
            equivalent: *equivalent,
            standard_error: errors.as_ref().and_then(|errors| errors.get(mark).copied()),
        })
        .collect();
    let numbers =
        |form: &FormMarks| -> Vec<f64> { form.totals.iter().map(|t| *t as f64).collect() };
    let both = [numbers(x), numbers(y)];
    let means = both.each_ref().map(|marks| mean(marks).unwrap_or(0.0));
    let deviations = both
        .each_ref()
        .map(|marks| variance(marks, Divisor::CountLessOne).ok().map(f64::sqrt));
    let mut made = Equated {
        forms: [x.name.clone(), y.name.clone()],
        n,
        anchor,
        means,
        deviations,
        advice,
        way,
        errors_from,
        marks,
        sentences: Vec::new(),
    };
    made.sentences = sentences(&made);
    made.sentences.extend(told);
    Ok(made)
}

fn allowed(way: Way, advice: &Advice, anchor: bool) -> Result<(), NotEquated> {
    if !advice.carried.contains(&way.asks()) {
        let need = (advice.n..10_000)
            .find(|n| {
                statistics::equating::advice(*n)
                    .carried
                    .contains(&way.asks())
            })
            .unwrap_or(10_000);
        return Err(NotEquated {
            what: format!(
                "{} equating is not carried by {} candidates: at least {need} on each form are needed",
                way.name(),
                advice.n
            ),
            instead: format!(
                "{}: {}; sittings can be pooled by form",
                Way::advised(advice.first, anchor).name(),
                advice.reason
            ),
        });
    }
    match (way.wants_anchor(), anchor) {
        (Some(true), false) => Err(NotEquated {
            what: format!("{} equating needs questions that both forms have", way.name()),
            instead: "name them with --anchor or --anchor-question".to_owned(),
        }),
        (Some(false), true) => Err(NotEquated {
            what: format!("{} equating takes the groups as alike and leaves the anchor aside", way.name()),
            instead: "tucker, levine or chained-linear; or leave the anchor out if the groups are drawn at random".to_owned(),
        }),
        _ => Ok(()),
    }
}

/// Both groups in the forms that the estimators take; a refusal is kept for whoever needs it.
struct Groups {
    x: Result<ScoreDistribution, Refusal>,
    y: Result<ScoreDistribution, Refusal>,
    by_anchor: Option<[AnchorGroup; 2]>,
    highest: [usize; 2],
}

impl Groups {
    fn of(x: &FormMarks, y: &FormMarks) -> Result<Self, Refusal> {
        let by_anchor = match (&x.anchors, &y.anchors) {
            (Some(one), Some(other)) => Some([
                AnchorGroup::new(&x.totals, one, x.highest, x.highest_anchor)?,
                AnchorGroup::new(&y.totals, other, y.highest, y.highest_anchor)?,
            ]),
            _ => None,
        };
        Ok(Self {
            x: ScoreDistribution::from_marks(&x.totals, x.highest),
            y: ScoreDistribution::from_marks(&y.totals, y.highest),
            by_anchor,
            highest: [x.highest, y.highest],
        })
    }

    fn anchored(&self) -> Result<&[AnchorGroup; 2], Refusal> {
        self.by_anchor.as_ref().ok_or(Refusal::NotDefined {
            of: "equating by an anchor",
            because: "there is none",
        })
    }
}

fn convert(way: Way, groups: &Groups, place: AnchorPlace) -> Result<Vec<f64>, Refusal> {
    let highest = groups.highest[0];
    let half = PopulationWeight::HALVES;
    Ok(match way {
        Way::Identity => identity().table(highest),
        Way::Mean => match &groups.by_anchor {
            Some([x, y]) => tucker(x, y, half)?.mean_conversion().table(highest),
            None => mean_equating(
                groups.x.as_ref().map_err(|r| *r)?,
                groups.y.as_ref().map_err(|r| *r)?,
                Confidence::P95,
            )
            .conversion
            .table(highest),
        },
        Way::NominalWeights => {
            let [x, y] = groups.anchored()?;
            nominal_weights(x, y, half)?.table(highest)
        }
        Way::CircleArc => arc(groups)?,
        Way::Linear => linear_equating(
            groups.x.as_ref().map_err(|r| *r)?,
            groups.y.as_ref().map_err(|r| *r)?,
        )
        .conversion
        .table(highest),
        Way::Tucker => {
            let [x, y] = groups.anchored()?;
            tucker(x, y, half)?.conversion.table(highest)
        }
        Way::Levine => {
            let [x, y] = groups.anchored()?;
            levine_observed_score(x, y, place, half)?
                .conversion
                .table(highest)
        }
        Way::ChainedLinear => {
            let [x, y] = groups.anchored()?;
            chained_linear(x, y)?.table(highest)
        }
        Way::BraunHolland => {
            let [x, y] = groups.anchored()?;
            braun_holland(&frequency_estimation(x, y, half)?)?.table(highest)
        }
        Way::Equipercentile => {
            equipercentile_equating(&smoothed(&groups.x)?, &smoothed(&groups.y)?).equivalents
        }
        Way::FrequencyEstimation => {
            let [x, y] = groups.anchored()?;
            frequency_estimation(x, y, half)?.equipercentile()
        }
        Way::ChainedEquipercentile => {
            let [x, y] = groups.anchored()?;
            chained_equipercentile(x, y)?
        }
        Way::RaschTrueScore
        | Way::RaschObservedScore
        | Way::CurvesTrueScore
        | Way::CurvesObservedScore => {
            return Err(Refusal::NotDefined {
                of: "equating by curves",
                because: "it takes answers and not marks",
            });
        }
    })
}

/// The degree of smoothing that Akaike's criterion likes best, of 2 to 6.
fn smoothed(counts: &Result<ScoreDistribution, Refusal>) -> Result<ScoreDistribution, Refusal> {
    let counts = counts.as_ref().map_err(|refusal| *refusal)?;
    let mut best = presmoothing(counts, 2)?;
    for degree in 3..=6 {
        if let Ok(next) = presmoothing(counts, degree)
            && next.akaike < best.akaike
        {
            best = next;
        }
    }
    Ok(best.fitted)
}

/// Through nothing and full marks, and through the mean of X with its equivalent.
fn arc(groups: &Groups) -> Result<Vec<f64>, Refusal> {
    let [high_x, high_y] = groups.highest.map(|highest| highest as f64);
    let middle = match &groups.by_anchor {
        Some([x, y]) => {
            let at = x.moments().total_mean;
            Equivalent {
                x: at,
                y: chained_linear(x, y)?.at(at),
            }
        }
        None => Equivalent {
            x: groups.x.as_ref().map_err(|r| *r)?.mean(),
            y: groups.y.as_ref().map_err(|r| *r)?.mean(),
        },
    };
    let point = |x, y| Equivalent { x, y };
    let arc = circle_arc(point(0.0, 0.0), middle, point(high_x, high_y))?;
    Ok(arc.table(groups.highest[0]))
}

fn errors(
    way: Way,
    x: &FormMarks,
    y: &FormMarks,
    groups: &Groups,
    place: AnchorPlace,
    marks: usize,
) -> (Option<Vec<f64>>, &'static str) {
    if let (None, Ok(one), Ok(other)) = (&groups.by_anchor, &groups.x, &groups.y) {
        if way == Way::Mean {
            let error = mean_equating(one, other, Confidence::P95).standard_error;
            return (Some(vec![error; marks]), "delta method");
        }
        if way == Way::Linear {
            return (
                Some(linear_equating(one, other).standard_errors),
                "delta method",
            );
        }
    }
    if way == Way::Identity {
        return (
            None,
            "none: the identity samples nobody; its bias is unknown",
        );
    }
    match resampled(way, x, y, place, marks) {
        Some(errors) => (
            Some(errors),
            "300 resamples of the candidates of both forms",
        ),
        None => (
            None,
            "refused: more than one resample in twenty gave no equating",
        ),
    }
}

fn sentences(made: &Equated) -> Vec<String> {
    let [x, y] = &made.forms;
    let deviation = |place: usize| {
        made.deviations
            .get(place)
            .copied()
            .flatten()
            .map_or_else(String::new, |d| format!(", standard deviation {d:.2}"))
    };
    let mut lines = vec![
        format!(
            "{x}: {} candidates, mean {:.2}{}; {y}: {} candidates, mean {:.2}{}.",
            made.n[0],
            made.means[0],
            deviation(0),
            made.n[1],
            made.means[1],
            deviation(1)
        ),
        format!("The advisor: {}.", made.advice.reason),
    ];
    if let Some(more) = made.advice.more_from {
        lines.push(format!(
            "{more} candidates on each form would carry the next way; sittings can be pooled by form."
        ));
    }
    lines.push(if made.way == Way::Identity {
        format!(
            "So a mark on {x} counts as the same mark on {y}. Whether one form was harder cannot be told from so few: \
             build both forms to the same plan, and look at the questions."
        )
    } else if made.anchor {
        "The groups may differ in ability: the questions that both had say by how much.".to_owned()
    } else {
        "Without questions in common both groups are taken as equally able: true only if chance decided who sat which form.".to_owned()
    });
    let largest = made
        .marks
        .iter()
        .filter_map(|mark| mark.standard_error)
        .fold(0.0, f64::max);
    if largest > 0.0 {
        lines.push(format!(
            "The largest standard error of an equivalent is {largest:.2} marks ({}).",
            made.errors_from
        ));
    }
    lines
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests;
