//! Whether a sitting keeps its plan, worked out anew from plan, bank and sitting alone.

use std::collections::BTreeSet;

use assembler::Sitting;
use exam_plan::exam::Exam;
use exam_plan::plan::Wanted;
use exam_plan::roster::Service;
use question_bank::{QuestionKind, ReviewState};

/// Every breach of the plan, in words.
pub fn breaches(exam: &Exam, sitting: &Sitting) -> Vec<String> {
    let mut found = Vec::new();
    forms(exam, sitting, &mut found);
    places(exam, sitting, &mut found);
    found
}

fn forms(exam: &Exam, sitting: &Sitting, found: &mut Vec<String>) {
    let Some(theory) = &exam.plan.theory else {
        if !sitting.forms.is_empty() {
            found.push("forms without a theory part".to_owned());
        }
        return;
    };
    if sitting.forms.len() != theory.forms as usize {
        found.push(format!("{} forms", sitting.forms.len()));
    }
    for (number, form) in sitting.forms.iter().enumerate() {
        if form.name.as_str() != char::from(b'A' + number as u8).to_string() {
            found.push(format!("form {number} is called {}", form.name));
        }
        let questions: Vec<_> = form
            .questions
            .iter()
            .map(|q| (&exam.bank.questions[&q.question], q))
            .collect();
        let ids: BTreeSet<_> = form.questions.iter().map(|q| &q.question).collect();
        if ids.len() != questions.len() {
            found.push(format!("a question stands twice on form {}", form.name));
        }
        for quota in &theory.cells {
            let counted = questions
                .iter()
                .filter(|(question, q)| q.counts && question.cell == quota.cell);
            match &quota.wanted {
                Wanted::AnyLevel(n) => {
                    let have = counted.count();
                    if !n.holds(have as u32) {
                        found.push(format!("{}: {have} of {n}", quota.cell));
                    }
                }
                Wanted::ByLevel(levels) => {
                    let counted: Vec<_> = counted.collect();
                    if !(quota.least()..=quota.most()).contains(&(counted.len() as u32)) {
                        found.push(format!("{}: {} counted", quota.cell, counted.len()));
                    }
                    for (level, n) in levels {
                        let have = counted.iter().filter(|(q, _)| q.level == *level).count();
                        if !n.holds(have as u32) {
                            found.push(format!("{} {level:?}: {have} of {n}", quota.cell));
                        }
                    }
                }
            }
        }
        let counted = questions.iter().filter(|(_, q)| q.counts).count();
        if counted != theory.questions as usize {
            found.push(format!("{counted} counted questions"));
        }
        let pretest = questions.iter().filter(|(_, q)| !q.counts).count();
        if pretest != theory.uncounted() as usize {
            found.push(format!("{pretest} pretest questions"));
        }
        for (question, on_form) in &questions {
            let is_link = theory
                .draw
                .rules()
                .is_some_and(|rules| rules.links.iter().any(|(id, _)| *id == question.id));
            let right_state = if on_form.counts || is_link {
                ReviewState::Operational
            } else {
                ReviewState::Pretest
            };
            if question.state != right_state
                || question.practice_only
                || (is_link && on_form.counts)
            {
                found.push(format!("{} may not stand there", question.id));
            }
            if let Some(enemy) = question.enemies.iter().find(|enemy| ids.contains(enemy)) {
                found.push(format!("{} and its enemy {enemy}", question.id));
            }
            if on_form.order.len() != question.kind.lettered() {
                found.push(format!("{}: wrong number of letters", question.id));
            }
            let as_written = on_form.order.places().is_sorted();
            if question.kind.keeps_order() && !as_written {
                found.push(format!("{} must keep its order", question.id));
            }
            if matches!(question.kind, QuestionKind::Ordering(_)) && as_written {
                found.push(format!("{} shows the true order", question.id));
            }
        }
        // Cells stand in the order of the plan, each in one block.
        let mut blocks: Vec<_> = questions.iter().map(|(q, _)| &q.cell).collect();
        blocks.dedup();
        let in_plan: Vec<_> = theory
            .cells
            .iter()
            .map(|quota| &quota.cell)
            .filter(|cell| blocks.contains(cell))
            .collect();
        if blocks != in_plan {
            found.push(format!("form {}: cells in another order", form.name));
        }
        if let Some(overlap) = theory.overlap {
            for other in &sitting.forms[..number] {
                let counted = |f: &assembler::Form| -> BTreeSet<_> {
                    let counted = f.questions.iter().filter(|q| q.counts);
                    counted.map(|q| q.question.clone()).collect()
                };
                let common = counted(form).intersection(&counted(other)).count();
                if common > overlap as usize {
                    found.push(format!("{} and {}: {common} common", other.name, form.name));
                }
            }
        }
    }
}

fn places(exam: &Exam, sitting: &Sitting, found: &mut Vec<String>) {
    let candidates = &exam.roster.candidates;
    if sitting.places.len() != candidates.len() {
        found.push(format!("{} places", sitting.places.len()));
    }
    let mut seats = BTreeSet::new();
    let known: BTreeSet<_> = exam
        .room
        .seats()
        .into_iter()
        .map(|(_, seat)| seat)
        .collect();
    for (candidate, place) in candidates.iter().zip(&sitting.places) {
        if candidate.number != place.candidate || candidate.service != place.service {
            found.push(format!("{} is not {}", place.candidate, candidate.number));
        }
        match (&place.seat, place.service) {
            (Some(seat), Service::Room) => {
                if !known.contains(seat) || !seats.insert(seat) {
                    found.push(format!("seat {seat}"));
                }
            }
            (None, Service::Kit) => {}
            (seat, service) => found.push(format!("{service:?} at {seat:?}")),
        }
        let has_form = place
            .form
            .as_ref()
            .is_some_and(|form| sitting.form(form).is_some());
        if has_form != exam.plan.theory.is_some() {
            found.push(format!("{}: form {:?}", place.candidate, place.form));
        }
        if let Some(tasting) = &exam.plan.tasting {
            let mut served: Vec<_> = place.glasses.iter().map(|g| &g.sample).collect();
            let mut planned: Vec<_> = tasting.samples.iter().map(|(id, _)| id).collect();
            served.sort();
            planned.sort();
            if served != planned {
                found.push(format!("{} does not get the flight", place.candidate));
            }
            let codes: BTreeSet<_> = place.glasses.iter().map(|g| &g.code).collect();
            if codes.len() != place.glasses.len() {
                found.push(format!("{} has a code twice", place.candidate));
            }
        }
    }
}

/// Pairs of neighbours (candidates) that agree in something, worked out from seats alone.
pub fn agreeing_neighbours<T: PartialEq>(
    exam: &Exam,
    sitting: &Sitting,
    of: impl Fn(&assembler::CandidatePlace) -> T,
) -> usize {
    let seats = exam.room.seats();
    let at = |seat: usize| {
        let name = seats[seat].1;
        sitting
            .places
            .iter()
            .find(|p| p.seat.as_ref() == Some(name))
    };
    exam.room
        .neighbours()
        .into_iter()
        .filter(|&(one, other)| match (at(one), at(other)) {
            (Some(a), Some(b)) => of(a) == of(b),
            _ => false,
        })
        .count()
}
