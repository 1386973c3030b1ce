//! Which questions differ between groups of candidates with equal totals.
//!
//! Each group is set beside the reference group, question by question, three ways: Mantel and
//! Haenszel's odds ratio, the standardised difference, and logistic regression for differences that
//! are not the same for weak and strong. Totals are purified: questions in which the groups differ
//! leave them. Those who did not reach a question are left out of its comparison. Many tests are made
//! at once, so their probabilities are adjusted (Holm 1979) over all questions, both kinds of test
//! and all groups; named is what is left below .05 and is more than negligible in size (classes B
//! and C; Jodoin & Gierl 2001). Refused below 50 in either group. A difference is a reason to read
//! the question, and no verdict on it or on anybody.

use std::collections::BTreeMap;

use serde::Serialize;
use statistics::fairness::item_screen::{Matching, item_screen, matching_scores};
use statistics::fairness::logistic_dif::{EffectSize, LogisticDif, logistic_dif};
use statistics::fairness::mantel_haenszel::{DeltaClass, MantelHaenszel, mantel_haenszel};
use statistics::fairness::standardisation::{StandardisedDifference, standardised_difference};
use statistics::fairness::strata::{Power, SMALLEST_GROUP, strata_by_score};
use statistics::similarity::many_pairs::many_pairs;
use statistics::{Refusal, ScoreTable};

use super::LEVEL;
use super::responses::{Answer, QuestionSet, Responses};
use super::smallest::Need;

/// What is left of a probability after adjustment must lie below this to be named.
const NAMED_BELOW: f64 = 0.05;
/// Below so many questions a total matches coarsely (common practice, no source).
const FEWEST_QUESTIONS: usize = 20;

/// One question in two groups.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct QuestionBetweenGroups {
    /// Its name.
    pub name: String,
    /// The odds of a right answer at equal totals.
    pub mantel_haenszel: Result<MantelHaenszel, Refusal>,
    /// Focal less reference share of right answers at equal totals.
    pub standardised: Result<StandardisedDifference, Refusal>,
    /// Whether the difference is the same for weak and strong.
    pub logistic: Result<LogisticDif, Refusal>,
    /// Mantel-Haenszel's probability, adjusted for the number of tests.
    pub adjusted: Option<f64>,
    /// That of a difference which changes with the total, adjusted.
    pub adjusted_changing: Option<f64>,
    /// What to do, where the groups differ beyond chance and by more than little.
    pub finding: Option<String>,
}

/// One group beside the reference group.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GroupComparison {
    /// The group.
    pub group: String,
    /// Its candidates.
    pub n: usize,
    /// Candidates of the reference group.
    pub n_reference: usize,
    /// What totals were made of.
    pub matching: Option<Matching>,
    /// Each question that could be compared; none where the comparison is refused.
    pub questions: Vec<QuestionBetweenGroups>,
    /// What to see.
    pub sentence: String,
    /// Why there is no comparison.
    pub refused: Option<String>,
}

/// All groups beside one.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GroupFairness {
    /// The group that the others stand beside.
    pub reference: String,
    /// Candidates of no group, or who were asked other questions than those compared.
    pub left_out: usize,
    /// How many tests the probabilities are adjusted for.
    pub tests: usize,
    /// The other groups in order of their names.
    pub comparisons: Vec<GroupComparison>,
}

/// Sets groups beside `reference`, or beside the largest where none is named; none where fewer than
/// two groups are named among those who gave answers.
#[must_use]
pub fn group_fairness(responses: &Responses, reference: Option<&str>) -> Option<GroupFairness> {
    let (present, _) = responses.with_answers();
    let all = present.groups();
    if all.len() < 2 {
        return None;
    }
    let largest = all
        .iter()
        .max_by_key(|(name, n)| (**n, std::cmp::Reverse(*name)));
    let reference = match reference {
        Some(name) => name.to_owned(),
        None => largest.map(|(name, _)| name.clone())?,
    };
    let sets = present.sets();
    let set = sets.first()?;
    let mut members: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for place in &set.candidates {
        if let Some(candidate) = present.candidates.get(*place)
            && !candidate.group.is_empty()
        {
            members.entry(&candidate.group).or_default().push(*place);
        }
    }
    let of = |name: &str| members.get(name).map_or(&[][..], Vec::as_slice);
    let mut comparisons: Vec<GroupComparison> = all
        .keys()
        .filter(|name| **name != reference)
        .map(|name| {
            compared(
                &present,
                set,
                (name, of(name)),
                (&reference, of(&reference)),
            )
        })
        .collect();
    let tests = adjust(&mut comparisons);
    for comparison in &mut comparisons {
        tell(comparison, &reference, tests);
    }
    let compared: usize = members.values().map(Vec::len).sum();
    Some(GroupFairness {
        reference,
        left_out: present.candidates.len() - compared,
        tests,
        comparisons,
    })
}

