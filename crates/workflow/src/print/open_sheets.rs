//! What the proctor and the packer hold in their hands: nothing in it says what is in a glass.

use assembler::WARM_UP_LABEL;
use assembler::kit_check::sealed_kits;
use assembler::order_imbalance::imbalance_without_one;
use assembler::pour_plan::PourPlan;
use assembler::pour_times::{DOORS, pour_times, tasting_begins};
use assembler::reserve_order::tasted_again_after;
use base::CandidateNumber;
use exam_plan::{Part, TastingWay};
use renderer::content::candidate::{Kit, KitBottle, KitItem, PackingLists, SealStrip, SealStrips};
use renderer::content::examiner::{IfThen, ReserveLine, RoomSheet, SeatLine};
use renderer::content::{ExamHead, TimedStep};

use super::booklets::by_seat;
use super::head::{millilitres, warm_up_name};
use super::{Job, SheetFile, Sides};
use crate::failure::Failure;
use crate::open_sitting::DrawnSitting;
use crate::pour::day::{clock, first_answer_words, order_lines, serve_words};
use crate::pour::plan_of;

/// The room sheet and the packing lists.
pub(super) fn jobs<'o>(
    open: &'o DrawnSitting,
    head: &'o ExamHead,
) -> Result<Vec<Job<'o>>, Failure> {
    let mut jobs = Vec::new();
    if open.sitting.places.iter().any(|p| p.seat.is_some()) {
        let pours = match &open.exam.plan.tasting {
            Some(_) => Some(plan_of(open)?),
            None => None,
        };
        let sheet = room_sheet(open, head, pours.as_ref());
        jobs.push(Job {
            file: SheetFile::new(8, "room-sheet", "proctor", 1, Sides::Single),
            document: "room-sheet".to_owned(),
            make: Box::new(move |renderer, look, stamp| renderer.room_sheet(&sheet, look, stamp)),
        });
    }
    if let Some(strips) = seal_strips(open, head) {
        jobs.push(Job {
            file: SheetFile::new(9, "seal-strips", "packer", 1, Sides::Single),
            document: "seal-strips".to_owned(),
            make: Box::new(move |renderer, look, stamp| renderer.seal_strips(&strips, look, stamp)),
        });
    }
    let lists = packing_lists(open, head);
    if !lists.kits.is_empty() {
        jobs.push(Job {
            file: SheetFile::new(7, "packing-lists", "one-each-kit", 1, Sides::Single),
            document: "packing-lists".to_owned(),
            make: Box::new(move |renderer, look, stamp| {
                renderer.packing_lists(&lists, look, stamp)
            }),
        });
    }
    Ok(jobs)
}

/// All cautions as sentences.
pub(crate) fn cautions() -> Vec<String> {
    assembler::cautions::CAUTIONS
        .iter()
        .map(|c| (*c).to_owned())
        .collect()
}

