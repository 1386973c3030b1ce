//! What nobody but examiners may see before the end: the pour sheet and the key.

use assembler::WARM_UP_LABEL;
use assembler::cross_check::cross_checks;
use assembler::examiner_view::key_of;
use assembler::kit_check::{fillings, sealed_kits};
use assembler::pour_plan::{PourPlan, SamplePour};
use assembler::service_list::service_list;
use renderer::content::examiner::{
    CrossCheck, FormKey, KeyLine, KeySheet, KitCheckSheet, KitFilling, KitToCheck, PourBottle,
    PourSample, PourSheet,
};
use renderer::content::{ExamHead, TimedStep};

use super::booklets::by_seat;
use super::head::{marks_in_words, millilitres, strength};
use super::open_sheets::cautions;
use super::{Job, SheetFile, Sides};
use crate::failure::Failure;
use crate::open_sitting::DrawnSitting;
use crate::pour::day::pour_day;
use crate::pour::plan_of;

/// The pour sheet and the key.
pub(super) fn jobs<'o>(
    open: &'o DrawnSitting,
    head: &'o ExamHead,
) -> Result<Vec<Job<'o>>, Failure> {
    let mut jobs = Vec::new();
    if open.exam.plan.tasting.is_some() {
        let sheet = pour_sheet(open, head, &plan_of(open)?);
        jobs.push(Job {
            file: SheetFile::closed(20, "pour-sheet", "pourer", 1, Sides::Single),
            document: "pour-sheet".to_owned(),
            make: Box::new(move |renderer, look, stamp| renderer.pour_sheet(&sheet, look, stamp)),
        });
    }
    if let Some(sheet) = kit_check(open, head)? {
        jobs.push(Job {
            file: SheetFile::closed(23, "kit-check", "packer", 1, Sides::Single),
            document: "kit-check".to_owned(),
            make: Box::new(move |renderer, look, stamp| renderer.kit_check(&sheet, look, stamp)),
        });
    }
    if !open.sitting.forms.is_empty() {
        let sheet = key_sheet(open, head);
        jobs.push(Job {
            file: SheetFile::closed(22, "key", "chief-examiner", 1, Sides::Single),
            document: "key".to_owned(),
            make: Box::new(move |renderer, look, stamp| renderer.key(&sheet, look, stamp)),
        });
    }
    Ok(jobs)
}

/// The check of kits; none where there are none.
fn kit_check(open: &DrawnSitting, head: &ExamHead) -> Result<Option<KitCheckSheet>, Failure> {
    let kits = sealed_kits(&open.sitting, &open.seed);
    if kits.is_empty() {
        return Ok(None);
    }
    let plan = plan_of(open)?;
    let pour_of = |sample: &base::SampleId| plan.all().find(|s| s.sample == *sample);
    Ok(Some(KitCheckSheet {
        exam: head.clone(),
        rules: KIT_RULES.iter().map(|rule| (*rule).to_owned()).collect(),
        fillings: fillings(&open.exam, &open.sitting)
            .into_iter()
            .filter_map(|filling| {
                let pour = pour_of(&filling.sample)?;
                Some(KitFilling {
                    sample: short_name(open, &filling.sample),
                    what: what(pour),
                    into_each: format!(
                        "{} at {}",
                        millilitres(pour.volume.value()),
                        strength(pour.served.value())
                    ),
                    bottles: filling
                        .bottles
                        .iter()
                        .map(|(kit, code)| format!("{kit}: {code}"))
                        .collect(),
                })
            })
            .collect(),
        kits: kits
            .into_iter()
            .map(|kit| KitToCheck {
                candidate_number: kit.candidate.to_string(),
                seal: kit.seal,
                bottles: plan
                    .warm_up
                    .iter()
                    .map(|_| format!("{WARM_UP_LABEL} holds the warm-up"))
                    .chain(
                        kit.bottles.iter().map(|(code, sample)| {
                            format!("{code} holds {}", short_name(open, sample))
                        }),
                    )
                    .collect(),
            })
            .collect(),
        cautions: cautions(),
    }))
}

