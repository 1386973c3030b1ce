//! When the glasses are poured, covered, rested and served, counted from the first answer to a glass.
//!
//! How long things take is this project's own advice, which no source fixes: the constants below.
//! From the first answer backwards: glasses are carried out within ten minutes, in the break after
//! the theory part or, without one, before the doors open; the last glass rests under its cover for
//! twenty minutes before, in which a second person checks; pouring takes twenty seconds a glass, with
//! more pourers where one would need longer than forty minutes; what is reduced stands for half an
//! hour before it is poured; bottles are opened and nosed a quarter of an hour before that.

use base::SampleId;
use exam_plan::plan::Plan;

use crate::pour_plan::PourPlan;

/// Minutes between the theory part and the tasting part.
pub const BREAK: i64 = 10;
/// Minutes before the start at which the doors open.
pub const DOORS: i64 = 15;
/// Seconds to pour and cover one glass.
pub const POUR_SECONDS: u32 = 20;
/// Minutes of pouring beyond which another person pours too.
pub const LONGEST_POUR: u32 = 40;
/// Seconds to carry one glass to its seat.
pub const CARRY_SECONDS: u32 = 10;
/// Minutes in which all glasses are carried out.
pub const CARRY_MINUTES: i64 = 10;
/// Minutes that the last glass rests under its cover before it is carried out.
pub const REST: i64 = 20;
/// Minutes into the rest after which the sheet goes back into its envelope.
pub const CHECK: i64 = 15;
/// Minutes that reduced spirit stands before it is poured.
pub const REDUCED: i64 = 30;
/// Minutes for opening the bottles and nosing them.
pub const SOUND: i64 = 15;

/// The moments of pouring, in minutes from the first answer to a glass: below 0 is before it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PourTimes {
    /// Bottles are opened and nosed.
    pub sound: i64,
    /// Samples are brought to serving strength; none where all are served as they are.
    pub reduce: Option<i64>,
    /// When the pouring of each sample begins: the warm-up, then in the order of the plan.
    pub pour: Vec<(SampleId, i64)>,
    /// The last glass is covered: the rest begins, and a second person checks.
    pub rest: i64,
    /// The pour sheet is back in its envelope.
    pub closed: i64,
    /// The glasses are carried to the seats.
    pub serve: i64,
    /// Glasses poured for the room, spare pours included.
    pub glasses: u32,
    /// How many people pour.
    pub pourers: u32,
    /// How many people carry.
    pub carriers: u32,
}

impl PourTimes {
    /// Minutes that the first glass has stood, covered, at the first answer.
    #[must_use]
    pub fn first_stands(&self) -> i64 {
        self.pour.first().map_or(0, |(_, minutes)| -minutes)
    }
    /// Minutes that the last glass has stood, covered, at the first answer.
    #[must_use]
    pub const fn last_stands(&self) -> i64 {
        -self.rest
    }
}

/// Minutes from the start of the exam to the first answer to a glass.
#[must_use]
pub fn tasting_begins(plan: &Plan) -> i64 {
    let theory = plan.theory.as_ref();
    theory.map_or(0, |theory| i64::from(theory.minutes) + BREAK)
}

/// The times of a pour plan; none where nobody is served in the room.
#[must_use]
pub fn pour_times(plan: &Plan, pours: &PourPlan) -> Option<PourTimes> {
    let in_room: u32 = pours.all().map(|s| s.glasses_in_room).sum();
    if in_room == 0 {
        return None;
    }
    let of = |sample: &crate::pour_plan::SamplePour| {
        sample.glasses_in_room.saturating_add(sample.spare_pours)
    };
    let glasses = pours.all().map(of).fold(0_u32, u32::saturating_add);
    let seconds = glasses.saturating_mul(POUR_SECONDS);
    let pourers = seconds.div_ceil(LONGEST_POUR * 60).max(1);
    let carry = in_room.saturating_mul(CARRY_SECONDS);
    let carriers = carry
        .div_ceil(CARRY_MINUTES.unsigned_abs() as u32 * 60)
        .max(1);
    let served = if plan.theory.is_some() { 0 } else { -DOORS };
    let serve = served - CARRY_MINUTES;
    let rest = serve - REST;
    let minutes = |glasses: u32| {
        let seconds = glasses.saturating_mul(POUR_SECONDS).div_ceil(pourers);
        i64::from(seconds.div_ceil(60))
    };
    // Each sample begins where all glasses from it on are just done in time.
    let mut left = glasses;
    let pour: Vec<(SampleId, i64)> = pours
        .all()
        .map(|sample| {
            let begins = rest - minutes(left);
            left = left.saturating_sub(of(sample));
            (sample.sample.clone(), begins)
        })
        .collect();
    let begins = rest - minutes(glasses);
    let reduced = pours.all().any(|s| s.in_all.water.value() > 0.0);
    let reduce = reduced.then_some(begins - REDUCED);
    Some(PourTimes {
        sound: reduce.unwrap_or(begins) - SOUND,
        reduce,
        pour,
        rest,
        closed: rest + CHECK,
        serve,
        glasses,
        pourers,
        carriers,
    })
}

/// The time of day so many minutes after a start `HH:MM`; none where the start is no time of day.
#[must_use]
pub fn time_of_day(start: &str, minutes: i64) -> Option<String> {
    let (hours, past) = start.split_once(':')?;
    let start = hours.parse::<i64>().ok()? * 60 + past.parse::<i64>().ok()?;
    let at = (start + minutes).rem_euclid(24 * 60);
    Some(format!("{:02}:{:02}", at / 60, at % 60))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_of_day_go_round_midnight() {
        assert_eq!(time_of_day("10:00", -75).as_deref(), Some("08:45"));
        assert_eq!(time_of_day("00:30", -45).as_deref(), Some("23:45"));
        assert_eq!(time_of_day("23:30", 45).as_deref(), Some("00:15"));
        assert_eq!(time_of_day("ten", 0), None);
    }
}
