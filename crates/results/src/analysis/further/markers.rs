//! How much of the spread of marks is markers, and how many markers a score would want.
//!
//! Where every marker marked every question of every candidate: mean squares whose components are held
//! at 0 or above by restricted maximum likelihood. Else restricted maximum likelihood over the marks
//! that are there, with candidates, markers, questions, and candidates with questions; but where every
//! question has markers of its own, equally many, these stand within their questions (mean squares).

use std::collections::BTreeMap;

use statistics::Refusal;
use statistics::ScoreTable;
use statistics::generalisability::crossed_scores::CrossedScores;
use statistics::generalisability::decision_study::{ErrorPart, decision_study};
use statistics::generalisability::persons_by_items::persons_by_items;
use statistics::generalisability::persons_by_raters_in_tasks::persons_by_raters_in_tasks;
use statistics::generalisability::restricted_likelihood::restricted_components;
use statistics::generalisability::unbalanced_components::unbalanced_components;

use super::super::marker_severity::MarkedScript;
use super::FurtherFigure;
use super::spread_of_marks::WANTED;

/// The most markers that are thought of.
const MOST_MARKERS: usize = 50;
/// Levels of all effects above which marks with gaps are not taken apart.
const MOST_LEVELS: usize = 900;

/// Variances: of candidates; of what single marks add, with questions and markers each so many.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Shares {
    person: f64,
    marker: f64,
    item: f64,
    person_marker: f64,
    person_item: f64,
    item_marker: f64,
    rest: f64,
}

/// The lines of the table; none where fewer than two marked.
#[must_use]
pub fn marker_shares(scripts: &[MarkedScript]) -> Vec<FurtherFigure> {
    let mut persons: Vec<&str> = scripts.iter().map(|s| s.candidate.as_str()).collect();
    let mut names: Vec<&str> = scripts.iter().map(|s| s.marker.as_str()).collect();
    for list in [&mut persons, &mut names] {
        list.sort_unstable();
        list.dedup();
    }
    if names.len() < 2 {
        return Vec::new();
    }
    let items = scripts.iter().map(|s| s.marks.len()).max().unwrap_or(0);
    let mut cells: BTreeMap<(usize, usize, usize), f64> = BTreeMap::new();
    for script in scripts {
        let who = persons.binary_search(&script.candidate.as_str());
        let marker = names.binary_search(&script.marker.as_str());
        let (Ok(who), Ok(marker)) = (who, marker) else {
            continue;
        };
        for (item, mark) in script.marks.iter().enumerate() {
            if let Some(mark) = mark {
                cells.insert((who, item, marker), *mark);
            }
        }
    }
    let sizes = [persons.len(), items, names.len()];
    let full = cells.len() == persons.len() * items * names.len();
    let made = if full {
        balanced(&cells, sizes)
    } else if let Some(own) = markers_of_their_own(&cells, sizes) {
        own
    } else {
        with_gaps(&cells)
    };
    lines(persons.len(), items, names.len(), full, made)
}

type Cells = BTreeMap<(usize, usize, usize), f64>;

fn balanced(cells: &Cells, [persons, items, markers]: [usize; 3]) -> Result<Shares, Refusal> {
    let values: Vec<f64> = cells.values().copied().collect();
    if items == 1 {
        // One mark of each marker: candidates by markers, the same design as candidates by questions.
        let rows: Vec<&[f64]> = values.chunks(markers.max(1)).collect();
        let made = persons_by_items(&ScoreTable::new(&rows)?)?;
        return Ok(Shares {
            person: made.person_variance.max(0.0),
            marker: made.item_variance.max(0.0),
            item: 0.0,
            person_marker: 0.0,
            person_item: 0.0,
            item_marker: 0.0,
            rest: made.residual_variance,
        });
    }
    let made =
        restricted_components(&CrossedScores::new(persons, items, markers, values)?)?.components;
    Ok(Shares {
        person: made.person,
        marker: made.marker,
        item: made.item,
        person_marker: made.person_marker,
        person_item: made.person_item,
        item_marker: made.item_marker,
        rest: made.residual,
    })
}

