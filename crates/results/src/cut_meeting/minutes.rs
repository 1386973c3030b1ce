//! The minutes of a meeting, as Markdown.

use std::fmt::Write as _;

use super::setting::{CutSet, Impact};

/// What the minutes say besides the figures.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Meeting {
    /// The exam, or the table.
    pub about: String,
    /// The part of the plan that the cut is for.
    pub part: String,
}

/// A person's words as one cell or line of Markdown.
fn plain(words: &str) -> String {
    words
        .chars()
        .map(|c| match c {
            '|' | '*' | '_' | '#' | '`' | '<' | '>' | '[' | ']' | '\\' => format!("\\{c}"),
            '\n' | '\r' => " ".to_owned(),
            c => c.to_string(),
        })
        .collect()
}

fn table(text: &mut String, head: &[&str], rows: &[Vec<String>]) {
    // Writing to a string cannot fail, here and below.
    let _ = writeln!(text, "| {} |", head.join(" | "));
    let _ = writeln!(text, "|{}", "---|".repeat(head.len()));
    for row in rows {
        let _ = writeln!(text, "| {} |", row.join(" | "));
    }
    text.push('\n');
}

fn impact_rows(lines: &[Impact]) -> Vec<Vec<String>> {
    lines
        .iter()
        .map(|line| {
            let passes = &line.passes;
            vec![
                plain(&line.of),
                format!("{:.2}", line.cut),
                format!("{} of {}", passes.successes, passes.n),
                format!(
                    "{:.0} % ({:.0} to {:.0})",
                    passes.share * 100.0,
                    passes.interval.lower * 100.0,
                    passes.interval.upper * 100.0
                ),
            ]
        })
        .collect()
}

/// Writes the minutes. Names of those present, the day and the signatures are left to be filled in
/// by hand: the program was not in the room.
#[must_use]
pub fn minutes(meeting: &Meeting, made: &CutSet) -> String {
    let mut text = format!(
        "# Minutes: cut score of {}\n\nDay: ____________  Chair: ____________________\n\nPresent: ______________________________________________\n\n",
        plain(&meeting.about)
    );
    let _ = writeln!(text, "## Result\n\n{}\n", made.sentence());
    let _ = writeln!(
        text,
        "Line for the plan (per cent, rounded up to one decimal):\n\n```yaml\n{}\n```\n",
        plan_line(meeting, made)
    );
    for sentence in &made.sentences {
        let _ = writeln!(text, "- {sentence}");
    }
    text.push('\n');
    if !made.impact.is_empty() {
        text.push_str("## What it would do\n\n");
        table(
            &mut text,
            &["cut", "marks", "pass", "share (95 %)"],
            &impact_rows(&made.impact),
        );
    }
    for round in &made.rounds {
        let _ = writeln!(
            text,
            "## Round {}\n\nCut {:.2}, standard error over judges {:.2}.\n",
            round.round, round.cut, round.error
        );
        let rows: Vec<Vec<String>> = round
            .judges
            .iter()
            .map(|judge| {
                vec![
                    plain(&judge.judge),
                    format!("{:.2}", judge.cut),
                    format!("{:+.2}", judge.from_mean),
                    judge.impact.as_ref().map_or_else(String::new, |impact| {
                        format!("{} of {}", impact.passes.successes, impact.passes.n)
                    }),
                ]
            })
            .collect();
        table(
            &mut text,
            &["judge", "cut", "from the mean", "would pass"],
            &rows,
        );
        let rows: Vec<Vec<String>> = round
            .discuss
            .iter()
            .filter_map(|place| round.questions.get(*place))
            .map(|question| {
                vec![
                    plain(&question.question),
                    format!("{:.2}", question.mean),
                    format!("{:.2}", question.spread),
                    format!("{:.2} ({})", question.lowest.0, plain(&question.lowest.1)),
                    format!("{:.2} ({})", question.highest.0, plain(&question.highest.1)),
                ]
            })
            .collect();
        if !rows.is_empty() {
            text.push_str("Discussed, since judges differ most:\n\n");
            table(
                &mut text,
                &["question", "mean", "spread", "lowest", "highest"],
                &rows,
            );
        }
    }
    text.push_str("## Decision\n\nCut decided: ________  Reason if it differs from the result above: ____________________\n\nSigned: ____________________\n");
    text
}

/// The line to paste into the plan.
#[must_use]
pub fn plan_line(meeting: &Meeting, made: &CutSet) -> String {
    format!("  {}: {:.1}", meeting.part, made.plan_percent())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::setting::{Ratings, SetBy, set_cut};
    use super::*;

    #[test]
    fn minutes_hold_result_line_and_rounds_and_no_markup_of_names() {
        let by = SetBy::Angoff {
            rounds: vec![Ratings {
                questions: vec!["q|1".to_owned(), "q2".to_owned()],
                judges: vec!["A*".to_owned(), "B".to_owned()],
                estimates: vec![vec![0.5, 0.7], vec![0.6, 0.6]],
            }],
            difficulties: None,
        };
        let made = set_cut(&by, &[], None).unwrap();
        let meeting = Meeting {
            about: "autumn".to_owned(),
            part: "theory".to_owned(),
        };
        let text = minutes(&meeting, &made);
        assert!(text.contains("  theory: 60.0") && text.contains("## Round 1"));
        assert!(text.contains("| A\\* |") && text.contains("q\\|1"));
    }
}
