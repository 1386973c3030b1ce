//! Releases results: an act that is entered once. From then on marks change by corrections alone.

use rusqlite::Connection;

use crate::error::RegisterError;
use crate::ledger::{Act, Details, Head};
use crate::ledger_store;
use crate::open::{Register, begin};
use crate::role::By;

/// The number of the last entry of an act; none where there is none.
fn last(connection: &Connection, act: Act) -> Result<Option<u64>, RegisterError> {
    // Entries are canonical, so their act stands first and no detail can look like it.
    let begins = format!("{{\"act\":\"{}\",%", act.word());
    let number: Option<i64> = connection.query_row(
        "SELECT max(number) FROM ledger WHERE entry LIKE ?1",
        [begins],
        |row| row.get(0),
    )?;
    Ok(number.and_then(|number| u64::try_from(number).ok()))
}

/// Refuses where results are released. Within a transaction of the caller.
pub(crate) fn only_before(connection: &Connection) -> Result<(), RegisterError> {
    match last(connection, Act::Released)? {
        Some(_) => Err(RegisterError::Released),
        None => Ok(()),
    }
}

impl Register {
    /// Whether results were released.
    ///
    /// # Errors
    /// When the register cannot be read.
    pub fn is_released(&self) -> Result<bool, RegisterError> {
        Ok(last(&self.connection, Act::Released)?.is_some())
    }

    /// Whether anything was corrected since results were released.
    ///
    /// # Errors
    /// When the register cannot be read.
    pub fn corrected_since_release(&self) -> Result<bool, RegisterError> {
        let released = last(&self.connection, Act::Released)?;
        let corrected = last(&self.connection, Act::Corrected)?;
        Ok(released.zip(corrected).is_some_and(|(r, c)| c > r))
    }

    /// Enters the release of results, once. `seen` is the head of the ledger when that was read which
    /// is released.
    ///
    /// # Errors
    /// When they are released already, anything was entered since, or the register cannot be written.
    pub fn put_release(
        &mut self,
        details: Details,
        seen: &Head,
        by: &By,
    ) -> Result<Head, RegisterError> {
        let seed = self.seed()?;
        let transaction = begin(&mut self.connection)?;
        only_before(&transaction)?;
        if ledger_store::head(&transaction)? != *seen {
            return Err(RegisterError::Moved);
        }
        let act = ledger_store::begin(&transaction, &seed, &[])?;
        let head = act.enter(&transaction, Act::Released, by, details)?;
        transaction.commit()?;
        Ok(head)
    }
}
