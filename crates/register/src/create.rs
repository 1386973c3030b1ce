//! Makes a register: whole or not at all.

use std::path::{Path, PathBuf};

use assembler::Sitting;
use base::ExamSeed;
use rusqlite::Connection;

use crate::beside::{self, Beside};
use crate::error::RegisterError;
use crate::holder::Holder;
use crate::identity::{self, Identity};
use crate::inputs::StoredText;
use crate::ledger::{Act, Details, States};
use crate::open::{Register, set_up};
use crate::role::By;
use crate::{inputs, ledger_store, schema, sitting, state};

/// The name under which a register grows until it is whole.
fn growing(path: &Path) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_os_string();
    name.push(".part");
    path.with_file_name(name)
}

impl Register {
    /// Makes the register of a sitting whose texts say all that is known of its people.
    ///
    /// # Errors
    /// As `create_with_people`.
    pub fn create(
        path: &Path,
        texts: &[StoredText],
        seed: &ExamSeed,
        assembled: &Sitting,
        noted: &[Beside],
        by: &By,
    ) -> Result<Self, RegisterError> {
        let people = Identity::InTexts;
        Self::create_with_people(path, texts, seed, assembled, &people, noted, by)
    }

    /// Makes the register of a sitting whose people are kept apart from its texts. It is written beside its place and moved there when it is
    /// whole, so that a power cut leaves either none or a whole one. `noted` is entered behind the draw:
    /// what was decided for it.
    ///
    /// # Errors
    /// When there is one already, or the folder cannot be written.
    pub fn create_with_people(
        path: &Path,
        texts: &[StoredText],
        seed: &ExamSeed,
        assembled: &Sitting,
        people: &Identity,
        noted: &[Beside],
        by: &By,
    ) -> Result<Self, RegisterError> {
        if path.exists() {
            return Err(RegisterError::Exists(path.to_owned()));
        }
        let part = growing(path);
        let cannot_write = |error: std::io::Error| RegisterError::CannotWrite(error.to_string());
        take_away(&part).map_err(cannot_write)?;
        let filled = fill(&part, texts, seed, assembled, people, noted, by);
        if let Err(error) = filled {
            // The failure is what the person must hear of; that the rest may stay is harmless, as
            // the next attempt takes it away.
            let _ = take_away(&part);
            return Err(error);
        }
        let placed = only_for_its_owner(&part).and_then(|()| std::fs::rename(&part, path));
        if let Err(error) = placed {
            let _ = take_away(&part);
            return Err(cannot_write(error));
        }
        if let Some(folder) = path.parent()
            && let Ok(folder) = std::fs::File::open(if folder.as_os_str().is_empty() {
                Path::new(".")
            } else {
                folder
            })
        {
            // Not every file system lets a folder be synchronised; the rename itself has happened.
            let _ = folder.sync_all();
        }
        Self::open(path)
    }
}

/// Takes away what an attempt left, with what SQLite keeps beside it.
fn take_away(part: &Path) -> std::io::Result<()> {
    for ending in ["", "-wal", "-shm"] {
        let mut name = part.as_os_str().to_owned();
        name.push(ending);
        match std::fs::remove_file(&name) {
            Err(error) if error.kind() != std::io::ErrorKind::NotFound => return Err(error),
            Ok(()) | Err(_) => {}
        }
    }
    Ok(())
}

/// The register holds seed and key in clear.
pub(crate) fn only_for_its_owner(path: &Path) -> std::io::Result<()> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        std::fs::set_permissions(path, std::fs::Permissions::from_mode(0o600))?;
    }
    // Elsewhere the folder's own rights hold.
    #[cfg(not(unix))]
    let _ = path;
    Ok(())
}

fn fill(
    path: &Path,
    texts: &[StoredText],
    seed: &ExamSeed,
    assembled: &Sitting,
    people: &Identity,
    noted: &[Beside],
    by: &By,
) -> Result<(), RegisterError> {
    let mut connection = Connection::open(path)?;
    set_up(&connection)?;
    connection.pragma_update(None, "application_id", schema::APPLICATION_ID)?;
    let act = connection.transaction()?;
    schema::migrate(&act, 0)?;
    act.execute(
        "INSERT INTO seed (only, hex) VALUES (1, ?1)",
        [seed.to_hex().as_str()],
    )?;
    inputs::write(&act, texts)?;
    sitting::write(&act, assembled)?;
    identity::write(&act, people)?;
    let after = state::states(&act, seed, &state::tables(&act)?)?;
    let details = Details::from([
        ("candidates".to_owned(), assembled.places.len().to_string()),
        ("forms".to_owned(), assembled.forms.len().to_string()),
    ]);
    ledger_store::append(&act, Act::Assembled, by, details, States::new(), after)?;
    beside::enter(&act, seed, noted, by)?;
    act.commit()?;
    // Closing folds the write-ahead file in and keeps silent where it could not; the file alone is moved.
    let held: i64 =
        connection.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |row| row.get(0))?;
    if held != 0 {
        return Err(RegisterError::Busy(Holder::default()));
    }
    connection
        .close()
        .map_err(|(_, error)| RegisterError::from(error))
}
