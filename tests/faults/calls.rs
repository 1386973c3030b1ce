//! A disk that fails: every call by which the program writes is made to fail in turn, or writes less than
//! it was told. After each the register is either as before the act or as after it, what was acknowledged
//! is there, and the same command goes through once the disk is well.
//!
//! Calls fail at the border of the system: `strace` lets the n-th of a kind return an error, and
//! `prlimit` lets files grow to so many bytes and no further, so that the last write is short. By default
//! every third call and some sizes are tried; `VALINCH_CALLS=all` tries each.

use std::path::Path;
use std::process::{Command, Stdio};

use register::{Register, RegisterError};
use tests::Room;

/// The commands that write, and what must be done before each.
pub(crate) const ACTS: [(&str, &[&str]); 6] = [
    ("assemble", &["assemble", "exam", "--seed", SEED]),
    ("mark", &["mark", "exam"]),
    ("seal", &["seal", "exam", "--recipient", RECIPIENT]),
    ("results", &["results", "exam"]),
    (
        "release",
        &["results", "release", "exam", "--confirmed-by", "assembler"],
    ),
    (
        "erase",
        &[
            "results",
            "person",
            "erase",
            "exam",
            "S-2",
            "--confirmed-by",
            "assembler",
        ],
    ),
];

const SEED: &str = "3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c";
/// Of an identity that was thrown away.
const RECIPIENT: &str = "age1ql3z7hjy54pw3hyww5ayyfg7zqgvc7w3j2elw8zmrj2kg5sfn9aqmcac8p";

/// Kinds of calls by which files change, and the error that each returns.
const CALLS: [(&str, &str); 8] = [
    ("pwrite64", "ENOSPC"),
    ("write", "ENOSPC"),
    ("fsync", "EIO"),
    ("fdatasync", "EIO"),
    ("ftruncate", "EIO"),
    ("rename", "EIO"),
    ("unlink", "EIO"),
    ("fchmod", "EIO"),
];

/// Exit codes by which the program says that it could not do it; anything else is no answer.
const TOLD: [i32; 3] = [1, 3, 5];

fn all() -> bool {
    std::env::var("VALINCH_CALLS").is_ok_and(|told| told == "all")
}

/// The folder as it is before this act.
pub(crate) fn before(act: &str) -> Room {
    let room = Room::empty();
    tests::copy(
        &tests::top().join("tests/papers/small-exam"),
        &room.path("exam"),
    );
    room.put(
        "exam/answers/answers.csv",
        "candidate,part,question,answer\nS-1,theory,1,B\nS-2,theory,1,A\n",
    );
    for (done, arguments) in ACTS {
        if done == act {
            break;
        }
        let code = room.run(arguments).code;
        assert!(code == 0 || code == 1, "{done}: {code}");
    }
    room
}

/// The entries of the ledger; none where there is no register. Else what is wrong with it.
pub(crate) fn entries(room: &Room) -> Result<usize, String> {
    let path = room.path("exam/sitting.register");
    if !path.exists() {
        return Ok(0);
    }
    let in_words = |error: RegisterError| error.to_string();
    let found = Register::verify(&path, None).map_err(in_words)?;
    if !found.faults.is_empty() {
        return Err(format!("{:?}", found.faults));
    }
    Ok(Register::ledger_of(&path).map_err(in_words)?.len())
}

/// What was counted.
#[derive(Debug, Default)]
struct Count {
    tried: u32,
    done: u32,
    lost: u32,
    undetected: u32,
}

impl Count {
    /// Looks at what a run under a failing disk has left.
    fn look(
        &mut self,
        what: &str,
        room: &Room,
        arguments: &[&str],
        was: usize,
        code: i32,
        said: &str,
    ) {
        self.tried += 1;
        let acknowledged = code == 0 || (code == 1 && arguments[0] == "mark");
        if !acknowledged && !TOLD.contains(&code) {
            println!("{what}: ended with {code}\n{said}");
            self.undetected += 1;
        }
        let now = match entries(room) {
            Ok(now) => now,
            Err(error) => {
                println!("{what}: ended with {code}, and the register: {error}");
                self.lost += 1;
                return;
            }
        };
        if now < was || (acknowledged && now == was) {
            println!("{what}: ended with {code}, {was} entries before, {now} after");
            self.lost += 1;
        }
        self.done += u32::from(acknowledged);
        // Once the disk is well the same command goes through, unless the act was done: a release or a
        // seal is done once.
        let again = room.run(arguments);
        let refused_again = now > was && again.code == 3;
        if !(again.code == 0 || again.code == 1 || refused_again) {
            println!(
                "{what}: afterwards it ended with {}\n{}",
                again.code, again.err
            );
            self.lost += 1;
        }
        if entries(room).is_err() {
            self.lost += 1;
        }
    }
}

/// A copy of a folder with everything in it.
pub(crate) fn copy_of(room: &Room) -> Room {
    let copy = Room::empty();
    for (name, bytes) in room.files("exam") {
        copy.put(&format!("exam/{name}"), bytes);
    }
    copy
}

/// Runs a command line in a room: its exit code, -1 after a signal, and what it said.
fn run(room: &Room, command: &mut Command) -> (i32, String) {
    let output = command
        .current_dir(room.path(""))
        .env_clear()
        .env("SOURCE_DATE_EPOCH", "1812792600")
        .env("PATH", std::env::var_os("PATH").unwrap_or_default())
        .env("RAYON_NUM_THREADS", "1")
        .stdin(Stdio::null())
        .output()
        .unwrap();
    (
        output.status.code().unwrap_or(-1),
        String::from_utf8_lossy(&output.stderr).into_owned(),
    )
}

