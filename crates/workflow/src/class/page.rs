//! The page of a class beside the panel, filled in, with its pictures.

use exam_plan::Class;
use renderer::content::ExamHead;
use renderer::content::examiner::{ClassPage, ClassPagePart, PagePlot};
use renderer::plot::{Drawn, PairRow, Plot, PlotTable};
use results::class_beside_panel::{ClassBesidePanel, ClassWord, SampleBesideClass};

use crate::print::head::count;
use crate::print::open_sheets::cautions;

pub(super) fn content(class: &Class, head: &ExamHead, beside: &ClassBesidePanel) -> ClassPage {
    ClassPage {
        title: format!("{}: the class beside the panel", head.title),
        source: format!(
            "{}. Notes of {} on {} of the bank {}. Nothing here is a mark.",
            head.date,
            count(beside.learners.len(), "learner"),
            count(class.plan.samples.len(), "sample"),
            class.bank.title
        ),
        verdict: verdict(beside),
        samples: beside.samples.iter().map(part).collect(),
        ratings: quality(beside).iter().map(PagePlot::from).collect(),
        unknown: PlotTable {
            head: ["as written", "near", "by"].map(str::to_owned).to_vec(),
            rows: beside
                .unknown
                .iter()
                .map(|word| {
                    vec![
                        word.written.clone(),
                        word.near.join(", "),
                        word.learners.join(", "),
                    ]
                })
                .collect(),
        },
        cautions: cautions(),
    }
}

/// What to speak about first.
fn verdict(beside: &ClassBesidePanel) -> Vec<String> {
    let mut said = Vec::new();
    let missed = beside.samples.iter().flat_map(|sample| {
        let words = sample.words.iter().filter(|word| word.weight.is_some());
        words.map(move |word| (sample, word, word.panel.share - word.class.share))
    });
    let most = missed
        .filter(|(sample, _, gap)| sample.learners > 0 && *gap > 0.25)
        .max_by(|a, b| a.2.total_cmp(&b.2).then(b.1.word.cmp(&a.1.word)));
    match most {
        Some((sample, word, _)) => said.push(format!(
            "Taste again together: {} in {}. {} of {} assessors found it, {} of {} learners.",
            word.word,
            sample.name,
            word.panel.successes,
            word.panel.n,
            word.class.successes,
            word.class.n
        )),
        None => said.push("No word of the panel was missed by much of the class.".to_owned()),
    }
    if !beside.unknown.is_empty() {
        said.push(match beside.unknown.len() {
            1 => "1 word is not in the word list: it stands at the end of this page.".to_owned(),
            more => format!(
                "{more} words are not in the word list: they stand at the end of this page."
            ),
        });
    }
    if !beside.silent.is_empty() {
        said.push(format!(
            "Nothing came in from: {}.",
            beside.silent.join(", ")
        ));
    }
    said
}

fn part(sample: &SampleBesideClass) -> ClassPagePart {
    ClassPagePart {
        anchor: format!("sample{}", sample.glass),
        heading: format!("{} · {}", sample.glass, sample.name),
        what: sample.was.clone(),
        plot: PagePlot::from(&words(sample)),
        ratings: ratings(sample),
    }
}

fn per_cent(share: f64) -> f64 {
    share * 100.0
}

/// Who found which word.
fn words(sample: &SampleBesideClass) -> Plot {
    Plot {
        name: format!("sample{}-words", sample.glass),
        title: "Words found neat".to_owned(),
        sentence: sample.sentence.clone(),
        drawn: Drawn::Pairs {
            rows: sample
                .words
                .iter()
                .map(|word| PairRow {
                    name: word.word.clone(),
                    first: Some(per_cent(word.panel.share)),
                    second: Some(per_cent(word.class.share)),
                })
                .collect(),
            axis: "per cent who found the word".to_owned(),
            scale: (0.0, 100.0),
            names: (
                format!("panel, {}", count(sample.assessors, "assessor")),
                format!("class, {}", count(sample.learners, "learner")),
            ),
        },
        table: PlotTable {
            head: ["word", "panel", "weight", "class", "class, 95 % interval"]
                .map(str::to_owned)
                .to_vec(),
            rows: sample.words.iter().map(word_row).collect(),
        },
    }
}

fn word_row(word: &ClassWord) -> Vec<String> {
    let of = |share: &statistics::descriptive::proportion::Proportion| {
        format!("{} of {}", share.successes, share.n)
    };
    vec![
        word.word.clone(),
        of(&word.panel),
        word.weight
            .map_or_else(|| "\u{2013}".to_owned(), |weight| format!("{weight:.2}")),
        of(&word.class),
        format!(
            "{:.0} to {:.0} %",
            per_cent(word.class.interval.lower),
            per_cent(word.class.interval.upper)
        ),
    ]
}

fn ratings(sample: &SampleBesideClass) -> PlotTable {
    PlotTable {
        head: ["rated", "n", "class, mean", "from", "to", "beside it"]
            .map(str::to_owned)
            .to_vec(),
        rows: sample
            .ratings
            .iter()
            .map(|rating| {
                vec![
                    format!("{} ({})", rating.what, rating.scale),
                    rating.class.n.to_string(),
                    format!("{:.1}", rating.class.mean),
                    rating.class.smallest.to_string(),
                    rating.class.largest.to_string(),
                    rating.beside.clone(),
                ]
            })
            .collect(),
    }
}

/// Quality by the panel and by the class; none where nobody of the class rated it.
fn quality(beside: &ClassBesidePanel) -> Option<Plot> {
    let rated: Vec<(&SampleBesideClass, Option<f64>, f64, usize)> = beside
        .samples
        .iter()
        .filter_map(|sample| {
            let rating = sample.ratings.iter().find(|r| r.what == "Quality")?;
            Some((sample, rating.panels, rating.class.mean, rating.class.n))
        })
        .collect();
    let farthest = rated
        .iter()
        .filter_map(|(sample, panels, class, _)| Some((sample, class - (*panels)?)))
        .max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
    let sentence = match farthest {
        Some((sample, gap)) => format!(
            "Class and panel lie farthest apart on {}: the class rates it {:.1} {} on average.",
            sample.name,
            gap.abs(),
            if gap < 0.0 { "lower" } else { "higher" }
        ),
        None => "The panel did not rate these samples.".to_owned(),
    };
    (!rated.is_empty()).then(|| Plot {
        name: "quality".to_owned(),
        title: "Quality".to_owned(),
        sentence: format!("{sentence} How much anybody liked a sample is compared with nothing."),
        drawn: Drawn::Pairs {
            rows: rated
                .iter()
                .map(|(sample, panels, class, _)| PairRow {
                    name: sample.name.clone(),
                    first: *panels,
                    second: Some(*class),
                })
                .collect(),
            axis: "quality, 0 poor to 10 outstanding".to_owned(),
            scale: (0.0, 10.0),
            names: ("panel, mean".to_owned(), "class, mean".to_owned()),
        },
        table: PlotTable {
            head: ["sample", "panel", "class", "n"]
                .map(str::to_owned)
                .to_vec(),
            rows: rated
                .iter()
                .map(|(sample, panels, class, n)| {
                    vec![
                        sample.name.clone(),
                        panels.map_or_else(|| "\u{2013}".to_owned(), |mean| format!("{mean:.1}")),
                        format!("{class:.1}"),
                        n.to_string(),
                    ]
                })
                .collect(),
        },
    })
}
