//! Tables for a person to open in a spreadsheet (CSV, RFC 4180): the other side of [`crate::table`].
//!
//! No cell is run by a spreadsheet: what begins as a formula does gets an apostrophe in front, which
//! [`unguarded`] takes off again where the table comes back.

/// The cell with an apostrophe in front, where a spreadsheet would run it.
#[must_use]
pub fn guarded(cell: &str) -> String {
    if runs(cell) {
        format!("'{cell}")
    } else {
        cell.to_owned()
    }
}

/// The text that a guarded cell stands for; a cell without a guard stands for itself.
#[must_use]
pub fn unguarded(cell: &str) -> &str {
    match cell.strip_prefix('\'') {
        Some(text) if runs(text) => text,
        Some(_) | None => cell,
    }
}

/// Whether a spreadsheet would run this cell. One that is guarded already is guarded once more, or it
/// would come back bare.
fn runs(cell: &str) -> bool {
    if let Some(rest) = cell.strip_prefix('\'') {
        return runs(rest);
    }
    match cell.trim_start_matches(' ').chars().next() {
        // Full-width forms are read as the plain signs by spreadsheet programs of East Asia.
        Some('=' | '+' | '-' | '@' | '\t' | '\r' | '\n' | '＝' | '＋' | '－' | '＠') => {
            !is_number(cell)
        }
        Some(_) | None => false,
    }
}

/// Digits with at most one sign in front and one full stop or comma between.
fn is_number(cell: &str) -> bool {
    let digits = cell.strip_prefix(['+', '-']).unwrap_or(cell);
    let (whole, part) = digits.split_once(['.', ',']).unwrap_or((digits, "0"));
    let all_digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    all_digits(whole) && all_digits(part)
}

/// The cell in double quotes, where it must be.
#[must_use]
pub fn quoted(cell: &str) -> String {
    let plain = !cell.contains([',', ';', '\t', '"', '\r', '\n'])
        && !cell.starts_with(char::is_whitespace)
        && !cell.ends_with(char::is_whitespace);
    if plain {
        cell.to_owned()
    } else {
        format!("\"{}\"", cell.replace('"', "\"\""))
    }
}

/// A row of cells, guarded, quoted and ended. Spaces around a cell's text are left out, as the reader
/// leaves them out: the guard is put in front of what will be read.
#[must_use]
pub fn row<Cell: AsRef<str>>(cells: impl IntoIterator<Item = Cell>) -> String {
    let cells: Vec<String> = cells
        .into_iter()
        .map(|cell| quoted(&guarded(cell.as_ref().trim())))
        .collect();
    cells.join(",") + "\r\n"
}

/// A table with its head.
#[must_use]
pub fn table<const N: usize>(
    head: [&str; N],
    rows: impl IntoIterator<Item = [String; N]>,
) -> String {
    let mut text = row(head);
    for cells in rows {
        text.push_str(&row(cells));
    }
    text
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::SourceText;
    use crate::table::Table;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn any_cell_comes_back_and_none_runs(cells in prop::collection::vec("[ -~\t\r\n=+@é＝']{0,12}", 3)) {
            let cells: [String; 3] = cells.try_into().unwrap();
            let text = table(["a", "b", "c"], [cells.clone()]);
            let source = SourceText::new("t.csv", &text);
            let read = Table::read(&source).unwrap();
            // A row that is empty throughout is left out by the reader.
            if let Some(row) = read.rows().first() {
                for (cell, was) in row.cells().iter().zip(&cells) {
                    prop_assert_eq!(unguarded(&cell.text).trim(), was.trim());
                    let first = cell.text.trim_start_matches(' ').chars().next();
                    prop_assert!(!matches!(first, Some('=' | '@' | '＝')), "{:?}", cell.text);
                }
            }
        }
        #[test]
        fn signed_numbers_stay_numbers(number in -9_999_i32..9_999) {
            prop_assert_eq!(guarded(&number.to_string()), number.to_string());
        }
    }
}