type Members<'m> = (&'m str, &'m [usize]);

fn compared(
    present: &Responses,
    set: &QuestionSet,
    focal: Members<'_>,
    reference: Members<'_>,
) -> GroupComparison {
    let mut made = GroupComparison {
        group: focal.0.to_owned(),
        n: focal.1.len(),
        n_reference: reference.1.len(),
        matching: None,
        questions: Vec::new(),
        sentence: String::new(),
        refused: None,
    };
    let instead = Need::Fairness.row().instead;
    if made.n.min(made.n_reference) < SMALLEST_GROUP {
        made.refused = Some(format!(
            "No comparison of {} ({} candidates) with {} ({}): at least {SMALLEST_GROUP} in each \
             group who were asked the same questions are needed, and 200 are wanted ({}). \
             Instead: {instead}; or pool sittings by form.",
            focal.0, made.n, reference.0, made.n_reference, "common practice, no source"
        ));
        return made;
    }
    match figures(present, set, focal.1, reference.1, &mut made) {
        Ok(()) => {}
        Err(why) => {
            made.questions.clear();
            made.refused = Some(format!(
                "No comparison of {} with {}: {why}. Instead: {instead}.",
                focal.0, reference.0
            ));
        }
    }
    made
}

fn figures(
    present: &Responses,
    set: &QuestionSet,
    focal: &[usize],
    reference: &[usize],
    made: &mut GroupComparison,
) -> Result<(), Refusal> {
    let persons: Vec<usize> = focal.iter().chain(reference).copied().collect();
    let is_focal: Vec<bool> = (0..persons.len())
        .map(|place| place < focal.len())
        .collect();
    let cell = |person: usize, question: usize| {
        let candidate = present.candidates.get(person);
        candidate
            .and_then(|candidate| candidate.answers.get(question).copied())
            .unwrap_or(Answer::NotAsked)
    };
    // Only what is right or wrong can be compared by odds.
    let mut studied: Vec<(usize, String)> = Vec::new();
    let mut columns: Vec<Vec<f64>> = Vec::new();
    for place in &set.questions {
        let Some(question) = present.questions.get(*place) else {
            continue;
        };
        let column: Vec<f64> = persons
            .iter()
            .map(|person| cell(*person, *place).marks().unwrap_or(0.0) / question.full)
            .collect();
        if column.iter().all(|share| *share == 0.0 || *share == 1.0) {
            studied.push((*place, question.name.clone()));
            columns.push(column);
        }
    }
    let rows: Vec<Vec<f64>> = (0..persons.len())
        .map(|row| {
            columns
                .iter()
                .filter_map(|column| column.get(row).copied())
                .collect()
        })
        .collect();
    let table = ScoreTable::new(&rows)?;
    let screen = |matching| item_screen(&table, &is_focal, matching, NAMED_BELOW, LEVEL);
    let (matching, screened) = match screen(Matching::Purified) {
        Ok(screened) => (Matching::Purified, screened),
        Err(Refusal::NotSettled { .. }) => (Matching::Total, screen(Matching::Total)?),
        Err(why) => return Err(why),
    };
    made.matching = Some(matching);
    for (item, (place, name)) in studied.into_iter().enumerate() {
        let leave = match matching {
            Matching::Purified => screened.flagged.as_slice(),
            Matching::Total => &[],
        };
        let totals = matching_scores(&table, item, leave);
        let (mut right, mut who, mut at) = (Vec::new(), Vec::new(), Vec::new());
        let marks = columns.get(item).map_or(&[][..], Vec::as_slice);
        for ((person, mark), (focal, total)) in
            persons.iter().zip(marks).zip(is_focal.iter().zip(&totals))
        {
            if cell(*person, place) != Answer::NotReached {
                right.push(*mark > 0.5);
                who.push(*focal);
                at.push(*total);
            }
        }
        let strata = strata_by_score(&right, &who, &at);
        let strata = strata.as_ref().map_err(|why| *why);
        made.questions.push(QuestionBetweenGroups {
            name,
            mantel_haenszel: strata.and_then(|strata| mantel_haenszel(strata, LEVEL)),
            standardised: strata.and_then(|strata| standardised_difference(strata)),
            logistic: logistic_dif(&right, &who, &at),
            adjusted: None,
            adjusted_changing: None,
            finding: None,
        });
    }
    Ok(())
}

