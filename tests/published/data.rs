//! Reads the data sets beside the expected figures.

use crate::record::reference_text;
use statistics::ScoreTable;
use statistics::agreement::rating_table::RatingTable;

/// A table of text with its heading.
pub struct Sheet {
    pub heading: Vec<String>,
    pub rows: Vec<Vec<String>>,
}

impl Sheet {
    pub fn read(file: &str) -> Self {
        let text = reference_text(&format!("examination-statistics/{file}"));
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let words = |record: &csv::StringRecord| record.iter().map(str::to_owned).collect();
        let heading = words(reader.headers().unwrap());
        let rows = reader.records().map(|row| words(&row.unwrap())).collect();
        Self { heading, rows }
    }

    /// One column as numbers.
    pub fn numbers(&self, name: &str) -> Vec<f64> {
        let place = self
            .heading
            .iter()
            .position(|column| column == name)
            .unwrap();
        self.rows
            .iter()
            .map(|row| row[place].parse().unwrap())
            .collect()
    }

    /// Every cell as a number.
    pub fn all_numbers(&self) -> Vec<Vec<f64>> {
        let line = |row: &Vec<String>| row.iter().map(|cell| cell.parse().unwrap()).collect();
        self.rows.iter().map(line).collect()
    }

    /// Every cell as a number, or empty.
    pub fn ratings(&self) -> RatingTable {
        let cell = |cell: &String| (!cell.is_empty()).then(|| cell.parse().unwrap());
        let rows = self
            .rows
            .iter()
            .map(|row| row.iter().map(cell).collect::<Vec<_>>());
        RatingTable::new(rows).unwrap()
    }

    /// Every cell as the place of its word among all words in rising order.
    pub fn named_ratings(&self) -> RatingTable {
        let words: std::collections::BTreeSet<&String> = self.rows.iter().flatten().collect();
        let place = |cell: &String| words.iter().position(|word| *word == cell).unwrap() as f64;
        let rows = self
            .rows
            .iter()
            .map(|row| row.iter().map(|cell| Some(place(cell))).collect::<Vec<_>>());
        RatingTable::new(rows).unwrap()
    }
}

/// The scores of a record's data: choices marked by a key, answer patterns with their counts, or
/// plain scores.
pub fn scores(files: &[String]) -> ScoreTable {
    let rows = match files {
        [responses, key] => marked(&Sheet::read(responses), &Sheet::read(key)),
        [only] => {
            let sheet = Sheet::read(only);
            if sheet.heading.last().is_some_and(|name| name == "n") {
                let mut rows = Vec::new();
                for mut row in sheet.all_numbers() {
                    let count = row.pop().unwrap();
                    rows.extend(std::iter::repeat_n(row, count as usize));
                }
                rows
            } else {
                sheet.all_numbers()
            }
        }
        _ => panic!("no scores in {files:?}"),
    };
    ScoreTable::new(&rows).unwrap()
}

fn marked(responses: &Sheet, key: &Sheet) -> Vec<Vec<f64>> {
    let keys: Vec<&String> = key.rows.iter().map(|row| &row[1]).collect();
    assert_eq!(keys.len(), responses.heading.len());
    responses
        .rows
        .iter()
        .map(|row| {
            let right = row.iter().zip(&keys).map(|(choice, key)| choice == *key);
            right.map(|right| f64::from(u8::from(right))).collect()
        })
        .collect()
}