/// Where every question has markers of its own, equally many, who marked it for everybody: markers
/// within questions. None for any other design.
fn markers_of_their_own(
    cells: &Cells,
    [persons, items, markers]: [usize; 3],
) -> Option<Result<Shares, Refusal>> {
    let mut item_of: BTreeMap<usize, usize> = BTreeMap::new();
    for (_, item, marker) in cells.keys() {
        if *item_of.entry(*marker).or_insert(*item) != *item {
            return None;
        }
    }
    let each = markers / items.max(1);
    let of_item = |item: usize| item_of.values().filter(|own| **own == item).count();
    let fits = items >= 2 && each >= 2 && (0..items).all(|item| of_item(item) == each);
    if !fits || cells.len() != persons * markers {
        return None;
    }
    let values: Vec<f64> = cells.values().copied().collect();
    let made = CrossedScores::new(persons, items, each, values)
        .and_then(|scores| persons_by_raters_in_tasks(&scores));
    Some(made.map(|made| Shares {
        person: made.person.max(0.0),
        marker: 0.0,
        item: made.task.max(0.0),
        person_marker: 0.0,
        person_item: made.person_task.max(0.0),
        item_marker: made.rater_in_task.max(0.0),
        rest: made.residual,
    }))
}

fn with_gaps(cells: &Cells) -> Result<Shares, Refusal> {
    let values: Vec<f64> = cells.values().copied().collect();
    let persons: Vec<usize> = cells.keys().map(|(person, _, _)| *person).collect();
    let markers: Vec<usize> = cells.keys().map(|(_, _, marker)| *marker).collect();
    let items: Vec<usize> = cells.keys().map(|(_, item, _)| *item).collect();
    let count = |places: &[usize]| {
        let mut known = places.to_vec();
        known.sort_unstable();
        known.dedup();
        known.len()
    };
    let several = count(&items) > 1;
    let most = items.iter().copied().max().unwrap_or(0) + 1;
    let both: Vec<usize> = persons
        .iter()
        .zip(&items)
        .map(|(p, i)| p * most + i)
        .collect();
    let levels = [&persons, &markers, &items, &both]
        .map(|places| count(places))
        .iter()
        .sum::<usize>();
    if levels > MOST_LEVELS {
        return Err(Refusal::OutOfRange {
            of: "number of candidates, markers, questions and their pairs",
            value: levels as f64,
            allowed: "at most 900 in one analysis with gaps",
        });
    }
    let effects = if several {
        vec![persons, markers, items, both]
    } else {
        vec![persons, markers]
    };
    let made = unbalanced_components(&values, &effects)?;
    let effect = |place: usize| made.effects.get(place).map_or(0.0, |one| one.variance);
    Ok(Shares {
        person: effect(0),
        marker: effect(1),
        item: effect(2),
        person_item: effect(3),
        person_marker: 0.0,
        item_marker: 0.0,
        rest: made.residual.variance,
    })
}