/// Adjusts all probabilities of all comparisons together; how many tests there were.
fn adjust(comparisons: &mut [GroupComparison]) -> usize {
    let questions = || comparisons.iter().flat_map(|made| &made.questions);
    let tests = 2 * questions().count();
    let own = |question: &QuestionBetweenGroups| {
        let uniform = question.mantel_haenszel.as_ref().ok();
        let changing = question.logistic.as_ref().ok();
        [
            uniform.map(|made| made.p_value.probability),
            changing.map(|made| made.non_uniform.p_value.probability),
        ]
    };
    let probabilities: Vec<f64> = questions().flat_map(own).flatten().collect();
    let Ok(adjusted) = many_pairs(&probabilities, tests) else {
        return tests;
    };
    let mut adjusted = adjusted.into_iter();
    for question in comparisons.iter_mut().flat_map(|made| &mut made.questions) {
        let [uniform, changing] = own(question);
        question.adjusted = uniform.and_then(|_| adjusted.next());
        question.adjusted_changing = changing.and_then(|_| adjusted.next());
    }
    tests
}

/// Writes what was found in words.
fn tell(made: &mut GroupComparison, reference: &str, tests: usize) {
    if made.refused.is_some() {
        return;
    }
    let group = made.group.clone();
    for question in &mut made.questions {
        question.finding = finding(question, &group, reference);
    }
    let named: Vec<&str> = made
        .questions
        .iter()
        .filter(|question| question.finding.is_some())
        .map(|question| question.name.as_str())
        .collect();
    let mut words = format!(
        "{group} (n = {}) beside {reference} (n = {}) at equal totals: ",
        made.n, made.n_reference
    );
    words.push_str(&if named.is_empty() {
        format!(
            "no question of {} differs beyond what {tests} tests bring about by chance.",
            made.questions.len()
        )
    } else {
        format!(
            "{} of {} questions differ, after adjustment for {tests} tests: {}. A difference is a \
             reason to read a question, not a verdict on it.",
            named.len(),
            made.questions.len(),
            named.join(", ")
        )
    });
    let low = made.questions.iter().any(|question| {
        let figures = question.mantel_haenszel.as_ref();
        figures.is_ok_and(|figures| figures.groups.power == Power::Low)
    });
    if low {
        words.push_str(
            " With fewer than 200 in a group most differences are missed: no finding is no proof of fairness.",
        );
    }
    if made.questions.len() < FEWEST_QUESTIONS {
        words.push_str(&format!(
            " A total of {} questions matches candidates coarsely; {FEWEST_QUESTIONS} are wanted.",
            made.questions.len()
        ));
    }
    if made.matching == Some(Matching::Total) {
        words.push_str(
            " Leaving questions out of the totals went in circles, so the totals are of all questions.",
        );
    }
    made.sentence = words;
}

