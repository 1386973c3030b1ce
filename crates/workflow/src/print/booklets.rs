//! Theory booklets, one for each form, and the covers that make them a candidate's.

use assembler::candidate_view::{LetteredText, PrintedBody, printed_questions};
use assembler::{CandidatePlace, Form, WARM_UP_LABEL};
use base::Marks;
use exam_plan::{People, TastingWay};
use register::hex::to_groups;
use renderer::SealRoot;
use renderer::content::ExamHead;
use renderer::content::candidate::{
    CandidateCover, CandidateCovers, Lettered, PartOfDay, PrintedAnswer, PrintedPicture,
    PrintedQuestion, SharedText, TheoryBooklet,
};

use super::head::{count, marks_in_words, warm_up_name};
use super::{Job, SheetFile, Sides};
use crate::open_sitting::DrawnSitting;

/// What is asked of candidates privately before the day.
pub(crate) const PRIVATE_NOTICE: &str = "Allergies, pregnancy, medication or another reason not to taste: tell the school beforehand, \
     privately. You may nose only.";

/// All booklets and the covers.
pub(super) fn jobs<'o>(
    open: &'o DrawnSitting,
    people: &'o People,
    head: &'o ExamHead,
) -> Vec<Job<'o>> {
    let mut jobs = vec![Job {
        file: SheetFile::new(1, "candidate-covers", "one-each", 1, Sides::Single),
        document: "covers".to_owned(),
        make: Box::new(move |renderer, look, stamp| {
            renderer.candidate_covers(&covers(open, people, head), look, stamp)
        }),
    }];
    for form in &open.sitting.forms {
        let holders = open
            .sitting
            .places
            .iter()
            .filter(|p| p.form.as_ref() == Some(&form.name))
            .count();
        if holders == 0 {
            continue;
        }
        jobs.push(Job {
            file: SheetFile::new(
                2,
                &format!("theory-booklet-form-{}", form.name),
                "candidates",
                holders,
                Sides::Double,
            ),
            document: format!("booklet/{}", form.name),
            make: Box::new(move |renderer, look, stamp| {
                renderer.theory_booklet(&booklet(open, head, form), look, stamp)
            }),
        });
    }
    jobs
}

/// The root as papers show it; none where the key is not sealed.
pub(super) fn seal_root(open: &DrawnSitting) -> Option<SealRoot> {
    let sealed = open.custody.seal?;
    Some(SealRoot::new(&to_groups(&sealed.root)))
}

fn booklet(open: &DrawnSitting, head: &ExamHead, form: &Form) -> TheoryBooklet {
    let printed = printed_questions(&open.exam.bank, form);
    let total: Marks = printed
        .iter()
        .zip(&form.questions)
        .filter(|(_, on_form)| on_form.counts)
        .map(|(question, _)| question.marks)
        .sum();
    let minutes = open.exam.plan.theory.as_ref().map_or(0, |t| t.minutes);
    let pretest = form.questions.iter().any(|q| !q.counts);
    let mut rules = vec![
        "Write your answers on the answer sheet; what stands in this booklet is not marked.".to_owned(),
        "One letter for a question that asks for one: two letters earn nothing.".to_owned(),
        "Where all that apply are asked for, right choices earn and wrong choices cost, never below nothing.".to_owned(),
        "Part of an order or of a match earns part of the marks. A number earns full marks within its tolerance.".to_owned(),
        "No answer earns nothing and costs nothing.".to_owned(),
    ];
    if pretest {
        rules.push(
            "A few questions are on trial and do not count; they are not marked as such."
                .to_owned(),
        );
    }
    TheoryBooklet {
        exam: head.clone(),
        form: form.name.to_string(),
        time: format!("{minutes} minutes"),
        marks: marks_in_words(total),
        rules,
        cautions: vec![
            "Phones and notes stay in your bag. Talk to the proctor, not to your neighbour."
                .to_owned(),
            "Nobody drives after the tasting. Spit; spitting costs no marks.".to_owned(),
        ],
        seal_root: seal_root(open),
        questions: printed.into_iter().map(question).collect(),
    }
}

