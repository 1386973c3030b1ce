//! The forms of an exam side by side: their table and sentences, and the page that shows them.

use std::path::Path;

use assembler::form_report::{FormFigures, FormsBeside};
use renderer::content::examiner::{PagePlot, ReportPage, ReportSection, ReportTable};
use renderer::plot::{Drawn, LimitsRow, Plot, PlotCurve, PlotLine, PlotTable};

use crate::failure::Failure;
use crate::print::templates::pages_for;
use crate::surroundings::Surroundings;

/// From this difference of expected marks on it is said that a search would bring forms nearer.
const WORTH_A_SEARCH: f64 = 0.2;
/// The most forms whose curves can be told apart in one picture.
const MOST_CURVES: usize = 7;

/// The forms as a table: what, then one column for each form.
#[must_use]
pub fn forms_table(beside: &FormsBeside) -> (Vec<String>, Vec<Vec<String>>) {
    let mut head = vec!["on each form".to_owned()];
    head.extend(
        beside
            .forms
            .iter()
            .map(|form| format!("form {}", form.form)),
    );
    let row = |what: &str, of: &dyn Fn(&FormFigures) -> String| {
        let mut row = vec![what.to_owned()];
        row.extend(beside.forms.iter().map(of));
        row
    };
    let mut rows: Vec<Vec<String>> = Vec::new();
    let cells = beside.forms.first().map_or(0, |form| form.cells.len());
    for cell in 0..cells {
        let name = beside.forms.first().and_then(|form| form.cells.get(cell));
        let name = name.map_or("", |(name, _)| name.as_str());
        rows.push(row(name, &|form| {
            form.cells
                .get(cell)
                .map_or_else(String::new, |(_, n)| n.to_string())
        }));
    }
    rows.push(row("questions that count", &|form| {
        form.counted.to_string()
    }));
    rows.push(row("questions that do not", &|form| {
        form.pretest.to_string()
    }));
    rows.push(row("full marks", &|form| form.of.to_string()));
    rows.push(row("words to read", &|form| form.words.to_string()));
    rows.push(row("minutes", &|form| format!("{:.0}", form.minutes)));
    rows.push(row("expected marks at the cut", &|form| {
        format!("{:.2}", form.expected)
    }));
    rows.push(row("standard deviation there", &|form| {
        format!("{:.2}", form.deviation)
    }));
    rows.push(row("information there", &|form| {
        format!("{:.2}", form.information)
    }));
    rows.push(row("difference of the cut", &|form| {
        signed(form.cut_difference)
    }));
    (head, rows)
}

/// In words how equally hard the forms are and how that is known, a sentence or two each.
#[must_use]
pub fn forms_in_words(beside: &FormsBeside) -> Vec<String> {
    let mut told = Vec::new();
    if beside.forms.len() > 1 {
        told.push(format!(
            "Somebody at the cut of {} is expected to have the same on each form to within {:.2} \
             marks.",
            percent(beside.cut),
            beside.largest_difference
        ));
    }
    told.push(format!(
        "{}; so an expected mean is uncertain by {:.1} marks.",
        known_from(beside.known_from),
        beside.uncertainty
    ));
    if beside.nearness.is_none() && beside.largest_difference >= WORTH_A_SEARCH {
        told.push(
            "The forms were drawn by lot; \"draw: near-best\" in the plan would bring them nearer."
                .to_owned(),
        );
    }
    if let Some(near) = &beside.nearness {
        let off = |deviation: f64| {
            if near.in_per_cent_of_target {
                format!("{deviation:.3} % of the target")
            } else {
                format!("{:.3} marks", deviation / 100.0)
            }
        };
        let mut sentence = format!(
            "Aimed at: {}. Forms lie at most {} off",
            near.targets.join("; "),
            off(near.deviation)
        );
        match (near.bound, near.gap) {
            (Some(bound), Some(gap)) => sentence.push_str(&format!(
                "; no forms can come nearer than {}, so at most {gap:.1} % is given away.",
                off(bound)
            )),
            (Some(_), None) => {
                sentence.push_str("; whether less is possible the linear bound does not say.")
            }
            (None, _) => sentence.push('.'),
        }
        told.push(sentence);
    }
    told
}

/// From what the difficulty of the questions is known; nothing is said of a kind that is not there.
fn known_from([parameters, share, author]: [usize; 3]) -> String {
    if parameters == 0 && share == 0 {
        return format!("How hard the {author} questions are is only their authors' guess");
    }
    let kinds = [
        (parameters, "by parameters from answers"),
        (share, "by a share of right answers"),
        (author, "by the author's guess alone"),
    ];
    let there: Vec<String> = kinds
        .iter()
        .filter(|(number, _)| *number > 0)
        .map(|(number, how)| format!("{number} {how}"))
        .collect();
    format!("How hard the questions are is known: {}", there.join(", "))
}

/// With two places and its sign; nothing has none.
fn signed(difference: f64) -> String {
    match format!("{difference:+.2}").as_str() {
        "+0.00" | "-0.00" => "0.00".to_owned(),
        other => other.replace('-', "\u{2212}"),
    }
}

