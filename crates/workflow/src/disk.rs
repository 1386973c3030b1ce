//! The real machine.

use std::io::{Read, Write};
use std::path::{Path, PathBuf};

use base::ExamSeed;
use jiff::Timestamp;
use rand::TryRng;
use register::Moment;

use crate::failure::Failure;
use crate::surroundings::{LARGEST_TEXT, Surroundings};

/// The files and the randomness of the machine the program runs on.
#[derive(Debug, Clone, Copy, Default)]
pub struct Disk;

impl Surroundings for Disk {
    fn read(&self, path: &Path) -> Result<Vec<u8>, Failure> {
        let cannot = |error: std::io::Error| Failure::cannot_read(path, &error);
        let file = std::fs::File::open(path).map_err(cannot)?;
        let about = file.metadata().map_err(cannot)?;
        if about.is_dir() {
            return Err(Failure::CannotRead {
                path: path.to_owned(),
                why: "it is a folder".to_owned(),
            });
        }
        let too_large = || Failure::CannotRead {
            path: path.to_owned(),
            why: format!(
                "it is larger than {} MB, the most that one text may have",
                LARGEST_TEXT / 1024 / 1024
            ),
        };
        if about.len() > LARGEST_TEXT {
            return Err(too_large());
        }
        // What is no plain file tells no length, so the reading itself is bounded too.
        let mut bytes = Vec::new();
        file.take(LARGEST_TEXT + 1)
            .read_to_end(&mut bytes)
            .map_err(cannot)?;
        if bytes.len() as u64 > LARGEST_TEXT {
            return Err(too_large());
        }
        Ok(bytes)
    }

    fn open(&self, path: &Path) -> Result<Box<dyn Read>, Failure> {
        let cannot = |error: std::io::Error| Failure::cannot_read(path, &error);
        let file = std::fs::File::open(path).map_err(cannot)?;
        if file.metadata().map_err(cannot)?.is_dir() {
            return Err(Failure::CannotRead {
                path: path.to_owned(),
                why: "it is a folder".to_owned(),
            });
        }
        Ok(Box::new(file))
    }

    fn has_file(&self, path: &Path) -> bool {
        path.is_file()
    }

    fn files_in(&self, folder: &Path) -> Result<Vec<String>, Failure> {
        let cannot = |error: std::io::Error| Failure::cannot_read(folder, &error);
        if !folder.is_dir() {
            return Ok(Vec::new());
        }
        let mut names = Vec::new();
        for entry in std::fs::read_dir(folder).map_err(cannot)? {
            let entry = entry.map_err(cannot)?;
            if entry.path().is_file() {
                names.push(entry.file_name().to_string_lossy().into_owned());
            }
        }
        names.sort();
        Ok(names)
    }

    fn write(&self, path: &Path, bytes: &[u8]) -> Result<(), Failure> {
        put_down(path, bytes, ForWhom::WhoeverReadsTheFolder)
    }

    fn write_secret(&self, path: &Path, bytes: &[u8]) -> Result<(), Failure> {
        put_down(path, bytes, ForWhom::ItsOwner)
    }

    fn remove(&self, path: &Path) -> Result<(), Failure> {
        match std::fs::remove_file(path) {
            Err(error) if error.kind() != std::io::ErrorKind::NotFound => {
                Err(Failure::cannot_write(path, &error))
            }
            Ok(()) | Err(_) => Ok(()),
        }
    }

    fn begin_folder(&self, folder: &Path, mark: &str) -> Result<PathBuf, Failure> {
        let cannot = |error: std::io::Error| Failure::cannot_write(folder, &error);
        let empty = |folder: &Path| std::fs::read_dir(folder).is_ok_and(|mut d| d.next().is_none());
        if folder.exists() && !folder.join(mark).is_file() && !empty(folder) {
            return Err(Failure::Refused {
                what: format!(
                    "{} holds something else and would be replaced",
                    folder.display()
                ),
                hint: "name another folder, or move this one away".to_owned(),
            });
        }
        let growing = beside(folder, "growing");
        if growing.exists() {
            std::fs::remove_dir_all(&growing).map_err(cannot)?;
        }
        std::fs::create_dir_all(&growing).map_err(cannot)?;
        Ok(growing)
    }

    fn finish_folder(&self, grown: &Path, folder: &Path) -> Result<(), Failure> {
        let cannot = |error: std::io::Error| Failure::cannot_write(folder, &error);
        let old = beside(folder, "old");
        if old.exists() {
            std::fs::remove_dir_all(&old).map_err(cannot)?;
        }
        if folder.exists() {
            std::fs::rename(folder, &old).map_err(cannot)?;
        }
        std::fs::rename(grown, folder).map_err(cannot)?;
        if old.exists() {
            std::fs::remove_dir_all(&old).map_err(cannot)?;
        }
        Ok(())
    }

    fn give_up_folder(&self, grown: &Path) {
        // What stays is hidden and is replaced by the next attempt; the failure itself is told.
        let _ = std::fs::remove_dir_all(grown);
    }

    fn fresh_seed(&self) -> Result<ExamSeed, Failure> {
        let mut bytes = zeroize::Zeroizing::new([0; 32]);
        rand::rngs::SysRng
            .try_fill_bytes(bytes.as_mut_slice())
            .map_err(|error| {
                Failure::Machine(format!("the machine gives no random numbers: {error}"))
            })?;
        Ok(ExamSeed::from_bytes(*bytes))
    }

    fn now(&self) -> Option<Moment> {
        // SOURCE_DATE_EPOCH is the convention of reproducible-builds.org: whoever wants the same
        // bytes again names the moment. It is no weaker than the clock, which its owner can set.
        let told = std::env::var("SOURCE_DATE_EPOCH").ok();
        let second = match told.and_then(|text| text.parse::<i64>().ok()) {
            Some(second) => second,
            None => Timestamp::now().as_second(),
        };
        Moment::parse(&Timestamp::from_second(second).ok()?.to_string())
    }
}

/// Who may read a file.
#[derive(Debug, Clone, Copy)]
enum ForWhom {
    ItsOwner,
    WhoeverReadsTheFolder,
}

/// Puts a file down beside its place first, then moves it there: a full disk leaves the old file
/// whole.
fn put_down(path: &Path, bytes: &[u8], whom: ForWhom) -> Result<(), Failure> {
    let cannot = |error: std::io::Error| Failure::cannot_write(path, &error);
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        Some(_) | None => Path::new("."),
    };
    std::fs::create_dir_all(folder).map_err(cannot)?;
    let mut growing = tempfile::NamedTempFile::new_in(folder).map_err(cannot)?;
    growing.write_all(bytes).map_err(cannot)?;
    growing.as_file().sync_all().map_err(cannot)?;
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = match whom {
            ForWhom::ItsOwner => 0o600,
            ForWhom::WhoeverReadsTheFolder => 0o644,
        };
        let open = std::fs::Permissions::from_mode(mode);
        growing.as_file().set_permissions(open).map_err(cannot)?;
    }
    // Elsewhere the folder's own rights hold for both.
    #[cfg(not(unix))]
    let _ = whom;
    growing.persist(path).map_err(|error| cannot(error.error))?;
    Ok(())
}

/// A hidden folder beside this one.
fn beside(folder: &Path, what: &str) -> PathBuf {
    let name = folder.file_name().unwrap_or_default().to_string_lossy();
    folder.with_file_name(format!(".{name}.{what}"))
}
