//! The scale by a model that was asked for, as the page shows it.

use renderer::content::examiner::ModelSection;
use renderer::plot::PlotTable;
use results::analysis::ByModel;
use statistics::Refusal;
use statistics::scaling::estimate::Estimate;
use statistics::scaling::person_measure::PersonMeasure;

pub(super) fn section(made: &ByModel) -> ModelSection {
    let sloped = made
        .questions
        .iter()
        .any(|question| question.slope.is_some());
    let guessed = made
        .questions
        .iter()
        .any(|question| question.guessing.is_some());
    let mut head = vec!["question", made.places_are];
    if sloped {
        head.push("slope");
    }
    if guessed {
        head.push("guessing");
    }
    let rows = made
        .questions
        .iter()
        .map(|question| {
            let places: Vec<String> = question.places.iter().map(estimate).collect();
            let mut row = vec![question.name.clone(), places.join(", ")];
            if sloped {
                row.push(question.slope.as_ref().map_or_else(String::new, estimate));
            }
            if guessed {
                row.push(
                    question
                        .guessing
                        .as_ref()
                        .map_or_else(String::new, estimate),
                );
            }
            row
        })
        .collect();
    let table = |head: &[&str], rows| PlotTable {
        head: head.iter().map(|cell| (*cell).to_owned()).collect(),
        rows,
    };
    let candidates = made
        .candidates
        .iter()
        .map(|candidate| {
            vec![
                candidate.candidate.clone(),
                ability(&candidate.weighted),
                ability(&candidate.likelihood),
                ability(&candidate.posterior_top),
                ability(&candidate.posterior_mean),
            ]
        })
        .collect();
    let mut sentences = made.sentences.clone();
    sentences.push(format!(
        "{} candidates; the logarithm of the likelihood is {:.2}.",
        made.n, made.log_likelihood
    ));
    ModelSection {
        heading: format!("The scale by {}", made.model.name().replace('-', " ")),
        sentences,
        questions: table(&head, rows),
        candidates: table(
            &[
                "candidate",
                "weighted likelihood",
                "maximum likelihood",
                "posterior top",
                "posterior mean",
            ],
            candidates,
        ),
    }
}

fn estimate(made: &Estimate) -> String {
    format!("{:.2} ({:.2})", made.value, made.standard_error)
}

fn ability(made: &Result<PersonMeasure, Refusal>) -> String {
    made.as_ref().map_or_else(
        |_| "\u{2013}".to_owned(),
        |made| format!("{:.2} ({:.2})", made.ability, made.standard_error),
    )
}