fn percent(thousandths: u32) -> String {
    format!("{} %", f64::from(thousandths) / 10.0)
}

/// Writes the page.
///
/// # Errors
/// When a template of one's own cannot make it, or the file cannot be written.
pub(crate) fn write_forms_page(
    around: &dyn Surroundings,
    folder: &Path,
    to: &Path,
    (title, source): (&str, &str),
    beside: &FormsBeside,
) -> Result<(), Failure> {
    let pages = pages_for(around, folder, None)?;
    let page = content(title, source, beside);
    let html = pages.report(&page).map_err(|fault| Failure::Faults {
        faults: vec![*fault],
        sources: crate::texts::Sources::new(),
    })?;
    around.write(to, html.as_bytes())
}

fn content(title: &str, source: &str, beside: &FormsBeside) -> ReportPage {
    let (head, rows) = forms_table(beside);
    let mut plots = vec![expected_at_cut(beside)];
    if beside.forms.len() <= MOST_CURVES {
        plots.push(over_ability(beside, "expected", "Expected marks", &|at| {
            at.expected
        }));
        plots.push(over_ability(beside, "information", "Information", &|at| {
            at.information
        }));
    }
    ReportPage {
        title: format!("{title}: forms side by side"),
        source: source.to_owned(),
        verdict: forms_in_words(beside),
        sections: vec![
            ReportSection {
                heading: "What each form holds".to_owned(),
                tables: vec![ReportTable {
                    caption: "Questions by cell, length, and what somebody at the cut can expect"
                        .to_owned(),
                    numbers: PlotTable { head, rows },
                }],
                ..ReportSection::default()
            },
            ReportSection {
                heading: "How equally hard they are".to_owned(),
                plots: plots.iter().map(PagePlot::from).collect(),
                ..ReportSection::default()
            },
        ],
    }
}

fn expected_at_cut(beside: &FormsBeside) -> Plot {
    let mean = beside.forms.iter().map(|form| form.expected).sum::<f64>()
        / beside.forms.len().max(1) as f64;
    Plot {
        name: "expected-at-the-cut".to_owned(),
        title: "Expected marks at the cut".to_owned(),
        sentence: "What somebody exactly at the cut can expect on each form. The bars are one \
                   standard error by what is not known of the questions: they say how far the \
                   forms may differ in truth."
            .to_owned(),
        drawn: Drawn::Limits {
            rows: beside
                .forms
                .iter()
                .map(|form| LimitsRow {
                    name: format!("form {}", form.form),
                    value: form.expected,
                    limits: Some((
                        form.expected - beside.uncertainty,
                        form.expected + beside.uncertainty,
                    )),
                })
                .collect(),
            axis: "marks".to_owned(),
            middle: Some(mean),
        },
        table: PlotTable {
            head: ["form", "expected marks", "difference from the mean"]
                .map(str::to_owned)
                .to_vec(),
            rows: beside
                .forms
                .iter()
                .map(|form| {
                    vec![
                        form.form.clone(),
                        format!("{:.2}", form.expected),
                        format!("{:+.2}", form.cut_difference),
                    ]
                })
                .collect(),
        },
    }
}

fn over_ability(
    beside: &FormsBeside,
    name: &str,
    what: &str,
    value: &dyn Fn(&assembler::form_report::AtAbility) -> f64,
) -> Plot {
    let mut top = 0.0_f64;
    let mut lines = Vec::new();
    for form in &beside.forms {
        let points: Vec<(f64, f64)> = form
            .over_ability
            .iter()
            .map(|at| (at.ability, value(at)))
            .collect();
        top = points.iter().map(|(_, up)| *up).fold(top, f64::max);
        lines.push(PlotCurve {
            name: form.form.clone(),
            points,
            strong: false,
            dots: false,
        });
    }
    let mut head = vec!["ability".to_owned()];
    head.extend(
        beside
            .forms
            .iter()
            .map(|form| format!("form {}", form.form)),
    );
    let abilities = beside
        .forms
        .first()
        .map_or(&[][..], |form| &form.over_ability);
    let rows = abilities
        .iter()
        .enumerate()
        .map(|(place, at)| {
            let mut row = vec![format!("{:.2}", at.ability)];
            row.extend(beside.forms.iter().map(|form| {
                form.over_ability
                    .get(place)
                    .map_or_else(String::new, |at| format!("{:.2}", value(at)))
            }));
            row
        })
        .collect();
    Plot {
        name: format!("{name}-over-ability"),
        title: format!("{what} by ability"),
        sentence: format!(
            "{what} of each form for weaker people on the left and abler ones on the right; the \
             line down is the ability at the cut. Where the lines lie on each other it does not \
             matter which form somebody holds."
        ),
        drawn: Drawn::Curves {
            lines,
            axis: "ability".to_owned(),
            up: what.to_lowercase(),
            // Room above the highest line for the name of the cut.
            top: (top * 1.2).max(0.1),
            places: Vec::new(),
            line: Some(PlotLine {
                at: beside.ability_at_cut,
                label: "at the cut".to_owned(),
                reach: None,
            }),
        },
        table: PlotTable { head, rows },
    }
}
