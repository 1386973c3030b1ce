//! Goes through a table record by record without holding it.

use std::io::{BufRead, BufReader, Read};

use base::{Fault, Place, SourceName};

/// A table under reading.
pub(super) struct Rows {
    reader: csv::Reader<BufReader<Box<dyn Read>>>,
    record: csv::ByteRecord,
    source: SourceName,
    /// Bytes before the table proper: a byte order mark.
    offset: u64,
}

/// How much of the first line is looked at to find the separator. A header of a thousand columns
/// has about 15 kB.
const FIRST_LOOK: usize = 256 * 1024;

impl Rows {
    /// Opens a table: finds the separator in the first line.
    pub(super) fn open(source: &SourceName, input: Box<dyn Read>) -> Result<Self, Box<Fault>> {
        let mut input = BufReader::with_capacity(FIRST_LOOK, input);
        let unreadable = |error: std::io::Error| {
            Box::new(Fault::new(
                "unreadable",
                Place::whole(source),
                format!("this table cannot be read: {error}"),
            ))
        };
        let start = input.fill_buf().map_err(unreadable)?;
        let mark = b"\xef\xbb\xbf";
        let offset = if start.starts_with(mark) {
            mark.len()
        } else {
            0
        };
        input.consume(offset);
        let start = input.fill_buf().map_err(unreadable)?;
        let end = start
            .iter()
            .position(|b| matches!(b, b'\n' | b'\r'))
            .unwrap_or(start.len());
        let first = String::from_utf8_lossy(start.get(..end).unwrap_or_default()).into_owned();
        if first.trim().is_empty() {
            return Err(Box::new(
                Fault::new(
                    "empty-table",
                    Place::whole(source),
                    "the first line of this table is empty",
                )
                .hint("the first line names the columns"),
            ));
        }
        let delimiter = base::table::separator_of(&first).map_err(|_| {
            Box::new(
                Fault::new(
                    "unclear-separator",
                    Place::whole(source),
                    "which character separates the columns is not clear from the first line",
                )
                .allowed("comma, semicolon or tab, one of them throughout"),
            )
        })?;
        let reader = csv::ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(delimiter)
            .from_reader(input);
        Ok(Self {
            reader,
            record: csv::ByteRecord::new(),
            source: source.clone(),
            offset: offset as u64,
        })
    }

    /// The next record; none at the end. A record that is no UTF-8 or cannot be read is a fault,
    /// and the reading goes on behind it where that is possible.
    pub(super) fn next(&mut self) -> Option<Result<(Vec<String>, Place), Fault>> {
        loop {
            let place = self.place();
            match self.reader.read_byte_record(&mut self.record) {
                Ok(false) => return None,
                Ok(true) => {}
                Err(error) => {
                    return Some(Err(Fault::new(
                        "unreadable",
                        place,
                        format!("this row cannot be read: {error}"),
                    )));
                }
            }
            let place = Place {
                end: self.at(),
                ..self.starting(&place)
            };
            if self
                .record
                .iter()
                .all(|cell| cell.iter().all(u8::is_ascii_whitespace))
            {
                continue;
            }
            let mut cells = Vec::with_capacity(self.record.len());
            for cell in &self.record {
                match std::str::from_utf8(cell) {
                    Ok(text) => cells.push(text.trim().to_owned()),
                    Err(_) => {
                        return Some(Err(Fault::new(
                            "not-utf-8",
                            place,
                            "this row holds bytes that are no UTF-8 text",
                        )
                        .hint("save the table again with the encoding UTF-8")));
                    }
                }
            }
            return Some(Ok((cells, place)));
        }
    }

    /// The record's own start, which the library knows better: it skips empty lines.
    fn starting(&self, before: &Place) -> Place {
        match self.record.position() {
            Some(position) => Place {
                line: u32::try_from(position.line()).unwrap_or(u32::MAX),
                start: usize::try_from(position.byte() + self.offset).unwrap_or(usize::MAX),
                ..before.clone()
            },
            None => before.clone(),
        }
    }
    fn at(&self) -> usize {
        usize::try_from(self.reader.position().byte() + self.offset).unwrap_or(usize::MAX)
    }
    fn place(&self) -> Place {
        let line = u32::try_from(self.reader.position().line()).unwrap_or(u32::MAX);
        Place {
            source: self.source.clone(),
            line,
            column: 1,
            start: self.at(),
            end: self.at(),
        }
    }
}
