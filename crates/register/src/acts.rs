//! What was done to the sitting, in order. The hash-chained ledger grows from here.

use rusqlite::{Connection, params};

use crate::error::RegisterError;

pub(crate) fn note(connection: &Connection, what: &str) -> Result<(), RegisterError> {
    connection.execute("INSERT INTO act (what) VALUES (?1)", params![what])?;
    Ok(())
}

pub(crate) fn read(connection: &Connection) -> Result<Vec<String>, RegisterError> {
    let mut select = connection.prepare("SELECT what FROM act ORDER BY place")?;
    let acts = select
        .query_map([], |row| row.get(0))?
        .collect::<Result<_, _>>()?;
    Ok(acts)
}
