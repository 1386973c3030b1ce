//! A table as a spreadsheet saves it (CSV, RFC 4180), with the place of every cell.
//!
//! The separator is comma, semicolon or tab, whichever stands in the first line; a byte order mark
//! and Windows line ends are read over. Rows that are empty throughout are left out.

use std::ops::Range;

use crate::fault::Fault;
use crate::place::{self, Place, SourceText};

/// A table with a header.
#[derive(Debug, Clone)]
pub struct Table<'t> {
    source: &'t SourceText,
    lines: place::Lines,
    header: Vec<Cell>,
    rows: Vec<Row>,
}

/// One row below the header.
#[derive(Debug, Clone, Default)]
pub struct Row {
    cells: Vec<Cell>,
    bytes: Range<usize>,
}

/// One cell: its text without quotes and outer spaces, and where it stands.
#[derive(Debug, Clone, Default)]
pub struct Cell {
    /// The text.
    pub text: String,
    /// Its bytes, quotes included.
    pub bytes: Range<usize>,
}

/// A column's place in a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Column(usize);

/// The separator of a table, from its first line: the one that stands there outside quotes; comma
/// where none does.
///
/// # Errors
/// The separators found, where more than one could be meant.
pub fn separator_of(first_line: &str) -> Result<u8, Vec<char>> {
    let mut quoted = false;
    let mut found = Vec::new();
    for c in first_line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' | ';' | '\t' if !quoted && !found.contains(&c) => found.push(c),
            _ => {}
        }
    }
    match found.as_slice() {
        [] => Ok(b','),
        [one] => Ok(u8::try_from(*one).unwrap_or(b',')),
        [_, _, ..] => Err(found),
    }
}

/// The most columns of a table: what an exam of a hundred glasses would need, and room to spare.
pub const MOST_COLUMNS: usize = 4096;

impl<'t> Table<'t> {
    /// Reads a table.
    ///
    /// # Errors
    /// Where the separator is not clear, where a quote is not closed, where the text is empty.
    pub fn read(source: &'t SourceText) -> Result<Self, Box<Fault>> {
        let whole: &str = &source.text;
        let offset = if whole.starts_with('\u{feff}') {
            '\u{feff}'.len_utf8()
        } else {
            0
        };
        let text = whole.get(offset..).unwrap_or("");
        let first_line = text.lines().next().unwrap_or("");
        let separator = separator_of(first_line).map_err(|found| {
            let names: Vec<_> = found
                .iter()
                .map(|c| {
                    if *c == '\t' {
                        "tab".to_owned()
                    } else {
                        format!("'{c}'")
                    }
                })
                .collect();
            Box::new(
                Fault::new(
                    "unclear-separator",
                    source.place(offset..offset + first_line.len()),
                    format!(
                        "the first line holds {}: which one separates the columns is not clear",
                        names.join(" and ")
                    ),
                )
                .allowed("comma, semicolon or tab, one of them throughout")
                .hint("put column names that hold a separator in double quotes"),
            )
        })?;
        let mut lines = Lines {
            text,
            separator,
            at: 0,
            offset,
        };
        let mut header = None;
        let mut rows = Vec::new();
        while let Some(row) = lines.next_row().map_err(|bytes| {
            Box::new(
                Fault::new(
                    "open-quote",
                    source.place(bytes),
                    "this double quote is never closed",
                )
                .hint("a quote inside a quoted cell is written twice"),
            )
        })? {
            if row.cells.iter().all(|cell| cell.text.is_empty()) {
                continue;
            }
            match header {
                None => header = Some(row.cells),
                Some(_) => rows.push(row),
            }
        }
        match header {
            Some(header) if header.len() > MOST_COLUMNS => Err(Box::new(
                Fault::new(
                    "too-many-columns",
                    source.place(offset..offset),
                    format!("this table has {} columns", header.len()),
                )
                .allowed(format!("at most {MOST_COLUMNS}")),
            )),
            Some(header) => Ok(Self {
                source,
                lines: place::Lines::of(whole),
                header,
                rows,
            }),
            None => Err(Box::new(
                Fault::new(
                    "empty-table",
                    Place::whole(&source.name),
                    "this table is empty",
                )
                .hint("the first line names the columns"),
            )),
        }
    }

