//! Finds forms near the best by a seeded local search over exchanges that keep every clause.
//!
//! A run has a stream of its own (purpose "form questions", index 2^32 + run). It fills the forms
//! by lot, mends what is broken by exchanges that do not make it worse, and then exchanges one
//! question for another of the bank, or two questions of two forms for each other, taking each
//! exchange that raises the sum of the squared largest deviations of the forms by no more than a
//! threshold, which sinks from run to run's end by a fixed table of whole numbers (threshold
//! accepting: Dueck and Scheuer 1990). Questions of a set come and go together
//! ([`crate::form_set_change`]). The best forms by largest deviation are kept, then those of
//! smallest sum. Work is counted in steps and every comparison is between whole numbers, so that a
//! seed gives the same forms on any machine.

use base::{ExamSeed, Purpose, Stream};

use crate::form_model::{FormModel, SolvedForms, WHOLE};
use crate::form_set_change::change_a_set;
use crate::form_state::{FormState, numbers_by_line, numbers_by_lot};

/// Runs of the search have these streams, after those of the draw by lot.
const FIRST_STREAM: u64 = 1 << 32;
/// Exchanges tried to mend a start, for each place of each form.
const MENDING: usize = 400;
/// The first threshold: one per cent of the target.
const FIRST_THRESHOLD: i64 = WHOLE / 100;
/// Thresholds of a run: so many levels, each [`SINK`] 1024ths of the one before.
const LEVELS: u64 = 64;
/// Where questions are in sets, a set is exchanged after so many steps.
const STEPS_BETWEEN_SETS: u64 = 24;
/// A threshold is this many 1024ths of the one before.
const SINK: i64 = 880;

/// How much is tried.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Effort {
    /// Runs; the best is kept.
    pub runs: u64,
    /// Steps of a run.
    pub steps: u64,
    /// Starts that are tried before the search says that it has found none.
    pub starts: u64,
    /// A largest deviation at which nothing better is looked for, in units of [`WHOLE`].
    pub enough: i64,
}

impl Effort {
    /// The usual effort for a program: 3 runs of 2,500 steps for each place of each form, and
    /// enough is a hundred-thousandth of the target.
    #[must_use]
    pub fn usual(model: &FormModel) -> Self {
        let places = (model.length * model.forms) as u64;
        Self {
            runs: 3,
            steps: (2_500 * places).max(20_000),
            starts: 12,
            enough: WHOLE / 100_000,
        }
    }
}

/// Searches; nothing where no start was found that keeps every clause, which proves nothing.
#[must_use]
pub fn search_forms(model: &FormModel, seed: &ExamSeed, effort: &Effort) -> Option<SolvedForms> {
    let mut best: Option<(i64, i64, Vec<Vec<usize>>)> = None;
    let mut steps = 0;
    let mut failed = 0;
    let mut run = 0;
    let mut done = 0;
    while done < effort.runs {
        let mut stream = Stream::new(seed, Purpose::FormQuestions, FIRST_STREAM + run);
        run += 1;
        let mut state = FormState::new(model);
        fill(&mut state, &mut stream);
        steps += mend(&mut state, &mut stream);
        if state.breaches() > 0 {
            failed += 1;
            if failed >= effort.starts {
                break;
            }
            continue;
        }
        done += 1;
        steps += improve(&mut state, &mut stream, effort, &mut best);
        if best
            .as_ref()
            .is_some_and(|(deviation, _, _)| *deviation <= effort.enough)
        {
            break;
        }
    }
    best.map(|(deviation, _, forms)| SolvedForms {
        forms,
        deviation,
        steps,
    })
}

/// Fills every form by lot: anchors first, then line by line, questions used least before others.
/// A question of a set brings as many others of it as must stand with it.
fn fill(state: &mut FormState<'_>, stream: &mut Stream) {
    let model = state.model();
    let wanted = if model.lines_are_exact() {
        numbers_by_line(model)
    } else {
        numbers_by_lot(model, stream)
    };
    for form in 0..model.forms {
        let mut first = model.anchors.len();
        let mut room: Vec<Room> = wanted
            .iter()
            .map(|&left| {
                let next = first;
                first += left;
                Room { next, left }
            })
            .collect();
        for line in 0..model.lines.len() {
            let mut candidates: Vec<usize> = state.of_line(line).to_vec();
            stream.shuffle(&mut candidates);
            // Stable: among those used alike often the lot decides.
            candidates.sort_by_key(|&item| state.uses(item));
            // First those without an enemy on the form, then whatever there is.
            for fitting in [true, false] {
                for &item in &candidates {
                    if room.get(line).is_none_or(|room| room.left == 0) {
                        break;
                    }
                    if state.is_on(form, item) || (fitting && state.enemies_on(form, item) > 0) {
                        continue;
                    }
                    if state.is_in_a_set(item) {
                        let group = group_of(state, stream, form, item, &room);
                        match group {
                            Some(group) => {
                                for item in group {
                                    put(state, form, item, &mut room);
                                }
                            }
                            None if fitting => {}
                            None => put(state, form, item, &mut room),
                        }
                    } else {
                        put(state, form, item, &mut room);
                    }
                }
            }
        }
    }
}

