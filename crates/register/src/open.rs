//! Opens a register and hands out what stands in it.

use std::path::{Path, PathBuf};
use std::time::Duration;

use assembler::Sitting;
use base::ExamSeed;
use grader::Award;
use rusqlite::{Connection, OpenFlags, TransactionBehavior};

use crate::answers::AnswerEntry;
use crate::beside::Beside;
use crate::error::RegisterError;
use crate::holder::holder_of;
use crate::inputs::{Digests, StoredText};
use crate::ledger::{Act, Details, Entry, Head};
use crate::role::{By, Role};
use crate::{answers, beside, inputs, ledger_store, marks, release, schema, sitting, state};

/// How long a writer waits for another.
const PATIENCE: Duration = Duration::from_secs(5);

/// An open register.
#[derive(Debug)]
pub struct Register {
    pub(crate) connection: Connection,
    path: PathBuf,
}

pub(crate) fn set_up(connection: &Connection) -> Result<(), RegisterError> {
    connection.busy_timeout(PATIENCE)?;
    connection.pragma_update(None, "journal_mode", "wal")?;
    connection.pragma_update(None, "synchronous", "full")?;
    connection.pragma_update(None, "foreign_keys", true)?;
    // What is deleted is overwritten: who was erased stands in no unused page.
    connection.pragma_update(None, "secure_delete", true)?;
    Ok(())
}

impl Register {
    /// Opens a register.
    ///
    /// # Errors
    /// When there is none, or it is not one that this version reads.
    pub fn open(path: &Path) -> Result<Self, RegisterError> {
        if !path.is_file() {
            return Err(RegisterError::Missing(path.to_owned()));
        }
        let connection = Connection::open_with_flags(
            path,
            OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX,
        )?;
        is_ours(&connection, path)?;
        set_up(&connection)?;
        let mut register = Self {
            connection,
            path: path.to_owned(),
        };
        register.bring_up_to_date()?;
        Ok(register)
    }

    /// Takes an old register to the tables of this version, in one act.
    fn bring_up_to_date(&mut self) -> Result<(), RegisterError> {
        if schema::version_of(&self.connection)? == schema::VERSION {
            return Ok(());
        }
        let seed = self.seed()?;
        let act = begin(&mut self.connection)?;
        // Another program may have done it while this one waited.
        let from = schema::version_of(&act)?;
        if from < schema::VERSION {
            let before = state::states(&act, &seed, &state::tables(&act)?)?;
            schema::migrate(&act, from)?;
            let after = state::states(&act, &seed, &state::tables(&act)?)?;
            let details = Details::from([
                ("from".to_owned(), from.to_string()),
                ("to".to_owned(), schema::VERSION.to_string()),
            ]);
            // Opening is no person's act and knows no clock.
            let by = By::new(Role::Assembler, None);
            ledger_store::append(&act, Act::Migrated, &by, details, before, after)?;
        }
        act.commit()?;
        Ok(())
    }

    /// Where it is.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The exam seed.
    ///
    /// # Errors
    /// When the register is damaged.
    pub fn seed(&self) -> Result<ExamSeed, RegisterError> {
        Self::seed_of(&self.connection)
    }

    pub(crate) fn seed_of(connection: &Connection) -> Result<ExamSeed, RegisterError> {
        let hex: String = connection.query_row("SELECT hex FROM seed", [], |row| row.get(0))?;
        hex.parse()
            .map_err(|why: base::BadSeed| RegisterError::Damaged(why.to_string()))
    }

    /// The texts from which the sitting was made, with what was corrected since.
    ///
    /// # Errors
    /// When a text does not fit its digest.
    pub fn inputs(&self) -> Result<Vec<StoredText>, RegisterError> {
        inputs::read(&self.connection)
    }

    /// The texts from which the sitting was drawn, as they were then: the seal binds to these.
    ///
    /// # Errors
    /// When a text does not fit its digest.
    pub fn inputs_as_drawn(&self) -> Result<Vec<StoredText>, RegisterError> {
        inputs::read_as_drawn(&self.connection)
    }

    /// The digests of the texts from which the sitting was drawn: the seal binds to these, whoever was
    /// taken out of a text since.
    ///
    /// # Errors
    /// When the register is damaged.
    pub fn digests_as_drawn(&self) -> Result<Digests, RegisterError> {
        inputs::digests_as_drawn(&self.connection)
    }

    /// The sitting as assembled.
    ///
    /// # Errors
    /// When the register is damaged.
    pub fn sitting(&self) -> Result<Sitting, RegisterError> {
        sitting::read(&self.connection)
    }

    /// What was done to the sitting so far: the texts of the ledger's entries.
    ///
    /// # Errors
    /// When the register is damaged.
    pub fn ledger(&self) -> Result<Vec<String>, RegisterError> {
        ledger_store::texts(&self.connection)
    }

    /// What was done to the sitting so far, one sentence each without its full stop.
    ///
    /// # Errors
    /// When the register is damaged.
    pub fn acts(&self) -> Result<Vec<String>, RegisterError> {
        // Registers from before the ledger kept their first acts in a list.
        let mut select = self
            .connection
            .prepare("SELECT what FROM act ORDER BY place")?;
        let mut acts: Vec<String> = select
            .query_map([], |row| row.get(0))?
            .collect::<Result<_, _>>()?;
        for text in self.ledger()? {
            let entry = Entry::read(&text).map_err(RegisterError::Damaged)?;
            acts.push(entry.in_words());
        }
        Ok(acts)
    }

