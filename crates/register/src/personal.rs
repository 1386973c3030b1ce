//! Acts on personal data: who is behind the numbers is changed, erased or removed, with an entry, and
//! nothing of what went stays in the file.

use exam_plan::read::without_people;
use rusqlite::{Connection, params};

use base::SourceText;

use crate::error::RegisterError;
use crate::identity::{self, Identity};
use crate::ledger::{Act, Details, Head};
use crate::ledger_store;
use crate::open::{Register, begin};
use crate::role::By;

/// The name of the text that says who sits the exam.
pub const ROSTER: &str = "roster.csv";

impl Register {
    /// Where it is kept who is behind the numbers.
    ///
    /// # Errors
    /// When the register is damaged.
    pub fn identity(&self) -> Result<Identity, RegisterError> {
        identity::read(&self.connection)
    }

    /// Puts another state of who is behind the numbers in the place of the one that stood, in one act.
    /// Where people still stand in the text of the roster, as registers of before version 6 keep them,
    /// they are taken out of it; the digest by which a seal binds to that text stays. `seen` is the head
    /// of the ledger when that was read from which this was made.
    ///
    /// # Errors
    /// When anything was entered since, or the register cannot be written.
    pub fn put_identity(
        &mut self,
        act: Act,
        details: Details,
        identity: &Identity,
        seen: &Head,
        by: &By,
    ) -> Result<Head, RegisterError> {
        let seed = self.seed()?;
        let transaction = begin(&mut self.connection)?;
        if ledger_store::head(&transaction)? != *seen {
            return Err(RegisterError::Moved);
        }
        let tables: Vec<&str> = ["amendment", "input"]
            .into_iter()
            .chain(identity::TABLES)
            .collect();
        let begun = ledger_store::begin(&transaction, &seed, &tables)?;
        identity::write(&transaction, identity)?;
        part_texts(&transaction)?;
        let head = begun.enter(&transaction, act, by, details)?;
        transaction.commit()?;
        Ok(head)
    }

    /// Writes the file anew without what was deleted, here and in its write-ahead file. Deleted rows are
    /// overwritten as they go; this takes away what stood in pages that nobody uses any more. Whether it
    /// could: another program that reads meanwhile holds the old pages.
    ///
    /// # Errors
    /// When the disk does not take it.
    pub fn forget_what_was_deleted(&mut self) -> Result<bool, RegisterError> {
        let vacuumed = match self.connection.execute_batch("VACUUM").map_err(Into::into) {
            Ok(()) => true,
            Err(RegisterError::Busy(_)) => false,
            Err(error) => return Err(error),
        };
        let held: i64 =
            self.connection
                .query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |row| row.get(0))?;
        Ok(vacuumed && held == 0)
    }
}

/// Takes people out of the text of the roster, wherever it still names them.
fn part_texts(connection: &Connection) -> Result<(), RegisterError> {
    for table in ["input", "amendment"] {
        let mut select = connection.prepare(&format!(
            "SELECT place, content FROM {table} WHERE name = ?1"
        ))?;
        let found: Vec<(i64, String)> = select
            .query_map([ROSTER], |row| Ok((row.get(0)?, row.get(1)?)))?
            .collect::<Result<_, _>>()?;
        for (place, content) in found {
            let Some(parted) = without_people(&SourceText::new(ROSTER, &content)) else {
                return Err(RegisterError::Damaged(
                    "the stored roster is no table, so nobody can be taken out of it".to_owned(),
                ));
            };
            if parted != content {
                connection.execute(
                    &format!("UPDATE {table} SET content = ?1, parted = 1 WHERE place = ?2"),
                    params![parted, place],
                )?;
            }
        }
    }
    Ok(())
}