fn finding(question: &QuestionBetweenGroups, group: &str, reference: &str) -> Option<String> {
    let below = |p: Option<f64>| p.filter(|p| *p < NAMED_BELOW);
    if let (Ok(figures), Some(p)) = (&question.mantel_haenszel, below(question.adjusted))
        && figures.class != DeltaClass::A
    {
        let by = question.standardised.as_ref().map_or_else(
            |_| String::new(),
            |made| format!(" by {:.0} in 100", made.difference.abs() * 100.0),
        );
        return Some(format!(
            "At equal totals {group} are right {} often than {reference}{by} (delta {:+.1}, class {:?}, \
             adjusted p {}, n = {} and {}): a reader from each group looks whether it asks for something \
             besides the subject.",
            if figures.delta < 0.0 { "less" } else { "more" },
            figures.delta,
            figures.class,
            probability(p),
            figures.groups.focal,
            figures.groups.reference,
        ));
    }
    if let (Ok(figures), Some(p)) = (&question.logistic, below(question.adjusted_changing))
        && figures.size != EffectSize::Negligible
    {
        return Some(format!(
            "{group} and {reference} differ at equal totals, and not alike for weak and strong (gain in \
             explained variance {:.3}, adjusted p {}, n = {} and {}): a reader from each group looks at \
             its options one by one.",
            figures.gain,
            probability(p),
            figures.groups.focal,
            figures.groups.reference,
        ));
    }
    None
}

fn probability(p: f64) -> String {
    if p < 0.001 {
        "below .001".to_owned()
    } else {
        format!("{p:.3}")
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::responses::tests::right_or_wrong;
    use super::*;

    /// 24 questions; the last is harder for every second candidate by `harder` hundredths.
    fn answers(n: u32, harder: u32) -> Responses {
        let rows: Vec<Vec<u8>> = (0..n)
            .map(|person| {
                (0..24_u32)
                    .map(|item| {
                        let draw = (person * 7919 + item * 104_729 + person * item * 31) % 97;
                        let less = if item == 23 && person % 2 == 0 {
                            harder
                        } else {
                            0
                        };
                        u8::from(draw + less < 30 + person / 2 % 50)
                    })
                    .collect()
            })
            .collect();
        let rows: Vec<&[u8]> = rows.iter().map(Vec::as_slice).collect();
        let mut made = right_or_wrong(&rows);
        for (place, candidate) in made.candidates.iter_mut().enumerate() {
            candidate.group = if place % 2 == 0 { "evening" } else { "morning" }.to_owned();
        }
        made
    }

    #[test]
    fn the_planted_question_alone_is_named_and_the_tests_are_counted() {
        let made = group_fairness(&answers(600, 40), Some("morning")).unwrap();
        assert_eq!((made.tests, made.left_out), (48, 0));
        assert_eq!(made.comparisons.len(), 1);
        let one = &made.comparisons[0];
        let named: Vec<&str> = one
            .questions
            .iter()
            .filter(|question| question.finding.is_some())
            .map(|question| question.name.as_str())
            .collect();
        assert_eq!(named, ["q24"]);
        let words = one.questions[23].finding.clone().unwrap();
        assert!(
            words.contains("evening are right less often than morning"),
            "{words}"
        );
        assert!(
            one.sentence.contains("1 of 24 questions differ"),
            "{}",
            one.sentence
        );
        // Seen from the other side the sign turns and nothing else does.
        let other = group_fairness(&answers(600, 40), Some("evening")).unwrap();
        let delta = |made: &GroupFairness| {
            made.comparisons[0].questions[23]
                .mantel_haenszel
                .unwrap()
                .delta
        };
        assert!((delta(&made) + delta(&other)).abs() < 1e-9);
    }

    #[test]
    fn without_a_difference_nothing_is_named_and_low_power_is_told() {
        let made = group_fairness(&answers(200, 0), None).unwrap();
        let one = &made.comparisons[0];
        assert!(
            one.questions
                .iter()
                .all(|question| question.finding.is_none())
        );
        assert!(
            one.sentence.contains("no proof of fairness"),
            "{}",
            one.sentence
        );
    }

    #[test]
    fn small_groups_are_refused_by_name_and_one_group_is_no_comparison() {
        let made = group_fairness(&answers(98, 40), None).unwrap();
        let why = made.comparisons[0].refused.clone().unwrap();
        assert!(
            why.contains("49 candidates") && why.contains("at least 50"),
            "{why}"
        );
        assert!(made.comparisons[0].questions.is_empty());
        let mut one = answers(120, 0);
        for candidate in &mut one.candidates {
            candidate.group = "all".to_owned();
        }
        assert!(group_fairness(&one, None).is_none());
    }
}
