//! Who holds a register for writing, as far as the system tells.

use std::fmt;
use std::path::Path;

/// Whoever is writing to a register.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Holder {
    /// The number of its process and its name; none where the system does not tell.
    process: Option<(u32, String)>,
}

impl fmt::Display for Holder {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.process {
            Some((number, name)) if name.is_empty() => write!(f, "process {number}"),
            Some((number, name)) => write!(f, "the program {name} (process {number})"),
            None => write!(f, "another program"),
        }
    }
}

/// The byte of the file with ending `-shm` that a writer locks: where SQLite keeps its eight locks behind
/// two copies of the head of the write-ahead index and what belongs to it (WAL file format, "The WAL-Index
/// File Format": offset 120, WAL_WRITE_LOCK).
const WRITE_LOCK: u64 = 120;

/// Who holds this register for writing. Linux lists its locks in `/proc/locks`; elsewhere nothing is told.
pub(crate) fn holder_of(register: &Path) -> Holder {
    let mut shared = register.as_os_str().to_owned();
    shared.push("-shm");
    let process = inode(Path::new(&shared)).and_then(|inode| {
        let locks = std::fs::read_to_string("/proc/locks").ok()?;
        let number = locks.lines().find_map(|line| writer(line, inode))?;
        let name = std::fs::read_to_string(format!("/proc/{number}/comm")).unwrap_or_default();
        Some((number, name.trim().to_owned()))
    });
    Holder { process }
}

#[cfg(unix)]
fn inode(path: &Path) -> Option<u64> {
    use std::os::unix::fs::MetadataExt;
    std::fs::metadata(path).ok().map(|found| found.ino())
}

#[cfg(not(unix))]
fn inode(_path: &Path) -> Option<u64> {
    None
}

/// The process of a line such as `3: POSIX  ADVISORY  WRITE 4711 fd:01:9437 120 120`, where it locks the
/// writer's byte of the file with this inode.
fn writer(line: &str, inode: u64) -> Option<u32> {
    let words: Vec<&str> = line.split_whitespace().collect();
    let [_, "POSIX", _, "WRITE", process, file, from, to] = words.as_slice() else {
        return None;
    };
    let of: u64 = file.rsplit(':').next()?.parse().ok()?;
    let from: u64 = from.parse().ok()?;
    let to = match *to {
        "EOF" => u64::MAX,
        to => to.parse().ok()?,
    };
    let process: u32 = process.parse().ok()?;
    (of == inode && from <= WRITE_LOCK && WRITE_LOCK <= to && process > 0).then_some(process)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_line_of_a_writer_is_told_from_others() {
        let line = "3: POSIX  ADVISORY  WRITE 4711 fd:01:9437 120 120";
        assert_eq!(writer(line, 9437), Some(4711));
        assert_eq!(writer(line, 9438), None);
        for other in [
            "3: POSIX  ADVISORY  READ 4711 fd:01:9437 120 120",
            "3: POSIX  ADVISORY  WRITE 4711 fd:01:9437 123 123",
            "3: FLOCK  ADVISORY  WRITE 4711 fd:01:9437 0 EOF",
            "3: -> POSIX  ADVISORY  WRITE 4711 fd:01:9437 120 120",
            "",
        ] {
            assert_eq!(writer(other, 9437), None, "{other}");
        }
    }

    #[test]
    fn whoever_is_not_told_is_another_program() {
        assert_eq!(Holder::default().to_string(), "another program");
        let process = Some((4711, "valinch".to_owned()));
        let told = Holder { process }.to_string();
        assert_eq!(told, "the program valinch (process 4711)");
    }
}
