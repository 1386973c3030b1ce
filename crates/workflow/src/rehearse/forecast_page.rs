//! The forecast as a page for a browser: the verdict, pictures and the tables behind them.

use exam_plan::Exam;
use exam_plan::plan::Join;
use renderer::content::examiner::{PagePlot, ReportPage, ReportSection, ReportTable};
use renderer::plot::{Drawn, LimitsRow, Plot, PlotBar, PlotLine, PlotTable};
use results::Part;
use results::rehearsal::closer::Spread;
use results::rehearsal::forecast::ScoreForecast;
use results::rehearsal::{Forecast, Longer, Topic, pass_rule_in_words, sentences_by_topic};
use results::summary::capitalised;
use statistics::Refusal;
use statistics::descriptive::proportion::Proportion;

use super::forecast_sheet::{assumptions, shopping};
use crate::pour::PourReport;

/// A reliability from which a part is fit for decisions in a small exam, as in the verdict.
const GOOD: f64 = 0.7;

/// Fills the page in.
pub(super) fn content(exam: &Exam, forecast: &Forecast, pour: Option<&PourReport>) -> ReportPage {
    let plan = &exam.plan;
    let told = sentences_by_topic(forecast);
    let of = |topics: &[Topic]| -> Vec<String> {
        let wanted = told.iter().filter(|(topic, _)| topics.contains(topic));
        wanted.map(|(_, sentence)| sentence.clone()).collect()
    };
    let mut basis = of(&[Topic::Basis]);
    basis.extend(assumptions(forecast));
    let sections = [
        said(of(&[Topic::Scores]), scores(exam, forecast)),
        said(of(&[Topic::Reliability]), reliability(forecast)),
        said(of(&[Topic::Decisions]), decisions(forecast)),
        said(of(&[Topic::Time]), time(forecast)),
        said(of(&[Topic::Guessers]), guessers(forecast)),
        said(of(&[Topic::Alike]), alike(forecast)),
        said(of(&[Topic::Idle]), idle(forecast)),
        said(basis, empty("What this rests on")),
        said(
            pour.map_or_else(Vec::new, shopping),
            empty("Bottles and care"),
        ),
    ];
    ReportPage {
        title: format!("{}: rehearsal", plan.title),
        source: format!(
            "{}. {} simulated sittings of {} candidates. {}",
            plan.date,
            forecast.extent.sittings,
            forecast.candidates,
            pass_rule_in_words(exam)
        ),
        verdict: of(&[Topic::Verdict]),
        sections: sections.into_iter().flatten().collect(),
    }
}

fn empty(heading: &str) -> ReportSection {
    ReportSection {
        heading: heading.to_owned(),
        ..ReportSection::default()
    }
}

/// A section that opens with its sentences; none where it has nothing at all to say.
fn said(sentences: Vec<String>, section: ReportSection) -> Option<ReportSection> {
    let silent = sentences.is_empty() && section.plots.is_empty() && section.tables.is_empty();
    (!silent).then_some(ReportSection {
        sentences,
        ..section
    })
}

fn table<const N: usize>(head: [&str; N], rows: Vec<Vec<String>>) -> PlotTable {
    PlotTable {
        head: head.map(str::to_owned).to_vec(),
        rows,
    }
}

fn per_cent(share: f64) -> String {
    if share > 0.0 && share < 0.01 {
        format!("{:.2} %", share * 100.0)
    } else {
        format!("{:.1} %", share * 100.0)
    }
}

fn marks(figure: &Result<f64, Refusal>) -> String {
    figure
        .as_ref()
        .map_or_else(ToString::to_string, |value| format!("{value:.2}"))
}

/// The cut of a part or of the total, in per cent of full marks.
fn cut_of(exam: &Exam, what: &str) -> Option<f64> {
    let thousandths = match (exam.plan.pass.join, what) {
        (Join::Conjunctive { theory, .. }, "theory") => theory,
        (Join::Conjunctive { tasting, .. }, "tasting") => tasting,
        (Join::Compensatory { total, .. }, "total") => total,
        (Join::Conjunctive { .. } | Join::Compensatory { .. }, _) => return None,
    };
    Some(f64::from(thousandths) / 10.0)
}

