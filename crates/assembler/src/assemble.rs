//! From a checked exam and a seed to a sitting: forms, flights, codes, serving orders, seats.

use std::borrow::Cow;

use base::{ExamSeed, Fault, FormName, Purpose, SampleId, Stream};
use exam_plan::plan::{CodeSharing, TastingPart, TheoryPart};
use exam_plan::{Candidate, Exam, Part, Service};
use question_bank::{DrawnNumbers, Question};

use crate::colouring::Colouring;
use crate::form_draw::draw_forms;
use crate::glass_codes::glass_codes;
use crate::option_order::{LONGEST_RUN, option_orders};
use crate::question_order::question_order;
use crate::seating::{Seating, deal_forms, form_shortfalls, order_shortfalls, seat_candidates};
use crate::serving_order::{balance_shortfalls, deal_orders, serving_orders};
use crate::sitting::{CandidatePlace, Form, FormQuestion, Glass, Sitting};

/// Assembles a sitting. The same exam and seed give the same sitting.
///
/// # Errors
/// All faults at once: lines of the blueprint that the bank cannot fill, too few seats, samples
/// without a record.
pub fn assemble(exam: &Exam, seed: &ExamSeed) -> Result<Sitting, Vec<Fault>> {
    let mut faults = Vec::new();
    let mut shortfalls = Vec::new();
    let forms = match &exam.plan.theory {
        Some(theory) => assemble_forms(exam, theory, seed, &mut shortfalls)
            .map_err(|found| faults.extend(found))
            .unwrap_or_default(),
        None => Vec::new(),
    };
    let seating = seat_candidates(exam, seed).map_err(|fault| faults.push(*fault));
    if let Some(tasting) = &exam.plan.tasting {
        faults.extend(missing_records(exam, tasting));
    }
    let Ok(seating) = seating else {
        return Err(faults);
    };
    if !faults.is_empty() {
        return Err(faults);
    }
    shortfalls.extend(seating.open_wishes.iter().cloned());
    let names: Vec<FormName> = forms.iter().map(|form| form.name.clone()).collect();
    let form_of = if forms.is_empty() {
        vec![None; seating.seats.len()]
    } else {
        let mut dealt = deal_forms(&seating, forms.len(), seed);
        sat_by_both(exam, Part::Theory, &mut dealt);
        shortfalls.extend(form_shortfalls(&seating, &names, &dealt));
        let name_of = |&form: &usize| names.get(form).cloned();
        dealt.colours.iter().map(name_of).collect()
    };
    let glasses_of = match &exam.plan.tasting {
        Some(tasting) => deal_glasses(exam, tasting, &seating, seed, &mut shortfalls),
        None => vec![Vec::new(); seating.seats.len()],
    };
    let places = exam
        .roster
        .candidates
        .iter()
        .zip(&seating.seats)
        .zip(form_of)
        .zip(glasses_of)
        .map(|(((candidate, seat), form), glasses)| CandidatePlace {
            candidate: candidate.number.clone(),
            service: candidate.service,
            seat: seat.map(|(_, name)| name.clone()),
            form: form.filter(|_| sits(candidate, Part::Theory)),
            glasses: if sits(candidate, Part::Tasting) {
                glasses
            } else {
                Vec::new()
            },
        })
        .collect();
    Ok(Sitting {
        forms,
        places,
        shortfalls,
    })
}

/// Whether a candidate sits this part. What is drawn for who does not is not used, so that a part
/// brought along changes nobody else's papers.
fn sits(candidate: &Candidate, part: Part) -> bool {
    candidate
        .brings
        .as_ref()
        .is_none_or(|brought| brought.part != part)
}

/// Neighbours of whom one does not sit this part have nothing to read from each other.
fn sat_by_both(exam: &Exam, part: Part, dealt: &mut Colouring) {
    let sat = |place: usize| {
        let candidate = exam.roster.candidates.get(place);
        candidate.is_some_and(|candidate| sits(candidate, part))
    };
    dealt
        .conflicts
        .retain(|&(one, other)| sat(one) && sat(other));
}

/// Draws the forms and puts questions and options in order.
fn assemble_forms(
    exam: &Exam,
    theory: &TheoryPart,
    seed: &ExamSeed,
    shortfalls: &mut Vec<String>,
) -> Result<Vec<Form>, Vec<Fault>> {
    let drawn = draw_forms(&exam.bank, theory, seed)?;
    shortfalls.extend(drawn.shortfalls);
    let mut forms = Vec::with_capacity(drawn.forms.len());
    for (number, form) in drawn.forms.iter().enumerate() {
        let Some(name) = FormName::nth(number) else {
            let place = theory.cells.first().map(|quota| quota.place.clone());
            let what = format!("{} forms are wanted", theory.forms);
            let fault = Fault::new("too-many-forms", place, what);
            return Err(vec![fault.allowed("at most 702 forms, A to ZZ")]);
        };
        let ordered = question_order(&exam.bank, theory, form, number, seed);
        let mut drawn = Vec::with_capacity(ordered.len());
        let mut questions = Vec::with_capacity(ordered.len());
        for (place, (id, _)) in ordered.iter().enumerate() {
            let Some(question) = exam.bank.questions.get(id) else {
                continue;
            };
            match draw_numbers(question, number, place, &forms, seed) {
                Ok((numbers, realised)) => {
                    drawn.push(numbers);
                    questions.push(realised);
                }
                Err(fault) => return Err(vec![*fault]),
            }
        }
        let questions: Vec<&Question> = questions.iter().map(|question| &**question).collect();
        let options = option_orders(&questions, number, seed);
        if let Some(run) = options.too_long_run {
            shortfalls.push(format!(
                "On form {name} the same letter is right {run} times running, more than \
                 {LONGEST_RUN}: too many questions keep the order of their options."
            ));
        }
        let questions = ordered
            .into_iter()
            .zip(options.orders)
            .zip(drawn)
            .map(|(((question, counts), order), drawn)| FormQuestion {
                question,
                order,
                drawn,
                counts,
            })
            .collect();
        forms.push(Form { name, questions });
    }
    Ok(forms)
}

