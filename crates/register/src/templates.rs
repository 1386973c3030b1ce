//! The templates from which papers were made, as they were: each text once, by name and digest.

use rusqlite::params;

use crate::error::RegisterError;
use crate::inputs::{StoredText, digest_of};
use crate::ledger::{Act, Details, Head};
use crate::ledger_store;
use crate::open::{Register, begin};
use crate::role::By;

impl Register {
    /// Enters that papers were made, and keeps the templates that it does not hold yet, in one act.
    ///
    /// # Errors
    /// When the register cannot be written.
    pub fn note_papers(
        &mut self,
        act: Act,
        by: &By,
        details: Details,
        templates: &[StoredText],
    ) -> Result<Head, RegisterError> {
        let seed = self.seed()?;
        let transaction = begin(&mut self.connection)?;
        let begun = ledger_store::begin(&transaction, &seed, &["template"])?;
        {
            let mut insert = transaction.prepare(
                "INSERT INTO template (name, digest, content) VALUES (?1, ?2, ?3)
                 ON CONFLICT (name, digest) DO NOTHING",
            )?;
            for template in templates {
                insert.execute(params![
                    template.name,
                    digest_of(&template.text),
                    template.text
                ])?;
            }
        }
        let head = begun.enter(&transaction, act, by, details)?;
        transaction.commit()?;
        Ok(head)
    }

    /// Every template from which papers were made, by name.
    ///
    /// # Errors
    /// When the register is damaged.
    pub fn templates(&self) -> Result<Vec<StoredText>, RegisterError> {
        let mut select = self
            .connection
            .prepare("SELECT name, digest, content FROM template ORDER BY name, digest")?;
        let rows = select.query_map([], |row| {
            Ok((
                row.get::<_, String>(0)?,
                row.get::<_, String>(1)?,
                row.get::<_, String>(2)?,
            ))
        })?;
        let mut found = Vec::new();
        for row in rows {
            let (name, digest, text) = row?;
            if digest_of(&text) != digest {
                return Err(RegisterError::Damaged(format!(
                    "the stored template {name} does not fit its digest"
                )));
            }
            found.push(StoredText { name, text });
        }
        Ok(found)
    }
}
