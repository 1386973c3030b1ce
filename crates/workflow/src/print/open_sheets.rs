//! What the proctor and the packer hold in their hands: nothing in it says what is in a glass.

use renderer::content::candidate::{Kit, KitBottle, KitItem, PackingLists};
use renderer::content::examiner::{IfThen, RoomSheet, SeatLine};
use renderer::content::{ExamHead, TimedStep};

use super::booklets::by_seat;
use super::head::millilitres;
use super::{Job, SheetFile, Sides};
use crate::failure::Failure;
use crate::open_sitting::DrawnSitting;

/// The room sheet and the packing lists.
pub(super) fn jobs<'o>(
    open: &'o DrawnSitting,
    head: &'o ExamHead,
) -> Result<Vec<Job<'o>>, Failure> {
    let mut jobs = Vec::new();
    if open.sitting.places.iter().any(|p| p.seat.is_some()) {
        let sheet = room_sheet(open, head);
        jobs.push(Job {
            file: SheetFile::new(8, "room-sheet", "proctor", 1, Sides::Single),
            document: "room-sheet".to_owned(),
            make: Box::new(move |renderer, look, stamp| renderer.room_sheet(&sheet, look, stamp)),
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
pub(super) fn cautions() -> Vec<String> {
    assembler::cautions::CAUTIONS
        .iter()
        .map(|c| (*c).to_owned())
        .collect()
}

/// A step so many minutes after the first answer; before it where negative.
fn step(minutes: i64, what: &str) -> TimedStep {
    let time = match minutes {
        0 => "start".to_owned(),
        m if m < 0 => format!("\u{2212}{} min", -m),
        m => format!("+{m} min"),
    };
    TimedStep {
        time,
        what: what.to_owned(),
    }
}

fn room_sheet(open: &DrawnSitting, head: &ExamHead) -> RoomSheet {
    let plan = &open.exam.plan;
    let tasting = plan.tasting.as_ref();
    let mut checklist = vec!["A clock that everybody can see".to_owned()];
    if plan.theory.is_some() {
        checklist.push("Covers and booklets laid out by seat, closed".to_owned());
    }
    checklist.push("Answer sheets laid out by seat, pens, spare pens".to_owned());
    if tasting.is_some() {
        checklist.push("Reference lists".to_owned());
        checklist.push(
            "A spit cup, a glass of water and plain bread or crackers at every place".to_owned(),
        );
        checklist.push(
            "Glasses covered, codes to the front, in the order of the table below".to_owned(),
        );
        checklist.push("No smell of food, smoke or scent; windows closed".to_owned());
    }
    checklist.push("Signs, telephone number of the school, first-aid box".to_owned());
    let mut times = Vec::new();
    let mut clock: i64 = 0;
    if tasting.is_some() {
        times.push(step(-90, "Room aired, tables set, water and spit cups out"));
        times.push(step(
            -60,
            "Glasses labelled and poured, sample by sample; covered at once",
        ));
        times.push(step(
            -30,
            "A second person checks the three glasses of the cross-check list",
        ));
    }
    times.push(step(
        -15,
        "Doors open; identity and number checked against the roster, by seat",
    ));
    times.push(step(
        -5,
        "Rules and cautions read aloud; questions answered",
    ));
    if let Some(theory) = &plan.theory {
        times.push(step(
            clock,
            &format!("Theory begins: {} minutes", theory.minutes),
        ));
        clock += i64::from(theory.minutes);
        times.push(step(
            clock,
            "Theory ends: booklets collected by seat and counted",
        ));
        if tasting.is_some() {
            clock += 10;
        }
    }
    if let Some(tasting) = tasting {
        times.push(step(
            clock,
            &format!("Tasting begins: {} minutes", tasting.minutes),
        ));
        clock += i64::from(tasting.minutes);
        times.push(step(
            clock,
            "Tasting ends: answer sheets collected by seat, counted, signed for",
        ));
    }
    times.push(step(
        clock + 10,
        "Who goes home how? Nobody drives after tasting",
    ));
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
        incidents: incidents(tasting.is_some()),
        incident_lines: 6,
        cautions: cautions(),
        ledger_head: open.custody.head_in_words(),
    }
}

fn incidents(tasting: bool) -> Vec<IfThen> {
    let row = |happens: &str, then: &str| IfThen {
        happens: happens.to_owned(),
        then: then.to_owned(),
    };
    let mut rows = vec![
        row(
            "A candidate does not come",
            "Leave the papers closed at the seat; note the seat and the time below.",
        ),
        row(
            "A candidate comes late",
            "Let them in quietly within the first 15 minutes; the end stays the same; note the time.",
        ),
        row(
            "Two candidates confer",
            "Move one to a free seat with their own papers; note both numbers and the time.",
        ),
    ];
    if tasting {
        rows.push(row("A glass is dropped or spilt", "Pour again from the spare of the same code; note code, seat and time. Lost time is given back."));
        rows.push(row("Somebody feels unwell", "Stop their tasting, fresh air and water, do not leave them alone; call help early; note the time."));
        rows.push(row(
            "A code cannot be read or is doubtful",
            "Do not guess: ask the pourer, who alone opens the closed sheet; note the code.",
        ));
    }
    rows
}

fn packing_lists(open: &DrawnSitting, head: &ExamHead) -> PackingLists {
    let volume = open
        .exam
        .plan
        .tasting
        .as_ref()
        .map_or_else(String::new, |t| millilitres(t.pour.volume));
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
                    &place.glasses.len().to_string(),
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
                bottles: place
                    .glasses
                    .iter()
                    .map(|glass| KitBottle {
                        code: glass.code.clone(),
                        volume: volume.clone(),
                    })
                    .collect(),
                items,
            }
        })
        .collect();
    PackingLists {
        exam: head.clone(),
        cautions: cautions(),
        instructions: vec![
            "Open the kit on the day, at the hour on the cover, with the person who watches over you.".to_owned(),
            "Pour each bottle into its own glass and keep bottle and glass together; taste in the order of this list.".to_owned(),
            "Send everything back in the return envelope the same day, the empty bottles apart.".to_owned(),
        ],
        kits,
    }
}