    /// The column of this name; case and outer spaces do not matter.
    #[must_use]
    pub fn column(&self, name: &str) -> Option<Column> {
        self.header
            .iter()
            .position(|cell| cell.text.eq_ignore_ascii_case(name))
            .map(Column)
    }
    /// The names of all columns with their places.
    #[must_use]
    pub fn header(&self) -> &[Cell] {
        &self.header
    }
    /// The rows.
    #[must_use]
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }
    /// The place of a cell or a row.
    #[must_use]
    pub fn place(&self, bytes: &Range<usize>) -> Place {
        Place::in_lines(
            &self.source.name,
            &self.source.text,
            &self.lines,
            bytes.clone(),
        )
    }

    /// Finds the required columns and reports, all at once, which are missing, which stand twice
    /// and which are not known.
    pub fn columns<const N: usize>(
        &self,
        required: [&'static str; N],
        optional: &[&'static str],
        faults: &mut Vec<Fault>,
    ) -> Option<[Column; N]> {
        let known: Vec<&str> = required.iter().chain(optional).copied().collect();
        for (place, cell) in self.header.iter().enumerate() {
            let same = |other: &Cell| other.text.eq_ignore_ascii_case(&cell.text);
            if !known
                .iter()
                .any(|name| cell.text.eq_ignore_ascii_case(name))
            {
                faults.push(
                    Fault::new(
                        "unknown-column",
                        self.place(&cell.bytes),
                        format!(
                            "no column \"{}\" is known",
                            crate::walk::shortened(&cell.text)
                        ),
                    )
                    .allowed(known.join(", "))
                    .near(&cell.text, known.iter().copied()),
                );
            } else if self.header.iter().take(place).any(same) {
                faults.push(Fault::new(
                    "doubled-column",
                    self.place(&cell.bytes),
                    format!("the column \"{}\" stands twice", cell.text),
                ));
            }
        }
        let mut places = [Column(0); N];
        let mut complete = true;
        for (slot, name) in places.iter_mut().zip(required) {
            if let Some(column) = self.column(name) {
                *slot = column;
            } else {
                complete = false;
                let bytes = self.header.first().map_or(0..0, |cell| cell.bytes.clone());
                faults.push(
                    Fault::new(
                        "missing-column",
                        self.place(&bytes),
                        format!("the column \"{name}\" is missing"),
                    )
                    .allowed(known.join(", "))
                    .hint("the first line names the columns"),
                );
            }
        }
        complete.then_some(places)
    }
}

impl Row {
    /// The cell of a column; an empty one where the row is short.
    #[must_use]
    pub fn cell(&self, column: Column) -> Cell {
        self.cells.get(column.0).cloned().unwrap_or_else(|| Cell {
            text: String::new(),
            bytes: self.bytes.clone(),
        })
    }
    /// All cells.
    #[must_use]
    pub fn cells(&self) -> &[Cell] {
        &self.cells
    }
    /// Where the row stands.
    #[must_use]
    pub fn bytes(&self) -> &Range<usize> {
        &self.bytes
    }
}

/// Goes through a text row by row. A small scanner of our own, because the csv library tells the
/// place of a row and not of a cell; that both read the same cells is a property test.
struct Lines<'t> {
    text: &'t str,
    separator: u8,
    at: usize,
    offset: usize,
}

