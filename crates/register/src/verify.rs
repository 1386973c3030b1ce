//! Checks a register against its own ledger: every entry, every link, every table.

use std::path::Path;

use base::ExamSeed;
use rusqlite::{Connection, OpenFlags};

use crate::create::only_for_its_owner;
use crate::error::RegisterError;
use crate::identity::{self, Identity};
use crate::inputs::{Digests, StoredText};
use crate::ledger::{Head, LedgerFault, check};
use crate::open::{Register, is_ours};
use crate::sealed::{self, Sealed};
use crate::{inputs, ledger_store, schema, state};

/// What a check of a register found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Verification {
    /// The head of the ledger.
    pub head: Head,
    /// Everything that is not as it was written.
    pub faults: Vec<LedgerFault>,
    /// Entries at which the clock showed less than before: noted, and no fault.
    pub clock_set_back: Vec<u64>,
    /// The seal; none where the sitting is not sealed.
    pub sealed: Option<Sealed>,
}

impl Register {
    /// Checks a register file without changing it.
    ///
    /// # Errors
    /// When the file is no register, or so old that it has no ledger yet. Whatever is damaged beyond
    /// reading is an error too; everything else that is not as it was written is in the report.
    pub fn verify(path: &Path, kept: Option<&Head>) -> Result<Verification, RegisterError> {
        let connection = open_to_read(path)?;
        if schema::version_of(&connection)? < 2 {
            return Err(RegisterError::NotARegister {
                path: path.to_owned(),
                why: "it is from before the ledger: mark, print or assemble again once, and it has one".to_owned(),
            });
        }
        let sound: String =
            connection.query_row("PRAGMA integrity_check(1)", [], |row| row.get(0))?;
        let mut faults = Vec::new();
        let whole = |what: String| LedgerFault { entry: None, what };
        if sound != "ok" {
            faults.push(whole(format!("the file is damaged: {sound}")));
        }
        let texts = ledger_store::texts(&connection)?;
        let found = check(texts.iter(), kept);
        faults.extend(found.faults);
        if ledger_store::head(&connection)? != found.head {
            faults.push(whole(
                "the entries do not give the head that stands beside them".to_owned(),
            ));
        }
        let seed = Register::seed_of(&connection)?;
        let tables = state::tables(&connection)?;
        let now = state::states(&connection, &seed, &tables)?;
        for (table, digest) in &now {
            match found.states.get(table) {
                Some(entered) if entered == digest => {}
                Some(_) => faults.push(whole(format!(
                    "the table {table} is not as the last entry about it says"
                ))),
                None => faults.push(whole(format!("no entry speaks of the table {table}"))),
            }
        }
        for table in found
            .states
            .keys()
            .filter(|table| !now.contains_key(*table))
        {
            faults.push(whole(format!("the table {table} is gone")));
        }
        if let Err(error) = inputs::read(&connection) {
            faults.push(whole(error.to_string()));
        }
        // A table that is gone was told above.
        let sealed = if now.contains_key("seal") {
            sealed::read(&connection).unwrap_or_else(|error| {
                faults.push(whole(error.to_string()));
                None
            })
        } else {
            None
        };
        Ok(Verification {
            head: found.head,
            sealed,
            faults,
            clock_set_back: found.clock_set_back,
        })
    }
}

impl Register {
    /// The texts of the ledger of a register file, which is not changed.
    ///
    /// # Errors
    /// When the file is no register or has no ledger.
    pub fn ledger_of(path: &Path) -> Result<Vec<String>, RegisterError> {
        ledger_store::texts(&open_to_read(path)?)
    }

    /// From what the sitting in a register file was drawn, which is not changed: the exam seed, and
    /// the digests of the texts as they were then.
    ///
    /// # Errors
    /// When the file is no register.
    pub fn drawn_from(path: &Path) -> Result<(ExamSeed, Digests), RegisterError> {
        let connection = open_to_read(path)?;
        Ok((
            Self::seed_of(&connection)?,
            inputs::digests_as_drawn(&connection)?,
        ))
    }

    /// Where the people of a register file are kept, and its texts as they count now; the file is not
    /// changed.
    ///
    /// # Errors
    /// When the file is no register, or a text does not fit its digest.
    pub fn people_and_texts(path: &Path) -> Result<(Identity, Vec<StoredText>), RegisterError> {
        let connection = open_to_read(path)?;
        Ok((identity::read(&connection)?, inputs::read(&connection)?))
    }

    /// Copies a register, whole, while others may be using it. A copy made by hand beside an open
    /// register may miss what still stands in its write-ahead file; this one does not.
    ///
    /// # Errors
    /// When there is a file at `to` already, or it cannot be written.
    pub fn back_up(path: &Path, to: &Path) -> Result<(), RegisterError> {
        if to.exists() {
            return Err(RegisterError::Exists(to.to_owned()));
        }
        let name = to.to_str().ok_or_else(|| {
            RegisterError::CannotWrite("the name of the backup is no UTF-8".to_owned())
        })?;
        let register = open_to_read(path)?;
        // An empty file that its owner alone may read, before anything is in it.
        let cannot_write = |error: std::io::Error| RegisterError::CannotWrite(error.to_string());
        std::fs::File::create_new(to).map_err(cannot_write)?;
        let copied = only_for_its_owner(to)
            .map_err(cannot_write)
            .and_then(|()| Ok(register.execute("VACUUM INTO ?1", [name])?));
        if let Err(error) = copied {
            // The failure is what the person must hear of; half a copy is worse than none.
            let _ = std::fs::remove_file(to);
            return Err(error);
        }
        Ok(())
    }
}

/// Opens a register that may lie on a disk that takes no writing.
fn open_to_read(path: &Path) -> Result<Connection, RegisterError> {
    if !path.is_file() {
        return Err(RegisterError::Missing(path.to_owned()));
    }
    let read_only = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let plain = Connection::open_with_flags(path, read_only)?;
    // A write-ahead file can be read beside the register only where one may write there. Where there
    // is none, the file says everything and is read as it lies.
    let readable: Result<i64, _> =
        plain.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0));
    let connection = match readable {
        Ok(_) => plain,
        Err(error) if is_cannot_open(&error) => {
            let text = path.to_string_lossy();
            let uri = format!(
                "file:{}?immutable=1",
                text.replace('%', "%25")
                    .replace('?', "%3f")
                    .replace('#', "%23")
            );
            Connection::open_with_flags(uri, read_only | OpenFlags::SQLITE_OPEN_URI)?
        }
        Err(error) => {
            is_ours(&plain, path)?;
            return Err(error.into());
        }
    };
    is_ours(&connection, path)?;
    Ok(connection)
}

fn is_cannot_open(error: &rusqlite::Error) -> bool {
    use rusqlite::ErrorCode;
    matches!(
        error.sqlite_error_code(),
        Some(ErrorCode::CannotOpen | ErrorCode::ReadOnly)
    )
}