/// What is left to fill of a line on one form.
struct Room {
    /// The next empty place.
    next: usize,
    /// Empty places.
    left: usize,
}

fn put(state: &mut FormState<'_>, form: usize, item: usize, room: &mut [Room]) {
    let line = state.line_of(item);
    if let Some(room) = room.get_mut(line)
        && room.left > 0
        && room.next < state.model().length
    {
        state.put(form, room.next, item);
        room.next += 1;
        room.left -= 1;
    }
}

/// A question of a set with those that must come with it, chosen by lot; none where they do not
/// fit.
fn group_of(
    state: &FormState<'_>,
    stream: &mut Stream,
    form: usize,
    item: usize,
    room: &[Room],
) -> Option<Vec<usize>> {
    let mut group = vec![item];
    for set in state.missing_of_sets(form, item)? {
        let mut others = set.others;
        stream.shuffle(&mut others);
        let mut missing = set.missing;
        for other in others {
            if missing == 0 {
                break;
            }
            let line = state.line_of(other);
            let taken = group.iter().filter(|&&i| state.line_of(i) == line).count();
            let fits = room.get(line).is_some_and(|room| room.left > taken);
            let hostile = |&one: &usize| state.are_enemies(one, other);
            if fits && state.enemies_on(form, other) == 0 && !group.iter().any(hostile) {
                group.push(other);
                missing -= 1;
            }
        }
        if missing > 0 {
            return None;
        }
    }
    Some(group)
}

/// Exchanges until nothing is broken, or the steps are used up; the steps taken.
fn mend(state: &mut FormState<'_>, stream: &mut Stream) -> u64 {
    let model = state.model();
    let most = MENDING * model.length * model.forms;
    if !state.is_full() {
        return 0;
    }
    let mut broken = state.breaches();
    for step in 0..most {
        if broken == 0 {
            return step as u64;
        }
        let Some(change) = state.any_change(stream.next_u64()) else {
            continue;
        };
        if !state.makes_sense(&change) {
            continue;
        }
        state.apply(&change);
        let after = state.breaches();
        if after > broken {
            state.apply(&change.back());
        } else {
            broken = after;
        }
    }
    most as u64
}

/// Takes exchanges that keep every clause, under a sinking threshold; the steps taken.
fn improve(
    state: &mut FormState<'_>,
    stream: &mut Stream,
    effort: &Effort,
    best: &mut Option<(i64, i64, Vec<Vec<usize>>)>,
) -> u64 {
    let keep = |state: &FormState<'_>, best: &mut Option<(i64, i64, Vec<Vec<usize>>)>| {
        let found = (state.largest_deviation(), state.cost());
        if best.as_ref().is_none_or(|(d, c, _)| found < (*d, *c)) {
            *best = Some((found.0, found.1, state.forms()));
        }
    };
    keep(state, best);
    if state.model().targets.is_empty() {
        return 0;
    }
    let mut threshold = FIRST_THRESHOLD;
    let mut steps = 0;
    let in_level = effort.steps / LEVELS;
    let mut lowest = state.largest_deviation();
    for level in 0..LEVELS {
        // The last levels go down only.
        let allowed = if level + 6 < LEVELS { threshold } else { 0 };
        let mut left = in_level;
        while left > 0 {
            let slice = left.min(500);
            steps += descend(state, stream, slice, allowed);
            left -= slice;
            let now = state.largest_deviation();
            if now < lowest {
                lowest = now;
                if best.as_ref().is_none_or(|(d, _, _)| now < *d) {
                    keep(state, best);
                    if now <= effort.enough {
                        return steps;
                    }
                }
            }
        }
        threshold = threshold * SINK / 1024;
    }
    keep(state, best);
    steps
}

/// So many steps under one threshold.
fn descend(state: &mut FormState<'_>, stream: &mut Stream, steps: u64, threshold: i64) -> u64 {
    let with_sets = !state.model().sets.is_empty();
    for step in 0..steps {
        if with_sets && step % STEPS_BETWEEN_SETS == 0 {
            change_a_set(state, stream, threshold);
        }
        let Some(change) = state.any_change(stream.next_u64()) else {
            continue;
        };
        if state.is_welcome(&change, threshold) && state.keeps_clauses(&change) {
            state.apply(&change);
        }
    }
    steps
}
