//! How the reports of `panel` read on a terminal.

use workflow::panel::agreement::AgreementReport;
use workflow::panel::discrimination::{ANotA, CriticalLine, TestReport, TestResult};
use workflow::panel::flight_pairs::PairsReport;
use workflow::panel::key_study::{KeyReport, KeyStudy, WordClass};
use workflow::panel::ranking::RankingReport;

use crate::show;

fn or_dash(value: Option<f64>, decimals: usize) -> String {
    value.map_or_else(|| "–".to_owned(), |v| format!("{v:.decimals$}"))
}

/// Keys, one after the other.
pub(crate) fn keys(report: &KeyReport) -> String {
    report
        .keys
        .iter()
        .map(|key| one_key(key, report.threshold))
        .collect::<Vec<_>>()
        .join("\n\n")
}

fn one_key(key: &KeyStudy, threshold: f64) -> String {
    let mut parts = vec![format!(
        "{} ({}): {}, {}; required from a weight of {threshold}",
        key.name,
        key.sample,
        show::count(key.n, "assessor"),
        show::count(key.sessions, "session"),
    )];
    for (place, stage) in key.stages.iter().enumerate() {
        // The stages together in full; one by one only what is required.
        let shown = stage
            .words
            .iter()
            .filter(|word| place == 0 || word.class == WordClass::Required);
        let rows: Vec<Vec<String>> = shown
            .map(|word| {
                vec![
                    word.word.clone(),
                    format!("{:.2}", word.weight),
                    word.interval.map_or_else(
                        || "–".to_owned(),
                        |[lower, upper]| format!("{lower:.2} to {upper:.2}"),
                    ),
                    format!("{} of {}", word.cited_by, key.n),
                    word.class.word().to_owned(),
                ]
            })
            .collect();
        let head = if place == 0 {
            "neat, nose, palate and finish together".to_owned()
        } else {
            format!("{}: required words", stage.stage)
        };
        if rows.is_empty() {
            parts.push(format!("{head}: none"));
        } else {
            parts.push(format!(
                "{head}\n{}",
                show::table(&["word", "weight", "95 % limits", "cited by", "is"], &rows)
            ));
        }
    }
    let rows: Vec<Vec<String>> = key
        .assessors
        .iter()
        .map(|own| {
            let mut words = Vec::new();
            if own.stands_apart {
                words.push("stands apart".to_owned());
            }
            if !own.lost_without.is_empty() {
                words.push(format!("loses {}", own.lost_without.join(", ")));
            }
            if !own.gained_without.is_empty() {
                words.push(format!("gains {}", own.gained_without.join(", ")));
            }
            vec![
                own.assessor.clone(),
                or_dash(own.agreement, 2),
                or_dash(own.discrimination, 1),
                or_dash(own.repeatability, 2),
                words.join("; "),
            ]
        })
        .collect();
    let plain: Vec<Vec<String>> = std::iter::once(
        ["assessor", "agrees", "F", "repeats", "the key without"]
            .map(str::to_owned)
            .to_vec(),
    )
    .chain(rows)
    .collect();
    parts.push(format!(
        "Each assessor against the rest: correlation with the rest; telling words apart (F) and spread between sessions\n{}",
        show::list(&plain)
    ));
    let mut sentences = Vec::new();
    if let (Some(pair), Some(reliability)) = (key.mean_pair, key.reliability) {
        sentences.push(format!(
            "Two assessors correlate by {pair:.2} on average; the mean profile of all {} is reliable to {:.0} %.",
            key.n,
            reliability * 100.0
        ));
    }
    if let Some(share) = key.agreement {
        sentences.push(format!(
            "A required word is cited by {:.0} % of the assessors.",
            share * 100.0
        ));
    }
    if let Some(common) = key.least_common {
        sentences.push(format!(
            "Whichever one assessor is left out, at least {:.0} % of the key stays.",
            common * 100.0
        ));
    }
    match key.assessors_to_settle {
        Some(all) if all > key.n => sentences.push(format!(
            "About {} more would settle the words that can be settled ({all} in all; a rough forecast).",
            show::count(all - key.n, "assessor")
        )),
        Some(_) => sentences.push("No more assessors are needed to settle the key.".to_owned()),
        None => {}
    }
    if !key.at_the_threshold.is_empty() {
        sentences.push(format!(
            "So near the threshold that no number of assessors settles it: {}.",
            key.at_the_threshold.join(", ")
        ));
    }
    for refusal in &key.not_given {
        sentences.push(format!("Not given: {refusal}."));
    }
    parts.push(sentences.join("\n"));
    parts.join("\n\n")
}