/// Whether calls can be made to fail here.
pub(crate) fn can_trace(room: &Room) -> bool {
    let mut probe = Command::new("strace");
    probe.args(["-f", "-qq", "-o", "/dev/null", "true"]);
    probe
        .current_dir(room.path(""))
        .output()
        .is_ok_and(|output| output.status.success())
}

#[test]
fn every_call_that_fails_is_told_and_nothing_is_lost() {
    if !can_trace(&Room::empty()) {
        println!("failing calls: skipped, strace may not trace here");
        return;
    }
    let mut count = Count::default();
    for (act, arguments) in ACTS {
        let pristine = before(act);
        let was = entries(&pristine).unwrap();
        for (call, error) in CALLS {
            let step = if all() { 1 } else { 3 };
            for number in (1..).step_by(step) {
                let room = copy_of(&pristine);
                let trace = room.path("trace");
                let mut command = Command::new("strace");
                command
                    .args(["-f", "-qq", "-o"])
                    .arg(&trace)
                    .args(["-e", &format!("trace={call}")])
                    .args(["-e", &format!("inject={call}:error={error}:when={number}")])
                    .arg(tests::program())
                    .args(arguments);
                let (code, said) = run(&room, &mut command);
                let trace = std::fs::read_to_string(trace).unwrap();
                if !trace.contains("(INJECTED)") {
                    break;
                }
                let what = format!("{act}, {call} {number} with {error}");
                count.look(&what, &room, arguments, was, code, &said);
            }
        }
    }
    println!(
        "failing calls: {} tried, {} done all the same; lost {}, undetected {}",
        count.tried, count.done, count.lost, count.undetected
    );
    assert_eq!((count.lost, count.undetected), (0, 0));
    assert!(count.tried > 50, "{}", count.tried);
}

/// Files grow to so many bytes and no further: the write that reaches the end is short.
#[test]
fn every_write_that_is_short_is_told_and_nothing_is_lost() {
    let mut count = Count::default();
    for (act, arguments) in ACTS {
        let pristine = before(act);
        let was = entries(&pristine).unwrap();
        let whole = copy_of(&pristine);
        whole.run(arguments);
        let largest = |room: &Room| {
            let sizes = room.files("exam").into_values().map(|bytes| bytes.len());
            sizes.max().unwrap_or(0)
        };
        let most = largest(&whole).max(largest(&pristine)) * 2;
        let tries = if all() { 200 } else { 24 };
        let mut numbers = crate::made::numbers(7);
        for n in 0..tries {
            // At the borders of pages, beside them, and anywhere.
            let bytes = match n % 3 {
                0 => numbers.below(most as u64 / 4096 + 1) * 4096,
                1 => numbers.below(most as u64 / 4096 + 1) * 4096 + 1,
                _ => numbers.below(most as u64),
            };
            let room = copy_of(&pristine);
            let mut command = Command::new("prlimit");
            command
                .arg(format!("--fsize={bytes}:{bytes}"))
                .args(["sh", "-c", "trap '' XFSZ; exec \"$0\" \"$@\""])
                .arg(tests::program())
                .args(arguments);
            let (code, said) = run(&room, &mut command);
            let what = format!("{act}, files of at most {bytes} bytes");
            count.look(&what, &room, arguments, was, code, &said);
        }
    }
    println!(
        "short writes: {} tried, {} done all the same; lost {}, undetected {}",
        count.tried, count.done, count.lost, count.undetected
    );
    assert_eq!((count.lost, count.undetected), (0, 0));
    assert!(count.tried > count.done, "no write was short");
}

/// A copy that a program for copies made while the register was written: what it caught is either a whole
/// register or told to be none.
#[test]
fn a_copy_made_in_mid_write_is_whole_or_told() {
    let folder = tempfile::tempdir().unwrap();
    let path = crate::made::register(folder.path(), 3);
    let kept = Register::open(&path).unwrap().head().unwrap();
    // While one writes, another copies the file alone, piece by piece, without its write-ahead file.
    let stop = std::sync::atomic::AtomicBool::new(false);
    let (mut whole, mut told) = (Vec::new(), 0);
    std::thread::scope(|scope| {
        scope.spawn(|| {
            let mut number = 100;
            while !stop.load(std::sync::atomic::Ordering::Relaxed) {
                let mut open = Register::open(&path).unwrap();
                crate::made::note(&mut open, number).unwrap();
                open.close().unwrap();
                number += 1;
            }
        });
        for n in 0..60 {
            let copy = folder.path().join(format!("copy-{n}"));
            piecewise(&path, &copy);
            match Register::verify(&copy, Some(&kept)) {
                Ok(found) if found.faults.is_empty() => {
                    whole.push(Register::ledger_of(&copy).unwrap());
                }
                Ok(_) | Err(_) => told += 1,
            }
        }
        stop.store(true, std::sync::atomic::Ordering::Relaxed);
    });
    assert_eq!(Register::verify(&path, None).unwrap().faults, []);
    // What was found whole is what the register said at some moment.
    let now = Register::ledger_of(&path).unwrap();
    let undetected = whole.iter().filter(|copy| !now.starts_with(copy)).count();
    println!(
        "copies in mid-write: {} whole, {told} told; undetected {undetected}",
        whole.len()
    );
    assert_eq!(undetected, 0);
}

fn piecewise(from: &Path, to: &Path) {
    use std::io::{Read, Write};
    let mut from = std::fs::File::open(from).unwrap();
    let mut to = std::fs::File::create(to).unwrap();
    let mut piece = [0; 1024];
    loop {
        let read = from.read(&mut piece).unwrap();
        if read == 0 {
            break;
        }
        to.write_all(&piece[..read]).unwrap();
        std::thread::sleep(std::time::Duration::from_micros(50));
    }
}
