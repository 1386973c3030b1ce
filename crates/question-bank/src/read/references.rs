//! Follows what questions refer to: their cells and their enemies, across all texts of a bank.

use std::collections::{BTreeMap, BTreeSet};

use base::{CellId, Fault, QuestionId};

use super::question_text::ReadQuestion;

/// Notes doubled ids, unknown cells, unknown enemies, and enemies that are not mutual.
pub(crate) fn note_references(
    questions: &[ReadQuestion<'_>],
    cells: Option<&[(CellId, String)]>,
    faults: &mut Vec<Fault>,
) {
    let mut first: BTreeMap<&QuestionId, &ReadQuestion<'_>> = BTreeMap::new();
    for question in questions {
        let Some((id, bytes)) = &question.id else {
            continue;
        };
        if let Some(other) = first.get(id) {
            let stands = other
                .id
                .as_ref()
                .map(|(_, at)| other.source.place(at.clone()).to_string());
            faults.push(
                Fault::new(
                    "doubled-id",
                    question.source.place(bytes.clone()),
                    format!(
                        "the question \"{id}\" stands twice; it stands at {} already",
                        stands.unwrap_or_default()
                    ),
                )
                .hint("give one of them another id"),
            );
        } else {
            first.insert(id, question);
        }
    }
    for question in questions {
        if let (Some((cell, bytes)), Some(cells)) = (&question.cell, cells)
            && !cells.iter().any(|(id, _)| id == cell)
        {
            faults.push(
                Fault::new(
                    "unknown-cell",
                    question.source.place(bytes.clone()),
                    format!("no cell \"{cell}\" stands in bank.yaml"),
                )
                .allowed(names(cells.iter().map(|(id, _)| id.as_str())))
                .near(cell.as_str(), cells.iter().map(|(id, _)| id.as_str())),
            );
        }
        note_enemies(question, &first, faults);
    }
}

fn note_enemies(
    question: &ReadQuestion<'_>,
    first: &BTreeMap<&QuestionId, &ReadQuestion<'_>>,
    faults: &mut Vec<Fault>,
) {
    let mut seen = BTreeSet::new();
    for (enemy, bytes) in &question.enemies {
        let place = || question.source.place(bytes.clone());
        let own = question.id.as_ref().map(|(id, _)| id);
        if !seen.insert(enemy) {
            faults.push(Fault::new(
                "doubled-entry",
                place(),
                format!("the enemy \"{enemy}\" is named twice"),
            ));
        } else if own == Some(enemy) {
            faults.push(
                Fault::new(
                    "own-enemy",
                    place(),
                    format!("\"{enemy}\" is its own enemy"),
                )
                .hint("remove it from \"enemies\""),
            );
        } else {
            match (first.get(enemy), own) {
                (None, _) => faults.push(
                    Fault::new(
                        "unknown-enemy",
                        place(),
                        format!("no question \"{enemy}\" stands in this bank"),
                    )
                    .near(enemy.as_str(), first.keys().map(|id| id.as_str())),
                ),
                (Some(other), Some(own)) if !other.enemies.iter().any(|(id, _)| id == own) => {
                    let stands = other
                        .id
                        .as_ref()
                        .map(|(_, at)| other.source.place(at.clone()).to_string());
                    faults.push(
                        Fault::new(
                            "enemy-not-mutual",
                            place(),
                            format!(
                                "\"{enemy}\" at {} does not name \"{own}\" as its enemy",
                                stands.unwrap_or_default()
                            ),
                        )
                        .hint(format!("add \"{own}\" to the enemies of \"{enemy}\"")),
                    );
                }
                (Some(_), _) => {}
            }
        }
    }
}

/// At most a dozen names in one line.
pub(crate) fn names<'a>(known: impl Iterator<Item = &'a str>) -> String {
    const MOST: usize = 12;
    let known: Vec<&str> = known.collect();
    match known.get(..MOST) {
        Some(some) if known.len() > MOST => {
            format!("{} and {} more", some.join(", "), known.len() - MOST)
        }
        Some(_) | None => known.join(", "),
    }
}