impl Lines<'_> {
    fn next_row(&mut self) -> Result<Option<Row>, Range<usize>> {
        let bytes = self.text.as_bytes();
        if self.at >= bytes.len() {
            return Ok(None);
        }
        let start = self.at;
        let mut row = Row::default();
        loop {
            let from = self.at;
            let mut text = String::new();
            if bytes.get(self.at) == Some(&b'"') {
                self.at += 1;
                loop {
                    let rest = self.text.get(self.at..).unwrap_or("");
                    let Some(length) = rest.find('"') else {
                        return Err(self.offset + from..self.offset + from + 1);
                    };
                    text.push_str(rest.get(..length).unwrap_or(""));
                    self.at += length + 1;
                    if bytes.get(self.at) == Some(&b'"') {
                        text.push('"');
                        self.at += 1;
                    } else {
                        break;
                    }
                }
            }
            let rest = self.text.get(self.at..).unwrap_or("");
            let length = rest
                .bytes()
                .position(|b| b == self.separator || b == b'\n' || b == b'\r')
                .unwrap_or(rest.len());
            text.push_str(rest.get(..length).unwrap_or(""));
            self.at += length;
            row.cells.push(Cell {
                text: text.trim().to_owned(),
                bytes: self.offset + from..self.offset + self.at,
            });
            match bytes.get(self.at) {
                Some(b) if *b == self.separator => self.at += 1,
                Some(_) | None => break,
            }
        }
        row.bytes = self.offset + start..self.offset + self.at;
        // One line end: \r\n, \n or \r.
        if bytes.get(self.at) == Some(&b'\r') {
            self.at += 1;
        }
        if bytes.get(self.at) == Some(&b'\n') {
            self.at += 1;
        }
        Ok(Some(row))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_german_spreadsheet_is_read() {
        let source = SourceText::new(
            "roster.csv",
            "\u{feff}candidate;name\r\nC-1;\"Ada \"\"A\"\" X\"\r\n;\r\nC-2; Bo \r\n",
        );
        let table = Table::read(&source).unwrap();
        let mut faults = Vec::new();
        let [number, name] = table
            .columns(["candidate", "name"], &[], &mut faults)
            .unwrap();
        assert!(faults.is_empty());
        assert_eq!(table.rows().len(), 2);
        assert_eq!(table.rows()[0].cell(name).text, "Ada \"A\" X");
        assert_eq!(table.rows()[1].cell(number).text, "C-2");
        assert_eq!(table.place(&table.rows()[1].cell(name).bytes).line, 4);
    }

    #[test]
    fn unclear_texts_are_refused() {
        for (text, rule) in [
            ("a,b;c\n", "unclear-separator"),
            ("a,b\n\"x,y\n", "open-quote"),
            ("", "empty-table"),
            ("\n \n", "empty-table"),
        ] {
            assert_eq!(
                Table::read(&SourceText::new("t.csv", text))
                    .unwrap_err()
                    .rule,
                rule
            );
        }
    }

    proptest! {
        #[test]
        fn any_text_is_a_table_or_a_fault(text in "[a-c,;\"\t\r\n é]{0,60}") {
            if let Ok(table) = Table::read(&SourceText::new("t.csv", &text)) {
                for row in table.rows() {
                    for cell in row.cells() {
                        prop_assert!(text.get(cell.bytes.clone()).is_some());
                    }
                }
            }
        }

        #[test]
        fn cells_are_those_that_the_csv_library_reads(
            cells in proptest::collection::vec(proptest::collection::vec("[a-c,;\" \n\té]{0,6}", 3), 1..6)
        ) {
            let mut writer = csv::WriterBuilder::new().quote_style(csv::QuoteStyle::Always).from_writer(Vec::new());
            writer.write_record(["x", "y", "z"]).unwrap();
            for row in &cells {
                writer.write_record(row).unwrap();
            }
            let text = String::from_utf8(writer.into_inner().unwrap()).unwrap();
            let source = SourceText::new("t.csv", &text);
            let table = Table::read(&source).unwrap();
            let ours: Vec<Vec<String>> = table.rows().iter().map(|r| r.cells().iter().map(|c| c.text.clone()).collect()).collect();
            let theirs: Vec<Vec<String>> = csv::Reader::from_reader(text.as_bytes())
                .records()
                .map(|r| r.unwrap().iter().map(|c| c.trim().to_owned()).collect::<Vec<_>>())
                .filter(|r| r.iter().any(|c| !c.is_empty()))
                .collect();
            prop_assert_eq!(ours, theirs);
        }
    }
}
