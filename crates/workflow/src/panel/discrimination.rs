//! Discrimination tests: critical numbers, exact p, power, sample size, d′ with interval, similarity.

use serde::Serialize;
use statistics::discrimination_test::a_not_a::a_not_a;
pub use statistics::discrimination_test::a_not_a::{ANotA, AnswerCounts};
use statistics::discrimination_test::critical_number::{
    critical_number, critical_number_two_sided, guessing_probability,
};
use statistics::discrimination_test::d_prime::{DPrime, d_prime};
use statistics::discrimination_test::method::Method;
use statistics::discrimination_test::power::{answers_needed, power};
use statistics::discrimination_test::replicated::{Replicated, TasterAnswers, replicated};
use statistics::discrimination_test::similarity::{SimilarityLimit, similarity_limit};
use statistics::{Confidence, Refusal};

use crate::failure::Failure;

/// A way of asking, by the names of the trade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum TestMethod {
    /// Which of three is the odd one?
    Triangle,
    /// Which of two is like the reference?
    DuoTrio,
    /// Which of two is stronger in a named way?
    TwoChoice,
    /// Which of three is stronger in a named way?
    ThreeChoice,
    /// Sort four into two pairs.
    Tetrad,
    /// Which of two is stronger, either answer being possible: two-sided.
    PairedComparison,
}

impl TestMethod {
    /// Every method.
    pub const ALL: [Self; 6] = [
        Self::Triangle,
        Self::DuoTrio,
        Self::TwoChoice,
        Self::ThreeChoice,
        Self::Tetrad,
        Self::PairedComparison,
    ];

    /// The word by which it is asked for.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Triangle => "triangle",
            Self::DuoTrio => "duo-trio",
            Self::TwoChoice => "2-afc",
            Self::ThreeChoice => "3-afc",
            Self::Tetrad => "tetrad",
            Self::PairedComparison => "paired",
        }
    }

    const fn model(self) -> Method {
        match self {
            Self::Triangle => Method::Triangle,
            Self::DuoTrio => Method::DuoTrio,
            Self::TwoChoice | Self::PairedComparison => Method::TwoChoice,
            Self::ThreeChoice => Method::ThreeChoice,
            Self::Tetrad => Method::Tetrad,
        }
    }

    /// Whether either answer could turn out to be the one that is given more often.
    #[must_use]
    pub const fn two_sided(self) -> bool {
        matches!(self, Self::PairedComparison)
    }
}

/// The most answers of a test: limits are found by walking over the numbers of right answers.
const MOST_ANSWERS: u32 = 1_000_000;

/// What is asked of a test.
#[derive(Debug, Clone, PartialEq)]
pub struct TestRequest {
    /// How it was asked.
    pub method: TestMethod,
    /// Right answers and answers, or one row a taster; none for planning alone.
    pub counts: Counts,
    /// Risk of finding a difference that is not there.
    pub risk: f64,
    /// The distance that is not to be missed.
    pub distance: f64,
    /// The power wanted.
    pub power: f64,
    /// Share of tasters who may be able to tell, for similarity.
    pub discriminators: f64,
}

/// What was counted.
#[derive(Debug, Clone, PartialEq)]
pub enum Counts {
    /// Nothing yet: a plan. So many answers, if a number is thought of.
    Planned(Option<u32>),
    /// One answer of each taster.
    Single {
        /// Right answers; on the larger side in a paired comparison.
        right: u32,
        /// Answers.
        answers: u32,
    },
    /// Several answers of each taster.
    Replicated(Vec<TasterAnswers>),
}

/// A test.
#[derive(Debug, Clone, Serialize)]
pub struct TestReport {
    /// How it was asked.
    pub method: TestMethod,
    /// Risk.
    pub risk: f64,
    /// Share right by guessing.
    pub guess: f64,
    /// The result, where something was counted.
    pub result: Option<TestResult>,
    /// The plan: for the distance that is not to be missed.
    pub plan: TestPlan,
}

