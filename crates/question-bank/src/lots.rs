//! Is the bottle still what the panel tasted: open too long, or of another lot?

use base::Fault;
use statistics::discrimination_test::method::Method;
use statistics::discrimination_test::power::answers_needed;

use crate::read::day_number;
use crate::sample_record::SampleRecord;

/// The difference between lots that should not be missed, as d′: about one candidate in two would
/// notice it in a direct comparison. Common practice, no source.
pub const LOT_DISTANCE: f64 = 1.5;
/// The risk of calling alike lots different in the planned test.
pub const LOT_RISK: f64 = 0.05;
/// The power with which the planned test finds the difference.
pub const LOT_POWER: f64 = 0.8;

/// Weaknesses of a record on the day of an exam (`YYYY-MM-DD`). `days_open` is how many days the plan
/// allows a bottle to have been open; none where it sets no limit.
#[must_use]
pub fn lot_faults(record: &SampleRecord, day: &str, days_open: Option<u32>) -> Vec<Fault> {
    let mut faults = Vec::new();
    if let Some(opened) = &record.opened
        && let (Some(now), Some(then)) = (day_number(day), day_number(opened))
    {
        let days = now - then;
        if days < 0 {
            faults.push(
                Fault::weakness(
                    "opened-after-the-day",
                    record.place.clone(),
                    format!(
                        "the bottle of {} is opened on {opened}, after {day}",
                        record.id
                    ),
                )
                .hint("is the year right?"),
            );
        } else if let Some(most) = days_open
            && days > i64::from(most)
        {
            faults.push(
                Fault::weakness(
                    "open-too-long",
                    record.place.clone(),
                    format!(
                        "the bottle of {} will have been open for {days} days on {day}",
                        record.id
                    ),
                )
                .allowed(format!("{most} days by the plan"))
                .hint("open a fresh bottle, and let the panel compare it with the old one"),
            );
        }
    }
    if let (Some(lot), Some(tasted)) = (&record.lot, &record.panel_lot)
        && lot != tasted
    {
        faults.push(
            Fault::weakness(
                "changed-lot",
                record.place.clone(),
                format!(
                    "the panel of {} tasted lot {tasted}, and lot {lot} is poured",
                    record.id
                ),
            )
            .hint(lot_test()),
        );
    }
    faults
}

/// The triangle test that a changed lot asks for, with its size, in a sentence.
#[must_use]
pub fn lot_test() -> String {
    let share = Method::Triangle.share_correct(LOT_DISTANCE);
    match answers_needed(Method::Triangle, share, LOT_RISK, LOT_POWER) {
        Ok(answers) => format!(
            "compare the lots in a triangle test: {answers} answers find a difference of d′ {LOT_DISTANCE} with a power of {:.0} % at a risk of {:.0} %",
            LOT_POWER * 100.0,
            LOT_RISK * 100.0
        ),
        Err(_) => "compare the lots in a triangle test".to_owned(),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::sample_record::tests::record_of;

    fn rules(faults: &[Fault]) -> Vec<&'static str> {
        faults.iter().map(|fault| fault.rule).collect()
    }

    #[test]
    fn a_bottle_may_be_open_as_long_as_the_plan_says() {
        let mut record = record_of(&[], &[]);
        record.opened = Some("2027-05-01".to_owned());
        assert!(lot_faults(&record, "2027-06-12", None).is_empty());
        assert!(lot_faults(&record, "2027-06-12", Some(42)).is_empty());
        let told = lot_faults(&record, "2027-06-12", Some(41));
        assert_eq!(rules(&told), ["open-too-long"]);
        assert!(told[0].what.contains("42 days"));
        assert_eq!(
            rules(&lot_faults(&record, "2027-04-30", Some(41))),
            ["opened-after-the-day"]
        );
    }

    #[test]
    fn a_changed_lot_asks_for_a_test_with_its_size() {
        let mut record = record_of(&[], &[]);
        record.lot = Some("B-2".to_owned());
        assert!(lot_faults(&record, "2027-06-12", None).is_empty());
        record.panel_lot = Some("B-1".to_owned());
        let told = lot_faults(&record, "2027-06-12", None);
        assert_eq!(rules(&told), ["changed-lot"]);
        let hint = told[0].hint.clone().unwrap();
        assert!(hint.contains("answers find a difference"), "{hint}");
        record.panel_lot = Some("B-2".to_owned());
        assert!(lot_faults(&record, "2027-06-12", None).is_empty());
    }
}