fn room_sheet(open: &DrawnSitting, head: &ExamHead, pours: Option<&PourPlan>) -> RoomSheet {
    let plan = &open.exam.plan;
    let step = |minutes: i64, what: &str| TimedStep {
        time: clock(&open.exam, minutes),
        what: what.to_owned(),
    };
    let tasting = plan.tasting.as_ref();
    let mut checklist = vec!["A clock that everybody can see".to_owned()];
    if plan.theory.is_some() {
        checklist.push("Covers and booklets laid out by seat, closed".to_owned());
    }
    checklist.push("Answer sheets laid out by seat, pens, spare pens".to_owned());
    if tasting.is_some() {
        checklist.push("Reference lists".to_owned());
        if tasting.is_some_and(|part| part.warm_up.is_some()) {
            checklist.push(format!(
                "The warm-up, label {WARM_UP_LABEL}, left of the first glass at every place"
            ));
        }
        checklist.push(
            "A spit cup, a glass of water and plain bread or crackers at every place".to_owned(),
        );
        checklist.push(
            if plan.theory.is_some() {
                "Trays for the covered glasses, which are carried in after the theory part"
            } else {
                "Glasses covered, codes to the front, in the order of the table below"
            }
            .to_owned(),
        );
        checklist.push("No smell of food, smoke or scent; windows closed".to_owned());
    }
    checklist.extend(other_papers(open));
    checklist.push("Signs, telephone number of the school, first-aid box".to_owned());
    let mut times = Vec::new();
    let begins = tasting_begins(plan);
    let pour = pours.and_then(|pours| pour_times(plan, pours));
    if let Some(pour) = &pour {
        let first = pour.pour.first().map_or(pour.rest, |(_, minutes)| *minutes);
        times.push((
            (begins + first).min(-60),
            "Room aired, tables set, water and spit cups out".to_owned(),
        ));
        times.push((
            begins + first,
            "The pourer begins, elsewhere: labels, glasses, covers".to_owned(),
        ));
        times.push((
            begins + pour.rest,
            "All covered; a second person checks the glasses of the cross-check".to_owned(),
        ));
        times.push((begins + pour.serve, serve_words(pour)));
    }
    times.push((
        -DOORS,
        "Doors open; identity and number checked against the roster, by seat".to_owned(),
    ));
    times.push((
        -5,
        "Rules and cautions read aloud; questions answered".to_owned(),
    ));
    let mut ends = 0;
    if let Some(theory) = &plan.theory {
        times.push((0, format!("Theory begins: {} minutes", theory.minutes)));
        ends = i64::from(theory.minutes);
        times.push((
            ends,
            "Theory ends: booklets collected by seat and counted".to_owned(),
        ));
    }
    if let Some(tasting) = tasting {
        let stood = pour.as_ref().map_or_else(String::new, |pour| {
            format!(". {}", first_answer_words(pour))
        });
        times.push((
            begins,
            match warm_up_name(open) {
                Some(name) => format!(
                    "Tasting begins: {} minutes. First glass {WARM_UP_LABEL}, the warm-up, tasted together: say aloud that it is {name}; nothing is written{stood}",
                    tasting.minutes
                ),
                None => format!("Tasting begins: {} minutes{stood}", tasting.minutes),
            },
        ));
        ends = begins + i64::from(tasting.minutes);
        times.push((
            ends,
            "Tasting ends: answer sheets collected by seat, counted, signed for".to_owned(),
        ));
    }
    times.push((
        ends + 10,
        "Who goes home how? Nobody drives after tasting".to_owned(),
    ));
    // What falls on one minute stays in the order in which it was said.
    times.sort_by_key(|(minutes, _)| *minutes);
    let times = times
        .iter()
        .map(|(minutes, what)| step(*minutes, what))
        .collect();
    let by_place = by_seat(open);
    let seats = open
        .exam
        .room
        .seats()
        .into_iter()
        .map(|(_, seat)| {
            let place = by_place.iter().find(|p| p.seat.as_ref() == Some(seat));
            SeatLine {
                seat: seat.to_string(),
                candidate_number: place.map(|p| p.candidate.to_string()).unwrap_or_default(),
                form: place
                    .and_then(|p| p.form.as_ref())
                    .map(ToString::to_string)
                    .unwrap_or_default(),
                codes: place
                    .map(|p| p.glasses.iter().map(|g| g.code.clone()).collect())
                    .unwrap_or_default(),
            }
        })
        .collect();
    RoomSheet {
        exam: head.clone(),
        room: open.exam.room.name.clone(),
        checklist,
        times,
        glasses: tasting.map_or(0, |t| u8::try_from(t.samples.len()).unwrap_or(u8::MAX)),
        seats,
        neighbours: open.sitting.shortfalls.clone(),
        orders: orders_in_words(open),
        reserves: reserves(open),
        incidents: incidents(tasting.map(|part| part.samples.len())),
        incident_lines: 6,
        cautions: cautions(),
        ledger_head: open.custody.head_in_words(),
    }
}

