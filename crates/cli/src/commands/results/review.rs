//! `valinch results review`.

use std::path::PathBuf;

use anyhow::Result;
use clap::Args;
use workflow::{DecisionStands, ReviewRequest, Surroundings, review};

use crate::commands::acting::ActingArguments;
use crate::commands::json;
use crate::exit::Exit;
use crate::talk::Talk;

/// List decisions near a cut, or note that one of them was looked at and stands
///
/// Who lies within the plan's band around a cut (pass: review, in standard errors of measurement) is
/// looked at before results are released. Without --candidate they are listed, with what to look at
/// first. A review changes no mark: what it finds is decided and marked like anything else, and where
/// marks change the script is looked at again.
#[derive(Debug, Args)]
#[command(
    after_help = "Example:\n  valinch results review examples/certificate\n  valinch results review examples/certificate --candidate C-009 --why \"essay and aromas read again by both markers\""
)]
pub(crate) struct ReviewArguments {
    /// The exam's folder
    folder: PathBuf,
    /// The candidate whose decision was looked at
    #[arg(long, value_name = "NUMBER", requires = "why")]
    candidate: Option<String>,
    /// What was looked at, and why the decision stands
    #[arg(long, value_name = "SENTENCE", requires = "candidate")]
    why: Option<String>,
    #[command(flatten)]
    acting: ActingArguments,
    /// Write the report as JSON to standard output
    #[arg(long)]
    json: bool,
}

pub(crate) fn run(given: &ReviewArguments, talk: &Talk, around: &dyn Surroundings) -> Result<Exit> {
    let stands = given.candidate.clone().zip(given.why.clone());
    let report = review(
        around,
        &ReviewRequest {
            folder: given.folder.clone(),
            stands: stands.map(|(candidate, why)| DecisionStands { candidate, why }),
            stated: given.acting.stated(),
        },
    )?;
    if given.json {
        json(talk, &report)?;
        return Ok(Exit::Done);
    }
    for sentence in &report.review.sentences {
        talk.data(sentence);
    }
    for one in &report.review.candidates {
        let seen = if report.open.contains(&one.candidate.to_string()) {
            ""
        } else {
            " (looked at)"
        };
        talk.data(&format!(
            "\n{}: {}{seen}. {}.",
            one.candidate,
            one.outcome,
            one.near.join("; ")
        ));
        if let Some(wrong) = one.wrong {
            talk.data(&format!(
                "  wrong in {:.0} of 100 such decisions",
                wrong * 100.0
            ));
        }
        if !one.look_at.is_empty() {
            talk.data(&format!("  look first at {}", one.look_at.join(", ")));
        }
    }
    if report.entered {
        talk.say("the review is entered.");
    }
    match report.open.as_slice() {
        [] => talk.say(&format!(
            "nobody waits to be looked at. next: valinch results release {} --confirmed-by ROLE",
            given.folder.display()
        )),
        open => talk.say(&format!(
            "to be looked at before release: {}",
            open.join(", ")
        )),
    }
    Ok(Exit::Done)
}
