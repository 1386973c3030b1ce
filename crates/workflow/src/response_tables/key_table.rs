//! Reads a table of right answers: `question,key`.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;

use base::table::Table;
use base::{Fault, Place, SourceText};

/// The right answer of each question, with its place.
pub(super) type Key = BTreeMap<String, (String, Place)>;

pub(super) fn read_key(text: &SourceText, faults: &mut Vec<Fault>) -> Option<Key> {
    let table = match Table::read(text) {
        Ok(table) => table,
        Err(fault) => {
            faults.push(*fault);
            return None;
        }
    };
    let question = ["question", "item"].iter().find_map(|n| table.column(n));
    let key = ["key", "answer"].iter().find_map(|n| table.column(n));
    let (Some(question), Some(key)) = (question, key) else {
        faults.push(
            Fault::new(
                "missing-column",
                table.place(&table.header().first().map_or(0..0, |c| c.bytes.clone())),
                "a table of right answers has the columns question and key",
            )
            .allowed("question,key"),
        );
        return None;
    };
    let mut made = Key::new();
    for row in table.rows() {
        let (name, right) = (row.cell(question), row.cell(key));
        let place = table.place(row.bytes());
        if name.text.is_empty() || right.text.is_empty() {
            faults.push(Fault::new(
                "missing-key",
                place,
                "this row lacks the question or its right answer",
            ));
            continue;
        }
        match made.entry(name.text) {
            Entry::Occupied(there) => faults.push(Fault::new(
                "doubled-key",
                place,
                format!("question {} has a second right answer", there.key()),
            )),
            Entry::Vacant(free) => {
                free.insert((right.text, place));
            }
        }
    }
    Some(made)
}
