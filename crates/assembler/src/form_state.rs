//! Forms on the way: what stands where, every count that a clause looks at, and the price of an
//! exchange, all kept up to date without taking memory.

use base::Stream;

use crate::form_model::{FormModel, WHOLE};

/// Deviations beyond this are squared as this, so that no sum of squares can overflow.
const LARGEST: i64 = 1_000 * WHOLE;

/// An exchange: at a place of a form one question goes and another comes; where `other` is given,
/// the one that goes comes there in exchange.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Change {
    pub(crate) form: usize,
    pub(crate) place: usize,
    pub(crate) goes: usize,
    pub(crate) comes: usize,
    /// The form and the place where `comes` stands now.
    pub(crate) other: Option<(usize, usize)>,
}

impl Change {
    /// The exchange that undoes this one.
    pub(crate) const fn back(&self) -> Self {
        Self {
            form: self.form,
            place: self.place,
            goes: self.comes,
            comes: self.goes,
            other: self.other,
        }
    }
}

/// Forms on the way.
pub(crate) struct FormState<'m> {
    model: &'m FormModel,
    enemies: Vec<Vec<usize>>,
    /// Questions of each line, anchors left out.
    of_line: Vec<Vec<usize>>,
    /// Sets of each question.
    sets_of: Vec<Vec<usize>>,
    /// Whether each line asks for one number; a place then keeps its line.
    exact: bool,
    /// The places of each line where lines are exact: first, and how many.
    span: Vec<(usize, usize)>,
    /// The question at each place of each form; anchors come first.
    at: Vec<Vec<usize>>,
    on: Vec<Vec<bool>>,
    uses: Vec<usize>,
    in_line: Vec<Vec<usize>>,
    in_set: Vec<Vec<usize>>,
    sums: Vec<Vec<i64>>,
    common: Vec<Vec<usize>>,
    /// Weights by question, then by target.
    weights: Vec<i64>,
    /// Distance from each target by form, then by target.
    off: Vec<i64>,
    deviation: Vec<i64>,
}

/// How many questions of each line a start takes beside the anchors: the least of each, then more
/// in the order of the lines until the form is full.
pub(crate) fn numbers_by_line(model: &FormModel) -> Vec<usize> {
    let mut numbers: Vec<usize> = model.lines.iter().map(|line| line.least).collect();
    let mut missing = model.length.saturating_sub(numbers.iter().sum());
    for (number, line) in numbers.iter_mut().zip(&model.lines) {
        let more = missing.min(line.most.saturating_sub(*number));
        *number += more;
        missing -= more;
    }
    for &anchor in &model.anchors {
        if let Some(number) = model
            .items
            .get(anchor)
            .and_then(|i| numbers.get_mut(i.line))
        {
            *number = number.saturating_sub(1);
        }
    }
    numbers
}

/// The same where lines ask for ranges: what is left open goes to lines by lot, each place alike.
pub(crate) fn numbers_by_lot(model: &FormModel, stream: &mut Stream) -> Vec<usize> {
    let mut anchors = vec![0; model.lines.len()];
    for &anchor in &model.anchors {
        let line = model.items.get(anchor).map(|item| item.line);
        if let Some(number) = line.and_then(|line| anchors.get_mut(line)) {
            *number += 1;
        }
    }
    let mut has = vec![0_usize; model.lines.len()];
    for item in &model.items {
        if let Some(number) = has.get_mut(item.line) {
            *number += 1;
        }
    }
    let mut numbers: Vec<usize> = model
        .lines
        .iter()
        .zip(&anchors)
        .map(|(line, anchors)| line.least.max(*anchors))
        .collect();
    let taken: usize = numbers.iter().sum();
    let mut open: Vec<usize> = Vec::new();
    for (number, line) in model.lines.iter().enumerate() {
        let most = line.most.min(has.get(number).copied().unwrap_or(0));
        let here = numbers.get(number).copied().unwrap_or(0);
        open.extend(std::iter::repeat_n(number, most.saturating_sub(here)));
    }
    stream.shuffle(&mut open);
    for line in open.into_iter().take(model.length.saturating_sub(taken)) {
        if let Some(number) = numbers.get_mut(line) {
            *number += 1;
        }
    }
    for (number, anchors) in numbers.iter_mut().zip(&anchors) {
        *number = number.saturating_sub(*anchors);
    }
    numbers
}

/// Questions that must come where one of a set comes.
pub(crate) struct Missing {
    /// How many.
    pub(crate) missing: usize,
    /// From which they may be taken.
    pub(crate) others: Vec<usize>,
}

/// The places of each line, after those of the anchors, as a start fills them.
fn spans(model: &FormModel) -> Vec<(usize, usize)> {
    let mut first = model.anchors.len();
    numbers_by_line(model)
        .into_iter()
        .map(|many| {
            let span = (first, many);
            first += many;
            span
        })
        .collect()
}

