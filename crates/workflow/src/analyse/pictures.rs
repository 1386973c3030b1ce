//! The plots of an analysis, each with its sentence and the table behind it.

use renderer::plot::{Drawn, LimitsRow, Plot, PlotBar, PlotCurve, PlotLine, PlotTable};
use results::analysis::{
    Analysis, MarkerSeverity, QuestionAnalysis, QuestionOnScale, SampleWords, Scale,
};

/// The most curves in one picture that can be told apart.
const MOST_CURVES: usize = 7;
/// The most questions in one picture of limits.
const MOST_ROWS: usize = 60;

fn table<const N: usize>(head: [&str; N], rows: Vec<Vec<String>>) -> PlotTable {
    PlotTable {
        head: head.map(str::to_owned).to_vec(),
        rows,
    }
}

/// All plots of a part besides those of single questions.
pub(super) fn plots(
    part: &str,
    made: &Analysis,
    markers: Option<&MarkerSeverity>,
    samples: &[SampleWords],
) -> Vec<Plot> {
    let mut plots = vec![scores(part, made), questions(part, made)];
    if let Ok(scale) = &made.scale {
        plots.push(map(part, scale));
        plots.push(curves(part, made, scale));
        plots.push(precision(part, scale));
    }
    plots.extend(markers.map(|markers| severity(part, markers)));
    if !samples.is_empty() {
        plots.push(words(part, samples));
    }
    plots
}

fn scores(part: &str, made: &Analysis) -> Plot {
    let scores = &made.scores;
    let mut sentence = scores.sentence.clone();
    let line = scores.pass_mark.map(|at| {
        if scores.error.is_some() {
            sentence.push_str(
                " The band is one standard error of measurement to each side of the cut: scores inside it may fall on either side another day.",
            );
        }
        PlotLine {
            at,
            label: format!("cut {at:.1}"),
            reach: scores.error,
        }
    });
    Plot {
        name: format!("{part}-scores"),
        title: "Scores".to_owned(),
        sentence,
        drawn: Drawn::Bars {
            bars: scores
                .bars
                .iter()
                .map(|bar| PlotBar {
                    from: bar.from,
                    to: bar.to,
                    count: bar.count as f64,
                })
                .collect(),
            axis: scores.unit.to_owned(),
            line,
        },
        table: table(
            ["from", "to below", "candidates"],
            scores
                .bars
                .iter()
                .filter(|bar| bar.count > 0)
                .map(|bar| {
                    vec![
                        format!("{:.1}", bar.from),
                        format!("{:.1}", bar.to),
                        bar.count.to_string(),
                    ]
                })
                .collect(),
        ),
    }
}

/// A question with the per cent of its marks that was earned, and limits.
type Shown<'q> = (&'q QuestionAnalysis, f64, Option<(f64, f64)>);

fn questions(part: &str, made: &Analysis) -> Plot {
    let mut shown: Vec<Shown<'_>> = made
        .questions
        .iter()
        .filter_map(|question| {
            let figure = question.difficulty.as_ref().ok()?;
            let limits = figure.interval.as_ref().ok();
            let limits = limits.map(|l| (l.lower.max(0.0) * 100.0, l.upper.min(1.0) * 100.0));
            Some((question, figure.share * 100.0, limits))
        })
        .collect();
    shown.sort_by(|a, b| a.1.total_cmp(&b.1));
    let sentence = match (shown.first(), shown.last()) {
        (Some(hard), Some(easy)) => format!(
            "From {} ({:.0} % of its marks earned, n = {}) to {} ({:.0} %). The bars are 95 % intervals: where two overlap widely, do not say which is harder.",
            hard.0.name, hard.1, hard.0.n, easy.0.name, easy.1
        ),
        _ => "No question was answered.".to_owned(),
    };
    let rows = shown
        .iter()
        .take(MOST_ROWS)
        .map(|(question, value, limits)| LimitsRow {
            name: question.name.clone(),
            value: *value,
            limits: *limits,
        })
        .collect();
    let title = if shown.len() > MOST_ROWS {
        format!("The {MOST_ROWS} hardest questions")
    } else {
        "Questions from hard to easy".to_owned()
    };
    Plot {
        name: format!("{part}-questions"),
        title,
        sentence,
        drawn: Drawn::Limits {
            rows,
            axis: "per cent of the marks earned".to_owned(),
            middle: None,
        },
        // The page's table of every question holds these numbers and more.
        table: PlotTable::default(),
    }
}

