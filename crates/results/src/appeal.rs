//! The appeal file: for the items in dispute of one candidate, everything that made the mark, and
//! nothing about other items or other people.

use assembler::Sitting;
use base::Marks;
use exam_plan::Exam;
use grader::rules::rule_named;
use grader::{Item, Outcome};
use serde::Serialize;

use crate::candidate_report::{PanelWord, candidate_report};
use crate::regrade::item_name;
use crate::script::Script;

/// Everything an appeal about some items of one candidate is decided by.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AppealFile {
    /// The candidate's number.
    pub candidate: String,
    /// The items in dispute, in the order of the papers.
    pub items: Vec<AppealItem>,
}

/// One item in dispute.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AppealItem {
    /// What it is, as answer tables name it: `theory 7`.
    pub item: String,
    /// What was asked.
    pub asked: String,
    /// What was answered; "no answer" for none.
    pub answered: String,
    /// What was right.
    pub right: String,
    /// The marks.
    pub marks: Marks,
    /// Full marks.
    pub of: Marks,
    /// Why.
    pub reason: String,
    /// The rule and its source; empty while a person must decide.
    pub rule: String,
    /// Where the key can be looked up: the question's source, or the panel's size.
    pub evidence: String,
    /// The panel's words with their weights, for a glass; empty for theory.
    pub panel_words: Vec<PanelWord>,
}

/// The appeal file of one script for the named items (`theory 7`, `tasting 417 aroma`); a glass
/// without a word for what was asked (`tasting 417`) names all that was asked of it.
///
/// # Errors
/// The names that this candidate was not asked.
pub fn appeal_file(
    exam: &Exam,
    sitting: &Sitting,
    script: &Script<'_>,
    disputed: &[String],
) -> Result<AppealFile, Vec<String>> {
    let report = candidate_report(exam, sitting, script);
    let wanted: Vec<String> = disputed.iter().map(|name| tidy(name)).collect();
    let names = |name: &str, whole: &str| name == whole || whole.starts_with(&format!("{name} "));
    let unknown: Vec<String> = wanted
        .iter()
        .filter(|name| {
            !script
                .awards
                .iter()
                .any(|award| names(name, &item_name(&award.item)))
        })
        .cloned()
        .collect();
    if !unknown.is_empty() {
        return Err(unknown);
    }
    let mut items = Vec::new();
    let mut theory = report.theory.iter();
    let mut lines = report
        .glasses
        .iter()
        .flat_map(|glass| glass.lines.iter().map(move |line| (glass, line)));
    for award in &script.awards {
        let name = item_name(&award.item);
        // The report has a line for each award, in the same order.
        let mut item = match &award.item {
            Item::Theory { question, .. } => {
                let Some(line) = theory.next() else { continue };
                let source = exam.bank.questions.get(question);
                AppealItem {
                    item: name.clone(),
                    asked: source
                        .map_or_else(|| line.asked.clone(), |question| question.in_words()),
                    answered: line.answered.clone(),
                    right: line.right.clone(),
                    marks: award.marks(),
                    of: award.of,
                    reason: line.reason.clone(),
                    rule: String::new(),
                    evidence: source
                        .map(|question| format!("Source of the key: {}.", question.source))
                        .unwrap_or_default(),
                    panel_words: Vec::new(),
                }
            }
            Item::Tasting { asked, .. } => {
                let Some((glass, line)) = lines.next() else {
                    continue;
                };
                let of_panel = matches!(asked.as_str(), "aroma" | "water" | "quality");
                let with_water = asked == "water";
                AppealItem {
                    item: name.clone(),
                    asked: line.asked.to_owned(),
                    answered: line.answered.clone(),
                    right: line.right.clone(),
                    marks: award.marks(),
                    of: award.of,
                    reason: line.reason.clone(),
                    rule: String::new(),
                    evidence: if of_panel {
                        format!(
                            "The key is computed from the notes of {} assessors of the reference panel.",
                            glass.assessors
                        )
                    } else {
                        format!("The sample: {}.", glass.was)
                    },
                    panel_words: if asked == "aroma" || with_water {
                        glass
                            .panel_words
                            .iter()
                            .filter(|word| word.with_water == with_water)
                            .cloned()
                            .collect()
                    } else {
                        Vec::new()
                    },
                }
            }
        };
        if let Outcome::Marked { rule, .. } = &award.outcome {
            item.rule = match rule_named(rule) {
                Some(known) => format!("{} ({})", known.name, known.source),
                None => rule.to_string(),
            };
        }
        if wanted.iter().any(|wanted| names(wanted, &name)) {
            items.push(item);
        }
    }
    Ok(AppealFile {
        candidate: script.place.candidate.to_string(),
        items,
    })
}

/// An item's name with single spaces and small letters.
fn tidy(name: &str) -> String {
    let words: Vec<&str> = name.split_whitespace().collect();
    words.join(" ").to_lowercase()
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::example::{Shape, awards, exam};
    use crate::script::scripts;
    use exam_plan::plan::Join;

    #[test]
    fn only_what_is_disputed_is_shown_and_each_line_fits_its_award() {
        let shape = Shape {
            questions: 3,
            samples: 2,
            candidates: 2,
        };
        let join = Join::Conjunctive {
            theory: 500,
            tasting: 0,
        };
        let (exam, sitting) = exam(shape, join);
        let awards = awards(&exam, &sitting, |candidate, item| match item {
            Item::Theory { .. } => "A".to_owned(),
            Item::Tasting { .. } => format!("word{candidate}"),
        });
        let scripts = scripts(&exam, &sitting, &awards);
        let all: Vec<String> = scripts[0]
            .awards
            .iter()
            .map(|award| item_name(&award.item))
            .collect();
        let whole = appeal_file(&exam, &sitting, &scripts[0], &all).unwrap();
        assert_eq!(whole.items.len(), all.len());
        for (item, award) in whole.items.iter().zip(&scripts[0].awards) {
            assert_eq!(
                (item.marks, item.of),
                (award.marks(), award.of),
                "{}",
                item.item
            );
            assert!(!item.evidence.is_empty() && !item.asked.is_empty());
        }
        let one = appeal_file(&exam, &sitting, &scripts[0], &[" Theory  2 ".to_owned()]).unwrap();
        assert_eq!(one.items.len(), 1);
        assert_eq!(one.items[0].item, "theory 2");
        assert!(!format!("{one:?}").contains("word1"));
        let none = appeal_file(&exam, &sitting, &scripts[0], &["theory 9".to_owned()]);
        assert_eq!(none, Err(vec!["theory 9".to_owned()]));
    }
}
