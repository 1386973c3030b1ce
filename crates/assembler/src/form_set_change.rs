//! Exchanges a whole set of questions: it goes and others come, or it comes in place of others.
//!
//! A single exchange cannot bring in a set of which at least two must stand. Here several are
//! carried out one after another, each within its line of the blueprint, and undone where the forms
//! then break a clause or are worse by more than the threshold.

use base::Stream;

use crate::form_state::{Change, FormState};

/// How often a question without a set is drawn before an exchange is given up.
const TRIES: usize = 8;

/// Tries to exchange one set, drawn by lot, on one form.
pub(crate) fn change_a_set(state: &mut FormState<'_>, stream: &mut Stream, threshold: i64) {
    let model = state.model();
    let (form, set) = (stream.index(model.forms), stream.index(model.sets.len()));
    let Some(of) = model.sets.get(set) else {
        return;
    };
    let first_free = model.anchors.len();
    if of
        .items
        .iter()
        .any(|item| model.anchors.binary_search(item).is_ok())
    {
        return;
    }
    let here: Vec<(usize, usize)> = state
        .places(form)
        .iter()
        .enumerate()
        .skip(first_free)
        .filter(|(_, item)| of.items.contains(item))
        .map(|(place, &item)| (place, item))
        .collect();
    let changes = if here.is_empty() {
        bring(state, stream, form, set)
    } else {
        take_off(state, stream, form, &here)
    };
    let Some(changes) = changes else {
        return;
    };
    let before = state.deviation_of(form);
    let mut done = 0;
    for change in &changes {
        if !state.makes_sense(change) {
            break;
        }
        state.apply(change);
        done += 1;
    }
    let kept = done == changes.len()
        && state.deviation_of(form) <= before.saturating_add(threshold)
        && state.breaches() == 0;
    if !kept {
        for change in changes.iter().take(done).rev() {
            state.apply(&change.back());
        }
    }
}

/// The set comes in place of questions without sets.
fn bring(
    state: &FormState<'_>,
    stream: &mut Stream,
    form: usize,
    set: usize,
) -> Option<Vec<Change>> {
    let model = state.model();
    let of = model.sets.get(set)?;
    let most = of.most.min(of.items.len());
    if of.least > most {
        return None;
    }
    let number = of.least + stream.index(most - of.least + 1);
    let mut members = of.items.clone();
    stream.shuffle(&mut members);
    let mut places: Vec<usize> = (model.anchors.len()..model.length).collect();
    stream.shuffle(&mut places);
    let mut changes: Vec<Change> = Vec::new();
    for comes in members.into_iter().take(number) {
        let place = places.iter().position(|&place| {
            state.places(form).get(place).is_some_and(|&goes| {
                state.line_of(goes) == state.line_of(comes) && !state.is_in_a_set(goes)
            })
        })?;
        let place = places.swap_remove(place);
        let goes = *state.places(form).get(place)?;
        changes.push(single(form, place, goes, comes));
    }
    Some(changes)
}

/// The set goes; in its place come another set, or questions without sets.
fn take_off(
    state: &FormState<'_>,
    stream: &mut Stream,
    form: usize,
    here: &[(usize, usize)],
) -> Option<Vec<Change>> {
    let model = state.model();
    let as_set = stream.below(2) == 0;
    let mut coming: Vec<usize> = Vec::new();
    if as_set {
        let other = model.sets.get(stream.index(model.sets.len()))?;
        let mut members = other.items.clone();
        stream.shuffle(&mut members);
        coming = members;
    }
    let mut changes: Vec<Change> = Vec::new();
    for &(place, goes) in here {
        let line = state.line_of(goes);
        let taken = |item: usize| changes.iter().any(|change| change.comes == item);
        let comes = if as_set {
            let fits = |item: &usize| {
                state.line_of(*item) == line && !state.is_on(form, *item) && !taken(*item)
            };
            coming.iter().copied().find(fits)?
        } else {
            let list = state.of_line(line);
            (0..TRIES).find_map(|_| {
                let item = *list.get(stream.index(list.len().max(1)))?;
                let fits = !state.is_in_a_set(item) && !state.is_on(form, item) && !taken(item);
                fits.then_some(item)
            })?
        };
        changes.push(single(form, place, goes, comes));
    }
    Some(changes)
}

const fn single(form: usize, place: usize, goes: usize, comes: usize) -> Change {
    Change {
        form,
        place,
        goes,
        comes,
        other: None,
    }
}
