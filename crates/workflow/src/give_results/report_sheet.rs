//! One candidate's report as the sheet wants it.

use renderer::content::ExamHead;
use renderer::content::released::{
    CandidateReport as Sheet, PartResult, ReportGlass, ReportLine, Verdict, WordBeside,
};
use results::Outcome;
use results::candidate_report::{CandidateReport, GlassReport, PanelWord, ScoreLine};

use base::Marks;

pub(super) fn content(head: &ExamHead, report: &CandidateReport) -> Sheet {
    let mut taste_next = report.taste_next.clone();
    if !taste_next.is_empty() {
        taste_next.push(report.caution.to_owned());
    }
    Sheet {
        exam: head.clone(),
        candidate_number: report.candidate.clone(),
        name: report.name.clone(),
        verdict: match report.outcome {
            Outcome::Pass => Verdict::Passed,
            Outcome::Fail | Outcome::Absent => Verdict::NotPassed,
            Outcome::Waiting => Verdict::Undecided,
        },
        result: report.result.clone(),
        explanation: report.because.clone(),
        parts: report.made_of.iter().map(part).collect(),
        help: report.help.clone(),
        taste_next,
        glasses: report.glasses.iter().map(glass).collect(),
        theory: report
            .theory
            .iter()
            .map(|line| ReportLine {
                number: line.number.to_string(),
                asked: line.asked.clone(),
                answered: line.answered.clone(),
                marks: line.marks.to_string(),
                of: line.of.to_string(),
                reason: reason(
                    &line.reason,
                    &line.right,
                    line.marks == line.of,
                    line.counts,
                ),
            })
            .collect(),
        appeal: report.appeal.clone(),
    }
}

/// The reason with what was right, where the answer was not wholly right and the reason does not
/// say it already.
fn reason(reason: &str, right: &str, full: bool, counts: bool) -> String {
    let mut words = reason.trim_end_matches('.').to_owned();
    words.push('.');
    if !full && !right.is_empty() && !reason.contains(right) {
        words.push_str(&format!(" Right: {}.", right.trim_end_matches('.')));
    }
    if !counts {
        words.push_str(" On trial: does not count.");
    }
    words
}

/// A share of full marks, 0 to 100, for a drawing.
fn percent(marks: Marks, of: Marks) -> u8 {
    // Between 0 and 100 after the clamp.
    (marks.fraction_of(of) * 100.0).round().clamp(0.0, 100.0) as u8
}

fn part(line: &ScoreLine) -> PartResult {
    let cut = line.cut.as_ref().map(|cut| match line.standing {
        Some(standing) => format!("{cut}, {standing}"),
        None => cut.clone(),
    });
    let cut_percent = line
        .cut
        .as_ref()
        .and_then(|cut| cut.split_whitespace().next()?.parse::<f64>().ok())
        .map(|cut| cut.round().clamp(0.0, 100.0) as u8);
    PartResult {
        name: line.what.to_owned(),
        marks: line.marks.to_string(),
        of: line.of.map(|of| of.to_string()).unwrap_or_default(),
        cut: cut.unwrap_or_default(),
        percent: line.of.map_or(0, |of| percent(line.marks, of)),
        cut_percent,
    }
}

fn glass(glass: &GlassReport) -> ReportGlass {
    let counted = glass.lines.iter().filter(|line| !line.extra);
    let marks: Marks = counted.clone().map(|line| line.marks).sum();
    let of: Marks = counted.map(|line| line.of).sum();
    let heaviest = glass
        .panel_words
        .iter()
        .map(|word| word.weight)
        .fold(0.0, f64::max);
    ReportGlass {
        code: glass.code.clone(),
        what: glass.was.trim_end_matches('.').to_owned(),
        describe: glass.describe.clone(),
        marks: marks.to_string(),
        of: of.to_string(),
        words: glass
            .panel_words
            .iter()
            .map(|word| beside(word, heaviest))
            .chain(own_words(&glass.contradicting, "contradicts the sample"))
            .chain(own_words(&glass.without_credit, "not in the key"))
            .collect(),
        lines: glass
            .lines
            .iter()
            .map(|line| ReportLine {
                number: String::new(),
                asked: if line.extra {
                    format!("{} (extra credit)", line.asked)
                } else {
                    line.asked.to_owned()
                },
                answered: line.answered.clone(),
                marks: line.marks.to_string(),
                of: line.of.to_string(),
                // Words stand beside the panel's in a table of their own.
                reason: match line.asked {
                    "Aroma and flavour" | "With water" => reason(&line.reason, "", false, true),
                    _ => reason(&line.reason, &line.right, line.marks == line.of, true),
                },
            })
            .collect(),
    }
}

/// Words of the candidate that stand beside nothing of the panel's.
fn own_words<'w>(words: &'w [String], how: &'w str) -> impl Iterator<Item = WordBeside> + 'w {
    words.iter().map(move |word| WordBeside {
        yours: word.clone(),
        panels: String::new(),
        how: how.to_owned(),
        weight_percent: 0,
        earned_percent: 0,
    })
}

fn beside(word: &PanelWord, heaviest: f64) -> WordBeside {
    let share = if heaviest > 0.0 {
        word.weight / heaviest * 100.0
    } else {
        0.0
    };
    let panels = if word.with_water {
        format!("{} (with water)", word.word)
    } else {
        word.word.clone()
    };
    let quarters = word.paired.as_ref().map_or(0, |paired| paired.quarters);
    let (yours, how) = match &word.paired {
        Some(paired) => (paired.written.clone(), paired.how),
        // Named with a word that counted already for another of the key.
        None if word.found => (word.word.clone(), "named"),
        None => (String::new(), "missed"),
    };
    WordBeside {
        yours,
        panels,
        how: how.to_owned(),
        weight_percent: share.round().clamp(0.0, 100.0) as u8,
        earned_percent: (share * f64::from(quarters) / 4.0)
            .round()
            .clamp(0.0, 100.0) as u8,
    }
}