/// What came out.
#[derive(Debug, Clone, Serialize)]
pub struct TestResult {
    /// Right answers.
    pub right: u32,
    /// Answers.
    pub answers: u32,
    /// The smallest number of right answers that is significant; none where not even all would be.
    pub critical: Option<u32>,
    /// Probability of so many, or more, by guessing.
    pub p_value: f64,
    /// Whether guessing is no longer believed.
    pub significant: bool,
    /// The distance; a refusal where there is none.
    pub d_prime: Option<DPrime>,
    /// Why there is no distance.
    pub d_prime_not_given: Option<String>,
    /// The largest numbers that speak for similarity.
    pub similarity: SimilarityLimit,
    /// The share of tasters who may be able to tell, behind it.
    pub discriminators: f64,
    /// Whether the samples may be called similar, by the exact rule.
    pub similar: bool,
    /// How far the answers of one taster hang together, where tasters answered several times.
    pub replication: Option<Replicated>,
}

/// How many answers a distance needs.
#[derive(Debug, Clone, Serialize)]
pub struct TestPlan {
    /// The distance that is not to be missed.
    pub distance: f64,
    /// Share of right answers at that distance.
    pub share_correct: f64,
    /// The power wanted.
    pub power_wanted: f64,
    /// The smallest number of answers with that power; none where 5000 are not enough.
    pub answers_needed: Option<u32>,
    /// The power of the answers that there are, or are thought of.
    pub power: Option<f64>,
    /// The critical number of the answers needed.
    pub critical: Option<u32>,
}

/// Works out a test.
///
/// # Errors
/// A refusal that says which number makes no sense.
pub fn discriminate(request: &TestRequest) -> Result<TestReport, Failure> {
    let answers = match &request.counts {
        Counts::Planned(answers) => answers.map_or(0, u64::from),
        Counts::Single { answers, .. } => u64::from(*answers),
        Counts::Replicated(tasters) => tasters.iter().map(|own| u64::from(own.answers)).sum(),
    };
    bounded(answers)?;
    work_out(request).map_err(refused)
}

/// Refuses more answers than a test is worked out for.
fn bounded(answers: u64) -> Result<(), Failure> {
    if answers <= u64::from(MOST_ANSWERS) {
        return Ok(());
    }
    Err(Failure::Refused {
        what: format!("{answers} answers are more than a test is worked out for"),
        hint: format!("at most {MOST_ANSWERS}"),
    })
}

/// A refusal of the statistics as one of this room.
pub(super) fn refused(refusal: Refusal) -> Failure {
    Failure::Refused {
        what: refusal.to_string(),
        hint: "look at the counts again; shares and risks lie between 0 and 1".to_owned(),
    }
}

fn work_out(request: &TestRequest) -> Result<TestReport, Refusal> {
    let method = request.method.model();
    // A two-sided test has half of the risk on the side that is looked at.
    let side_risk = if request.method.two_sided() {
        request.risk / 2.0
    } else {
        request.risk
    };
    let (answers, result) = match &request.counts {
        Counts::Planned(answers) => (*answers, None),
        Counts::Single { right, answers } => (
            Some(*answers),
            Some(result(request, *right, *answers, None)?),
        ),
        Counts::Replicated(tasters) => {
            let together = replicated(tasters, method)?;
            let found = result(request, together.right, together.answers, Some(together))?;
            (Some(together.answers), Some(found))
        }
    };
    let share_correct = method.share_correct(request.distance);
    let needed = match answers_needed(method, share_correct, side_risk, request.power) {
        Ok(needed) => Some(needed),
        Err(Refusal::NotSettled { .. }) => None,
        Err(refusal) => return Err(refusal),
    };
    Ok(TestReport {
        method: request.method,
        risk: request.risk,
        guess: method.guess(),
        result,
        plan: TestPlan {
            distance: request.distance,
            share_correct,
            power_wanted: request.power,
            answers_needed: needed,
            power: match answers {
                Some(answers) => Some(power(answers, method, share_correct, side_risk)?),
                None => None,
            },
            critical: match needed {
                Some(needed) => critical_number(needed, method, side_risk)?,
                None => None,
            },
        },
    })
}

