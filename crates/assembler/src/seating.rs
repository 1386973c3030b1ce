//! Who sits where, and which form and serving order go to which seat.
//!
//! Candidates in the room get seats by lot. Seats are points of a graph, forms its colours, and the
//! serving orders colours of their own: neighbours hold different forms and different orders, and
//! both are used as evenly as can be ([`crate::colouring`]). Candidates by kit have no neighbours.
//! What conflicts remain are listed. Purpose "seats", index 0: the seats; index 1: the forms.

use std::collections::BTreeMap;

use base::{ExamSeed, Fault, FormName, Purpose, SeatName, Stream};
use exam_plan::{Exam, Service};

use crate::colouring::{Colouring, colour, evenly};
use crate::seat_wishes::{honour, open_wishes};

/// Where the candidates sit; candidates by their place in the roster.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seating<'e> {
    /// The seat of each candidate with its table; none by kit.
    pub seats: Vec<Option<(usize, &'e SeatName)>>,
    /// Pairs of candidates who can read each other's paper, the smaller first, ascending.
    pub neighbours: Vec<(usize, usize)>,
    /// Wishes for seats that could not be met, in plain sentences.
    pub open_wishes: Vec<String>,
}

/// Draws the seats.
///
/// # Errors
/// When the room has fewer seats than candidates in it, with the numbers.
pub fn seat_candidates<'e>(exam: &'e Exam, seed: &ExamSeed) -> Result<Seating<'e>, Box<Fault>> {
    let candidates = &exam.roster.candidates;
    let in_room: Vec<usize> = (0..candidates.len())
        .filter(|&place| candidates[place].service == Service::Room)
        .collect();
    let all_seats = exam.room.seats();
    if let Some(&first_without) = in_room.get(all_seats.len()) {
        return Err(Box::new(too_few_seats(
            exam,
            in_room.len(),
            all_seats.len(),
            first_without,
        )));
    }
    let mut drawn: Vec<usize> = (0..all_seats.len()).collect();
    Stream::new(seed, Purpose::Seats, 0).shuffle(&mut drawn);
    let mut seat_of: Vec<Option<usize>> = vec![None; candidates.len()];
    for (&candidate, &seat) in in_room.iter().zip(&drawn) {
        seat_of[candidate] = Some(seat);
    }
    honour(exam, &mut seat_of, &drawn);
    let seats = seat_of
        .iter()
        .map(|seat| seat.and_then(|seat| all_seats.get(seat).copied()))
        .collect();
    let sits_at: BTreeMap<usize, usize> = seat_of
        .iter()
        .enumerate()
        .filter_map(|(candidate, seat)| seat.map(|seat| (seat, candidate)))
        .collect();
    let mut neighbours: Vec<(usize, usize)> = exam
        .room
        .neighbours()
        .into_iter()
        .filter_map(|(one, other)| {
            let (one, other) = (*sits_at.get(&one)?, *sits_at.get(&other)?);
            Some((one.min(other), one.max(other)))
        })
        .collect();
    neighbours.sort_unstable();
    neighbours.dedup();
    Ok(Seating {
        seats,
        neighbours,
        open_wishes: open_wishes(exam, &seat_of),
    })
}

fn too_few_seats(exam: &Exam, candidates: usize, seats: usize, first_without: usize) -> Fault {
    let lacking = candidates - seats;
    let place = exam.roster.candidates.get(first_without);
    let what = if exam.room.tables.is_empty() {
        format!("{candidates} candidates sit in the room, and no room with tables is given")
    } else {
        format!(
            "{candidates} candidates sit in the room, which has {seats} seats: {lacking} lacking"
        )
    };
    Fault::new("too-few-seats", place.map(|c| c.place.clone()), what)
        .allowed(format!(
            "at most {seats} candidates with the service \"room\""
        ))
        .hint(format!(
            "add seats to the room, or give {lacking} of the candidates the service \"kit\""
        ))
}

/// Deals the forms; the n-th colour is the n-th form.
#[must_use]
pub fn deal_forms(seating: &Seating<'_>, forms: usize, seed: &ExamSeed) -> Colouring {
    let mut stream = Stream::new(seed, Purpose::Seats, 1);
    let candidates = seating.seats.len();
    // Which form is used once more than others is drawn too.
    let mut wanted = evenly(candidates, forms);
    stream.shuffle(&mut wanted);
    colour(candidates, &seating.neighbours, &wanted, &mut stream)
}

/// What conflicts of forms remain, and uneven use, in plain sentences.
#[must_use]
pub fn form_shortfalls(
    seating: &Seating<'_>,
    names: &[FormName],
    dealt: &Colouring,
) -> Vec<String> {
    let mut sentences = Vec::new();
    let conflicts = dealt.conflicts.len();
    if let [only] = names {
        if conflicts > 0 {
            sentences.push(format!(
                "There is one form: all neighbours have form {only}."
            ));
        }
        return sentences;
    }
    for &(one, other) in &dealt.conflicts {
        let form = dealt.colours.get(one).and_then(|&form| names.get(form));
        if let (Some((_, a)), Some((_, b)), Some(form)) =
            (seat_of(seating, one), seat_of(seating, other), form)
        {
            sentences.push(format!("Seats {} have form {form}.", pair(a, b)));
        }
    }
    if conflicts > 0 {
        sentences.push(why(dealt, names.len(), "forms"));
    }
    let uses = |form: usize| dealt.colours.iter().filter(|&&c| c == form).count();
    let counts: Vec<usize> = (0..names.len()).map(uses).collect();
    let (least, most) = (counts.iter().min(), counts.iter().max());
    if let (Some(least), Some(most)) = (least, most)
        && most - least > 1
    {
        let each: Vec<String> = names
            .iter()
            .zip(&counts)
            .map(|(name, count)| format!("{name} {count}"))
            .collect();
        sentences.push(format!(
            "Forms are not used equally often, so that neighbours differ: {}.",
            each.join(", ")
        ));
    }
    sentences
}

/// What conflicts of serving orders remain; `orders` is how many there are.
#[must_use]
pub fn order_shortfalls(seating: &Seating<'_>, orders: usize, dealt: &Colouring) -> Vec<String> {
    // With one order there is nothing in which neighbours could differ.
    if orders < 2 || dealt.conflicts.is_empty() {
        return Vec::new();
    }
    let mut sentences: Vec<String> = dealt
        .conflicts
        .iter()
        .filter_map(|&(one, other)| {
            let ((_, a), (_, b)) = (seat_of(seating, one)?, seat_of(seating, other)?);
            Some(format!("Seats {} have the same serving order.", pair(a, b)))
        })
        .collect();
    sentences.push(why(dealt, orders, "serving orders"));
    sentences
}

fn seat_of<'e>(seating: &Seating<'e>, candidate: usize) -> Option<(usize, &'e SeatName)> {
    seating.seats.get(candidate).copied().flatten()
}

fn pair(one: &SeatName, other: &SeatName) -> String {
    let (first, second) = if one <= other {
        (one, other)
    } else {
        (other, one)
    };
    format!("{first} and {second}")
}

fn why(dealt: &Colouring, number: usize, things: &str) -> String {
    if dealt.shown_impossible {
        format!("With {number} {things} these neighbours cannot all differ: every way was tried.")
    } else {
        format!("No better deal of {number} {things} was found within the steps allowed.")
    }
}
