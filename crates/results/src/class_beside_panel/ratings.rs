//! A learner's ratings of one glass beside the record's and the panel's. Liking is not among them.

use exam_plan::class_plan::{GlassNotes, Noted};
use question_bank::SampleRecord;
use serde::Serialize;

/// One rating.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RatingBeside {
    /// What was rated, as printed.
    pub what: &'static str,
    /// The scale in words.
    pub scale: &'static str,
    /// The learner's.
    pub yours: f64,
    /// The panel's, or the record's; none where there is none.
    pub panels: Option<f64>,
    /// What stands beside it, in words.
    pub beside: String,
}

/// A rating that is set beside something: its name, its scale.
pub(super) const fn compared(noted: Noted) -> Option<(&'static str, &'static str)> {
    match noted {
        Noted::Colour => Some(("Depth of colour", "0 clear to 10 darkest")),
        Noted::Body => Some(("Body", "1 light to 5 full")),
        Noted::Finish => Some(("Length of the finish", "1 short to 5 long")),
        Noted::Quality => Some(("Quality", "0 poor to 10 outstanding")),
        Noted::Nose
        | Noted::Palate
        | Noted::Aftertaste
        | Noted::Aroma
        | Noted::Water
        | Noted::Faded
        | Noted::Liking => None,
    }
}

/// What a rating is set beside, and that in words.
pub(super) fn panels(record: &SampleRecord, noted: Noted) -> (Option<f64>, String) {
    let of_record = |value: Option<u32>| match value {
        Some(value) => (
            Some(f64::from(value)),
            format!("the sample record says {value}"),
        ),
        None => (None, "the sample record says nothing of it".to_owned()),
    };
    match noted {
        Noted::Colour => of_record(record.colour),
        Noted::Body => of_record(record.body),
        Noted::Finish => of_record(record.finish),
        Noted::Quality => {
            let ratings: Vec<f64> = record.tasting.quality.iter().map(|(_, q)| *q).collect();
            if ratings.is_empty() {
                return (None, "the panel did not rate it".to_owned());
            }
            let mean = ratings.iter().sum::<f64>() / ratings.len() as f64;
            let least = ratings.iter().copied().fold(f64::INFINITY, f64::min);
            let most = ratings.iter().copied().fold(f64::NEG_INFINITY, f64::max);
            let words = format!(
                "the panel {mean:.1} on average, from {least} to {most} (n = {})",
                ratings.len()
            );
            (Some(mean), words)
        }
        Noted::Nose
        | Noted::Palate
        | Noted::Aftertaste
        | Noted::Aroma
        | Noted::Water
        | Noted::Faded
        | Noted::Liking => (None, String::new()),
    }
}

/// The ratings that are set beside something, in the order of the sheet.
pub(super) fn ratings(record: &SampleRecord, notes: &GlassNotes) -> Vec<RatingBeside> {
    notes
        .ratings
        .iter()
        .filter_map(|(noted, yours)| {
            let (what, scale) = compared(*noted)?;
            let (panels, beside) = panels(record, *noted);
            Some(RatingBeside {
                what,
                scale,
                yours: *yours,
                panels,
                beside,
            })
        })
        .collect()
}