/// How kits are filled and sent. Common practice, no source; what may be sent is local law.
const KIT_RULES: [&str; 5] = [
    "One bottle is open at a time: fill and label every small bottle of a sample, close it, put the \
     sample away, then open the next.",
    "Fill small bottles to nine tenths at most; a warm parcel needs air. Tight, upright, wrapped \
     singly, with something that soaks up a spill.",
    "A second person, who did not fill, checks every bottle of every kit against the list below \
     before the kit is closed.",
    "Glue the strip with the kit's code over the opening and sign across it. This sheet stays with \
     the examiners; the strip's code stands on the packing list in the kit.",
    "Whether spirits may be sent, by whom, to whom and how they must be marked is local law and the \
     carrier's own rule: ask both before anything is sent. Nothing on this sheet says what they are.",
];

fn key_sheet(open: &DrawnSitting, head: &ExamHead) -> KeySheet {
    KeySheet {
        exam: head.clone(),
        forms: open
            .sitting
            .forms
            .iter()
            .map(|form| FormKey {
                form: form.name.to_string(),
                lines: key_of(&open.exam.bank, form)
                    .into_iter()
                    .map(|line| KeyLine {
                        number: u16::try_from(line.number).unwrap_or(u16::MAX),
                        key: line.answer_text,
                        id: line.question.to_string(),
                        marks: marks_in_words(line.marks),
                        note: if line.counts {
                            String::new()
                        } else {
                            "pretest, not counted".to_owned()
                        },
                    })
                    .collect(),
            })
            .collect(),
    }
}

/// The short name of a sample on the pourer's papers: its place in the plan, or the warm-up's label.
pub(crate) fn short_name(open: &DrawnSitting, sample: &base::SampleId) -> String {
    let part = open.exam.plan.tasting.as_ref();
    let warm_up = part.and_then(|t| t.warm_up.as_ref());
    if warm_up.is_some_and(|(id, _)| id == sample) {
        return WARM_UP_LABEL.to_owned();
    }
    let place = part.and_then(|t| t.samples.iter().position(|(id, _)| id == sample));
    place.map_or_else(|| sample.to_string(), |place| (place + 1).to_string())
}

fn pour_sheet(open: &DrawnSitting, head: &ExamHead, plan: &PourPlan) -> PourSheet {
    let day = pour_day(open, plan);
    let mut checklist = vec!["Bottles as listed, opened or not, and the spare of each".to_owned()];
    checklist.extend(service_list(&open.sitting, plan).in_words());
    checklist.extend([
        "Trays, a cloth, a measure or balance".to_owned(),
        "Label sheets, in the order of pouring; the labels for spares apart".to_owned(),
    ]);
    PourSheet {
        exam: head.clone(),
        closed: true,
        checklist,
        times: day
            .into_iter()
            .map(|step| TimedStep {
                time: step.time,
                what: step.what,
            })
            .collect(),
        bottles: plan
            .all()
            .map(|pour| bottle(short_name(open, &pour.sample), pour))
            .collect(),
        samples: plan
            .all()
            .map(|pour| {
                let warm_up = plan.warm_up.as_ref() == Some(pour);
                let note = if warm_up {
                    format!(
                        "The warm-up: everybody's first glass, known and not marked. Its label is {WARM_UP_LABEL}."
                    )
                } else {
                    String::new()
                };
                let name = short_name(open, &pour.sample);
                sample(name, pour, codes(open, pour, warm_up), note)
            })
            .collect(),
        cross_checks: cross_checks(&open.sitting, &open.seed)
            .into_iter()
            .map(|check| CrossCheck {
                seat: check.seat.map_or_else(
                    || format!("kit of {}", check.candidate),
                    |seat| seat.to_string(),
                ),
                code: check.code,
                sample: short_name(open, &check.sample),
            })
            .collect(),
        ethanol: ethanol(plan, "candidate"),
        cautions: cautions(),
    }
}