    /// The head of the ledger.
    ///
    /// # Errors
    /// When the register is damaged.
    pub fn head(&self) -> Result<Head, RegisterError> {
        ledger_store::head(&self.connection)
    }

    /// Enters an act that changes nothing in the register itself: something was printed, shown or
    /// refused.
    ///
    /// # Errors
    /// When the register cannot be written.
    pub fn note(&mut self, act: Act, by: &By, details: Details) -> Result<Head, RegisterError> {
        let seed = self.seed()?;
        let transaction = begin(&mut self.connection)?;
        let head =
            ledger_store::begin(&transaction, &seed, &[])?.enter(&transaction, act, by, details)?;
        transaction.commit()?;
        Ok(head)
    }

    /// Puts down all answers and all marks of a marking, in one act: all or nothing. Earlier ones
    /// are replaced, until results are released. `noted` is entered beside it, where it is new: what persons decided, what happened.
    ///
    /// # Errors
    /// When results are released, or the register cannot be written.
    pub fn put_marking<'a>(
        &mut self,
        given: impl Iterator<Item = AnswerEntry>,
        awards: impl Iterator<Item = &'a Award>,
        noted: &[Beside],
        by: &By,
    ) -> Result<usize, RegisterError> {
        let seed = self.seed()?;
        let transaction = begin(&mut self.connection)?;
        release::only_before(&transaction)?;
        let act = ledger_store::begin(&transaction, &seed, &["answer", "mark"])?;
        let number = answers::write(&transaction, given)?;
        marks::write(&transaction, awards)?;
        let details = Details::from([("answers".to_owned(), number.to_string())]);
        act.enter(&transaction, Act::Marked, by, details)?;
        beside::enter(&transaction, &seed, noted, by)?;
        transaction.commit()?;
        Ok(number)
    }

    /// Puts down corrected texts and the marks that follow from them, in one act: all or nothing.
    /// The texts that were corrected stay in the register. `details` says what, why and for whom;
    /// `noted` is entered beside it, where it is new. `seen` is the head of the ledger when that was
    /// read from which the correction was made.
    ///
    /// # Errors
    /// When anything was entered since, or the register cannot be written.
    pub fn put_correction<'a>(
        &mut self,
        texts: &[StoredText],
        awards: impl Iterator<Item = &'a Award>,
        details: Details,
        noted: &[Beside],
        seen: &Head,
        by: &By,
    ) -> Result<Head, RegisterError> {
        let seed = self.seed()?;
        let transaction = begin(&mut self.connection)?;
        if ledger_store::head(&transaction)? != *seen {
            return Err(RegisterError::Moved);
        }
        let act = ledger_store::begin(&transaction, &seed, &["amendment", "mark"])?;
        inputs::amend(&transaction, texts)?;
        marks::write(&transaction, awards)?;
        act.enter(&transaction, Act::Corrected, by, details)?;
        beside::enter(&transaction, &seed, noted, by)?;
        let head = ledger_store::head(&transaction)?;
        transaction.commit()?;
        Ok(head)
    }

    /// All answers as they came in, by candidate in the order of the roster.
    ///
    /// # Errors
    /// When the register is damaged.
    pub fn answers(&self) -> Result<Vec<AnswerEntry>, RegisterError> {
        answers::read(&self.connection)
    }

    /// All marks, by candidate in the order of the roster.
    ///
    /// # Errors
    /// When the register is damaged.
    pub fn marks(&self) -> Result<Vec<Award>, RegisterError> {
        marks::read(&self.connection)
    }

    /// Writes everything back into the one file, so that it can be copied.
    ///
    /// # Errors
    /// When the disk does not take it.
    pub fn close(self) -> Result<(), RegisterError> {
        self.connection.close().map_err(|(_, error)| error.into())
    }
}

/// Begins an act. It has the register for itself from the beginning, so that nobody writes between
/// what it reads and what it writes.
pub(crate) fn begin(
    connection: &mut Connection,
) -> Result<rusqlite::Transaction<'_>, RegisterError> {
    let path = connection.path().map(PathBuf::from);
    connection
        .transaction_with_behavior(TransactionBehavior::Immediate)
        .map_err(|error| match (RegisterError::from(error), path) {
            (RegisterError::Busy(_), Some(path)) => RegisterError::Busy(holder_of(&path)),
            (other, _) => other,
        })
}

/// Refuses a file that this program did not make, or a later version of it.
pub(crate) fn is_ours(connection: &Connection, path: &Path) -> Result<(), RegisterError> {
    let not_ours = |why: String| RegisterError::NotARegister {
        path: path.to_owned(),
        why,
    };
    let id: i32 = connection
        .pragma_query_value(None, "application_id", |row| row.get(0))
        .map_err(|error| match RegisterError::from(error) {
            // Nothing is said of the file where the disk does not let it be opened.
            held @ (RegisterError::CannotWrite(_) | RegisterError::Busy(_)) => held,
            other => not_ours(other.to_string()),
        })?;
    if id != schema::APPLICATION_ID {
        return Err(not_ours("it was not made by this program".to_owned()));
    }
    let version = schema::version_of(connection)?;
    if version == 0 || version > schema::VERSION {
        return Err(not_ours(format!(
            "its tables are of version {version}, this program knows version {}",
            schema::VERSION
        )));
    }
    Ok(())
}