fn scores(exam: &Exam, forecast: &Forecast) -> ReportSection {
    let plots = forecast
        .scores
        .iter()
        .map(|score| PagePlot::from(&distribution(exam, score, forecast.candidates)))
        .collect();
    let rows = forecast
        .scores
        .iter()
        .map(|score| {
            vec![
                capitalised(score.what),
                score.of.to_string(),
                marks(&score.mean),
                marks(&score.mean_error),
                marks(&score.deviation),
                score.n.to_string(),
            ]
        })
        .collect();
    ReportSection {
        plots,
        tables: vec![ReportTable {
            caption: "In marks".to_owned(),
            numbers: table(
                [
                    "part",
                    "of",
                    "mean",
                    "simulation error",
                    "standard deviation",
                    "scripts",
                ],
                rows,
            ),
        }],
        ..empty("Scores to expect")
    }
}

fn distribution(exam: &Exam, score: &ScoreForecast, candidates: usize) -> Plot {
    let n: u32 = score.tenths.iter().sum();
    let share = |count: u32| f64::from(count) / f64::from(n.max(1));
    let cut = cut_of(exam, score.what);
    let mut sentence = format!(
        "Where the marks of {candidates} candidates will lie on average, in tenths of full marks"
    );
    if let Some(cut) = cut {
        sentence.push_str(&format!("; the line is the cut, {cut} %"));
    }
    sentence.push('.');
    Plot {
        name: format!("scores-{}", score.what),
        title: capitalised(score.what),
        sentence,
        drawn: Drawn::Bars {
            bars: score
                .tenths
                .iter()
                .enumerate()
                .map(|(tenth, &count)| PlotBar {
                    from: tenth as f64 * 10.0,
                    to: tenth as f64 * 10.0 + 10.0,
                    count: share(count) * candidates as f64,
                })
                .collect(),
            axis: "per cent of full marks".to_owned(),
            line: cut.map(|at| PlotLine {
                at,
                label: format!("cut {at} %"),
                reach: None,
            }),
        },
        table: table(
            ["per cent of full marks", "scripts", "share"],
            score
                .tenths
                .iter()
                .enumerate()
                .map(|(tenth, &count)| {
                    vec![
                        format!("{} to {}", tenth * 10, tenth * 10 + 10),
                        count.to_string(),
                        format!("{:.1} %", share(count) * 100.0),
                    ]
                })
                .collect(),
        ),
    }
}

fn reliability(forecast: &Forecast) -> ReportSection {
    let plots: Vec<PagePlot> = Part::ALL
        .into_iter()
        .filter_map(|part| {
            let steps: Vec<&Longer> = forecast
                .closer
                .longer
                .iter()
                .filter(|step| step.part == part)
                .collect();
            Some(PagePlot::from(&of_length(part, &steps)?))
        })
        .collect();
    let rows = forecast.scores.iter().map(reliability_cells).collect();
    ReportSection {
        plots,
        tables: vec![ReportTable {
            caption: "Reliability by two runs of the same people".to_owned(),
            numbers: table(["part", "reliability", "95 % interval", "pairs"], rows),
        }],
        ..empty("How well the parts tell people apart")
    }
}

fn reliability_cells(score: &ScoreForecast) -> Vec<String> {
    let what = capitalised(score.what);
    match &score.reliability {
        Ok(made) => {
            let interval = made.interval.as_ref().map_or_else(
                |_| "\u{2013}".to_owned(),
                |interval| format!("{:.2} to {:.2}", interval.lower, interval.upper),
            );
            vec![
                what,
                format!("{:.2}", made.value),
                interval,
                made.n.to_string(),
            ]
        }
        Err(refusal) => vec![what, refusal.to_string(), String::new(), String::new()],
    }
}

