//! Whether drawn forms keep a plan, worked out from plan and bank alone, apart from all that draws.
//!
//! It shares no code with the program of forms or its search: a mistake there is caught here.

use std::collections::{BTreeMap, BTreeSet};

use base::{CellId, QuestionId};
use exam_plan::plan::{NearBest, TheoryPart, Wanted};
use question_bank::question::Level;
use question_bank::{Bank, Question, ReviewState, Shape};

use crate::form_draw::DrawnForm;

/// Every breach of the plan, in words; none where the forms may be printed.
#[must_use]
pub fn breaches(
    bank: &Bank,
    theory: &TheoryPart,
    near: &NearBest,
    forms: &[DrawnForm],
) -> Vec<String> {
    let mut found = Vec::new();
    if forms.len() != theory.forms.max(1) as usize {
        found.push(format!(
            "{} forms in place of {}",
            forms.len(),
            theory.forms
        ));
    }
    for (number, form) in forms.iter().enumerate() {
        let mut say = |what: String| found.push(format!("form {}: {what}", number + 1));
        let mut seen: BTreeSet<&QuestionId> = BTreeSet::new();
        let mut on_form: Vec<(&Question, bool)> = Vec::new();
        let named = form.counted.iter().map(|id| (id, true));
        for (id, counted) in named.chain(form.pretest.iter().map(|id| (id, false))) {
            if !seen.insert(id) {
                say(format!("\"{id}\" stands twice"));
            }
            match bank.questions.get(id) {
                Some(question) => on_form.push((question, counted)),
                None => say(format!("\"{id}\" is not in the bank")),
            }
        }
        if form.pretest.len() != theory.pretest as usize {
            say(format!("{} pretest questions", form.pretest.len()));
        }
        one_form(bank, theory, near, &on_form, &seen, &mut say);
    }
    if let Some(most) = theory.overlap {
        for (number, form) in forms.iter().enumerate() {
            let here: BTreeSet<&QuestionId> = form.counted.iter().collect();
            for (later, other) in forms.iter().enumerate().skip(number + 1) {
                let common = other.counted.iter().filter(|id| here.contains(id)).count();
                if common > most as usize {
                    found.push(format!(
                        "forms {} and {} have {common} questions in common",
                        number + 1,
                        later + 1
                    ));
                }
            }
        }
    }
    found
}

fn one_form(
    bank: &Bank,
    theory: &TheoryPart,
    near: &NearBest,
    on_form: &[(&Question, bool)],
    ids: &BTreeSet<&QuestionId>,
    say: &mut dyn FnMut(String),
) {
    let mut cells: BTreeMap<(&CellId, Level), u32> = BTreeMap::new();
    let (mut words, mut seconds, mut timed, mut lately) = (0_usize, 0_u64, false, 0_u32);
    let mut letters: BTreeMap<usize, u32> = BTreeMap::new();
    for (question, counted) in on_form {
        let fit = if *counted {
            ReviewState::Operational
        } else {
            ReviewState::Pretest
        };
        if question.state != fit || question.practice_only {
            say(format!("\"{}\" may not stand there", question.id));
        }
        if *counted {
            *cells.entry((&question.cell, question.level)).or_default() += 1;
        }
        if question.enemies.iter().any(|enemy| ids.contains(enemy)) {
            say(format!("\"{}\" stands with an enemy", question.id));
        }
        words += crate::question_length::words_to_read(question);
        let known = bank.calibration.get(&question.id);
        timed |= known.is_some_and(|known| known.seconds.is_some());
        seconds += u64::from(known.and_then(|known| known.seconds).unwrap_or(90));
        if let Some((since, _)) = &near.used_lately
            && known.and_then(|known| known.last_used.as_deref()) >= Some(since.as_str())
        {
            lately += 1;
        }
        if let (true, Shape::Choice { options, one: true }) = (*counted, question.kind.shape())
            && question.kind.keeps_order()
            // Where numbers are drawn, the place of the key is drawn with them.
            && question.kind.drawings(1).is_none()
            && let Some(key) = options.iter().position(|option| option.key)
        {
            *letters.entry(key).or_default() += 1;
        }
    }
    let planned: BTreeSet<&CellId> = theory.cells.iter().map(|quota| &quota.cell).collect();
    for quota in &theory.cells {
        let has = |level: Level| cells.get(&(&quota.cell, level)).copied().unwrap_or(0);
        let right = match &quota.wanted {
            Wanted::AnyLevel(number) => Level::ALL.into_iter().map(has).sum::<u32>() == *number,
            Wanted::ByLevel(numbers) => Level::ALL
                .into_iter()
                .all(|level| has(level) == numbers.get(&level).copied().unwrap_or(0)),
        };
        if !right {
            say(format!("cell {} has not the number asked for", quota.cell));
        }
    }
    for (question, _) in on_form {
        if !planned.contains(&question.cell) {
            say(format!(
                "\"{}\" is of a cell that was not asked for",
                question.id
            ));
        }
    }
    for (anchor, _) in &near.anchors {
        if !ids.contains(anchor) {
            say(format!("the anchor \"{anchor}\" is not there"));
        }
    }
    if near.words.is_some_and(|most| words > most as usize) {
        say(format!("{words} words to read"));
    }
    if timed && seconds > u64::from(theory.minutes) * 60 {
        say(format!("{seconds} seconds to answer"));
    }
    if near
        .used_lately
        .as_ref()
        .is_some_and(|(_, most)| lately > *most)
    {
        say(format!("{lately} questions used of late"));
    }
    if let Some(most) = near.same_letter
        && letters.values().any(|number| *number > most)
    {
        say("too many keys stand fixed at one letter".to_owned());
    }
}
