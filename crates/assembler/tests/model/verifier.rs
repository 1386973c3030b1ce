//! Whether forms keep a program, worked out from its clauses alone.

use std::collections::{BTreeMap, BTreeSet};

use assembler::form_model::FormModel;

/// Every breach in words.
pub fn breaches(model: &FormModel, forms: &[Vec<usize>]) -> Vec<String> {
    let mut found = Vec::new();
    if forms.len() != model.forms {
        found.push(format!("{} forms", forms.len()));
    }
    for (number, form) in forms.iter().enumerate() {
        let on: BTreeSet<usize> = form.iter().copied().collect();
        if on.len() != model.length || form.len() != model.length {
            found.push(format!("form {number}: {form:?}"));
        }
        let mut lines: BTreeMap<usize, usize> = BTreeMap::new();
        for item in &on {
            *lines.entry(model.items[*item].line).or_default() += 1;
        }
        for (line, asked) in model.lines.iter().enumerate() {
            let has = lines.get(&line).copied().unwrap_or(0);
            if has < asked.least || has > asked.most {
                found.push(format!("form {number}: {has} of line {line}"));
            }
        }
        if model.anchors.iter().any(|anchor| !on.contains(anchor)) {
            found.push(format!("form {number} lacks an anchor"));
        }
        for (one, other) in &model.enemies {
            if one != other && on.contains(one) && on.contains(other) {
                found.push(format!("form {number}: enemies {one} and {other}"));
            }
        }
        for sum in &model.sums {
            let total: i64 = on.iter().map(|item| sum.weights[*item]).sum();
            if sum.least.is_some_and(|least| total < least)
                || sum.most.is_some_and(|most| total > most)
            {
                found.push(format!("form {number}: {total} {}", sum.words));
            }
        }
        for set in &model.sets {
            let has = set.items.iter().filter(|item| on.contains(item)).count();
            if has != 0 && !(set.least..=set.most).contains(&has) {
                found.push(format!("form {number}: {has} of {}", set.words));
            }
        }
    }
    if let Some(overlap) = model.overlap {
        for (one, form) in forms.iter().enumerate() {
            for (other, later) in forms.iter().enumerate().skip(one + 1) {
                let common = form
                    .iter()
                    .filter(|item| later.contains(item))
                    .filter(|item| model.items[**item].shared_counts)
                    .filter(|item| !model.anchors.contains(item))
                    .count();
                if common > overlap {
                    found.push(format!("forms {one} and {other}: {common} in common"));
                }
            }
        }
    }
    found
}

/// The largest deviation, worked out anew.
pub fn deviation(model: &FormModel, forms: &[Vec<usize>]) -> i64 {
    let mut largest = 0;
    for form in forms {
        for target in &model.targets {
            let mut sum = 0;
            for &item in form {
                sum += target.weights[item];
            }
            largest = largest.max((sum - target.wanted).abs());
        }
    }
    largest
}
