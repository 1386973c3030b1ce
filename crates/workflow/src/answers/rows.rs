//! Goes through a table record by record without holding it.

use std::io::{BufRead, BufReader, Read};

use base::{Fault, Place, SourceName};

/// A table under reading.
pub(super) struct Rows {
    reader: csv::Reader<OneLineEnd<BufReader<Box<dyn Read>>>>,
    record: csv::ByteRecord,
    source: SourceName,
    /// Nothing behind this can be read.
    at_end: bool,
}

/// How much of the first line is looked at to find the separator. A header of a thousand columns
/// has about 15 kB.
const FIRST_LOOK: usize = 256 * 1024;

/// The longest row: what a thousand essays have. Past it, a double quote was never closed.
const LONGEST_ROW: usize = 4 * 1024 * 1024;

/// What some spreadsheets put before the first character.
const BYTE_ORDER_MARK: &[u8] = b"\xef\xbb\xbf";

impl Rows {
    /// Opens a table: finds the separator in the first line.
    pub(super) fn open(source: &SourceName, input: Box<dyn Read>) -> Result<Self, Box<Fault>> {
        let mut input = BufReader::with_capacity(FIRST_LOOK, input);
        let fault = |rule, what: String| Fault::new(rule, Place::whole(source), what);
        let unreadable = |error: std::io::Error| {
            Box::new(fault(
                "unreadable",
                format!("this table cannot be read: {error}"),
            ))
        };
        if input
            .fill_buf()
            .map_err(unreadable)?
            .starts_with(BYTE_ORDER_MARK)
        {
            input.consume(BYTE_ORDER_MARK.len());
        }
        let start = input.fill_buf().map_err(unreadable)?;
        let end = start
            .iter()
            .position(|b| matches!(b, b'\n' | b'\r'))
            .unwrap_or(start.len());
        let first = String::from_utf8_lossy(start.get(..end).unwrap_or_default()).into_owned();
        if first.trim().is_empty() {
            let what = "the first line of this table is empty".to_owned();
            return Err(Box::new(
                fault("empty-table", what).hint("the first line names the columns"),
            ));
        }
        let delimiter = base::table::separator_of(&first).map_err(|_| {
            let what = "which character separates the columns is not clear from the first line";
            let fault = fault("unclear-separator", what.to_owned());
            Box::new(fault.allowed("comma, semicolon or tab, one of them throughout"))
        })?;
        let reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(delimiter)
            .from_reader(OneLineEnd {
                inner: input,
                last: b'\n',
                left: LONGEST_ROW,
            });
        Ok(Self {
            reader,
            record: csv::ByteRecord::new(),
            source: source.clone(),
            at_end: false,
        })
    }

    /// The next record; none at the end. A record that is no UTF-8 or cannot be read is a fault,
    /// and the reading goes on behind it where that is possible.
    pub(super) fn next(&mut self) -> Option<Result<(Vec<String>, Place), Fault>> {
        loop {
            if self.at_end {
                return None;
            }
            self.reader.get_mut().left = LONGEST_ROW;
            match self.reader.read_byte_record(&mut self.record) {
                Ok(false) => return None,
                Ok(true) => {}
                Err(error) => {
                    self.at_end = true;
                    let why = format!("this row cannot be read: {error}");
                    return Some(Err(Fault::new("unreadable", self.place(), why)
                        .hint("is a double quote before this place never closed?")));
                }
            }
            if self.record.len() > base::table::MOST_COLUMNS {
                self.at_end = true;
                let what = format!("this row has {} columns", self.record.len());
                return Some(Err(Fault::new("too-many-columns", self.place(), what)
                    .allowed(format!("at most {}", base::table::MOST_COLUMNS))));
            }
            if self
                .record
                .iter()
                .all(|cell| cell.iter().all(u8::is_ascii_whitespace))
            {
                continue;
            }
            let cells: Result<Vec<String>, _> = self
                .record
                .iter()
                .map(|cell| std::str::from_utf8(cell).map(|text| text.trim().to_owned()))
                .collect();
            return Some(match cells {
                Ok(cells) => Ok((cells, self.place())),
                Err(_) => Err(Fault::new(
                    "not-utf-8",
                    self.place(),
                    "this row holds bytes that are no UTF-8 text",
                )
                .hint("save the table again with the encoding UTF-8")),
            });
        }
    }