fn of_length(part: Part, steps: &[&Longer]) -> Option<Plot> {
    let first = steps.first()?;
    let noun = |number: usize| match (part, number) {
        (Part::Theory, 1) => "question",
        (Part::Theory, _) => "questions",
        (Part::Tasting, 1) => "sample",
        (Part::Tasting, _) => "samples",
    };
    let name = |step: &&Longer| {
        let number = step.now + step.more;
        if step.more == 0 {
            format!("now: {number} {}", noun(number))
        } else {
            format!("{number} {}", noun(number))
        }
    };
    Some(Plot {
        name: format!("longer-{}", part.word()),
        title: format!("What a longer {} part would buy", part.word()),
        sentence: format!(
            "Reliability with {} and with more of the same kind, by a study of the simulated marks; \
             the bars are twice the simulation error, and the line is {GOOD}, from which a part is \
             fit for decisions (common practice, no source).",
            name(first).trim_start_matches("now: ")
        ),
        drawn: Drawn::Limits {
            rows: steps
                .iter()
                .map(|step| LimitsRow {
                    name: name(step),
                    value: step.reliability,
                    limits: step.simulation_error.map(|error| {
                        (
                            step.reliability - 2.0 * error,
                            step.reliability + 2.0 * error,
                        )
                    }),
                })
                .collect(),
            axis: "reliability".to_owned(),
            middle: Some(GOOD),
        },
        table: table(
            [
                "length",
                "reliability",
                "simulation error",
                "uncertainty of a result, per cent of the marks",
            ],
            steps
                .iter()
                .map(|step| {
                    let or_none =
                        |value: Option<String>| value.unwrap_or_else(|| "\u{2013}".to_owned());
                    vec![
                        name(step),
                        format!("{:.2}", step.reliability),
                        or_none(step.simulation_error.map(|error| format!("{error:.3}"))),
                        or_none(
                            step.error_of_share
                                .map(|share| format!("{:.1}", share * 100.0)),
                        ),
                    ]
                })
                .collect(),
        ),
    })
}

/// A share with its interval, in per cent.
fn share_row(name: &str, share: &Result<Proportion, Refusal>) -> Option<LimitsRow> {
    let made = share.as_ref().ok()?;
    Some(LimitsRow {
        name: name.to_owned(),
        value: made.share * 100.0,
        limits: Some((made.interval.lower * 100.0, made.interval.upper * 100.0)),
    })
}

fn share_cells(name: &str, share: &Result<Proportion, Refusal>) -> Vec<String> {
    match share {
        Ok(made) => vec![
            name.to_owned(),
            per_cent(made.share),
            format!(
                "{} to {}",
                per_cent(made.interval.lower),
                per_cent(made.interval.upper)
            ),
            made.n.to_string(),
        ],
        Err(refusal) => vec![
            name.to_owned(),
            refusal.to_string(),
            String::new(),
            String::new(),
        ],
    }
}

fn shares(
    name: &str,
    title: &str,
    sentence: &str,
    rows: &[(String, &Result<Proportion, Refusal>)],
) -> Plot {
    Plot {
        name: name.to_owned(),
        title: title.to_owned(),
        sentence: sentence.to_owned(),
        drawn: Drawn::Limits {
            rows: rows
                .iter()
                .filter_map(|(name, share)| share_row(name, share))
                .collect(),
            axis: "per cent".to_owned(),
            middle: None,
        },
        table: table(
            ["what", "share", "95 % interval", "scripts"],
            rows.iter()
                .map(|(name, share)| share_cells(name, share))
                .collect(),
        ),
    }
}

fn decisions(forecast: &Forecast) -> ReportSection {
    let made = &forecast.decisions;
    let plot = shares(
        "decisions",
        "Decisions",
        "Per cent of candidates who pass, who pass although their true score is below the cut, and \
         who fail although it is above; the bars are 95 % intervals of the simulation.",
        &[
            ("pass".to_owned(), &made.passes),
            ("wrong passes".to_owned(), &made.wrong_passes),
            ("wrong fails".to_owned(), &made.wrong_fails),
        ],
    );
    let rows = forecast
        .closer
        .moved_cuts
        .iter()
        .map(|cut| {
            let share = |share: &Result<Proportion, Refusal>| {
                share
                    .as_ref()
                    .map_or_else(ToString::to_string, |made| per_cent(made.share))
            };
            vec![
                format!(
                    "{} cut one mark {}",
                    cut.what,
                    if cut.by < 0 { "lower" } else { "higher" }
                ),
                per_cent(cut.changed),
                share(&cut.decisions.passes),
                share(&cut.decisions.wrong_passes),
                share(&cut.decisions.wrong_fails),
            ]
        })
        .collect();
    let caption = "What happens if a cut moves by one mark";
    let numbers = table(
        [
            "cut",
            "results that change",
            "pass",
            "wrong passes",
            "wrong fails",
        ],
        rows,
    );
    ReportSection {
        plots: vec![PagePlot::from(&plot)],
        tables: vec![ReportTable {
            caption: caption.to_owned(),
            numbers,
        }],
        ..empty("Decisions, and cuts that move")
    }
}