/// Who has other papers than the rest: seats that nose only, and numbers that come for one part.
fn other_papers(open: &DrawnSitting) -> Vec<String> {
    let seats = |wanted: &dyn Fn(&CandidateNumber) -> bool| -> Option<String> {
        let names: Vec<String> = by_seat(open)
            .into_iter()
            .filter(|place| wanted(&place.candidate))
            .filter_map(|place| Some(place.seat.as_ref()?.to_string()))
            .collect();
        (!names.is_empty()).then(|| names.join(", "))
    };
    let noses = seats(&|number| open.exam.way_of(number) == TastingWay::NosingOnly);
    let mut said: Vec<String> = noses
        .map(|seats| {
            format!(
                "Nose only, at {seats}: poured as for all; nothing is drunk, and the glasses come \
                 back full"
            )
        })
        .into_iter()
        .collect();
    for part in Part::ALL {
        let alone = seats(&|number| {
            let brought = open.exam.brought_by(number);
            brought.is_some_and(|brought| brought.part == part)
        });
        said.extend(alone.map(|seats| format!("Here for the {} alone: {seats}", part.other())));
    }
    said
}

/// How far the serving orders are from balance, and what is left of it when one does not come.
fn orders_in_words(open: &DrawnSitting) -> Vec<String> {
    let lines = order_lines(&open.exam, &open.sitting);
    let mut said: Vec<String> = lines.iter().map(|line| line.sentences.join(" ")).collect();
    if let Some((place, before)) = imbalance_without_one(&open.exam, &open.sitting)
        && !said.is_empty()
    {
        said.push(format!(
            "If any one candidate does not come, the imbalance is at most {place:.1} % in places and \
             {before:.1} % in what comes before; nothing is dealt anew."
        ));
    }
    said
}

/// After which glass one is tasted that must be poured again, by seat.
fn reserves(open: &DrawnSitting) -> Vec<ReserveLine> {
    let places = by_seat(open);
    places
        .into_iter()
        .filter(|place| place.seat.is_some() && place.glasses.len() > 1)
        .map(|place| ReserveLine {
            seat: place
                .seat
                .as_ref()
                .map(ToString::to_string)
                .unwrap_or_default(),
            after: tasted_again_after(&open.exam, place)
                .into_iter()
                .map(|before| before.and_then(|at| place.glasses.get(at)))
                .map(|glass| glass.map(|glass| glass.code.clone()).unwrap_or_default())
                .collect(),
        })
        .collect()
}

fn incidents(flight: Option<usize>) -> Vec<IfThen> {
    let tasting = flight.is_some();
    // One glass has no other order.
    let (goes_on, order) = if flight.is_some_and(|samples| samples > 1) {
        (
            " The candidate goes on in the reserve order below.",
            "; reserve order below",
        )
    } else {
        ("", "")
    };
    let row = |happens: &str, then: &str| IfThen {
        happens: happens.to_owned(),
        then: then.to_owned(),
    };
    let mut rows = vec![
        row(
            "A candidate does not come",
            if tasting {
                "Leave papers closed and glasses covered. From the end of the time for latecomers the \
                 seat is a reserve: who stands in takes its papers, glasses and order as they are. \
                 Note seat and time, word: absent."
            } else {
                "Leave the papers closed at the seat; note the seat and the time below."
            },
        ),
        row(
            "A candidate comes late",
            if tasting {
                "Let them in quietly within the first 15 minutes; the end stays the same. They taste in \
                 the order of their seat from its first glass, as far as they come. Note seat and \
                 time, word: late."
            } else {
                "Let them in quietly within the first 15 minutes; the end stays the same; note the time."
            },
        ),
        row(
            "Two candidates confer",
            "Move one to a free seat with their own papers; note both numbers and the time.",
        ),
    ];
    if tasting {
        rows.push(row(
            "A glass is dropped or spilt",
            &format!(
                "Send code and seat to the pourer, who pours the spare under the same code.{goes_on} \
                 Lost time is given back. Word: replaced; where no spare is left: broken."
            ),
        ));
        rows.push(row(
            "A glass stands at the wrong seat or holds another sample",
            &format!(
                "Take it away; the pourer pours the spare under the right code{order}. Word: replaced, \
                 if the candidate answered on the right glass; else swapped."
            ),
        ));
        rows.push(row("Somebody feels unwell", "Stop their tasting, fresh air and water, do not leave them alone; call help early; note the time."));
        rows.push(row(
            "A code cannot be read or is doubtful",
            "Do not guess: ask the pourer, who alone opens the closed sheet; note the code.",
        ));
    }
    rows
}

