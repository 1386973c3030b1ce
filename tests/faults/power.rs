//! The power goes off. What the program asks of the system in one act is recorded with `strace`, and the
//! disk is worked out as it may look when the power goes behind any one of these calls: what was
//! synchronised stands there; of what was written since, any part may, in halves of a page too; names
//! are made, moved and taken away in their order, but as late as the disk likes, until the folder is
//! synchronised. The register must be as before the act or as after it, and as after it once the program
//! has said so.
//!
//! That a disk keeps what it said it had synchronised is taken for granted, as by every program.

use std::collections::BTreeMap;
use std::process::{Command, Stdio};

use base::Stream;
use tests::Room;

use crate::calls::{ACTS, before, can_trace, copy_of, entries};

/// What disks write as one piece.
const SECTOR: usize = 512;

/// One call that changes the register or what lies beside it, as the system answered it.
#[derive(Debug)]
enum Call {
    Create(String),
    Write {
        name: String,
        at: usize,
        bytes: Vec<u8>,
    },
    Cut {
        name: String,
        length: usize,
    },
    Synchronise(String),
    SynchroniseFolder,
    Move {
        from: String,
        to: String,
    },
    TakeAway(String),
    /// The program says that it is done.
    Say,
}

/// The bytes of all `\xNN` in a text, as `strace -xx` writes them.
fn bytes_of(text: &str) -> Vec<u8> {
    text.split("\\x")
        .skip(1)
        .map(|hex| u8::from_str_radix(hex.get(..2).unwrap(), 16).unwrap())
        .collect()
}

/// The name of a file of the register; none of what else there is. Memory that processes share is gone
/// with the power and is not looked at.
fn ours(path: &str) -> Option<String> {
    let path = String::from_utf8(bytes_of(path)).unwrap();
    let name = path.rsplit('/').next().unwrap();
    (name.starts_with("sitting.register") && !name.ends_with("-shm")).then(|| name.to_owned())
}

/// One line of the trace.
fn call(line: &str) -> Option<Call> {
    assert!(!line.contains("unfinished"), "two calls at once: {line}");
    let (_, line) = line.split_once(' ')?;
    let (kind, rest) = line.trim_start().split_once('(')?;
    let (arguments, answer) = rest.rsplit_once(") = ")?;
    let answer: usize = answer.split(['<', ' ']).next()?.parse().ok()?;
    let quoted: Vec<&str> = arguments.split('"').collect();
    let open = arguments.split(['<', '>']).nth(1);
    match kind {
        "openat" if arguments.contains("O_CREAT") => ours(quoted[1]).map(Call::Create),
        "pwrite64" => {
            let at = arguments.rsplit(", ").next()?.parse().unwrap();
            let mut bytes = bytes_of(quoted[1]);
            bytes.truncate(answer);
            ours(open?).map(|name| Call::Write { name, at, bytes })
        }
        "write" if arguments.starts_with("1<") => Some(Call::Say),
        "write" | "pwritev" | "copy_file_range" => {
            assert!(ours(open?).is_none(), "a way to write that is not known");
            None
        }
        "ftruncate" => {
            let length = arguments.rsplit(", ").next()?.parse().unwrap();
            ours(open?).map(|name| Call::Cut { name, length })
        }
        "fsync" | "fdatasync" => {
            let path = String::from_utf8(bytes_of(open?)).unwrap();
            if path.ends_with("/exam") {
                return Some(Call::SynchroniseFolder);
            }
            ours(open?).map(Call::Synchronise)
        }
        "rename" => {
            let (from, to) = (ours(quoted[1])?, ours(quoted[3])?);
            Some(Call::Move { from, to })
        }
        "unlink" => ours(quoted[1]).map(Call::TakeAway),
        _ => None,
    }
}

/// One file: what is on the disk for certain, and what was written since.
#[derive(Debug, Clone, Default)]
struct Written {
    certain: Vec<u8>,
    since: Vec<(usize, Vec<u8>)>,
    /// How long it was made, at which place among the writes.
    cuts: Vec<(usize, usize)>,
}

fn write(onto: &mut Vec<u8>, at: usize, bytes: &[u8]) {
    if onto.len() < at + bytes.len() {
        onto.resize(at + bytes.len(), 0);
    }
    onto[at..at + bytes.len()].copy_from_slice(bytes);
}