fn map(part: &str, scale: &Scale) -> Plot {
    Plot {
        name: format!("{part}-map"),
        title: "Candidates and questions on one scale".to_owned(),
        sentence: format!("{} n = {}.", scale.map_sentence, scale.n),
        drawn: Drawn::PersonItemMap {
            persons: scale.abilities.iter().flatten().copied().collect(),
            items: scale
                .questions
                .iter()
                .map(|question| (question.name.clone(), question.difficulty))
                .collect(),
            line: scale.at_pass_mark.map(|at| PlotLine {
                at: at.ability,
                label: "cut".to_owned(),
                reach: None,
            }),
        },
        table: table(
            [
                "question",
                "difficulty",
                "standard error",
                "95 % from",
                "to",
                "infit",
                "outfit",
            ],
            scale
                .questions
                .iter()
                .map(|question| {
                    let fit = |figure: Option<f64>| {
                        figure.map_or_else(|| "refused".to_owned(), |f| format!("{f:.2}"))
                    };
                    vec![
                        question.name.clone(),
                        format!("{:.2}", question.difficulty),
                        format!("{:.2}", question.standard_error),
                        format!("{:.2}", question.lower),
                        format!("{:.2}", question.upper),
                        fit(question.infit),
                        fit(question.outfit),
                    ]
                })
                .collect(),
        ),
    }
}

/// The curves of the questions to look at, and of the easiest, middle and hardest.
fn curves(part: &str, made: &Analysis, scale: &Scale) -> Plot {
    let last = scale.questions.len().saturating_sub(1);
    let mut chosen: Vec<usize> = vec![0, last / 2, last];
    for place in &made.worst_first {
        let name = made.questions.get(*place).map(|q| &q.name);
        chosen.extend(scale.questions.iter().position(|q| Some(&q.name) == name));
    }
    let mut seen = Vec::new();
    for place in chosen {
        if !seen.contains(&place) && seen.len() < MOST_CURVES {
            seen.push(place);
        }
    }
    let shown: Vec<&QuestionOnScale> = seen
        .iter()
        .filter_map(|p| scale.questions.get(*p))
        .collect();
    let steps: Vec<f64> = (-16..=16).map(|step| f64::from(step) / 4.0).collect();
    let lines = shown
        .iter()
        .map(|question| PlotCurve {
            name: question.name.clone(),
            points: steps
                .iter()
                .map(|ability| (*ability, question.curve.expected_score(*ability)))
                .collect(),
            strong: false,
            dots: false,
        })
        .collect();
    let sentence = if scale.own_slopes {
        "Chance of a right answer by ability, each question with a slope of its own: a flat line tells candidates apart badly."
    } else {
        "Chance of a right answer by ability; slopes are alike, since so few candidates do not carry a slope for each question."
    };
    Plot {
        name: format!("{part}-curves"),
        title: "Curves of single questions".to_owned(),
        sentence: format!(
            "{sentence} Shown are the easiest, a middle and the hardest question and those to look at."
        ),
        drawn: Drawn::Curves {
            lines,
            axis: "ability, logits".to_owned(),
            up: "chance of a right answer".to_owned(),
            top: 1.0,
            places: Vec::new(),
            line: scale.at_pass_mark.map(|at| PlotLine {
                at: at.ability,
                label: "cut".to_owned(),
                reach: None,
            }),
        },
        table: PlotTable {
            head: std::iter::once("ability".to_owned())
                .chain(shown.iter().map(|question| question.name.clone()))
                .collect(),
            rows: (-4..=4)
                .map(|step| {
                    let ability = f64::from(step);
                    std::iter::once(step.to_string())
                        .chain(
                            shown
                                .iter()
                                .map(|q| format!("{:.2}", q.curve.expected_score(ability))),
                        )
                        .collect()
                })
                .collect(),
        },
    }
}

fn precision(part: &str, scale: &Scale) -> Plot {
    let points: Vec<(f64, f64)> = scale
        .along
        .iter()
        .map(|at| (at.ability, at.information))
        .collect();
    let top = points.iter().map(|p| p.1).fold(0.0, f64::max) * 1.1;
    Plot {
        name: format!("{part}-precision"),
        title: "Where the paper measures".to_owned(),
        sentence: scale.precision_sentence.clone(),
        drawn: Drawn::Curves {
            lines: vec![PlotCurve {
                name: "information".to_owned(),
                points,
                strong: true,
                dots: false,
            }],
            axis: "ability, logits".to_owned(),
            up: "information".to_owned(),
            top,
            places: Vec::new(),
            line: scale.at_pass_mark.map(|at| PlotLine {
                at: at.ability,
                label: "cut".to_owned(),
                reach: None,
            }),
        },
        table: table(
            ["ability", "expected share", "information", "standard error"],
            scale
                .along
                .iter()
                .step_by(5)
                .chain(&scale.at_pass_mark)
                .map(|at| {
                    vec![
                        format!("{:.1}", at.ability),
                        format!("{:.0} %", at.expected_share * 100.0),
                        format!("{:.2}", at.information),
                        at.standard_error
                            .map_or_else(|| "none".to_owned(), |error| format!("{error:.2}")),
                    ]
                })
                .collect(),
        ),
    }
}