fn seal_strips(open: &DrawnSitting, head: &ExamHead) -> Option<SealStrips> {
    let strips: Vec<SealStrip> = sealed_kits(&open.sitting, &open.seed)
        .into_iter()
        .map(|kit| SealStrip {
            candidate_number: kit.candidate.to_string(),
            code: kit.seal,
        })
        .collect();
    (!strips.is_empty()).then(|| SealStrips {
        exam: head.clone(),
        if_torn:
            "Glue over the opening; sign across strip and parcel. Torn, or another code than on \
                  the packing list? Do not taste; tell the school."
                .to_owned(),
        strips,
    })
}

fn packing_lists(open: &DrawnSitting, head: &ExamHead) -> PackingLists {
    let volume = open
        .exam
        .plan
        .tasting
        .as_ref()
        .map_or_else(String::new, |t| millilitres(t.pour.volume));
    let sealed = sealed_kits(&open.sitting, &open.seed);
    let warm_up = warm_up_name(open);
    let kits = open
        .sitting
        .places
        .iter()
        .filter(|p| p.service == exam_plan::Service::Kit)
        .map(|place| {
            let mut items = Vec::new();
            let mut item = |quantity: &str, what: &str| {
                items.push(KitItem {
                    quantity: quantity.to_owned(),
                    what: what.to_owned(),
                });
            };
            item("1", "cover with the candidate's number");
            if let Some(form) = &place.form {
                item(
                    "1",
                    &format!("theory booklet, form {form}, in a closed envelope"),
                );
            }
            item("1", "answer sheet");
            if !place.glasses.is_empty() {
                item("1", "reference list");
                item(
                    &(place.glasses.len() + usize::from(warm_up.is_some())).to_string(),
                    "tasting glasses, or the candidate's own of one kind",
                );
                item("1", "spit cup");
            }
            item("1", "return envelope");
            Kit {
                candidate_number: place.candidate.to_string(),
                form: place
                    .form
                    .as_ref()
                    .map(ToString::to_string)
                    .unwrap_or_default(),
                seal: sealed
                    .iter()
                    .find(|kit| kit.candidate == place.candidate)
                    .map(|kit| kit.seal.clone())
                    .unwrap_or_default(),
                bottles: warm_up
                    .iter()
                    .filter(|_| place.tastes())
                    .map(|name| KitBottle {
                        code: WARM_UP_LABEL.to_owned(),
                        volume: format!("{volume}; the warm-up, {name}: taste it first"),
                    })
                    .chain(place.glasses.iter().map(|glass| KitBottle {
                        code: glass.code.clone(),
                        volume: volume.clone(),
                    }))
                    .collect(),
                items,
            }
        })
        .collect();
    PackingLists {
        exam: head.clone(),
        cautions: cautions(),
        instructions: vec![
            "Before opening: is the strip whole, and is its code the one above? If not, do not taste; tell the school.".to_owned(),
            "Open the kit on the day, at the hour on the cover, with the person who watches over you.".to_owned(),
            "Pour each bottle into its own glass and keep bottle and glass together; taste in the order of this list.".to_owned(),
            "Send everything back in the return envelope the same day, the empty bottles apart.".to_owned(),
        ],
        kits,
    }
}
