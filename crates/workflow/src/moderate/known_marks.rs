//! Reads `known-marks.csv`: answers whose marks were agreed before, to be mixed in unseen. It lies
//! beside the plan and not among the markers' tables, since no marker may know of it.
//!
//! Columns `script` (a label of one's own), `question`, `criterion`, `marks` and `answer`; one row for
//! each criterion, the answer in the first row of its script.

use std::collections::BTreeMap;

use base::table::{Cell, Table};
use base::{Fault, Marks, QuestionId, SourceText};
use grader::script_sharing::Essay;

/// The file's name.
pub(super) const KNOWN_MARKS: &str = "known-marks.csv";

/// An answer with its known mark.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Known {
    pub(super) essay: Essay,
    pub(super) marks: Marks,
}

/// What is known of a question that persons mark: its criteria with their most marks.
pub(super) type Rubric = Vec<(String, Marks)>;

/// A script while it is read.
struct Begun {
    question: QuestionId,
    answer: String,
    given: Vec<Option<Marks>>,
    cell: Cell,
    sound: bool,
}

/// Reads the table. `rubrics` are the questions of this sitting that persons mark. A script with a
/// fault is told and left out.
pub(super) fn read_known(
    source: &SourceText,
    rubrics: &BTreeMap<QuestionId, Rubric>,
    faults: &mut Vec<Fault>,
) -> Vec<Known> {
    let table = match Table::read(source) {
        Ok(table) => table,
        Err(fault) => {
            faults.push(*fault);
            return Vec::new();
        }
    };
    let wanted = ["script", "question", "criterion", "marks", "answer"];
    let Some(columns) = table.columns(wanted, &[], faults) else {
        return Vec::new();
    };
    let mut begun: BTreeMap<String, Begun> = BTreeMap::new();
    for row in table.rows() {
        let [label, question, criterion, marks, answer] = columns.map(|column| row.cell(column));
        let mut tell = |cell: &Cell, rule: &'static str, words: String, allowed: String| {
            let fault = Fault::new(rule, table.place(&cell.bytes), words);
            faults.push(fault.allowed(allowed));
        };
        let shown = base::walk::shortened;
        let names = || {
            rubrics
                .keys()
                .map(QuestionId::as_str)
                .collect::<Vec<_>>()
                .join(", ")
        };
        let known = rubrics.iter().find(|(id, _)| id.as_str() == question.text);
        let Some((id, rubric)) = known else {
            let words = format!(
                "\"{}\" is no question here that persons mark",
                shown(&question.text)
            );
            tell(&question, "unknown-question", words, names());
            continue;
        };
        let script = begun.entry(label.text.clone()).or_insert_with(|| Begun {
            question: id.clone(),
            answer: answer.text.clone(),
            given: vec![None; rubric.len()],
            cell: label.clone(),
            sound: true,
        });
        if script.question != *id {
            let words = format!("script \"{}\" answers two questions", shown(&label.text));
            tell(
                &question,
                "two-questions",
                words,
                script.question.to_string(),
            );
            script.sound = false;
            continue;
        }
        let named = rubric
            .iter()
            .enumerate()
            .find(|(_, (name, _))| *name == criterion.text);
        let Some((place, (_, most))) = named else {
            let words = format!(
                "\"{}\" is no criterion of this question",
                shown(&criterion.text)
            );
            let all: Vec<&str> = rubric.iter().map(|(name, _)| name.as_str()).collect();
            tell(&criterion, "unknown-criterion", words, all.join(", "));
            script.sound = false;
            continue;
        };
        let number = marks.text.replace(',', ".").parse::<Marks>().ok();
        let number = number.filter(|number| Marks::ZERO <= *number && number <= most);
        match (number, script.given.get_mut(place)) {
            (Some(number), Some(free @ None)) => *free = Some(number),
            (Some(_), _) => {
                let words = format!(
                    "script \"{}\" has this criterion already",
                    shown(&label.text)
                );
                tell(
                    &criterion,
                    "marked-twice",
                    words,
                    "one row for each criterion".to_owned(),
                );
                script.sound = false;
            }
            (None, _) => {
                let words = format!("\"{}\" cannot be given here", shown(&marks.text));
                tell(&marks, "marks-out-of-range", words, format!("0 to {most}"));
                script.sound = false;
            }
        }
    }
    let mut known = Vec::new();
    for (label, script) in begun {
        let sum = script.given.iter().copied().sum::<Option<Marks>>();
        let missing = match sum {
            None => Some("has no marks for some criterion"),
            Some(_) if script.answer.is_empty() => Some("has no answer in its first row"),
            Some(_) => None,
        };
        if let (Some(why), true) = (missing, script.sound) {
            let words = format!("script \"{}\" {why}", base::walk::shortened(&label));
            faults.push(
                Fault::new("unfinished-script", table.place(&script.cell.bytes), words)
                    .hint("a row for each criterion, and the answer in the first"),
            );
        }
        let rubric = rubrics.get(&script.question);
        if let (Some(marks), None, true, Some(rubric)) = (sum, missing, script.sound, rubric) {
            known.push(Known {
                essay: Essay {
                    candidate: None,
                    question: script.question,
                    answer: script.answer,
                    of: rubric.iter().map(|(_, most)| *most).sum(),
                },
                marks,
            });
        }
    }
    known
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn read(rows: &str) -> (Vec<Known>, Vec<&'static str>) {
        let text = format!("script,question,criterion,marks,answer\n{rows}");
        let m = Marks::from_thousandths;
        let rubric = vec![
            ("structure".to_owned(), m(1000)),
            ("matter".to_owned(), m(2000)),
        ];
        let rubrics = BTreeMap::from([(QuestionId::parse("why-copper").unwrap(), rubric)]);
        let mut faults = Vec::new();
        let known = read_known(
            &SourceText::new("known-marks.csv", &text),
            &rubrics,
            &mut faults,
        );
        (known, faults.iter().map(|fault| fault.rule).collect())
    }

    #[test]
    fn whole_scripts_are_taken_and_others_told() {
        let (known, faults) = read(
            "K1,why-copper,structure,1,Sulphur.\nK1,why-copper,matter,1.5,\n\
             K2,why-copper,structure,1,\nK2,why-copper,matter,0,\n\
             K3,why-copper,structure,1,Copper.\n\
             K4,why-iron,structure,1,Iron.\n\
             K5,why-copper,structure,7,Shine.\nK5,why-copper,colour,1,\n\
             K6,why-copper,structure,NaN,Shine.\nK6,why-copper,structure,-1,\n",
        );
        assert_eq!(known.len(), 1);
        assert_eq!(known[0].marks, Marks::from_thousandths(2500));
        assert_eq!(known[0].essay.of, Marks::from_thousandths(3000));
        assert_eq!(
            faults,
            [
                "unknown-question",
                "marks-out-of-range",
                "unknown-criterion",
                "marks-out-of-range",
                "marks-out-of-range",
                "unfinished-script",
                "unfinished-script"
            ]
        );
    }
}
