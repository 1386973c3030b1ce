//! Whether drawn forms keep a plan, worked out from plan and bank alone, apart from all that draws.
//!
//! It shares no code with the program of forms or its search: a mistake there is caught here.

use std::collections::{BTreeMap, BTreeSet};

use base::{CellId, Place, QuestionId};
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
        if form.counted.len() != theory.questions as usize {
            say(format!("{} questions that count", form.counted.len()));
        }
        if form.pretest.len() != theory.pretest as usize + near.links.len() {
            say(format!(
                "{} questions that do not count",
                form.pretest.len()
            ));
        }
        for (link, _) in &near.links {
            if !form.pretest.contains(link) {
                say(format!("the link \"{link}\" is not there, or counts"));
            }
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
    let (mut words, mut seconds, mut timed) = (0_usize, 0_u64, false);
    let (mut often, mut pictures, mut drawn) = (0_u32, 0_u32, 0_u32);
    let mut lately = vec![0_u32; near.used_lately.len()];
    let mut sets: BTreeMap<&Place, (u32, &Question)> = BTreeMap::new();
    let mut letters: BTreeMap<usize, u32> = BTreeMap::new();
    for (question, counted) in on_form {
        let link = near.links.iter().any(|(id, _)| *id == question.id);
        let fit = if *counted || link {
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
        let speaks = |language: &String| {
            let set = question.set.as_ref();
            *language == bank.language
                || (question.translations.contains_key(language)
                    && set.is_none_or(|of| of.set.translations.contains_key(language)))
        };
        if !link && !near.translated.iter().all(speaks) {
            say(format!("\"{}\" is not translated as asked", question.id));
        }
        words += crate::question_length::words_to_read(question);
        pictures += u32::from(question.picture.is_some());
        drawn += u32::from(question.kind.drawings(1).is_some());
        if let Some(of) = &question.set {
            sets.entry(&of.set.place).or_insert((0, question)).0 += u32::from(!link);
        }
        let known = bank.calibration.get(&question.id);
        timed |= !link && known.is_some_and(|known| known.seconds.is_some());
        seconds += u64::from(known.and_then(|known| known.seconds).unwrap_or(90));
        // A link is there because it was used before.
        if link {
            continue;
        }
        for (bound, lately) in near.used_lately.iter().zip(&mut lately) {
            let last = known.and_then(|known| known.last_used.as_deref());
            *lately += u32::from(last >= Some(bound.since.as_str()));
        }
        let stood = known.and_then(|known| known.sittings).unwrap_or(0);
        often += u32::from(near.used_often.is_some_and(|bound| stood >= bound.sittings));
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
            Wanted::AnyLevel(number) => number.holds(Level::ALL.into_iter().map(has).sum()),
            Wanted::ByLevel(numbers) => Level::ALL.into_iter().all(|level| {
                let here = has(level);
                numbers
                    .get(&level)
                    .map_or(here == 0, |number| number.holds(here))
            }),
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
    for (number, question) in sets.values() {
        let Some(of) = &question.set else { continue };
        let words_of_set = of.set.text.split_whitespace().count();
        words += words_of_set;
        let most = of.set.at_most.unwrap_or(u32::MAX);
        if *number > 0 && !(of.set.at_least..=most).contains(number) {
            say(format!("{number} questions of the set \"{}\"", of.set.id));
        }
    }
    if near.words.is_some_and(|most| words > most as usize) {
        say(format!("{words} words to read"));
    }
    if timed && seconds > u64::from(theory.minutes) * 60 {
        say(format!("{seconds} seconds to answer"));
    }
    for (bound, lately) in near.used_lately.iter().zip(lately) {
        if lately > bound.at_most {
            say(format!("{lately} questions used since {}", bound.since));
        }
    }
    if near.used_often.is_some_and(|bound| often > bound.at_most) {
        say(format!("{often} questions used often"));
    }
    if near.pictures.is_some_and(|most| pictures > most) {
        say(format!("{pictures} questions with pictures"));
    }
    if near.drawn_numbers.is_some_and(|most| drawn > most) {
        say(format!("{drawn} questions with drawn numbers"));
    }
    if let Some(most) = near.same_letter
        && letters.values().any(|number| *number > most)
    {
        say("too many keys stand fixed at one letter".to_owned());
    }
}