fn result(
    request: &TestRequest,
    right: u32,
    answers: u32,
    replication: Option<Replicated>,
) -> Result<TestResult, Refusal> {
    let method = request.method.model();
    let two_sided = request.method.two_sided();
    // In a paired comparison the larger side is looked at, whichever was named.
    let right = if two_sided {
        right.max(answers.saturating_sub(right))
    } else {
        right
    };
    let one_side = guessing_probability(right, answers, method)?.probability;
    let p_value = if two_sided {
        (2.0 * one_side).min(1.0)
    } else {
        one_side
    };
    let critical = if two_sided {
        critical_number_two_sided(answers, request.risk)?
    } else {
        critical_number(answers, method, request.risk)?
    };
    // Answers of one taster hang together: the interval rests on so many independent ones.
    let counted = |n: u32| usize::try_from(n).unwrap_or(usize::MAX);
    let distance = match &replication {
        Some(together) if together.within_taster > 0.0 => {
            let n = together.effective_answers.floor().max(1.0);
            let share = f64::from(right) / f64::from(answers);
            // A count below the number of answers after the floor.
            d_prime(
                (share * n).round() as usize,
                n as usize,
                method,
                Confidence::P95,
            )
        }
        Some(_) | None => d_prime(counted(right), counted(answers), method, Confidence::P95),
    };
    let similarity = similarity_limit(answers, method, request.discriminators, request.risk)?;
    Ok(TestResult {
        right,
        answers,
        critical,
        p_value,
        significant: critical.is_some_and(|critical| right >= critical),
        d_prime_not_given: distance.as_ref().err().map(ToString::to_string),
        d_prime: distance.ok(),
        similarity,
        discriminators: request.discriminators,
        similar: similarity.exact.is_some_and(|most| right <= most),
        replication,
    })
}

/// An A–not A test from its four counts.
///
/// # Errors
/// A refusal that says which number makes no sense.
pub fn a_not_a_test(counts: AnswerCounts) -> Result<ANotA, Failure> {
    bounded(u64::from(counts.a_served) + u64::from(counts.others_served))?;
    a_not_a(counts, Confidence::P95).map_err(refused)
}

/// A line of a table of critical numbers.
#[derive(Debug, Clone, Serialize)]
pub struct CriticalLine {
    /// Number of answers.
    pub answers: u32,
    /// The smallest significant number at 5 %, 1 % and .1 %.
    pub critical: [Option<u32>; 3],
}

/// The risks of the table.
const TABLE_RISKS: [f64; 3] = [0.05, 0.01, 0.001];

/// Critical numbers from `from` to `to` answers.
///
/// # Errors
/// When the range is empty or longer than 10,000 lines.
pub fn critical_table(
    method: TestMethod,
    from: u32,
    to: u32,
) -> Result<Vec<CriticalLine>, Failure> {
    bounded(u64::from(to))?;
    if from == 0 || to < from || to - from > 10_000 {
        return Err(Failure::Refused {
            what: format!("from {from} to {to} answers is no range for a table"),
            hint: "begin with 1 or more, and end above it; at most 10,000 lines".to_owned(),
        });
    }
    (from..=to)
        .map(|answers| {
            let mut critical = [None; 3];
            for (cell, risk) in critical.iter_mut().zip(TABLE_RISKS) {
                *cell = if method.two_sided() {
                    critical_number_two_sided(answers, risk)
                } else {
                    critical_number(answers, method.model(), risk)
                }
                .map_err(refused)?;
            }
            Ok(CriticalLine { answers, critical })
        })
        .collect()
}