impl<'m> FormState<'m> {
    /// Empty forms but for their anchors.
    pub(crate) fn new(model: &'m FormModel) -> Self {
        let items = model.items.len();
        let forms = model.forms;
        let mut of_line = vec![Vec::new(); model.lines.len()];
        for (number, item) in model.items.iter().enumerate() {
            if !model.anchors.contains(&number)
                && let Some(list) = of_line.get_mut(item.line)
            {
                list.push(number);
            }
        }
        let mut sets_of = vec![Vec::new(); items];
        for (number, set) in model.sets.iter().enumerate() {
            for &item in &set.items {
                if let Some(list) = sets_of.get_mut(item) {
                    list.push(number);
                }
            }
        }
        let weights = (0..items)
            .flat_map(|item| {
                model
                    .targets
                    .iter()
                    .map(move |target| target.weights.get(item).copied().unwrap_or(0))
            })
            .collect();
        let off: Vec<i64> = (0..forms)
            .flat_map(|_| model.targets.iter().map(|target| -target.wanted))
            .collect();
        let mut state = Self {
            model,
            enemies: model.enemies_of(),
            of_line,
            sets_of,
            exact: model.lines_are_exact(),
            span: spans(model),
            at: vec![vec![usize::MAX; model.length]; forms],
            on: vec![vec![false; items]; forms],
            uses: vec![0; items],
            in_line: vec![vec![0; model.lines.len()]; forms],
            in_set: vec![vec![0; model.sets.len()]; forms],
            sums: vec![vec![0; model.sums.len()]; forms],
            common: vec![vec![0; forms]; forms],
            weights,
            off,
            deviation: vec![0; forms],
        };
        for form in 0..forms {
            state.deviation[form] = state.deviation_now(form);
            for (place, &anchor) in model.anchors.iter().enumerate().take(model.length) {
                state.put(form, place, anchor);
            }
        }
        state
    }

