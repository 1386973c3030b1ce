//! The error of each equivalent, from resampled candidates of both forms.

use base::Purpose;
use statistics::RandomInput;
use statistics::equating::levine::AnchorPlace;
use statistics::sums::{Divisor, variance};

use super::{FormMarks, Groups, Way, convert};
use crate::resampling::Resampling;

/// Resamples of each group.
const RESAMPLES: usize = 300;

/// Standard deviation of each equivalent over resampled groups.
pub(super) fn resampled(
    way: Way,
    x: &FormMarks,
    y: &FormMarks,
    place: AnchorPlace,
    marks: usize,
) -> Option<Vec<f64>> {
    let mut random = Resampling::new(Purpose::CandidateResample, 0);
    let mut tables: Vec<Vec<f64>> = Vec::with_capacity(RESAMPLES);
    for _ in 0..RESAMPLES {
        let (one, other) = (drawn(x, &mut random), drawn(y, &mut random));
        let made = Groups::of(&one, &other).and_then(|groups| convert(way, &groups, place));
        tables.extend(made);
    }
    if tables.len() * 20 < RESAMPLES * 19 {
        return None;
    }
    (0..marks)
        .map(|mark| {
            let at: Vec<f64> = tables.iter().filter_map(|t| t.get(mark).copied()).collect();
            variance(&at, Divisor::CountLessOne).ok().map(f64::sqrt)
        })
        .collect()
}

fn drawn(form: &FormMarks, random: &mut Resampling) -> FormMarks {
    let n = u32::try_from(form.totals.len()).unwrap_or(u32::MAX);
    let places: Vec<usize> = (0..n).map(|_| random.below(n) as usize).collect();
    let at = |list: &Vec<usize>| {
        places
            .iter()
            .filter_map(|p| list.get(*p).copied())
            .collect()
    };
    FormMarks {
        totals: at(&form.totals),
        anchors: form.anchors.as_ref().map(at),
        ..form.clone()
    }
}