fn lines(
    n: usize,
    items: usize,
    markers: usize,
    full: bool,
    made: Result<Shares, Refusal>,
) -> Vec<FurtherFigure> {
    let of = format!("{markers} markers");
    let line = |figure: &str, made| FurtherFigure::new(&of, figure, n, made);
    let first = "spread of marks that is markers";
    let made = match made {
        Ok(made) => made,
        Err(why) => return vec![line(first, Err(why))],
    };
    let whole = made.person
        + made.marker
        + made.item
        + made.person_marker
        + made.person_item
        + made.item_marker
        + made.rest;
    let percent = |part: f64| format!("{:.0} %", part / whole * 100.0);
    let by_marker = made.marker + made.person_marker + made.item_marker;
    let phi = |markers: usize| {
        let (items, markers) = (items as f64, markers as f64);
        let part = |variance, conditions, with_persons| ErrorPart {
            variance,
            conditions,
            with_persons,
        };
        decision_study(
            made.person,
            &[
                part(made.person_item, items, true),
                part(made.person_marker, markers, true),
                part(made.rest, items * markers, true),
                part(made.item, items, false),
                part(made.marker, markers, false),
                part(made.item_marker, items * markers, false),
            ],
        )
        .map(|study| study.dependability)
    };
    let questions = match items {
        1 => "one question".to_owned(),
        many => format!("{many} questions"),
    };
    let enough = (1..=MOST_MARKERS).find(|number| phi(*number).is_ok_and(|phi| phi >= WANTED));
    vec![
        line(
            first,
            Ok((
                by_marker / whole,
                format!(
                    "Of the spread of single marks: candidates {}, markers and what they do with candidates or questions {}, questions {}, candidates with questions {}, all else {}{}.",
                    percent(made.person),
                    percent(by_marker),
                    percent(made.item),
                    percent(made.person_item),
                    percent(made.rest),
                    if full { "" } else { "; not everybody marked everything" }
                ),
            )),
        ),
        line(
            "dependability with one marker, phi",
            phi(1).map(|value| (value, format!("A score over {questions}, marked by one of these."))),
        ),
        line(
            "markers for a phi of .8",
            match enough {
                Some(number) => Ok((
                    number as f64,
                    format!("Each marking {questions} of everybody, their marks averaged."),
                )),
                None => phi(1).and(Err(Refusal::NotDefined {
                    of: "a number of markers",
                    because: "fifty would not do: questions, and not markers, are what there is too little of",
                })),
            },
        ),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Marks of two markers; the second is a mark milder, and marks wander by a fixed pattern.
    fn scripts(gap: bool) -> Vec<MarkedScript> {
        (0..20_usize)
            .flat_map(|candidate| {
                (0..2_usize)
                    .filter(move |marker| !(gap && *marker == 1 && candidate % 4 == 0))
                    .map(move |marker| MarkedScript {
                        candidate: format!("C{candidate:02}"),
                        marker: ["A", "B"][marker].to_owned(),
                        marks: (0..3_usize)
                            .map(|item| {
                                let both = candidate * item + candidate * marker * 2;
                                let wander =
                                    (candidate * candidate * 7 + item * 5 + marker * 3 + both) % 5;
                                Some((candidate / 2 + marker + wander) as f64)
                            })
                            .collect(),
                    })
            })
            .collect()
    }

    #[test]
    fn markers_take_their_share_with_and_without_gaps() {
        for gap in [false, true] {
            let made = marker_shares(&scripts(gap));
            assert_eq!(made.len(), 3, "{made:?}");
            assert!(made.iter().all(|line| line.value.is_some()), "{made:?}");
            assert_eq!(made[0].says.contains("not everybody"), gap);
            let phi = made[1].value.unwrap_or(0.0);
            assert!(phi > 0.5 && phi < 1.0, "{phi}");
        }
    }

    #[test]
    fn markers_of_a_question_of_their_own_stand_within_it() {
        let nested: Vec<MarkedScript> = (0..12_usize)
            .flat_map(|candidate| {
                (0..4_usize).map(move |marker| {
                    let wander = (candidate * candidate * 7 + marker * 3 + candidate * marker) % 5;
                    let mark = (candidate / 2 + marker % 2 + wander) as f64;
                    let place = marker / 2;
                    MarkedScript {
                        candidate: format!("C{candidate:02}"),
                        marker: format!("M{marker}"),
                        marks: (0..2).map(|item| (item == place).then_some(mark)).collect(),
                    }
                })
            })
            .collect();
        let made = marker_shares(&nested);
        assert!(made[0].value.is_some(), "{made:?}");
        assert!(made[0].says.contains("not everybody"), "{}", made[0].says);
    }

    #[test]
    fn one_marker_is_none_and_equal_marks_are_told() {
        let one: Vec<MarkedScript> = scripts(false)
            .into_iter()
            .filter(|s| s.marker == "A")
            .collect();
        assert!(marker_shares(&one).is_empty());
        let mut equal = scripts(false);
        for script in &mut equal {
            script.marks = vec![Some(3.0); 3];
        }
        let made = marker_shares(&equal);
        assert!(
            made[0].value.is_none() && made[0].says.contains("Not given"),
            "{made:?}"
        );
    }
}
