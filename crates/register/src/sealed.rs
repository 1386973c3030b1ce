//! The seal in the register: its root, once.

use rusqlite::{Connection, OptionalExtension, params};

use crate::error::RegisterError;
use crate::hex::{Digest32, digest_from_hex, to_groups, to_hex};
use crate::ledger::{Act, Details, Head};
use crate::ledger_store;
use crate::open::{Register, begin};
use crate::role::By;

/// What a register says of the seal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sealed {
    /// How many leaves.
    pub size: u64,
    /// The root.
    pub root: Digest32,
}

/// The seal in the store; none where the sitting is not sealed.
pub(crate) fn read(connection: &Connection) -> Result<Option<Sealed>, RegisterError> {
    let stored: Option<(i64, String)> = connection
        .query_row("SELECT size, root FROM seal", [], |row| {
            Ok((row.get(0)?, row.get(1)?))
        })
        .optional()?;
    let damaged = || RegisterError::Damaged("the seal is not readable".to_owned());
    stored
        .map(|(size, root)| {
            Ok(Sealed {
                size: u64::try_from(size).map_err(|_| damaged())?,
                root: digest_from_hex(&root).ok_or_else(damaged)?,
            })
        })
        .transpose()
}

impl Register {
    /// The seal of this sitting; none where it is not sealed.
    ///
    /// # Errors
    /// When the register is damaged.
    pub fn seal(&self) -> Result<Option<Sealed>, RegisterError> {
        read(&self.connection)
    }

    /// Enters the seal. Sealing again with the same root (locked anew) is an act, too.
    ///
    /// # Errors
    /// When the register cannot be written, or holds another seal.
    pub fn put_seal(
        &mut self,
        size: usize,
        root: &Digest32,
        by: &By,
    ) -> Result<Head, RegisterError> {
        let seed = self.seed()?;
        let transaction = begin(&mut self.connection)?;
        let act = ledger_store::begin(&transaction, &seed, &["seal"])?;
        let stored: Option<String> = transaction
            .query_row("SELECT root FROM seal", [], |row| row.get(0))
            .optional()?;
        match stored {
            Some(stored) if stored != to_hex(root) => {
                return Err(RegisterError::Damaged(
                    "it holds another seal already".to_owned(),
                ));
            }
            Some(_) => {}
            None => {
                let size = i64::try_from(size).unwrap_or(i64::MAX);
                transaction.execute(
                    "INSERT INTO seal (only, size, root) VALUES (1, ?1, ?2)",
                    params![size, to_hex(root)],
                )?;
            }
        }
        let details = Details::from([
            ("leaves".to_owned(), size.to_string()),
            ("root".to_owned(), to_groups(root)),
        ]);
        let head = act.enter(&transaction, Act::Sealed, by, details)?;
        transaction.commit()?;
        Ok(head)
    }
}