fn time(forecast: &Forecast) -> ReportSection {
    let minutes = forecast.minutes.iter().map(|minutes| {
        vec![
            capitalised(minutes.part.word()),
            format!("{:.0}", minutes.needed),
            minutes.given.to_string(),
        ]
    });
    ReportSection {
        tables: vec![ReportTable {
            caption: "Minutes at the usual pace".to_owned(),
            numbers: table(["part", "needed", "given"], minutes.collect()),
        }],
        ..empty("Time")
    }
}

fn guessers(forecast: &Forecast) -> ReportSection {
    let mut rows = Vec::new();
    for guesser in &forecast.guessers {
        let short = guesser.guesser.name();
        rows.push((format!("{short}, exam"), &guesser.passes));
        for (part, share) in &guesser.by_part {
            rows.push((format!("{short}, {part}"), share));
        }
    }
    let plots = if rows.is_empty() {
        Vec::new()
    } else {
        vec![PagePlot::from(&shares(
            "guessers",
            "Guessers",
            "How often each kind reaches the cuts, per cent of trials; the bars are 95 % intervals.",
            &rows,
        ))]
    };
    ReportSection {
        plots,
        ..empty("Who passes without knowing anything")
    }
}

fn alike(forecast: &Forecast) -> ReportSection {
    let closer = &forecast.closer;
    let plots: Vec<PagePlot> = [
        ("forms", "Forms", &closer.forms),
        ("orders", "Serving orders", &closer.orders),
    ]
    .into_iter()
    .filter_map(|(name, title, spread)| {
        Some(PagePlot::from(&groups(name, title, spread.as_ref()?)))
    })
    .collect();
    ReportSection {
        plots,
        ..empty("Whether it matters where somebody sits")
    }
}

fn groups(name: &str, title: &str, spread: &Spread) -> Plot {
    let n = spread.groups.len().max(1) as f64;
    let middle = spread.groups.iter().map(|(_, mean, _)| mean).sum::<f64>() / n;
    Plot {
        name: name.to_owned(),
        title: title.to_owned(),
        sentence: format!(
            "Mean marks by {}; the bars are twice the simulation error, the line is the mean of all. \
             The largest difference is {:.2} marks.",
            title.to_lowercase(),
            spread.largest
        ),
        drawn: Drawn::Limits {
            rows: spread
                .groups
                .iter()
                .enumerate()
                .map(|(place, (group, mean, error))| LimitsRow {
                    // Orders name all samples: too long beside a picture.
                    name: if group.len() > 24 {
                        format!("order {}", place + 1)
                    } else {
                        group.clone()
                    },
                    value: *mean,
                    limits: Some((mean - 2.0 * error, mean + 2.0 * error)),
                })
                .collect(),
            axis: "marks".to_owned(),
            middle: Some(middle),
        },
        table: table(
            ["number", "group", "mean marks", "simulation error"],
            spread
                .groups
                .iter()
                .enumerate()
                .map(|(place, (group, mean, error))| {
                    vec![
                        (place + 1).to_string(),
                        group.clone(),
                        format!("{mean:.2}"),
                        format!("{error:.2}"),
                    ]
                })
                .collect(),
        ),
    }
}

fn idle(forecast: &Forecast) -> ReportSection {
    let idle = &forecast.closer.idle;
    let rows: Vec<Vec<String>> = idle
        .iter()
        .map(|idle| {
            vec![
                idle.what.clone(),
                idle.part.word().to_owned(),
                per_cent(idle.share),
                idle.with_rest
                    .map_or_else(|| "\u{2013}".to_owned(), |r| format!("{r:.2}")),
            ]
        })
        .collect();
    let numbers = table(["question or sample", "part", "share", "r with rest"], rows);
    let tables = if idle.is_empty() {
        Vec::new()
    } else {
        vec![ReportTable {
            caption: "Mean share of the marks, and correlation with the rest of the part"
                .to_owned(),
            numbers,
        }]
    };
    ReportSection {
        tables,
        ..empty("What does no work")
    }
}
