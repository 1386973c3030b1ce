//! Reads a table that names the group of each candidate: `candidate,group`.

use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use std::path::Path;

use base::Fault;
use base::table::Table;
use results::analysis::Responses;

use crate::failure::Failure;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};

/// The group of each candidate.
#[derive(Debug, Default)]
pub(crate) struct GroupTable {
    groups: BTreeMap<String, String>,
}

impl GroupTable {
    /// Reads the table.
    ///
    /// # Errors
    /// When it cannot be read, or has faults: all of them at once.
    pub(crate) fn read(around: &dyn Surroundings, path: &Path) -> Result<Self, Failure> {
        let mut faults = Vec::new();
        let mut sources = Sources::new();
        let mut made = Self::default();
        if let Some(text) = read_text(around, path, &mut faults)? {
            sources.insert(text.name.clone(), text.text.clone());
            match Table::read(&text) {
                Ok(table) => made.take(&table, &mut faults),
                Err(fault) => faults.push(*fault),
            }
        }
        if faults.iter().any(|fault| !fault.is_weakness()) {
            return Err(Failure::Faults { faults, sources });
        }
        Ok(made)
    }

    fn take(&mut self, table: &Table<'_>, faults: &mut Vec<Fault>) {
        let [candidate, group] = ["candidate", "group"].map(|name| table.column(name));
        let (Some(candidate), Some(group)) = (candidate, group) else {
            faults.push(
                Fault::new(
                    "missing-column",
                    table.place(&table.header().first().map_or(0..0, |c| c.bytes.clone())),
                    "a table of groups has the columns candidate and group",
                )
                .allowed("candidate,group"),
            );
            return;
        };
        for row in table.rows() {
            let (who, named) = (row.cell(candidate).text, row.cell(group).text);
            if who.is_empty() {
                faults.push(Fault::new(
                    "missing-candidate",
                    table.place(row.bytes()),
                    "this row names no candidate",
                ));
                continue;
            }
            match self.groups.entry(who) {
                Entry::Occupied(there) if *there.get() != named => faults.push(
                    Fault::new(
                        "doubled-group",
                        table.place(row.bytes()),
                        format!("candidate {} has a second group", there.key()),
                    )
                    .hint("each candidate belongs to one group; leave the cell empty for none"),
                ),
                Entry::Occupied(_) => {}
                Entry::Vacant(free) => {
                    free.insert(named);
                }
            }
        }
    }

    /// Puts candidates into their groups; how many the table does not name.
    pub(crate) fn put(&self, responses: &mut Responses) -> usize {
        let mut without = 0;
        for candidate in &mut responses.candidates {
            match self.groups.get(&candidate.candidate) {
                Some(group) => candidate.group.clone_from(group),
                None => without += 1,
            }
        }
        without
    }
}