fn severity(part: &str, made: &MarkerSeverity) -> Plot {
    let on_scale = made.refused.is_none();
    let rows = made
        .markers
        .iter()
        .map(|marker| LimitsRow {
            name: marker.marker.clone(),
            value: marker.severity.unwrap_or(marker.mean),
            limits: if on_scale {
                marker.interval.map(|l| (l.lower, l.upper))
            } else {
                marker
                    .mean_interval
                    .as_ref()
                    .ok()
                    .map(|l| (l.lower, l.upper))
            },
        })
        .collect();
    let mut sentence = format!("{} n = {} candidates.", made.sentence, made.n);
    if let Some(why) = &made.refused {
        sentence.push(' ');
        sentence.push_str(why);
    }
    Plot {
        name: format!("{part}-markers"),
        title: if on_scale {
            "Severity of the markers"
        } else {
            "Mean mark of each marker"
        }
        .to_owned(),
        sentence,
        drawn: Drawn::Limits {
            rows,
            axis: if on_scale {
                "logits; harder to the right"
            } else {
                "marks"
            }
            .to_owned(),
            middle: on_scale.then_some(0.0),
        },
        table: table(
            [
                "marker",
                "marks given",
                "mean",
                "severity",
                "95 % from",
                "to",
            ],
            made.markers
                .iter()
                .map(|marker| {
                    let number = |value: Option<f64>| {
                        value.map_or_else(|| "refused".to_owned(), |v| format!("{v:.2}"))
                    };
                    vec![
                        marker.marker.clone(),
                        marker.marks.to_string(),
                        format!("{:.2}", marker.mean),
                        number(marker.severity),
                        number(marker.interval.map(|l| l.lower)),
                        number(marker.interval.map(|l| l.upper)),
                    ]
                })
                .collect(),
        ),
    }
}

fn words(part: &str, samples: &[SampleWords]) -> Plot {
    let mut columns: Vec<String> = Vec::new();
    for sample in samples {
        for word in sample.words.iter().take(8) {
            if !columns.contains(&word.word) {
                columns.push(word.word.clone());
            }
        }
    }
    columns.truncate(12);
    let rows = samples
        .iter()
        .map(|sample| {
            let share = |column: &String| {
                let word = sample.words.iter().find(|word| word.word == *column)?;
                Some(word.found.share)
            };
            (sample.sample.clone(), columns.iter().map(share).collect())
        })
        .collect();
    let sentences: Vec<&str> = samples.iter().map(|s| s.sentence.as_str()).collect();
    Plot {
        name: format!("{part}-words"),
        title: "Words of the panel found in each sample".to_owned(),
        sentence: format!(
            "{} An empty cell is a word that the panel did not have for that sample.",
            sentences.join(" ")
        ),
        drawn: Drawn::ShareMap { columns, rows },
        table: table(
            [
                "sample",
                "word",
                "weight with the panel",
                "found by",
                "of",
                "95 % from",
                "to",
            ],
            samples
                .iter()
                .flat_map(|sample| {
                    sample.words.iter().map(|word| {
                        vec![
                            sample.sample.clone(),
                            word.word.clone(),
                            format!("{:.2}", word.weight),
                            word.found.successes.to_string(),
                            word.found.n.to_string(),
                            format!("{:.0} %", word.found.interval.lower * 100.0),
                            format!("{:.0} %", word.found.interval.upper * 100.0),
                        ]
                    })
                })
                .collect(),
        ),
    }
}

/// The options of one question by groups of candidates.
pub(super) fn options(part: &str, question: &QuestionAnalysis) -> Option<Plot> {
    let groups = question.groups.as_ref()?;
    let number = groups.sizes.len();
    let places: Vec<String> = (0..number)
        .map(|place| match place {
            0 => format!("weakest {}", groups.sizes.first().copied().unwrap_or(0)),
            _ if place + 1 == number => {
                format!("strongest {}", groups.sizes.last().copied().unwrap_or(0))
            }
            _ if number == 3 => "middle".to_owned(),
            _ => (place + 1).to_string(),
        })
        .collect();
    let key = question.options.iter().position(|option| option.key);
    let lines: Vec<PlotCurve> = groups
        .lines
        .iter()
        .zip(&groups.shares)
        .enumerate()
        .map(|(place, (name, shares))| PlotCurve {
            name: if Some(place) == key {
                format!("{name} (key)")
            } else {
                name.clone()
            },
            points: shares
                .iter()
                .enumerate()
                .map(|(group, share)| (group as f64, *share))
                .collect(),
            strong: Some(place) == key || question.options.is_empty(),
            dots: true,
        })
        .collect();
    Some(Plot {
        name: format!("{part}-options-{}", question.name),
        title: format!("{}: answers of weak and strong candidates", question.name),
        sentence: if question.options.is_empty() {
            "The line should rise: strong candidates earn more of the marks.".to_owned()
        } else {
            "The key should rise from left to right, every other option fall.".to_owned()
        },
        drawn: Drawn::Curves {
            lines,
            axis: "candidates in order of their marks on the other questions".to_owned(),
            up: "share of the group".to_owned(),
            top: 1.0,
            places: places.clone(),
            line: None,
        },
        table: PlotTable {
            head: std::iter::once("option".to_owned()).chain(places).collect(),
            rows: groups
                .lines
                .iter()
                .zip(&groups.shares)
                .map(|(name, shares)| {
                    std::iter::once(name.clone())
                        .chain(shares.iter().map(|share| format!("{:.0} %", share * 100.0)))
                        .collect()
                })
                .collect(),
        },
    })
}