    /// The line of the record just read: the one behind it, less what it takes up itself. (The
    /// library's own word for it does not count the empty lines before a record.) Bytes are left
    /// open: line ends are changed on the way, so they are found again where they are shown.
    fn place(&self) -> Place {
        let within = self
            .record
            .as_slice()
            .iter()
            .filter(|b| **b == b'\n')
            .count() as u64;
        let line = self
            .reader
            .position()
            .line()
            .saturating_sub(within + 1)
            .max(1);
        Place {
            source: self.source.clone(),
            line: u32::try_from(line).unwrap_or(u32::MAX),
            column: 1,
            start: 0,
            end: 0,
        }
    }
}

/// Gives `\r\n` as `\n`, since the library counts lines by the one and ends rows by the other, and
/// ends the last line where its end is missing.
struct OneLineEnd<R> {
    inner: R,
    /// The last byte given.
    last: u8,
    /// How many bytes may still be given before the next row must begin.
    left: usize,
}

impl<R: BufRead> Read for OneLineEnd<R> {
    fn read(&mut self, out: &mut [u8]) -> std::io::Result<usize> {
        loop {
            let given = self.inner.fill_buf()?;
            if out.is_empty() {
                return Ok(0);
            }
            if given.is_empty() {
                if self.last == b'\n' {
                    return Ok(0);
                }
                return Ok(self.end_line(out));
            }
            // Up to the next \r as it is; a \r before \n is dropped, a lone one ends a row in the
            // manner of old machines.
            let plain = given
                .iter()
                .position(|b| *b == b'\r')
                .unwrap_or(given.len());
            let taken = plain.min(out.len());
            self.left = self.left.checked_sub(taken).ok_or_else(|| {
                std::io::Error::other(format!(
                    "it is longer than {} MB",
                    LONGEST_ROW / 1024 / 1024
                ))
            })?;
            if taken > 0 {
                for (to, from) in out.iter_mut().zip(given.iter().take(taken)) {
                    *to = *from;
                }
                self.last = given.get(taken - 1).copied().unwrap_or(b'\n');
                self.inner.consume(taken);
                return Ok(taken);
            }
            self.inner.consume(1);
            if self.inner.fill_buf()?.first() != Some(&b'\n') {
                return Ok(self.end_line(out));
            }
        }
    }
}

impl<R> OneLineEnd<R> {
    /// Gives a line end into a buffer that has room.
    fn end_line(&mut self, out: &mut [u8]) -> usize {
        self.last = b'\n';
        out.first_mut().map_or(0, |first| {
            *first = b'\n';
            1
        })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn rows(text: &'static [u8]) -> Vec<(u32, Vec<String>)> {
        let mut rows = Rows::open(&SourceName::new("t.csv"), Box::new(text)).unwrap();
        let mut all = Vec::new();
        while let Some(row) = rows.next() {
            let (cells, place) = row.unwrap();
            all.push((place.line, cells));
        }
        all
    }

    #[test]
    fn lines_are_counted_alike_whatever_ends_them() {
        let unix = rows(b"a,b\n1,2\n\n3,\"x\ny\"\n5,6\n");
        let lines: Vec<u32> = unix.iter().map(|(line, _)| *line).collect();
        assert_eq!(lines, [1, 2, 4, 6]);
        assert_eq!(
            rows(b"\xef\xbb\xbfa,b\r\n1,2\r\n\r\n3,\"x\r\ny\"\r\n5,6\r\n"),
            unix
        );
        assert_eq!(rows(b"a;b\r1;2\r"), rows(b"a,b\n1,2\n"));
        assert_eq!(rows(b"a,b\n1,2"), rows(b"a,b\n1,2\n"));
    }

    #[test]
    fn a_row_that_is_no_text_is_a_fault_and_the_next_is_read() {
        let text: &[u8] = b"a,b\n\xff,2\n3,4\n";
        let mut rows = Rows::open(&SourceName::new("t.csv"), Box::new(text)).unwrap();
        assert!(rows.next().unwrap().is_ok());
        assert_eq!(rows.next().unwrap().unwrap_err().place.unwrap().line, 2);
        assert_eq!(rows.next().unwrap().unwrap().0, ["3", "4"]);
    }
}
