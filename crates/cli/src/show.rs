//! How faults and tables look on a terminal.

use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use workflow::Fault;
use workflow::texts::Sources;

use crate::talk::Talk;

/// Shows faults and weaknesses: faults first, each with the line it is about.
pub(crate) fn findings(talk: &Talk, findings: &[Fault], sources: &Sources) {
    let renderer = if talk.colour() {
        Renderer::styled()
    } else {
        Renderer::plain()
    };
    let renderer = renderer.term_width(talk.width());
    for fault in findings.iter().filter(|f| !f.is_weakness()) {
        talk.say(&one(&renderer, fault, sources));
        talk.say("");
    }
    for weakness in findings.iter().filter(|f| f.is_weakness()) {
        talk.say(&one(&renderer, weakness, sources));
        talk.say("");
    }
}

fn one(renderer: &Renderer, fault: &Fault, sources: &Sources) -> String {
    let level = if fault.is_weakness() {
        Level::WARNING.with_name("weakness")
    } else {
        Level::ERROR.with_name("fault")
    };
    let mut group = Group::with_title(level.primary_title(&fault.what).id(fault.rule));
    if let Some(place) = &fault.place {
        let text: &str = sources.get(&place.source).map_or("", |text| text);
        // Only the line itself is handed over: a bank may be long, and the library would count
        // through all of it for every fault.
        let start = text
            .get(..place.start)
            .and_then(|t| t.rfind('\n'))
            .map_or(0, |at| at + 1);
        let end = text
            .get(place.start..)
            .and_then(|t| t.find('\n'))
            .map_or(text.len(), |at| place.start + at);
        let line = text.get(start..end).unwrap_or("").trim_end_matches('\r');
        let from = (place.start - start.min(place.start)).min(line.len());
        let to = (place.end.max(place.start) - start.min(place.end)).clamp(from, line.len());
        let span = if line.get(from..to).is_some() {
            from..to
        } else {
            0..line.len()
        };
        let snippet = Snippet::source(line)
            .path(place.source.as_str())
            .line_start(usize::try_from(place.line).unwrap_or(1))
            .annotation(AnnotationKind::Primary.span(span));
        group = group.element(snippet);
    }
    if let Some(allowed) = &fault.allowed {
        group = group.element(Level::NOTE.with_name("allowed").message(allowed));
    }
    if let Some(hint) = &fault.hint {
        group = group.element(Level::HELP.with_name("hint").message(hint));
    }
    renderer.render(&[group])
}

/// A table with aligned columns: the first to the left, the others to the right.
pub(crate) fn table(head: &[&str], rows: &[Vec<String>]) -> String {
    let width = |column: usize| {
        let cells = rows
            .iter()
            .filter_map(|row| row.get(column))
            .map(|c| c.chars().count());
        cells
            .chain(head.get(column).map(|h| h.chars().count()))
            .max()
            .unwrap_or(0)
    };
    let line = |cells: &[&str]| {
        let mut text = String::new();
        for (column, cell) in cells.iter().enumerate() {
            let pad = " ".repeat(width(column).saturating_sub(cell.chars().count()));
            if column == 0 {
                text.push_str(cell);
                text.push_str(&pad);
            } else {
                text.push_str("  ");
                text.push_str(&pad);
                text.push_str(cell);
            }
        }
        text.trim_end().to_owned()
    };
    let mut lines = vec![line(head)];
    lines.push("-".repeat(lines.first().map_or(0, |l| l.chars().count())));
    for row in rows {
        lines.push(line(&row.iter().map(String::as_str).collect::<Vec<_>>()));
    }
    lines.join("\n")
}

/// Rows with aligned columns to the left, the last as long as it is.
pub(crate) fn list(rows: &[Vec<String>]) -> String {
    let width = |column: usize| {
        rows.iter()
            .filter_map(|row| row.get(column))
            .map(|c| c.chars().count())
            .max()
            .unwrap_or(0)
    };
    rows.iter()
        .map(|row| {
            let mut line = String::from(" ");
            for (column, cell) in row.iter().enumerate() {
                let pad = " ".repeat(width(column).saturating_sub(cell.chars().count()));
                line.push_str(&format!(" {cell}{pad} "));
            }
            line.trim_end().to_owned()
        })
        .collect::<Vec<_>>()
        .join("\n")
}

/// A share as a per cent, with as many decimals as it has and no more than six: "7 %", "0.1 %".
pub(crate) fn percent(share: f64) -> String {
    // A share times 100 is not always the number that was typed: 0.07 becomes 7.000000000000001.
    format!("{} %", (share * 1e8).round() / 1e6)
}

/// "1 fault", "3 faults".
pub(crate) fn count(number: usize, one: &str) -> String {
    if number == 1 {
        format!("1 {one}")
    } else {
        format!("{number} {one}s")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_per_cent_reads_as_it_was_typed() {
        for thousandths in 0..=1000_u32 {
            let (whole, rest) = (thousandths / 10, thousandths % 10);
            let typed = match rest {
                0 => format!("{whole} %"),
                rest => format!("{whole}.{rest} %"),
            };
            assert_eq!(percent(f64::from(thousandths) / 1000.0), typed);
        }
        assert_eq!(percent(0.995), "99.5 %");
    }
}
