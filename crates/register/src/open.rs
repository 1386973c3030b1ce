//! Opens a register and hands out what stands in it.

use std::path::{Path, PathBuf};
use std::time::Duration;

use assembler::Sitting;
use base::{CandidateNumber, ExamSeed};
use grader::Award;
use rusqlite::{Connection, OpenFlags};

use crate::answers::AnswerEntry;
use crate::error::RegisterError;
use crate::inputs::StoredText;
use crate::{acts, answers, inputs, marks, schema, sitting};

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
        let not_ours = |why: String| RegisterError::NotARegister {
            path: path.to_owned(),
            why,
        };
        let id: i32 = connection
            .pragma_query_value(None, "application_id", |row| row.get(0))
            .map_err(|error| not_ours(error.to_string()))?;
        if id != schema::APPLICATION_ID {
            return Err(not_ours("it was not made by this program".to_owned()));
        }
        let version: i32 = connection.pragma_query_value(None, "user_version", |row| row.get(0))?;
        if version != schema::VERSION {
            return Err(not_ours(format!(
                "its tables are of version {version}, this program knows version {}",
                schema::VERSION
            )));
        }
        set_up(&connection)?;
        Ok(Self {
            connection,
            path: path.to_owned(),
        })
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
        let hex: String = self
            .connection
            .query_row("SELECT hex FROM seed", [], |row| row.get(0))?;
        hex.parse()
            .map_err(|why: base::BadSeed| RegisterError::Damaged(why.to_string()))
    }

    /// The texts from which the sitting was made.
    ///
    /// # Errors
    /// When a text does not fit its digest.
    pub fn inputs(&self) -> Result<Vec<StoredText>, RegisterError> {
        inputs::read(&self.connection)
    }

    /// The sitting as assembled.
    ///
    /// # Errors
    /// When the register is damaged.
    pub fn sitting(&self) -> Result<Sitting, RegisterError> {
        sitting::read(&self.connection)
    }

    /// What was done to the sitting so far.
    ///
    /// # Errors
    /// When the register is damaged.
    pub fn acts(&self) -> Result<Vec<String>, RegisterError> {
        acts::read(&self.connection)
    }

    /// Puts down all answers and all marks of a marking, in one act: all or nothing. Earlier ones
    /// are replaced. `decisions` says, a sentence each, what persons decided about answers.
    ///
    /// # Errors
    /// When the register cannot be written.
    pub fn put_marking<'a>(
        &mut self,
        given: impl Iterator<Item = AnswerEntry>,
        awards: impl Iterator<Item = &'a Award>,
        decisions: &[String],
    ) -> Result<usize, RegisterError> {
        let act = self.connection.transaction()?;
        let number = answers::write(&act, given)?;
        marks::write(&act, awards)?;
        acts::note(&act, &format!("marked {number} answers"))?;
        for decision in decisions {
            acts::note(&act, decision)?;
        }
        act.commit()?;
        Ok(number)
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
        marks::read(&self.connection, None)
    }

    /// The marks of one candidate.
    ///
    /// # Errors
    /// When the register is damaged.
    pub fn marks_of(&self, candidate: &CandidateNumber) -> Result<Vec<Award>, RegisterError> {
        marks::read(&self.connection, Some(candidate))
    }

    /// Writes everything back into the one file, so that it can be copied.
    ///
    /// # Errors
    /// When the disk does not take it.
    pub fn close(self) -> Result<(), RegisterError> {
        self.connection.close().map_err(|(_, error)| error.into())
    }
}
