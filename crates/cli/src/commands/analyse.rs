//! `valinch analyse`.

use std::path::PathBuf;

use anyhow::Result;
use clap::Args;
use workflow::{
    Alikeness, AnalyseRequest, GroupFairness, NEEDS, PassMark, ScaleModel, Surroundings,
    TableOptions, analyse,
};

use super::json;
use crate::exit::Exit;
use crate::show;
use crate::talk::Talk;

/// What a sitting, or any table of answers, tells: questions worst first, reliability, cut
///
/// Give the folder of a marked sitting, several to pool them by form, or tables (CSV): one row for
/// each candidate and a column for each question, or one row for each answer (candidate, question,
/// answer). Cells are marks, or answers beside a --key. A summary comes to the terminal, a page with
/// pictures into a file; of a sitting, what each question did goes into the history of its bank.
#[derive(Debug, Args)]
#[command(after_help = EXAMPLES, after_long_help = smallest())]
pub(crate) struct AnalyseArguments {
    /// Folders of sittings, or tables
    #[arg(required = true, value_name = "FOLDER|TABLE")]
    inputs: Vec<PathBuf>,
    /// A table with the right answers: question,key
    #[arg(long, value_name = "TABLE")]
    key: Option<PathBuf>,
    /// The cut score, in marks or as 60% [default: the plan's]
    #[arg(long, value_name = "MARKS|PERCENT", value_parser = cut)]
    cut: Option<PassMark>,
    /// A scale by a model of your choice, besides the usual one: rasch-conditional, rasch-marginal,
    /// rasch-joint, two-parameters, normal-ogive, three-parameters, partial-credit,
    /// partial-credit-conditional, generalised-partial-credit or graded
    #[arg(long, value_name = "MODEL", value_parser = model)]
    model: Option<ScaleModel>,
    /// The column that names the candidate [default: candidate; else each row is one]
    #[arg(long, value_name = "COLUMN")]
    candidate: Option<String>,
    /// The column that names the form [default: form]
    #[arg(long, value_name = "COLUMN")]
    form: Option<String>,
    /// The column that names the sitting [default: sitting; else each table is one]
    #[arg(long, value_name = "COLUMN")]
    sitting: Option<String>,
    /// The column that names the marker [default: marker]
    #[arg(long, value_name = "COLUMN")]
    marker: Option<String>,
    /// Tables with a row for each answer: the column that names the question [default: question]
    #[arg(long, value_name = "COLUMN")]
    question: Option<String>,
    /// Tables with a row for each answer: the column that holds it [default: answer, mark or marks]
    #[arg(long, value_name = "COLUMN")]
    answer: Option<String>,
    /// The column that says for how many candidates a row stands
    #[arg(long, value_name = "COLUMN")]
    count: Option<String>,
    /// The column that names the candidate's group: questions are compared at equal totals
    #[arg(long, value_name = "COLUMN", conflicts_with = "groups")]
    group: Option<String>,
    /// The same from a table of its own, for sittings too: candidate,group
    #[arg(long, value_name = "TABLE")]
    groups: Option<PathBuf>,
    /// Who sat where, for the comparison of answers: candidate,table,seat or candidate,beside
    ///
    /// A sitting knows its own seats; of tables without seats all pairs are compared.
    #[arg(long, value_name = "TABLE")]
    seats: Option<PathBuf>,
    /// The group that the others are set beside [default: the largest]
    #[arg(long, value_name = "GROUP")]
    reference: Option<String>,
    /// A column that is no question; may be given more than once
    #[arg(long, value_name = "COLUMN")]
    leave_out: Vec<String>,
    /// What stands for an answer left out, besides an empty cell; earns nothing
    #[arg(long, value_name = "WORD", allow_hyphen_values = true)]
    omitted: Vec<String>,
    /// What stands for a question that was not reached; earns nothing
    #[arg(long, value_name = "WORD", allow_hyphen_values = true)]
    not_reached: Vec<String>,
    /// What stands for a question that was not put to the candidate; takes no part
    #[arg(long, value_name = "WORD", allow_hyphen_values = true)]
    not_asked: Vec<String>,
    /// Full marks of each question [default: the highest mark seen]
    #[arg(long, value_name = "MARKS", value_parser = full_marks)]
    full_marks: Option<f64>,
    /// The page [default: FOLDER/results/analysis.html, or beside the table]
    #[arg(long, value_name = "FILE")]
    to: Option<PathBuf>,
    /// A folder with templates of your own
    #[arg(long, value_name = "FOLDER")]
    templates: Option<PathBuf>,
    /// Leave the history of the bank as it is
    #[arg(long)]
    no_history: bool,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

const EXAMPLES: &str = "Example:\n  valinch analyse examples/certificate\n  \
     valinch analyse answers.csv --key key.csv --cut 60%\n  \
     valinch analyse autumn.csv spring.csv --not-asked 9 --json\n  \
     valinch analyse answers.csv --key key.csv --group language --reference English\n  \
     valinch analyse answers.csv --key key.csv --seats seats.csv";

/// The examples, and how many candidates each figure asks for.
fn smallest() -> String {
    let rows: Vec<Vec<String>> = NEEDS
        .iter()
        .map(|row| vec![row.least.to_string(), row.what.to_owned()])
        .collect();
    format!(
        "{EXAMPLES}\n\nHow many candidates each figure asks for; below that it is refused by name, and the page\n\
         says why so many and what would do instead:\n{}",
        show::list(&rows)
    )
}

/// "12" marks, or "60%".
fn cut(text: &str) -> Result<PassMark, String> {
    let fault = || "marks above 0, or a per cent from 0 to 100 as 60%".to_owned();
    let (number, percent) = match text.strip_suffix('%') {
        Some(number) => (number.trim(), true),
        None => (text.trim(), false),
    };
    let number: f64 = number.parse().map_err(|_| fault())?;
    match percent {
        true if (0.0..=100.0).contains(&number) => Ok(PassMark::Percent(number)),
        false if number > 0.0 && number.is_finite() => Ok(PassMark::Marks(number)),
        true | false => Err(fault()),
    }
}

fn model(text: &str) -> Result<ScaleModel, String> {
    ScaleModel::ALL
        .into_iter()
        .find(|model| model.name() == text)
        .ok_or_else(|| {
            format!(
                "one of {}",
                ScaleModel::ALL.map(ScaleModel::name).join(", ")
            )
        })
}

fn full_marks(text: &str) -> Result<f64, String> {
    match text.parse::<f64>() {
        Ok(number) if number > 0.0 && number <= 1e6 => Ok(number),
        Ok(_) | Err(_) => Err("marks above 0 are wanted".to_owned()),
    }
}

/// The most questions that the terminal shows; the page has all.
const MOST_SHOWN: usize = 10;

pub(crate) fn run(
    given: &AnalyseArguments,
    talk: &Talk,
    around: &dyn Surroundings,
) -> Result<Exit> {
    let request = AnalyseRequest {
        inputs: given.inputs.clone(),
        options: TableOptions {
            key: given.key.clone(),
            candidate: given.candidate.clone(),
            form: given.form.clone(),
            sitting: given.sitting.clone(),
            marker: given.marker.clone(),
            question: given.question.clone(),
            answer: given.answer.clone(),
            count: given.count.clone(),
            group: given.group.clone(),
            leave_out: given.leave_out.clone(),
            omitted: given.omitted.clone(),
            not_reached: given.not_reached.clone(),
            not_asked: given.not_asked.clone(),
            full_marks: given.full_marks,
        },
        groups: given.groups.clone(),
        seats: given.seats.clone(),
        model: given.model,
        reference: given.reference.clone(),
        pass_mark: given.cut,
        to: given.to.clone(),
        templates: given.templates.clone(),
        no_history: given.no_history,
    };
    let report = analyse(around, &request)?;
    if given.json {
        json(talk, &report)?;
        return Ok(Exit::Done);
    }
    for part in &report.parts {
        let made = &part.analysis;
        if report.parts.len() > 1 {
            talk.data(&format!("{}:", made.what));
        }
        for sentence in &made.verdict {
            talk.data(&format!("· {sentence}"));
        }
        if let Some(markers) = &part.markers {
            talk.data(&format!("· {}", markers.sentence));
        }
        if let Some(moderation) = &part.moderation {
            for marker in &moderation.markers {
                talk.data(&format!("· {}", marker.sentence));
            }
            for sentence in &moderation.agreement {
                talk.data(&format!("· {sentence}"));
            }
        }
        // Of the further figures the terminal has what asks for something to be done.
        for line in made.further.iter().chain(&part.marker_shares) {
            let of_what = line.figure.strip_suffix(" for a phi of .8");
            if let (Some(what), Some(value)) = (of_what, line.value) {
                talk.data(&format!(
                    "· A dependable score (phi .8; {}) takes {value:.0} such {what}. {}",
                    line.of, line.says
                ));
            }
        }
        if !made.worst_first.is_empty() {
            talk.data("\nQuestions to look at, worst first:");
        }
        for place in made.worst_first.iter().take(MOST_SHOWN) {
            if let Some(question) = made.questions.get(*place) {
                for (number, finding) in question.findings.iter().enumerate() {
                    let name = if number == 0 {
                        question.name.as_str()
                    } else {
                        ""
                    };
                    talk.data(&format!("  {name:<12} {}", finding.sentence()));
                }
            }
        }
        if made.worst_first.len() > MOST_SHOWN {
            talk.data(&format!(
                "  … and {} more on the page",
                made.worst_first.len() - MOST_SHOWN
            ));
        }
        if let Some(fairness) = &part.fairness {
            groups(talk, fairness);
        }
        if let Some(Ok(by_model)) = &part.by_model {
            talk.data(&format!(
                "\nBy {}: {} questions and {} candidates, log-likelihood {:.2}; the page has the figures.",
                by_model.model.name(),
                by_model.questions.len(),
                by_model.n,
                by_model.log_likelihood
            ));
        }
        if let Some(alike) = &part.alike {
            alikeness(talk, alike);
        }
        let refused: Vec<&String> = made
            .refused
            .iter()
            .chain(part.refused_alike())
            .chain(part.refused_model())
            .chain(part.refused_comparisons())
            .collect();
        if !refused.is_empty() {
            talk.data("\nNot given:");
        }
        for sentence in refused {
            talk.data(&format!("  {sentence}"));
        }
        talk.data("");
    }
    if let Some(together) = &report.together
        && let Some(value) = together.value
    {
        talk.data(&format!(
            "{}: reliability {value:.2}. {}",
            together.of, together.says
        ));
    }
    for note in &report.notes {
        talk.say(note);
    }
    for file in &report.history {
        talk.say(&format!("The bank's history: {}", file.display()));
    }
    talk.say(&format!(
        "next: open {} in a browser",
        report.page.display()
    ));
    Ok(Exit::Done)
}

/// Answers beside each other; nothing where it was refused, which stands among what is not given.
fn alikeness(talk: &Talk, made: &Alikeness) {
    if !made.refused.is_empty() {
        return;
    }
    talk.data("\nAnswers beside each other:");
    talk.data(&format!("  {}", made.sentence));
    let named: Vec<_> = made.pairs.iter().filter(|pair| pair.named).collect();
    for pair in &named {
        talk.data(&format!("  {}", pair.sentence));
    }
    if !named.is_empty() {
        talk.data(&format!("  {}", made.caution));
    }
}

/// Groups beside each other: what to see, then the questions that differ.
fn groups(talk: &Talk, made: &GroupFairness) {
    let told: Vec<_> = made
        .comparisons
        .iter()
        .filter(|comparison| comparison.refused.is_none())
        .collect();
    if !told.is_empty() {
        talk.data("\nGroups beside each other:");
    }
    for comparison in told {
        talk.data(&format!("  {}", comparison.sentence));
        for question in &comparison.questions {
            if let Some(finding) = &question.finding {
                talk.data(&format!("  {:<12} {finding}", question.name));
            }
        }
    }
}