fn question(printed: assembler::candidate_view::PrintedQuestion) -> PrintedQuestion {
    let says_all_that_apply = printed.stem.to_lowercase().contains("all that apply");
    PrintedQuestion {
        number: u16::try_from(printed.number).unwrap_or(u16::MAX),
        shared: printed.shared.map(|shared| SharedText {
            lead: if shared.last > printed.number {
                format!(
                    "Questions {} to {} are about this:",
                    printed.number, shared.last
                )
            } else {
                format!("Question {} is about this:", printed.number)
            },
            text: shared.text,
        }),
        stem: printed.stem,
        picture: printed.picture.map(|picture| {
            PrintedPicture::fitted(picture.svg, picture.alternative, picture.ratio_thousandths)
        }),
        marks: marks_in_words(printed.marks),
        answer: match printed.body {
            PrintedBody::Options {
                options,
                choose_one: true,
            } => PrintedAnswer::SingleBest {
                options: lettered(options),
            },
            PrintedBody::Options {
                options,
                choose_one: false,
            } => PrintedAnswer::MultipleResponse {
                options: lettered(options),
                // Many authors say it in the stem already.
                instruction: if says_all_that_apply {
                    String::new()
                } else {
                    "Choose all that apply.".to_owned()
                },
            },
            PrintedBody::Number { unit } => PrintedAnswer::Numeric {
                unit,
                instruction: String::new(),
            },
            PrintedBody::Steps { steps } => PrintedAnswer::Ordering {
                items: lettered(steps),
                instruction: "Write the letters in order, first to last.".to_owned(),
            },
            PrintedBody::Columns { left, right } => PrintedAnswer::Matching {
                instruction: if right.len() > left.len() {
                    "Write a letter for each number; some letters are left over.".to_owned()
                } else {
                    "Write a letter for each number.".to_owned()
                },
                left: left.into_iter().map(|entry| entry.text).collect(),
                right: lettered(right),
            },
            PrintedBody::Words { lines: 1 } => PrintedAnswer::ShortAnswer {
                instruction: "Write a word or two.".to_owned(),
            },
            PrintedBody::Words { lines } => PrintedAnswer::ShortAnswer {
                instruction: format!("Write one on each line; the first {lines} count."),
            },
            PrintedBody::Space { lines } => PrintedAnswer::Essay {
                instruction: format!(
                    "Write whole sentences; {} on the answer sheet.",
                    count(lines, "line")
                ),
            },
        },
    }
}

fn lettered(texts: Vec<LetteredText>) -> Vec<Lettered> {
    texts
        .into_iter()
        .map(|t| Lettered {
            letter: t.letter.to_string(),
            text: t.text,
        })
        .collect()
}

fn covers(open: &DrawnSitting, people: &People, head: &ExamHead) -> CandidateCovers {
    let mut instructions = Vec::new();
    if !open.sitting.forms.is_empty() {
        instructions.push("Check that the form on this cover is the form on your booklet and on your answer sheet.".to_owned());
    }
    if open.exam.plan.tasting.is_some() {
        instructions.push("Check that the codes on your glasses are those on your answer sheet, in the same order.".to_owned());
        if let Some(name) = warm_up_name(open) {
            instructions.push(format!("Glass {WARM_UP_LABEL} is a warm-up, {name}: taste it first. Nothing is asked of it."));
        }
        instructions.push("Taste the glasses in the order of your answer sheet: look, nose, a sip, then a little water.".to_owned());
    }
    instructions.push(
        "Write clearly. Only the answer sheet is marked, under your number and without your name."
            .to_owned(),
    );
    CandidateCovers {
        exam: head.clone(),
        cautions: assembler::cautions::CAUTIONS
            .iter()
            .take(3)
            .map(|c| (*c).to_owned())
            .collect(),
        private_notice: PRIVATE_NOTICE.to_owned(),
        instructions,
        seal_root: seal_root(open),
        covers: by_seat(open)
            .into_iter()
            .map(|place| cover(open, people, place))
            .collect(),
    }
}

/// Candidates in the order of their seats as the room lists them, then those with kits.
pub(super) fn by_seat(open: &DrawnSitting) -> Vec<&CandidatePlace> {
    let seats = open.exam.room.seats();
    let seat_of = |place: &CandidatePlace| {
        place
            .seat
            .as_ref()
            .and_then(|seat| seats.iter().position(|(_, other)| *other == seat))
            .unwrap_or(usize::MAX)
    };
    let mut places: Vec<_> = open.sitting.places.iter().collect();
    places.sort_by_key(|place| seat_of(place));
    places
}

fn cover(open: &DrawnSitting, people: &People, place: &CandidatePlace) -> CandidateCover {
    let mut parts = Vec::new();
    if let (Some(theory), Some(form)) = (
        &open.exam.plan.theory,
        place.form.as_ref().and_then(|f| open.sitting.form(f)),
    ) {
        parts.push(PartOfDay {
            name: "Theory".to_owned(),
            what: format!(
                "{}, form {}",
                count(form.questions.len(), "question"),
                form.name
            ),
            time: format!("{} minutes", theory.minutes),
        });
    }
    if let Some(tasting) = &open.exam.plan.tasting
        && !place.glasses.is_empty()
    {
        let samples = count(place.glasses.len(), "sample");
        parts.push(PartOfDay {
            name: "Blind tasting".to_owned(),
            what: match open.exam.way_of(&place.candidate) {
                TastingWay::Full => samples,
                TastingWay::NosingOnly => format!("{samples}, by eye and nose alone"),
            },
            time: format!("{} minutes", tasting.minutes),
        });
    }
    CandidateCover {
        candidate_number: place.candidate.to_string(),
        name: people.name(&place.candidate).to_owned(),
        seat: place
            .seat
            .as_ref()
            .map(ToString::to_string)
            .unwrap_or_default(),
        form: place
            .form
            .as_ref()
            .map(ToString::to_string)
            .unwrap_or_default(),
        glass_codes: warm_up_name(open)
            .iter()
            .filter(|_| place.tastes())
            .map(|_| WARM_UP_LABEL.to_owned())
            .chain(place.glasses.iter().map(|g| g.code.clone()))
            .collect(),
        parts,
    }
}