    pub(crate) const fn model(&self) -> &'m FormModel {
        self.model
    }
    pub(crate) fn of_line(&self, line: usize) -> &[usize] {
        &self.of_line[line]
    }
    pub(crate) fn uses(&self, item: usize) -> usize {
        self.uses[item]
    }
    pub(crate) fn is_on(&self, form: usize, item: usize) -> bool {
        self.on[form][item]
    }
    pub(crate) fn enemies_on(&self, form: usize, item: usize) -> usize {
        let on = &self.on[form];
        self.enemies[item]
            .iter()
            .filter(|&&enemy| on[enemy])
            .count()
    }
    pub(crate) fn line_of(&self, item: usize) -> usize {
        self.model.items[item].line
    }
    pub(crate) fn is_in_a_set(&self, item: usize) -> bool {
        !self.sets_of[item].is_empty()
    }
    pub(crate) fn are_enemies(&self, one: usize, other: usize) -> bool {
        self.enemies[one].binary_search(&other).is_ok()
    }
    /// The questions of a form by place, anchors first.
    pub(crate) fn places(&self, form: usize) -> &[usize] {
        &self.at[form]
    }
    pub(crate) fn deviation_of(&self, form: usize) -> i64 {
        self.deviation[form]
    }
    /// For each set of a question what must come with it to this form; none where a set has no
    /// room for it.
    pub(crate) fn missing_of_sets(&self, form: usize, item: usize) -> Option<Vec<Missing>> {
        let mut all = Vec::new();
        for &number in &self.sets_of[item] {
            let set = &self.model.sets[number];
            let here = self.in_set[form][number];
            if here >= set.most {
                return None;
            }
            let free = |&&other: &&usize| {
                other != item
                    && !self.on[form][other]
                    && self.model.anchors.binary_search(&other).is_err()
            };
            all.push(Missing {
                missing: set.least.saturating_sub(here + 1),
                others: set.items.iter().filter(free).copied().collect(),
            });
        }
        Some(all)
    }
    /// Whether every place has its question.
    pub(crate) fn is_full(&self) -> bool {
        self.at.iter().flatten().all(|&item| item != usize::MAX)
    }
    /// The questions of each form, ascending.
    pub(crate) fn forms(&self) -> Vec<Vec<usize>> {
        self.at
            .iter()
            .map(|form| {
                let mut form = form.clone();
                form.sort_unstable();
                form
            })
            .collect()
    }

    /// Puts a question at an empty place.
    pub(crate) fn put(&mut self, form: usize, place: usize, item: usize) {
        self.at[form][place] = item;
        self.book(form, item, true);
        self.deviation[form] = self.deviation_now(form);
    }

    /// Books a question that comes to a form or goes.
    fn book(&mut self, form: usize, item: usize, comes: bool) {
        let step = |count: &mut usize| {
            if comes {
                *count += 1;
            } else {
                *count -= 1;
            }
        };
        let sign = if comes { 1 } else { -1 };
        self.on[form][item] = comes;
        step(&mut self.uses[item]);
        step(&mut self.in_line[form][self.model.items[item].line]);
        for &set in &self.sets_of[item] {
            step(&mut self.in_set[form][set]);
        }
        for (sum, clause) in self.sums[form].iter_mut().zip(&self.model.sums) {
            *sum += sign * clause.weights[item];
        }
        if self.shares(item) {
            for other in 0..self.model.forms {
                if other != form && self.on[other][item] {
                    step(&mut self.common[form][other]);
                    self.common[other][form] = self.common[form][other];
                }
            }
        }
        let targets = self.model.targets.len();
        for target in 0..targets {
            self.off[form * targets + target] += sign * self.weights[item * targets + target];
        }
    }

    fn shares(&self, item: usize) -> bool {
        self.model.items[item].shared_counts && self.model.anchors.binary_search(&item).is_err()
    }

    fn deviation_now(&self, form: usize) -> i64 {
        let targets = self.model.targets.len();
        self.off[form * targets..(form + 1) * targets]
            .iter()
            .map(|off| off.abs())
            .max()
            .unwrap_or(0)
    }

    /// How much is broken: 0 where every clause is kept.
    pub(crate) fn breaches(&self) -> i64 {
        let model = self.model;
        let mut broken = 0_i64;
        let beyond = |count: usize, least: usize, most: usize| {
            (least.saturating_sub(count) + count.saturating_sub(most)) as i64
        };
        for form in 0..model.forms {
            for (line, &count) in model.lines.iter().zip(&self.in_line[form]) {
                broken += beyond(count, line.least, line.most);
            }
            for (set, &count) in model.sets.iter().zip(&self.in_set[form]) {
                if count > 0 {
                    broken += beyond(count, set.least, set.most);
                }
            }
            for (clause, &sum) in model.sums.iter().zip(&self.sums[form]) {
                let short = clause.least.map_or(0, |least| (least - sum).max(0));
                let over = clause.most.map_or(0, |most| (sum - most).max(0));
                broken += short + over;
            }
            for &item in self.at[form].iter().filter(|&&item| item != usize::MAX) {
                let enemies = self.enemies[item].iter();
                broken += enemies.filter(|&&e| e > item && self.on[form][e]).count() as i64;
            }
            if let Some(overlap) = model.overlap {
                for other in 0..form {
                    broken += self.common[form][other].saturating_sub(overlap) as i64;
                }
            }
            broken += self.at[form].iter().filter(|&&i| i == usize::MAX).count() as i64;
        }
        broken
    }

    /// An exchange from 64 random bits: 16 choose the form, 16 the place, 32 what comes. The
    /// unevenness of a few in 65,536 that this has concerns only the order in which exchanges are
    /// tried.
    pub(crate) fn any_change(&self, bits: u64) -> Option<Change> {
        let model = self.model;
        let part = |bits: u64, width: u32, below: usize| ((bits * below as u64) >> width) as usize;
        let free = model.length.saturating_sub(model.anchors.len());
        if free == 0 {
            return None;
        }
        let form = part(bits & 0xffff, 16, model.forms);
        let place = model.anchors.len() + part((bits >> 16) & 0xffff, 16, free);
        let goes = *self.at.get(form)?.get(place)?;
        let rest = bits >> 32;
        // The lowest bit says whether the bank or another form gives.
        if model.forms > 1 && rest & 1 == 1 {
            let (first, many) = if self.exact {
                *self.span.get(model.items[goes].line)?
            } else {
                (model.anchors.len(), free)
            };
            let drawn = part(rest >> 1, 31, (model.forms - 1) * many);
            let other = (form + 1 + drawn / many.max(1)) % model.forms;
            let there = first + drawn % many.max(1);
            let comes = *self.at.get(other)?.get(there)?;
            return Some(Change {
                form,
                place,
                goes,
                comes,
                other: Some((other, there)),
            });
        }
        let line = if self.exact {
            model.items[goes].line
        } else {
            part(rest >> 24, 8, model.lines.len())
        };
        let list = self.of_line.get(line)?;
        let width = if self.exact { 31 } else { 23 };
        let drawn = (rest >> 1) & ((1 << width) - 1);
        let comes = *list.get(part(drawn, width, list.len()))?;
        Some(Change {
            form,
            place,
            goes,
            comes,
            other: None,
        })
    }

    /// Whether nothing would stand twice on a form.
    pub(crate) fn makes_sense(&self, change: &Change) -> bool {
        change.goes != change.comes
            && !self.on[change.form][change.comes]
            && change
                .other
                .is_none_or(|(other, _)| !self.on[other][change.goes])
    }

    /// Whether an exchange makes sense and raises the sum of squared deviations of the forms by no
    /// more than raising the larger of them by the threshold would.
    pub(crate) fn is_welcome(&self, change: &Change, threshold: i64) -> bool {
        if !self.makes_sense(change) {
            return false;
        }
        let before = self.deviation[change.form];
        let after = self.deviation_after(change.form, change.goes, change.comes);
        let Some((other, _)) = change.other else {
            return after <= before + threshold;
        };
        let before_there = self.deviation[other];
        let after_there = self.deviation_after(other, change.comes, change.goes);
        let squared = |deviation: i64| {
            let deviation = i128::from(deviation.min(LARGEST));
            deviation * deviation
        };
        let larger = before.max(before_there);
        squared(after) + squared(after_there) - squared(before) - squared(before_there)
            <= squared(larger + threshold) - squared(larger)
    }

    fn deviation_after(&self, form: usize, goes: usize, comes: usize) -> i64 {
        let targets = self.model.targets.len();
        let off = &self.off[form * targets..(form + 1) * targets];
        let less = &self.weights[goes * targets..(goes + 1) * targets];
        let more = &self.weights[comes * targets..(comes + 1) * targets];
        let mut largest = 0;
        for ((off, less), more) in off.iter().zip(less).zip(more) {
            largest = largest.max((off - less + more).abs());
        }
        largest
    }

    /// Whether an exchange leaves every clause kept that is kept now.
    pub(crate) fn keeps_clauses(&self, change: &Change) -> bool {
        self.form_keeps(change.form, change.goes, change.comes)
            && change
                .other
                .is_none_or(|(other, _)| self.form_keeps(other, change.comes, change.goes))
            && self.overlap_keeps(change)
    }

    fn form_keeps(&self, form: usize, goes: usize, comes: usize) -> bool {
        let model = self.model;
        let on = &self.on[form];
        if self.enemies[comes]
            .iter()
            .any(|&enemy| enemy != goes && on[enemy])
        {
            return false;
        }
        let (from, to) = (model.items[goes].line, model.items[comes].line);
        if from != to {
            let counts = &self.in_line[form];
            if counts[from] <= model.lines[from].least || counts[to] >= model.lines[to].most {
                return false;
            }
        }
        for (clause, &sum) in model.sums.iter().zip(&self.sums[form]) {
            let after = sum - clause.weights[goes] + clause.weights[comes];
            if clause.least.is_some_and(|least| after < least)
                || clause.most.is_some_and(|most| after > most)
            {
                return false;
            }
        }
        let touched = self.sets_of[goes].iter().chain(&self.sets_of[comes]);
        for &set in touched {
            let mut count = self.in_set[form][set];
            count -= usize::from(self.sets_of[goes].contains(&set));
            count += usize::from(self.sets_of[comes].contains(&set));
            let clause = &model.sets[set];
            if count > 0 && (count < clause.least || count > clause.most) {
                return false;
            }
        }
        true
    }

    fn overlap_keeps(&self, change: &Change) -> bool {
        let Some(overlap) = self.model.overlap else {
            return true;
        };
        let (form, goes, comes) = (change.form, change.goes, change.comes);
        let pair = change.other.map(|(other, _)| other);
        let with = |here: usize, goes: usize, comes: usize, third: usize| {
            let mut common = self.common[here][third];
            common += usize::from(self.shares(comes) && self.on[third][comes]);
            common -= usize::from(self.shares(goes) && self.on[third][goes]);
            common <= overlap
        };
        // Between two forms that exchange, nothing changes: neither question stands on both before
        // or after.
        let alone = self.uses[comes] == usize::from(pair.is_some());
        if !alone {
            for third in 0..self.model.forms {
                if third != form && Some(third) != pair && !with(form, goes, comes, third) {
                    return false;
                }
            }
        }
        if let Some(other) = pair
            && self.uses[goes] > 1
        {
            for third in 0..self.model.forms {
                if third != form && third != other && !with(other, comes, goes, third) {
                    return false;
                }
            }
        }
        true
    }

    /// Carries an exchange out.
    pub(crate) fn apply(&mut self, change: &Change) {
        self.book(change.form, change.goes, false);
        if let Some((other, there)) = change.other {
            self.book(other, change.comes, false);
            self.book(other, change.goes, true);
            self.at[other][there] = change.goes;
            self.deviation[other] = self.deviation_now(other);
        }
        self.book(change.form, change.comes, true);
        self.at[change.form][change.place] = change.comes;
        self.deviation[change.form] = self.deviation_now(change.form);
    }

    /// The sum of the largest deviations of the forms.
    pub(crate) fn cost(&self) -> i64 {
        self.deviation.iter().sum()
    }
    /// The largest deviation of any form.
    pub(crate) fn largest_deviation(&self) -> i64 {
        self.deviation.iter().copied().max().unwrap_or(0)
    }
}