/// Pairs, nearest first.
pub(crate) fn pairs(report: &PairsReport) -> String {
    let rows: Vec<Vec<String>> = report
        .pairs
        .iter()
        .map(|pair| {
            vec![
                format!("{} and {}", pair.first, pair.second),
                or_dash(pair.d_prime, 1),
                pair.interval.map_or_else(
                    || "–".to_owned(),
                    |[lower, upper]| format!("{lower:.1} to {upper:.1}"),
                ),
                pair.told_apart
                    .map_or_else(|| "–".to_owned(), |s| format!("{:.0} of 100", s * 100.0)),
                match (&pair.not_given, pair.twin) {
                    (Some(why), _) => why.clone(),
                    (None, true) => "twin pair".to_owned(),
                    (None, false) => String::new(),
                },
            ]
        })
        .collect();
    let twins = report.pairs.iter().filter(|pair| pair.twin).count();
    format!(
        "{}\n\nA pair below d′ 1 (told apart in 76 of 100 pairs) is a twin pair: common practice, no source.\n{}",
        show::table(&["pair", "d′", "95 % limits", "told apart in", ""], &rows),
        match twins {
            0 => "No twin pair.".to_owned(),
            n => format!("{}: pour other samples.", show::count(n, "twin pair")),
        }
    )
}

/// A discrimination test.
pub(crate) fn test(report: &TestReport) -> String {
    let mut lines = Vec::new();
    if let Some(result) = &report.result {
        lines.extend(result_lines(report, result));
        lines.push(String::new());
    }
    let plan = &report.plan;
    lines.push(match plan.answers_needed {
        Some(answers) => format!(
            "To find d′ {} ({:.1} % right) with a power of {} at a risk of {}: {answers} answers{}.",
            plan.distance,
            plan.share_correct * 100.0,
            show::percent(plan.power_wanted),
            show::percent(report.risk),
            plan.critical
                .map_or_else(String::new, |c| format!(", {c} of them right"))
        ),
        None => format!(
            "To find d′ {} with a power of {} more than 5000 answers are needed.",
            plan.distance,
            show::percent(plan.power_wanted)
        ),
    });
    if let Some(power) = plan.power {
        lines.push(format!(
            "The number of answers at hand finds it with a power of {:.0} %.",
            power * 100.0
        ));
    }
    lines.join("\n")
}

fn result_lines(report: &TestReport, result: &TestResult) -> Vec<String> {
    let mut lines = vec![
        format!(
            "{}: {} of {} right; by guessing {:.1} would be.",
            report.method.word(),
            result.right,
            result.answers,
            report.guess * f64::from(result.answers)
        ),
        format!(
            "Probability of so many or more{} by guessing: {:.4}. {}",
            if report.method.two_sided() {
                ", for either of the two,"
            } else {
                ""
            },
            result.p_value,
            match result.critical {
                Some(critical) if result.significant => format!(
                    "A difference: {critical} would be enough at a risk of {}.",
                    show::percent(report.risk)
                ),
                Some(critical) => format!(
                    "No difference shown: {critical} would be needed at a risk of {}.",
                    show::percent(report.risk)
                ),
                None => "So few answers can never show a difference.".to_owned(),
            }
        ),
    ];
    if let Some(distance) = &result.d_prime {
        lines.push(format!(
            "d′ {:.2}{}, 95 % limits {:.2} to {:.2} (n {}).",
            distance.d_prime,
            distance
                .standard_error
                .map_or_else(String::new, |error| format!(", standard error {error:.2}")),
            distance.interval.lower,
            distance.interval.upper,
            distance.n
        ));
    }
    if let Some(why) = &result.d_prime_not_given {
        lines.push(format!("d′ is not given: {why}."));
    }
    lines.push(match result.similarity.exact {
        Some(most) if result.similar => format!(
            "Similar: up to {most} right answers say that fewer than {} can tell.",
            show::percent(result.discriminators)
        ),
        Some(most) => format!(
            "Not shown to be similar: at most {most} right answers would say that fewer than {} can tell.",
            show::percent(result.discriminators)
        ),
        None => "So few answers can never show similarity.".to_owned(),
    });
    if let Some(together) = &result.replication {
        lines.push(format!(
            "{} tasters answered {} times: correlation within a taster {:.2}{}; they say as much as {:.0} independent answers. The probability by guessing stands as it is.",
            together.tasters,
            together.answers,
            together.within_taster,
            together
                .tarone
                .map_or_else(String::new, |p| format!(" (p {:.3})", p.probability)),
            together.effective_answers
        ));
    }
    lines
}

