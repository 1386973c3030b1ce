//! Which option weak, middle and strong candidates chose: the curves of a question that a class of
//! fifteen can carry.
//!
//! Candidates stand in order of their share of the marks on the other questions, in three groups
//! (five from 100 candidates on) as equal as can be. Ties: candidates with equal shares stay in one
//! group, that of the first of them.

use serde::Serialize;

use super::responses::AskedQuestion;
use super::smallest::Need;

/// Options by groups, weakest group first.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OptionGroups {
    /// The lines: the options, then `left out`; or `mean share of marks` where there are none.
    pub lines: Vec<String>,
    /// Candidates in each group.
    pub sizes: Vec<usize>,
    /// For each line and group the share who chose it (or the mean share of the marks).
    pub shares: Vec<Vec<f64>>,
}

/// From here on there are five groups.
const FIVE_FROM: usize = 100;

pub(super) fn option_groups(
    asked: &AskedQuestion,
    choices: &[Option<usize>],
    marks: &[f64],
    rest: &[f64],
) -> Option<OptionGroups> {
    let n = rest.len();
    if n < Need::OptionGroups.row().least {
        return None;
    }
    let groups = if n >= FIVE_FROM { 5 } else { 3 };
    let mut order: Vec<usize> = (0..n).collect();
    let share = |place: &usize| rest.get(*place).copied().unwrap_or(0.0);
    order.sort_by(|a, b| share(a).total_cmp(&share(b)).then(a.cmp(b)));
    let mut group_of = vec![0; n];
    let mut last: Option<(f64, usize)> = None;
    for (rank, place) in order.iter().enumerate() {
        let group = match last {
            Some((value, group)) if value == share(place) => group,
            Some(_) | None => rank * groups / n,
        };
        last = Some((share(place), group));
        if let Some(slot) = group_of.get_mut(*place) {
            *slot = group;
        }
    }
    let members: Vec<Vec<usize>> = (0..groups)
        .map(|group| {
            (0..n)
                .filter(|place| group_of.get(*place) == Some(&group))
                .collect()
        })
        .filter(|members: &Vec<usize>| !members.is_empty())
        .collect();
    // One group is no curve.
    if members.len() < 2 {
        return None;
    }
    let mean = |value: &dyn Fn(usize) -> f64, members: &[usize]| {
        members.iter().map(|place| value(*place)).sum::<f64>() / members.len() as f64
    };
    let line = |value: &dyn Fn(usize) -> f64| -> Vec<f64> {
        members.iter().map(|group| mean(value, group)).collect()
    };
    let chose = |option: Option<usize>| {
        line(&|place| f64::from(u8::from(choices.get(place) == Some(&option))))
    };
    let mut lines = asked.options.clone();
    let mut shares: Vec<Vec<f64>> = (0..asked.options.len()).map(|o| chose(Some(o))).collect();
    if asked.options.is_empty() {
        lines.push("mean share of marks".to_owned());
        shares.push(line(&|place| {
            marks.get(place).copied().unwrap_or(0.0) / asked.full
        }));
    } else if choices.iter().any(Option::is_none) {
        lines.push("left out".to_owned());
        shares.push(chose(None));
    }
    Some(OptionGroups {
        lines,
        sizes: members.iter().map(Vec::len).collect(),
        shares,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn shares_of_a_group_add_up_and_equal_candidates_stay_together() {
        let asked = AskedQuestion {
            name: "q".to_owned(),
            stem: String::new(),
            key: Some(0),
            options: vec!["A".to_owned(), "B".to_owned()],
            full: 1.0,
            counts: true,
        };
        let choices: Vec<Option<usize>> = (0..18)
            .map(|n| {
                if n == 3 {
                    None
                } else {
                    Some(usize::from(n < 9))
                }
            })
            .collect();
        let rest: Vec<f64> = (0..18).map(|n| f64::from(n / 3)).collect();
        let made = option_groups(&asked, &choices, &[0.0; 18], &rest).unwrap();
        assert_eq!(made.lines, ["A", "B", "left out"]);
        assert_eq!(made.sizes, [6, 6, 6]);
        for group in 0..3 {
            let whole: f64 = made.shares.iter().map(|line| line[group]).sum();
            assert!((whole - 1.0).abs() < 1e-12);
        }
        assert_eq!(made.shares[0], [0.0, 0.5, 1.0]);
        assert!(option_groups(&asked, &choices[..14], &[0.0; 14], &rest[..14]).is_none());
        assert!(option_groups(&asked, &choices, &[0.0; 18], &[0.5; 18]).is_none());
    }
}