/// Draws the numbers of a question, other than those of the forms before where that can be, and
/// the question they make. Purpose "variant numbers", index: form number times 2^32 plus the
/// printed number of the question.
fn draw_numbers<'b>(
    question: &'b Question,
    form: usize,
    place: usize,
    before: &[Form],
    seed: &ExamSeed,
) -> Result<(DrawnNumbers, Cow<'b, Question>), Box<Fault>> {
    let index = ((form as u64) << 32) | (place as u64 + 1);
    let mut stream = Stream::new(seed, Purpose::VariantNumbers, index);
    let on_forms = before.iter().flat_map(|form| &form.questions);
    let avoid: Vec<DrawnNumbers> = on_forms
        .filter(|other| other.question == question.id)
        .map(|other| other.drawn.clone())
        .collect();
    let drawn = question.kind.draw(&mut stream, &avoid);
    drawn
        .and_then(|drawn| question.realised(&drawn).map(|made| (drawn, made)))
        .map_err(|why| {
            let what = format!("no numbers could be drawn for \"{}\": {why}", question.id);
            Box::new(
                Fault::new("no-fit-drawing", question.place.clone(), what)
                    .hint("widen the ranges, or let mistakes lie nearer to the key"),
            )
        })
}

/// Samples of the flight that have no record.
fn missing_records(exam: &Exam, tasting: &TastingPart) -> Vec<Fault> {
    let missing = |(id, _): &&(SampleId, _)| exam.sample(id).is_none();
    tasting
        .samples
        .iter()
        .filter(missing)
        .map(|(id, place)| {
            let what = format!("\"{id}\" is no sample of the exam folder or the bank");
            Fault::new("unknown-sample", place.clone(), what)
        })
        .collect()
}

/// Deals serving orders and codes; the glasses of each candidate in the order of the roster.
fn deal_glasses(
    exam: &Exam,
    tasting: &TastingPart,
    seating: &Seating<'_>,
    seed: &ExamSeed,
    shortfalls: &mut Vec<String>,
) -> Vec<Vec<Glass>> {
    let flight: Vec<_> = tasting
        .samples
        .iter()
        .filter_map(|(id, _)| exam.sample(id).map(|sample| sample.carry_over))
        .collect();
    let orders = serving_orders(&flight, seed);
    let mut dealt = deal_orders(&orders, seating.seats.len(), &seating.neighbours, seed);
    sat_by_both(exam, Part::Tasting, &mut dealt);
    shortfalls.extend(order_shortfalls(seating, orders.orders.len(), &dealt));
    shortfalls.extend(balance_shortfalls(&orders, &dealt.colours));
    let tables = exam.room.tables.len();
    let own_codes = |candidate: usize| {
        tasting.rules.kits_have_own_codes
            && exam
                .roster
                .candidates
                .get(candidate)
                .is_some_and(|c| c.service == Service::Kit)
    };
    // Kits with codes of their own are groups after all others.
    let shared_groups = |has_kits: bool| match tasting.codes {
        CodeSharing::Room => 1,
        CodeSharing::Table => tables + usize::from(has_kits),
        CodeSharing::Candidate => seating.seats.len(),
    };
    let has_kits = exam
        .roster
        .candidates
        .iter()
        .any(|c| c.service == Service::Kit);
    let group_of = |candidate: usize| match tasting.codes {
        CodeSharing::Room | CodeSharing::Table if own_codes(candidate) => {
            shared_groups(has_kits) + (0..candidate).filter(|&c| own_codes(c)).count()
        }
        CodeSharing::Room => 0,
        // Kits are a table of their own, after the others.
        CodeSharing::Table => seating
            .seats
            .get(candidate)
            .copied()
            .flatten()
            .map_or(tables, |(table, _)| table),
        CodeSharing::Candidate => candidate,
    };
    let own_groups = match tasting.codes {
        CodeSharing::Room | CodeSharing::Table => {
            (0..seating.seats.len()).filter(|&c| own_codes(c)).count()
        }
        CodeSharing::Candidate => 0,
    };
    let groups = shared_groups(has_kits) + own_groups;
    let codes = glass_codes(groups, tasting.samples.len(), tasting.check_digit, seed);
    shortfalls.extend(codes.shortfall);
    dealt
        .colours
        .iter()
        .enumerate()
        .map(|(candidate, &order)| {
            let codes = codes.of_group.get(group_of(candidate));
            let order = orders.orders.get(order).map_or(&[][..], Vec::as_slice);
            order
                .iter()
                .filter_map(|&place| {
                    Some(Glass {
                        code: codes?.get(place)?.clone(),
                        sample: tasting.samples.get(place)?.0.clone(),
                    })
                })
                .collect()
        })
        .collect()
}
