//! How a bank looks on a terminal: cells by state and level, how long they last, kinds as bars.

use std::collections::BTreeMap;

use workflow::bank_table::{BankTable, Counts};
use workflow::planned_cover::CoverLine;
use workflow::{Level, ReviewState};

use crate::show;

/// Columns for the name of a cell, at least.
const NARROWEST_NAME: usize = 12;

/// The whole picture, within so many columns where its numbers allow.
pub(crate) fn bank_picture(table: &BankTable, cover: &[CoverLine], width: usize) -> String {
    format!(
        "{}\n{}, {}, {} in the lexicon\n\n{}\n\n{}",
        table.title,
        show::count(table.questions, "question"),
        show::count(table.samples, "sample record"),
        show::count(table.words, "word"),
        cells(table, cover, width),
        kinds(table, width)
    )
}

fn at(counts: &Counts, state: ReviewState, level: Level) -> usize {
    counts
        .get(&state)
        .and_then(|levels| levels.get(&level))
        .copied()
        .unwrap_or(0)
}

/// A number, or a point where there is none, so that the eye finds what is there.
fn number(number: usize) -> String {
    if number == 0 {
        "·".to_owned()
    } else {
        number.to_string()
    }
}

fn right(text: &str, width: usize) -> String {
    let pad = width.saturating_sub(text.chars().count());
    format!("{}{text}", " ".repeat(pad))
}

fn left(text: &str, width: usize) -> String {
    let length = text.chars().count();
    if length > width {
        let kept: String = text.chars().take(width.saturating_sub(1)).collect();
        return format!("{}…", kept.trim_end());
    }
    format!("{text}{}", " ".repeat(width - length))
}

fn cells(table: &BankTable, cover: &[CoverLine], width: usize) -> String {
    let (used, unused): (Vec<ReviewState>, Vec<ReviewState>) = ReviewState::ALL
        .into_iter()
        .partition(|state| table.counts.contains_key(state));
    // Three numbers a state, as wide as the largest of them in any cell.
    let largest = table
        .cells
        .iter()
        .flat_map(|line| line.counts.values().flat_map(|levels| levels.values()))
        .copied()
        .max()
        .unwrap_or(0);
    let figure = largest.to_string().len().max(2);
    let widths: Vec<usize> = used
        .iter()
        .map(|state| (3 * figure + 2).max(state.word().len()))
        .collect();
    let all = table.questions.to_string().len().max(3);
    let lasts = lasts_by_cell(cover);
    let behind: usize = widths.iter().map(|width| width + 2).sum::<usize>()
        + all
        + 2
        + if lasts.is_empty() { 0 } else { 7 };
    let longest = table.cells.iter().map(|line| line.cell.chars().count());
    let name = longest
        .max()
        .unwrap_or(0)
        .min(width.saturating_sub(behind))
        .max(NARROWEST_NAME);
    let row = |first: &str, counts: &Counts, questions: usize, last: &str| {
        let mut line = left(first, name);
        for (state, width) in used.iter().zip(&widths) {
            let triple = Level::ALL
                .map(|level| right(&number(at(counts, *state, level)), figure))
                .join(" ");
            line.push_str(&format!("  {}", right(&triple, *width)));
        }
        line.push_str(&format!("  {}", right(&questions.to_string(), all)));
        if !lasts.is_empty() {
            line.push_str(&format!("  {}", right(last, 5)));
        }
        line.trim_end().to_owned()
    };
    let mut head = left("", name);
    let mut below = left("cell", name);
    for (state, width) in used.iter().zip(&widths) {
        head.push_str(&format!("  {}", right(state.word(), *width)));
        let letters = ["R", "A", "J"]
            .map(|letter| right(letter, figure))
            .join(" ");
        below.push_str(&format!("  {}", right(&letters, *width)));
    }
    below.push_str(&format!("  {}", right("all", all)));
    if !lasts.is_empty() {
        below.push_str(&format!("  {}", right("lasts", 5)));
    }
    let rule = "─".repeat(below.chars().count());
    let mut lines = vec![head.trim_end().to_owned(), below, rule.clone()];
    for line in &table.cells {
        let last = lasts.get(line.id.as_str()).map_or("–", String::as_str);
        lines.push(row(&line.cell, &line.counts, line.questions, last));
    }
    lines.push(rule);
    let mut sums = left("in all", name);
    for (state, width) in used.iter().zip(&widths) {
        let levels = table.counts.get(state).into_iter();
        let sum: usize = levels.flat_map(|levels| levels.values()).sum();
        sums.push_str(&format!("  {}", right(&sum.to_string(), *width)));
    }
    sums.push_str(&format!("  {}", right(&table.questions.to_string(), all)));
    lines.push(sums);
    let of_level = |level: Level| -> usize {
        let states = table.counts.values();
        states.filter_map(|levels| levels.get(&level)).sum()
    };
    let [recall, application, judgement] = Level::ALL.map(of_level);
    lines.push(format!(
        "R recall {recall}, A application {application}, J judgement {judgement}"
    ));
    if !unused.is_empty() {
        let words: Vec<&str> = unused.iter().map(|state| state.word()).collect();
        lines.push(format!("no question is {}", words.join(" or ")));
    }
    if let Some(said) = what_lasts_means(cover) {
        lines.push(said);
    }
    lines.join("\n")
}

/// For how many exams each cell lasts, by its id: that of its line that runs dry first.
fn lasts_by_cell(cover: &[CoverLine]) -> BTreeMap<&str, String> {
    let mut fewest: BTreeMap<&str, Option<usize>> = BTreeMap::new();
    for line in cover {
        let known = fewest.entry(line.cell.as_str()).or_insert(line.exams);
        *known = match (*known, line.exams) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (one, other) => one.or(other),
        };
    }
    fewest
        .into_iter()
        .map(|(cell, exams)| {
            (
                cell,
                exams.map_or_else(|| "∞".to_owned(), |n| n.to_string()),
            )
        })
        .collect()
}

fn what_lasts_means(cover: &[CoverLine]) -> Option<String> {
    let first = cover.first()?;
    let alike = cover
        .iter()
        .all(|line| (line.takes, line.kept) == (first.takes, first.kept));
    Some(if alike {
        format!(
            "lasts: exams, each taking {} of a cell, {} of them from the exam before",
            first.takes, first.kept
        )
    } else {
        "lasts: exams as this plan draws them, with its planned overlap".to_owned()
    })
}

fn kinds(table: &BankTable, width: usize) -> String {
    let name = table
        .kinds
        .iter()
        .map(|line| line.kind.len())
        .max()
        .unwrap_or(0);
    let most = table
        .kinds
        .iter()
        .map(|line| line.questions)
        .max()
        .unwrap_or(0);
    let figure = most.to_string().len().max(3);
    let room = width.saturating_sub(name + figure + 4).clamp(10, 50);
    let mut lines = vec![format!("{}  {}", left("kind", name), right("all", figure))];
    lines.push("─".repeat(name + figure + 2));
    for line in &table.kinds {
        // A kind with any question shows at least a sliver.
        let eighths = (line.questions * room * 8).div_ceil(most.max(1));
        let bar = format!(
            "{}{}",
            "█".repeat(eighths / 8),
            ["", "▏", "▎", "▍", "▌", "▋", "▊", "▉"]
                .get(eighths % 8)
                .unwrap_or(&"")
        );
        let text = format!(
            "{}  {}  {bar}",
            left(line.kind, name),
            right(&number(line.questions), figure)
        );
        lines.push(text.trim_end().to_owned());
    }
    lines.join("\n")
}
