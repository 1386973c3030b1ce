//! What the columns of an answer table mean.

use base::{Fault, Place};

/// What one column holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Meaning {
    Candidate,
    Part,
    Question,
    Answer,
    Remark,
    /// The picture of the answer sheet.
    Sheet,
    /// Who typed the row in.
    KeyedBy,
    /// The question of this printed number.
    Theory(usize),
    /// The code of this glass.
    Code(usize),
    /// Something asked of this glass.
    Glass(usize, String),
    /// A column that had its fault.
    Unknown,
}

/// The shape of a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Shape {
    Long,
    Wide,
}

/// Reads a header.
pub(super) fn read(
    names: &[String],
    place: &Place,
    faults: &mut Vec<Fault>,
) -> Option<(Shape, Vec<Meaning>)> {
    let columns: Vec<Meaning> = names.iter().map(|name| meaning(name)).collect();
    let has = |wanted: &Meaning| columns.contains(wanted);
    for (name, meaning) in names.iter().zip(&columns) {
        if *meaning == Meaning::Unknown {
            faults.push(
                Fault::new("unknown-column", place.clone(), format!("no column \"{}\" is known", base::walk::shortened(name)))
                    .allowed("candidate, part, question, answer; or candidate, q1, q2, …, g1.code, g1.aroma, …; and remark, sheet, by")
                    .near(name, ["candidate", "part", "question", "answer", "remark", "sheet", "by"]),
            );
        }
    }
    let doubled = columns.iter().enumerate().find(|(at, m)| {
        **m != Meaning::Unknown && columns.iter().take(*at).any(|other| other == *m)
    });
    if let Some((at, _)) = doubled {
        let name = names.get(at).map_or("", String::as_str);
        faults.push(Fault::new(
            "doubled-column",
            place.clone(),
            format!("the column \"{name}\" stands twice"),
        ));
        return None;
    }
    if !has(&Meaning::Candidate) {
        faults.push(
            Fault::new("missing-column", place.clone(), "the column \"candidate\" is missing")
                .hint("the first line names the columns; the candidate number stands in the column \"candidate\""),
        );
        return None;
    }
    let long = [Meaning::Part, Meaning::Question, Meaning::Answer];
    let wide = columns.iter().any(|m| {
        matches!(
            m,
            Meaning::Theory(_) | Meaning::Code(_) | Meaning::Glass(..)
        )
    });
    match (long.iter().filter(|m| has(m)).count(), wide) {
        (3, false) => Some((Shape::Long, columns)),
        (0, true) => Some((Shape::Wide, columns)),
        (0, false) => {
            faults.push(
                Fault::new(
                    "missing-column",
                    place.clone(),
                    "this table has no column for answers",
                )
                .allowed("part, question and answer; or q1, q2, …, g1.aroma, …"),
            );
            None
        }
        (_, true) => {
            faults.push(
                Fault::new(
                    "mixed-shapes",
                    place.clone(),
                    "this table mixes one row for each question with one row for each candidate",
                )
                .hint("keep either part, question, answer or q1, q2, …, g1.aroma, …"),
            );
            None
        }
        (_, false) => {
            faults.push(
                Fault::new(
                    "missing-column",
                    place.clone(),
                    "one of the columns part, question and answer is missing",
                )
                .allowed("candidate, part, question, answer; and remark, sheet, by"),
            );
            None
        }
    }
}

fn meaning(name: &str) -> Meaning {
    let name = name.trim().to_lowercase();
    match name.as_str() {
        "candidate" => return Meaning::Candidate,
        "part" => return Meaning::Part,
        "question" => return Meaning::Question,
        "answer" => return Meaning::Answer,
        "remark" => return Meaning::Remark,
        "sheet" => return Meaning::Sheet,
        "by" => return Meaning::KeyedBy,
        _ => {}
    }
    let number = |text: &str| {
        text.parse::<usize>()
            .ok()
            .filter(|n| (1..=1000).contains(n))
    };
    if let Some(number) = name.strip_prefix('q').and_then(number) {
        return Meaning::Theory(number);
    }
    if let Some((glass, asked)) = name.strip_prefix('g').and_then(|rest| rest.split_once('.'))
        && let Some(glass) = number(glass)
    {
        return match asked {
            "code" => Meaning::Code(glass),
            asked if exam_plan::Asked::NAMES.contains(&asked) => {
                Meaning::Glass(glass, asked.to_owned())
            }
            _ => Meaning::Unknown,
        };
    }
    Meaning::Unknown
}

#[cfg(test)]
mod tests {
    use super::*;
    use base::SourceName;

    fn shape(names: &[&str]) -> (Option<Shape>, Vec<&'static str>) {
        let mut faults = Vec::new();
        let names: Vec<String> = names.iter().map(|n| (*n).to_owned()).collect();
        let read = read(
            &names,
            &Place::whole(&SourceName::new("a.csv")),
            &mut faults,
        );
        (
            read.map(|(shape, _)| shape),
            faults.iter().map(|f| f.rule).collect(),
        )
    }

    #[test]
    fn shapes_are_told_apart() {
        assert_eq!(
            shape(&["candidate", "part", "question", "answer"]),
            (Some(Shape::Long), vec![])
        );
        assert_eq!(
            shape(&["Candidate", "q1", "g1.aroma", "remark", "Sheet", "by"]),
            (Some(Shape::Wide), vec![])
        );
        assert_eq!(
            shape(&["candidate", "q1", "answer"]),
            (None, vec!["mixed-shapes"])
        );
        assert_eq!(
            shape(&["candidate", "question", "answer"]),
            (None, vec!["missing-column"])
        );
        assert_eq!(shape(&["q1"]), (None, vec!["missing-column"]));
        assert_eq!(
            shape(&["candidate", "q1", "q1"]),
            (None, vec!["doubled-column"])
        );
        assert_eq!(
            shape(&["candidate", "q1", "g1.aromas"]),
            (Some(Shape::Wide), vec!["unknown-column"])
        );
    }
}