impl Written {
    /// With those changes that `kept` says of: how many bytes of each write, and whether a cut.
    fn with(&self, mut kept: impl FnMut(usize) -> usize) -> Vec<u8> {
        let mut now = self.certain.clone();
        for (place, (at, bytes)) in self.since.iter().enumerate() {
            for (_, length) in self.cuts.iter().filter(|(cut, _)| *cut == place) {
                if kept(1) == 1 {
                    now.resize(*length, 0);
                }
            }
            let length = kept(bytes.len());
            write(&mut now, *at, &bytes[..length]);
        }
        for (_, length) in self.cuts.iter().filter(|(cut, _)| *cut == self.since.len()) {
            if kept(1) == 1 {
                now.resize(*length, 0);
            }
        }
        now
    }

    fn synchronise(&mut self) {
        self.certain = self.with(|all| all);
        self.since.clear();
        self.cuts.clear();
    }
}

/// The folder: the files behind their names, and the names as they are on the disk for certain.
#[derive(Debug, Default)]
struct Disk {
    files: Vec<Written>,
    names: BTreeMap<String, usize>,
    certain: BTreeMap<String, usize>,
    /// The names after each change since the folder was synchronised.
    since: Vec<BTreeMap<String, usize>>,
}

impl Disk {
    /// As it is before the act, all of it on the disk.
    fn of(room: &Room) -> Self {
        let mut disk = Self::default();
        for (name, bytes) in room.files("exam") {
            if name.starts_with("sitting.register") && !name.ends_with("-shm") {
                disk.names.insert(name, disk.files.len());
                disk.files.push(Written {
                    certain: bytes,
                    ..Written::default()
                });
            }
        }
        disk.certain = disk.names.clone();
        disk
    }

    fn file(&mut self, name: &str) -> &mut Written {
        &mut self.files[self.names[name]]
    }

    fn after(&mut self, call: &Call) {
        match call {
            Call::Create(name) => {
                if !self.names.contains_key(name) {
                    self.names.insert(name.clone(), self.files.len());
                    self.files.push(Written::default());
                    self.since.push(self.names.clone());
                }
            }
            Call::Write { name, at, bytes } => self.file(name).since.push((*at, bytes.clone())),
            Call::Cut { name, length } => {
                let file = self.file(name);
                file.cuts.push((file.since.len(), *length));
            }
            Call::Synchronise(name) => self.file(name).synchronise(),
            Call::SynchroniseFolder => {
                self.certain = self.names.clone();
                self.since.clear();
            }
            Call::Move { from, to } => {
                let file = self.names.remove(from).unwrap();
                self.names.insert(to.clone(), file);
                self.since.push(self.names.clone());
            }
            Call::TakeAway(name) => {
                self.names.remove(name).unwrap();
                self.since.push(self.names.clone());
            }
            Call::Say => {}
        }
    }

    /// One way in which it may look when the power is back.
    fn found(&self, chance: &mut Stream) -> BTreeMap<String, Vec<u8>> {
        let changes = chance.below(self.since.len() as u64 + 1) as usize;
        let names = match changes {
            0 => &self.certain,
            some => &self.since[some - 1],
        };
        let mut part = |all: usize| match chance.below(3) {
            0 => 0,
            1 => all,
            _ if all <= SECTOR => chance.below(2) as usize * all,
            _ => chance.below((all / SECTOR) as u64 + 1) as usize * SECTOR,
        };
        names
            .iter()
            .map(|(name, file)| (name.clone(), self.files[*file].with(&mut part)))
            .collect()
    }
}

/// What the program asks of the system in this act.
fn recorded(room: &Room, arguments: &[&str]) -> Vec<Call> {
    let trace = room.path("trace");
    let kinds = "trace=openat,pwrite64,pwritev,write,copy_file_range,ftruncate,fsync,fdatasync,rename,unlink";
    let output = Command::new("strace")
        .args([
            "-f",
            "-y",
            "-qq",
            "-xx",
            "-s",
            "100000000",
            "-e",
            kinds,
            "-o",
        ])
        .arg(&trace)
        .arg(tests::program())
        .args(arguments)
        .current_dir(room.path(""))
        .env_clear()
        .env("SOURCE_DATE_EPOCH", "1812792600")
        .env("PATH", std::env::var_os("PATH").unwrap_or_default())
        .env("RAYON_NUM_THREADS", "1")
        .stdin(Stdio::null())
        .output()
        .unwrap();
    assert!(matches!(output.status.code(), Some(0 | 1)), "{output:?}");
    let trace = std::fs::read_to_string(trace).unwrap();
    trace.lines().filter_map(call).collect()
}

