//! The forecast as its page wants it.

use assembler::CAUTIONS;
use renderer::content::examiner::RehearsalForecast;
use renderer::content::{Bar, Distribution, ExamHead, Figure};
use results::rehearsal::Forecast;
use results::rehearsal::forecast::ScoreForecast;
use results::summary::capitalised;
use statistics::descriptive::proportion::Proportion;

use crate::pour::PourReport;

pub(super) fn content(
    head: &ExamHead,
    forecast: &Forecast,
    pour: Option<&PourReport>,
) -> RehearsalForecast {
    let total = forecast.scores.last();
    RehearsalForecast {
        exam: head.clone(),
        verdicts: forecast.verdict.clone(),
        figures: figures(forecast),
        distribution: total.map(distribution),
        assumptions: assumptions(forecast),
        shopping: pour.map(shopping).unwrap_or_default(),
    }
}

fn figure(what: String, value: String, interval: String, n: String) -> Figure {
    Figure {
        what,
        value,
        interval,
        n,
        note: String::new(),
    }
}

fn figures(forecast: &Forecast) -> Vec<Figure> {
    let mut figures = Vec::new();
    for score in &forecast.scores {
        let what = capitalised(score.what);
        if let (Ok(mean), Ok(error)) = (&score.mean, &score.mean_error) {
            figures.push(figure(
                format!("{what}: mean, marks of {}", score.of),
                format!("{mean:.1}"),
                format!("± {:.2} (simulation error)", error),
                score.n.to_string(),
            ));
        }
        if let Ok(deviation) = &score.deviation {
            figures.push(figure(
                format!("{what}: standard deviation"),
                format!("{deviation:.1}"),
                String::new(),
                score.n.to_string(),
            ));
        }
        match &score.reliability {
            Ok(made) => figures.push(figure(
                format!("{what}: reliability"),
                format!("{:.2}", made.value),
                made.interval
                    .as_ref()
                    .map(|i| format!("{:.2} to {:.2} (95 %)", i.lower, i.upper))
                    .unwrap_or_default(),
                made.n.to_string(),
            )),
            Err(refusal) => figures.push(figure(
                format!("{what}: reliability"),
                refusal.to_string(),
                String::new(),
                score.n.to_string(),
            )),
        }
    }
    let decisions = &forecast.decisions;
    for (what, share) in [
        ("Candidates who pass", &decisions.passes),
        ("Wrong passes", &decisions.wrong_passes),
        ("Wrong fails", &decisions.wrong_fails),
    ] {
        figures.push(share_figure(what.to_owned(), share));
    }
    for guesser in &forecast.guessers {
        figures.push(share_figure(
            format!("Passes of a guesser: {}", guesser.guesser.words()),
            &guesser.passes,
        ));
    }
    for at in &forecast.closer.error_at_cut {
        figures.push(figure(
            format!(
                "{}: standard error at the cut, marks",
                capitalised(at.part.word())
            ),
            format!("{:.1}", at.error),
            format!("± {:.2} (simulation error)", at.simulation_error),
            at.n.to_string(),
        ));
    }
    for minutes in &forecast.minutes {
        figures.push(figure(
            format!(
                "{}: minutes needed of {} given",
                capitalised(minutes.part.word()),
                minutes.given
            ),
            format!("{:.0}", minutes.needed),
            String::new(),
            String::new(),
        ));
    }
    figures
}

fn share_figure(what: String, share: &Result<Proportion, statistics::Refusal>) -> Figure {
    let percent = |share: f64| {
        if share < 0.01 && share > 0.0 {
            format!("{:.2} %", share * 100.0)
        } else {
            format!("{:.1} %", share * 100.0)
        }
    };
    match share {
        Ok(made) => figure(
            what,
            percent(made.share),
            format!(
                "{} to {} (95 %)",
                percent(made.interval.lower),
                percent(made.interval.upper)
            ),
            made.n.to_string(),
        ),
        Err(refusal) => figure(what, refusal.to_string(), String::new(), String::new()),
    }
}

fn distribution(total: &ScoreForecast) -> Distribution {
    let n: u32 = total.tenths.iter().sum();
    Distribution {
        sentence: format!(
            "{} of {n} simulated scripts, in tenths of full marks.",
            capitalised(total.what)
        ),
        axis: "per cent of full marks".to_owned(),
        bars: total
            .tenths
            .iter()
            .enumerate()
            .map(|(tenth, &count)| Bar {
                label: format!(
                    "{}–{}",
                    tenth * 10,
                    tenth * 10 + if tenth == 9 { 10 } else { 9 }
                ),
                count: u64::from(count),
                at_or_above_cut: false,
            })
            .collect(),
    }
}

pub(super) fn assumptions(forecast: &Forecast) -> Vec<String> {
    let p = &forecast.population;
    vec![
        format!(
            "Ability in theory: mean {}, standard deviation {}; in tasting: mean {}, standard deviation {}; correlation {}.",
            p.theory_mean, p.theory_deviation, p.tasting_mean, p.tasting_deviation, p.correlation
        ),
        "A question is known with a chance that rises with ability and falls with its difficulty, by the bank's figures where it has any and by the author's guess where not; else the candidate guesses.".to_owned(),
        if p.question_doubt > 0.0 {
            "Each simulated day moves difficulties by what is not known of them.".to_owned()
        } else {
            "Difficulties are taken as they stand.".to_owned()
        },
        "A word of the panel is found the more often the heavier it is and the abler the taster; near misses and common words come between.".to_owned(),
        "A pass or a fail is wrong where the expected score of that ability decides otherwise.".to_owned(),
    ]
}

pub(super) fn shopping(pour: &PourReport) -> Vec<String> {
    let mut lines: Vec<String> = pour
        .samples
        .iter()
        .map(|sample| {
            format!(
                "{}: {} bottles of {} ml, one of them spare.",
                sample.bottle, sample.bottles_to_bring, sample.bottle_size
            )
        })
        .collect();
    lines.push(format!(
        "All glasses of one candidate hold {:.1} g of ethanol if nothing is spat.",
        pour.ethanol_grams
    ));
    lines.extend(CAUTIONS.iter().map(|caution| (*caution).to_owned()));
    lines
}