/// An A–not A test.
pub(crate) fn a_not_a(report: &ANotA) -> String {
    format!(
        "A–not A, {} answers: d′ {:.2}, standard error {:.2}, 95 % limits {:.2} to {:.2}.\nFisher's exact probability of so many hits or more: {:.4}; χ² {:.2} (p {:.4}).",
        report.n,
        report.d_prime,
        report.standard_error,
        report.interval.lower,
        report.interval.upper,
        report.fisher_p.probability,
        report.chi_square,
        report.chi_square_p.probability
    )
}

/// A ranking test.
pub(crate) fn ranking(report: &RankingReport) -> String {
    let rows: Vec<Vec<String>> = report
        .samples
        .iter()
        .zip(&report.friedman.rank_sums)
        .map(|(sample, sum)| vec![sample.clone(), format!("{sum:.1}")])
        .collect();
    let mut lines = vec![
        show::table(&["sample", "rank sum"], &rows),
        String::new(),
        format!(
            "Friedman's χ² {:.2} with {} degrees of freedom, p {:.4}; concordance {:.2} ({} assessors).",
            report.friedman.chi_square,
            report.friedman.degrees_of_freedom,
            report.friedman.p_value.probability,
            report.friedman.concordance,
            report.friedman.assessors
        ),
        compared(report),
    ];
    if let Some(trend) = &report.trend {
        lines.push(format!(
            "Page's L for the order of the columns: {:.1}, p {:.4}.",
            trend.l, trend.p_value.probability
        ));
    }
    lines.join("\n")
}

/// Figures of agreement, each with what to make of it.
pub(crate) fn agreement(report: &AgreementReport) -> String {
    let things = show::count(report.things, "thing");
    let mut lines = vec![format!(
        "{things} rated by {}, taken as {}.",
        report.raters.join(", "),
        report.rated_as.word()
    )];
    for line in &report.figures {
        let value = line.value.map_or_else(String::new, |value| {
            let limits = line.limits.map_or_else(String::new, |(low, high)| {
                format!(" (95 % {low:.2} to {high:.2})")
            });
            format!(" {value:.2}{limits}.")
        });
        lines.push(format!("· {}:{value} {}", line.figure, line.says));
    }
    lines.join("\n")
}

/// Which samples differ, or why none are compared.
fn compared(report: &RankingReport) -> String {
    let risk = show::percent(report.risk);
    // Rank sums may lie far apart and yet not be compared: pairs follow only upon the whole test.
    if report.friedman.p_value.probability > report.risk {
        return format!(
            "No difference shown at a risk of {risk}, so no two rank sums are compared."
        );
    }
    let pairs: Vec<String> = report
        .differ
        .iter()
        .map(|(one, other)| format!("{one} and {other}"))
        .collect();
    format!(
        "Rank sums differ when they lie {:.1} or more apart (risk {risk}): {}.",
        report.least_difference,
        if pairs.is_empty() {
            "none do".to_owned()
        } else {
            pairs.join("; ")
        }
    )
}

/// Critical numbers.
pub(crate) fn table(lines: &[CriticalLine]) -> String {
    let rows: Vec<Vec<String>> = lines
        .iter()
        .map(|line| {
            std::iter::once(line.answers.to_string())
                .chain(
                    line.critical
                        .iter()
                        .map(|c| c.map_or_else(|| "–".to_owned(), |n| n.to_string())),
                )
                .collect()
        })
        .collect();
    show::table(&["answers", "5 %", "1 %", "0.1 %"], &rows)
}
