//! Honours candidates who must sit near the door, together or apart, after the seats were drawn.
//!
//! The draw stands where nobody wishes anything. Else seats are exchanged, one pair at a time, as long
//! as fewer wishes stay open: each candidate with an open wish in the order of the roster, with every
//! seat in the order in which they were drawn. No lot is drawn here. What stays open is listed.

use std::collections::BTreeMap;

use exam_plan::Exam;
use exam_plan::roster::SeatWish;

/// Rounds of exchanges; each leaves fewer wishes open or ends the search.
const ROUNDS: usize = 200;

/// Exchanges seats. `seat_of` holds for each candidate of the roster the place of his seat in the list
/// of the room's seats, none by kit; `drawn` all seats in drawn order.
pub(crate) fn honour(exam: &Exam, seat_of: &mut [Option<usize>], drawn: &[usize]) {
    if exam.roster.candidates.iter().all(|c| c.wishes.is_empty()) {
        return;
    }
    let room = Wishes::new(exam);
    let mut open = room.open(seat_of);
    for _ in 0..ROUNDS {
        if open == 0 {
            return;
        }
        let wishing = (0..seat_of.len()).filter(|&c| room.concerns(c));
        let mut best: Option<(usize, usize, usize)> = None;
        for candidate in wishing {
            for &seat in drawn {
                let mut tried = seat_of.to_vec();
                exchange(&mut tried, candidate, seat);
                let left = room.open(&tried);
                if left < best.map_or(open, |(least, _, _)| least) {
                    best = Some((left, candidate, seat));
                }
            }
        }
        let Some((left, candidate, seat)) = best else {
            return;
        };
        exchange(seat_of, candidate, seat);
        open = left;
    }
}

/// Puts a candidate on a seat; whoever sat there takes the other.
fn exchange(seat_of: &mut [Option<usize>], candidate: usize, seat: usize) {
    let Some(own) = seat_of.get(candidate).copied().flatten() else {
        return;
    };
    if let Some(other) = seat_of.iter().position(|s| *s == Some(seat))
        && let Some(place) = seat_of.get_mut(other)
    {
        *place = Some(own);
    }
    if let Some(place) = seat_of.get_mut(candidate) {
        *place = Some(seat);
    }
}

/// The wishes that stay open, a sentence each.
pub(crate) fn open_wishes(exam: &Exam, seat_of: &[Option<usize>]) -> Vec<String> {
    let room = Wishes::new(exam);
    let mut sentences = Vec::new();
    for (place, candidate) in exam.roster.candidates.iter().enumerate() {
        for wish in &candidate.wishes {
            if room.is_open(seat_of, place, wish) {
                let number = &candidate.number;
                sentences.push(match wish {
                    SeatWish::NearDoor => {
                        format!("Candidate {number} does not sit near the door: too few seats are there.")
                    }
                    SeatWish::With(other) => {
                        format!("Candidates {number} and {other} do not sit next to each other.")
                    }
                    SeatWish::Apart(other) => {
                        format!("Candidates {number} and {other} sit next to each other and should not.")
                    }
                });
            }
        }
    }
    sentences
}

/// The room and the roster as places.
struct Wishes<'e> {
    exam: &'e Exam,
    by_number: BTreeMap<&'e str, usize>,
    neighbours: Vec<(usize, usize)>,
    near_door: Vec<bool>,
}

impl<'e> Wishes<'e> {
    fn new(exam: &'e Exam) -> Self {
        let numbers = exam.roster.candidates.iter().enumerate();
        let seats = exam.room.seats();
        Self {
            exam,
            by_number: numbers
                .map(|(place, c)| (c.number.as_str(), place))
                .collect(),
            neighbours: exam.room.neighbours(),
            near_door: seats
                .iter()
                .map(|(_, seat)| exam.room.near_door.contains(seat))
                .collect(),
        }
    }

    /// Whether a candidate wishes something, or is wished for.
    fn concerns(&self, place: usize) -> bool {
        self.exam
            .roster
            .candidates
            .iter()
            .enumerate()
            .any(|(own, c)| {
                c.wishes.iter().any(|wish| match wish {
                    SeatWish::NearDoor => own == place,
                    SeatWish::With(other) | SeatWish::Apart(other) => {
                        own == place || self.by_number.get(other.as_str()) == Some(&place)
                    }
                })
            })
    }

    fn open(&self, seat_of: &[Option<usize>]) -> usize {
        let candidates = self.exam.roster.candidates.iter().enumerate();
        candidates
            .map(|(place, c)| {
                let open = |wish: &&SeatWish| self.is_open(seat_of, place, wish);
                c.wishes.iter().filter(open).count()
            })
            .sum()
    }

    fn is_open(&self, seat_of: &[Option<usize>], place: usize, wish: &SeatWish) -> bool {
        let Some(seat) = seat_of.get(place).copied().flatten() else {
            return false;
        };
        let beside = |other: &base::CandidateNumber| -> Option<bool> {
            let other = *self.by_number.get(other.as_str())?;
            let theirs = seat_of.get(other).copied().flatten()?;
            let pair = (seat.min(theirs), seat.max(theirs));
            Some(self.neighbours.binary_search(&pair).is_ok())
        };
        match wish {
            SeatWish::NearDoor => !self.near_door.get(seat).copied().unwrap_or(false),
            SeatWish::With(other) => beside(other) == Some(false),
            SeatWish::Apart(other) => beside(other) == Some(true),
        }
    }
}
