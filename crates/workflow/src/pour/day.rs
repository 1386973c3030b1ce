//! The day of pouring in words: what is done when, what is needed, how far orders are from balance.

use assembler::Sitting;
use assembler::order_imbalance::{BlockImbalance, sitting_imbalance};
use assembler::pour_plan::PourPlan;
use assembler::pour_times::{PourTimes, pour_times, tasting_begins, time_of_day};
use exam_plan::Exam;
use serde::Serialize;

use crate::open_sitting::DrawnSitting;
use crate::print::short_name;

/// One thing to do, and when.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct DayStep {
    /// Minutes from the first answer to a glass; below 0 is before it.
    pub minutes: i64,
    /// The time of day, where the plan says when the exam begins; else the minutes in words.
    pub time: String,
    /// What.
    pub what: String,
}

/// How far the serving orders of one block are from balance.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OrderLine {
    /// The counts.
    #[serde(flatten)]
    pub block: BlockImbalance,
    /// The same in sentences.
    pub sentences: Vec<String>,
}

/// The balance of a sitting's serving orders.
pub(crate) fn order_lines(exam: &Exam, sitting: &Sitting) -> Vec<OrderLine> {
    sitting_imbalance(exam, sitting)
        .into_iter()
        .map(|block| OrderLine {
            sentences: block.sentences(),
            block,
        })
        .collect()
}

/// A step so many minutes after the start of the exam, by the clock where the plan says when the exam
/// begins.
pub(crate) fn clock(exam: &Exam, minutes: i64) -> String {
    let told = exam.plan.start.as_deref();
    told.and_then(|start| time_of_day(start, minutes))
        .unwrap_or_else(|| match minutes {
            0 => "start".to_owned(),
            m if m < 0 => format!("\u{2212}{} min", -m),
            m => format!("+{m} min"),
        })
}

/// "1 person", "3 people".
fn people(number: u32) -> String {
    if number == 1 {
        "1 person".to_owned()
    } else {
        format!("{number} people")
    }
}

/// What the pourer does when. It speaks of samples by their numbers on the pour sheet.
pub(crate) fn pour_day(open: &DrawnSitting, plan: &PourPlan) -> Vec<DayStep> {
    let Some(times) = pour_times(&open.exam.plan, plan) else {
        return Vec::new();
    };
    let mut steps = vec![(
        times.sound,
        "Open the bottles; two people nose each: sound?".to_owned(),
    )];
    if let Some(reduce) = times.reduce {
        steps.push((
            reduce,
            "Reduce to serving strength where stated, mix, let it stand".to_owned(),
        ));
    }
    for (place, (sample, minutes)) in times.pour.iter().enumerate() {
        let name = short_name(open, sample);
        steps.push((
            *minutes,
            if place == 0 {
                format!(
                    "Label, pour and cover sample {name}: {} pouring, one bottle open at a time",
                    people(times.pourers)
                )
            } else {
                format!("Sample {name} in the same way")
            },
        ));
    }
    steps.push((
        times.rest,
        "All covered: rest; a second person checks the glasses of the cross-check".to_owned(),
    ));
    steps.push((
        times.closed,
        "Pour sheet back into its envelope, the envelope closed".to_owned(),
    ));
    steps.push((times.serve, serve_words(&times)));
    steps.push((0, first_answer_words(&times)));
    let begins = tasting_begins(&open.exam.plan);
    steps
        .into_iter()
        .map(|(minutes, what)| DayStep {
            minutes,
            time: match &open.exam.plan.start {
                Some(_) => clock(&open.exam, begins + minutes),
                // Without a time of day the pourer counts from the first glass alone.
                None if minutes == 0 => "first answer".to_owned(),
                None => clock(&open.exam, minutes),
            },
            what,
        })
        .collect()
}

/// Carrying the glasses to the seats.
pub(crate) fn serve_words(times: &PourTimes) -> String {
    format!(
        "Serve: {} carrying the covered glasses to the seats, codes to the front",
        people(times.carriers)
    )
}

/// How long the glasses stood.
pub(crate) fn first_answer_words(times: &PourTimes) -> String {
    format!(
        "Covers off, first answer: the first glass poured has stood {} minutes, the last {}",
        times.first_stands(),
        times.last_stands()
    )
}