/// How much alcohol the glasses of one person hold, in two sentences.
pub(crate) fn ethanol(plan: &PourPlan, whose: &str) -> Vec<String> {
    let units: Vec<String> = plan
        .load
        .drinks
        .iter()
        .map(|d| format!("{:.1} × {}", d.number, d.unit.name()))
        .collect();
    vec![
        format!(
            "All glasses of one {whose} hold {:.1} g of ethanol if nothing is spat.",
            plan.load.ethanol.value()
        ),
        format!("That is {}.", units.join(", ")),
    ]
}

fn what(pour: &SamplePour) -> String {
    match &pour.lot {
        Some(lot) => format!("{}, lot {lot}", pour.name),
        None => pour.name.clone(),
    }
}

pub(crate) fn bottle(name: String, pour: &SamplePour) -> PourBottle {
    PourBottle {
        sample: name,
        what: what(pour),
        bottles: format!(
            "{} × {} (open {})",
            pour.bottles_to_bring,
            millilitres(pour.bottle.value()),
            pour.bottles_to_open
        ),
        strength: strength(pour.bottled.value()),
        serving_strength: strength(pour.served.value()),
    }
}

/// One sample's pouring, with the codes of its glasses and what is to be known besides.
pub(crate) fn sample(
    name: String,
    pour: &SamplePour,
    codes: Vec<String>,
    note: String,
) -> PourSample {
    let reduced = pour.in_all.water.value() > 0.0;
    let dilution = if reduced {
        format!(
            "Mix {} spirit with {} water ({:.0} g); water into spirit, stir. Contraction is allowed for.",
            millilitres(pour.in_all.spirit.value().ceil()),
            millilitres(pour.in_all.water.value().round()),
            pour.in_all.water_mass.value()
        )
    } else {
        String::new()
    };
    let mut notes: Vec<String> = Some(note).into_iter().filter(|n| !n.is_empty()).collect();
    if pour.weaker_than_asked {
        notes.push("Weaker than the plan asks: served as it is.".to_owned());
    }
    if !pour.allergens.is_empty() {
        notes.push(format!("Declare: {}.", pour.allergens.join(", ")));
    }
    let glasses = [
        (
            pour.glasses_in_room as usize,
            "glass in the room",
            "glasses in the room",
        ),
        (pour.glasses_in_kits as usize, "kit bottle", "kit bottles"),
        (pour.spare_pours as usize, "spare", "spares"),
    ];
    let counts: Vec<String> = glasses
        .iter()
        .filter(|(number, ..)| *number > 0)
        .map(|(number, one, many)| {
            if *number == 1 {
                format!("1 {one}")
            } else {
                format!("{number} {many}")
            }
        })
        .collect();
    PourSample {
        sample: name,
        what: what(pour),
        volume_in_a_glass: millilitres(pour.volume.value()),
        total: format!(
            "{} for {}",
            millilitres(pour.in_all.result.value().ceil()),
            counts.join(", ")
        ),
        dilution,
        codes,
        note: notes.join(" "),
    }
}

/// The codes of a sample in the order of the labels, each once.
fn codes(open: &DrawnSitting, pour: &SamplePour, warm_up: bool) -> Vec<String> {
    let mut poured: Vec<(&str, usize)> = Vec::new();
    for place in by_seat(open) {
        if warm_up && place.tastes() {
            match poured.as_mut_slice() {
                [(_, times)] => *times += 1,
                _ => poured.push((WARM_UP_LABEL, 1)),
            }
        }
        for glass in place.glasses.iter().filter(|g| g.sample == pour.sample) {
            match poured.iter_mut().find(|(code, _)| *code == glass.code) {
                Some((_, times)) => *times += 1,
                None => poured.push((&glass.code, 1)),
            }
        }
    }
    poured
        .into_iter()
        .map(|(code, times)| match times {
            1 => code.to_owned(),
            _ => format!("{code}, {times} times"),
        })
        .collect()
}