/// Puts down the register as it was found, in a copy of the folder.
fn put_down(pristine: &Room, found: &BTreeMap<String, Vec<u8>>) -> Room {
    let room = copy_of(pristine);
    for ending in ["", "-wal", "-shm", ".part", ".part-wal", ".part-shm"] {
        let _ = std::fs::remove_file(room.path(&format!("exam/sitting.register{ending}")));
    }
    for (name, bytes) in found {
        room.put(&format!("exam/{name}"), bytes);
    }
    room
}

/// What was counted.
#[derive(Debug, Default)]
struct Count {
    cuts: u32,
    as_after: u32,
    lost: Vec<String>,
}

/// Lets the power go off behind each call of an act that the system answered, `ways` times each.
fn cut_behind_each(
    count: &mut Count,
    (act, arguments): (&str, &[&str]),
    ways: u32,
    counted: fn(&Call) -> bool,
) {
    let mut chance = crate::made::numbers(11);
    let pristine = before(act);
    let was = entries(&pristine).unwrap();
    let whole = copy_of(&pristine);
    let calls = recorded(&whole, arguments);
    let is = entries(&whole).unwrap();
    assert!(is > was, "{act}");
    assert!(calls.iter().any(|call| matches!(call, Call::Say)), "{act}");

    let mut disk = Disk::of(&pristine);
    let mut said = false;
    for (number, call) in calls.iter().filter(|call| counted(call)).enumerate() {
        disk.after(call);
        said |= matches!(call, Call::Say);
        for way in 0..ways {
            let room = put_down(&pristine, &disk.found(&mut chance));
            count.cuts += 1;
            let now = entries(&room);
            let sound = match &now {
                Ok(now) if *now == is => true,
                Ok(now) => *now == was && !said,
                Err(_) => false,
            };
            count.as_after += u32::from(now.as_ref().is_ok_and(|now| *now == is));
            if !sound {
                let what = format!("{act}, behind call {number} ({was} to {is} entries): {now:?}");
                count.lost.push(what);
            } else if way == 0 && now.is_ok_and(|now| now == was) {
                // The same command goes through when the power is back.
                let again = room.run(arguments);
                if !matches!(again.code, 0 | 1) || entries(&room).is_err() {
                    let what = format!("{act}, behind call {number}: again {}", again.err);
                    count.lost.push(what);
                }
            }
        }
    }
}

#[test]
fn the_power_goes_off_behind_any_call_and_nothing_is_lost() {
    if !can_trace(&Room::empty()) {
        println!("power cuts: skipped, strace may not trace here");
        return;
    }
    let mut count = Count::default();
    for act in ACTS {
        cut_behind_each(&mut count, act, 3, |_| true);
    }
    println!(
        "power cuts: {} tried, {} with the act done; lost {}",
        count.cuts,
        count.as_after,
        count.lost.len()
    );
    assert!(count.lost.is_empty(), "{:#?}", count.lost);
    assert!(count.cuts > 300 && count.as_after > 50, "{count:?}");
}

/// If the system did not do what it is asked to when the register synchronises, acts would be lost: so
/// that nothing is lost above says something.
#[test]
fn without_synchronising_acts_would_be_lost() {
    if !can_trace(&Room::empty()) {
        println!("power cuts: skipped, strace may not trace here");
        return;
    }
    let mut count = Count::default();
    cut_behind_each(&mut count, ACTS[1], 8, |call| {
        !matches!(call, Call::Synchronise(_))
    });
    assert!(!count.lost.is_empty(), "{count:?}");
}

/// The worked-out disk is one that loses what was not synchronised, or this would show nothing.
#[test]
fn a_program_that_does_not_synchronise_would_be_found() {
    let mut disk = Disk::default();
    let name = "sitting.register".to_owned();
    disk.after(&Call::Create(name.clone()));
    disk.after(&Call::Write {
        name: name.clone(),
        at: 0,
        bytes: vec![7; 4096],
    });
    let mut chance = crate::made::numbers(12);
    let found: Vec<_> = (0..60).map(|_| disk.found(&mut chance)).collect();
    let length = |found: &BTreeMap<String, Vec<u8>>| found.get(&name).map(Vec::len);
    assert!(found.iter().any(|found| length(found).is_none()));
    assert!(found.iter().any(|found| length(found) == Some(0)));
    assert!(found.iter().any(|found| length(found) == Some(512)));
    assert!(found.iter().any(|found| length(found) == Some(4096)));
    disk.after(&Call::Synchronise(name.clone()));
    disk.after(&Call::SynchroniseFolder);
    assert_eq!(length(&disk.found(&mut chance)), Some(4096));
}
