//! Hostile input: whatever a file holds, a clear message comes soon and within 200 MB.

use std::io::Read;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use tests::{Room, program};

/// Most memory that a run may take, in kB: 200 MB.
const MOST_MEMORY: u64 = 200 * 1024;
/// A guard against hanging; how fast it is belongs to the benchmarks.
const LONGEST: Duration = Duration::from_secs(20);

const EXAM: &str = "examples/evening-class";
const BANK: &str = "question-banks/foundation";

/// Runs the program, looks at its memory all the while; its exit code and what it said.
fn run(room: &Room, arguments: &[&str], what: &str) -> Result<(i32, String), String> {
    let mut child = Command::new(program())
        .args(arguments)
        .current_dir(room.path("."))
        .env_clear()
        .env("COLUMNS", "100")
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut err = child.stderr.take().unwrap();
    let listening = std::thread::spawn(move || {
        let mut said = Vec::new();
        err.read_to_end(&mut said).unwrap();
        String::from_utf8_lossy(&said).into_owned()
    });
    let begun = Instant::now();
    let mut peak = 0;
    let status = loop {
        if let Some(status) = child.try_wait().unwrap() {
            break status;
        }
        // Linux keeps the highest resident memory of a process for us.
        let status =
            std::fs::read_to_string(format!("/proc/{}/status", child.id())).unwrap_or_default();
        let highest = status
            .lines()
            .find_map(|line| line.strip_prefix("VmHWM:"))
            .and_then(|rest| rest.trim().trim_end_matches(" kB").parse().ok())
            .unwrap_or(0);
        peak = peak.max(highest);
        if begun.elapsed() > LONGEST || peak > MOST_MEMORY {
            child.kill().unwrap();
            child.wait().unwrap();
            return Err(format!(
                "{what}: {} s, {} MB",
                begun.elapsed().as_secs(),
                peak / 1024
            ));
        }
        std::thread::sleep(Duration::from_millis(2));
    };
    Ok((status.code().unwrap_or(-1), listening.join().unwrap()))
}

/// Nothing was complained of.
#[track_caller]
fn none(complaints: &[String]) {
    assert!(
        complaints.is_empty(),
        "{} complaints\n{}",
        complaints.len(),
        complaints.join("\n\n")
    );
}

/// A refusal with words a person can use: the file is named, and it is no mistake of the program.
fn refused(
    room: &Room,
    arguments: &[&str],
    file: &str,
    what: &str,
    words: &str,
) -> Result<(), String> {
    let what = format!("{file} with {what}");
    let (code, said) = run(room, arguments, &what)?;
    let name = file.rsplit('/').next().unwrap();
    let complaint = if ![1, 5].contains(&code) {
        format!("exit code {code}")
    } else if !said.contains(name) {
        "the file is not named".to_owned()
    } else if said.len() > 20_000 {
        format!("{} bytes of talk", said.len())
    } else if !said.contains(words) {
        format!("it does not say {words:?}")
    } else {
        return Ok(());
    };
    let said: String = said.chars().take(1500).collect();
    Err(format!("{what}: {complaint}\n{said}"))
}

/// What editors and spreadsheets leave in a sound text does no harm.
fn accepted(room: &Room, arguments: &[&str], what: &str) -> Result<(), String> {
    let (code, said) = run(room, arguments, what)?;
    if code == 0 {
        Ok(())
    } else {
        Err(format!("{what}: exit code {code}\n{said}"))
    }
}

/// An alias bomb: ten levels of ten.
fn bomb() -> String {
    let mut text = "a0: &a0 [x, x, x, x, x, x, x, x, x, x]\n".to_owned();
    for level in 1..10 {
        let below = format!("*a{}", level - 1);
        text.push_str(&format!(
            "a{level}: &a{level} [{}]\n",
            [below.as_str(); 10].join(", ")
        ));
    }
    text
}

/// What is no text of any format, with a word of the message where one is promised.
fn hostile_yaml() -> Vec<(&'static str, Vec<u8>, &'static str)> {
    let deep = 10_000;
    vec![
        ("an alias bomb", bomb().into_bytes(), ""),
        ("a cycle", b"a: &a [*a]\n".to_vec(), ""),
        ("an alias to nothing", b"title: *gone\n".to_vec(), ""),
        (
            "lists 10,000 deep",
            format!("{}1{}\n", "[".repeat(deep), "]".repeat(deep)).into_bytes(),
            "32",
        ),
        (
            "fields 10,000 deep",
            format!("{}1{}\n", "{a: ".repeat(deep), "}".repeat(deep)).into_bytes(),
            "32",
        ),
        (
            "dashes 10,000 deep",
            format!("{}1\n", "- ".repeat(deep)).into_bytes(),
            "",
        ),
        ("brackets that stay open", "[".repeat(deep).into_bytes(), ""),
        ("a quote that stays open", b"title: \"a\n".to_vec(), ""),
        (
            "bytes that are no UTF-8",
            b"title: \xff\xfe\n".to_vec(),
            "UTF-8",
        ),
        ("UTF-16", b"\xff\xfet\0i\0t\0l\0e\0".to_vec(), "UTF-8"),
        (
            "a lone surrogate",
            b"{\"title\": \"\\ud800\"}\n".to_vec(),
            "",
        ),
        ("NUL", b"title: a\0b\n".to_vec(), ""),
        (
            "a tab for indentation",
            b"title:\n\tx: y\n".to_vec(),
            "tabs",
        ),
        ("two documents", b"title: a\n---\ntitle: b\n".to_vec(), ""),
        ("nothing", Vec::new(), ""),
        ("a list", b"[]\n".to_vec(), ""),
        ("an unknown tag", b"title: !!python/object x\n".to_vec(), ""),
        (
            "a million entries",
            format!("a: [{}]\n", "1,".repeat(1_000_000)).into_bytes(),
            "",
        ),
        (
            "a scalar of 15 MB",
            format!("title: \"{}\"\n", "a".repeat(15 * 1024 * 1024)).into_bytes(),
            "",
        ),
        (
            "a scalar of 100 MB",
            format!("title: \"{}\"\n", "a".repeat(100 * 1024 * 1024)).into_bytes(),
            "16 MB",
        ),
    ]
}

#[test]
fn yaml_of_every_kind_is_refused_soon_and_in_little_memory() {
    let room = Room::with_example("evening-class");
    let hostile = hostile_yaml();
    let mut complaints = Vec::new();
    for (folder, file) in [
        (EXAM, "plan.yaml"),
        (EXAM, "room.yaml"),
        (BANK, "bank.yaml"),
        (BANK, "lexicon.yaml"),
        (BANK, "categories.yaml"),
        (BANK, "questions/distillation.yaml"),
        (BANK, "samples/gin-quillfeather.yaml"),
    ] {
        let name = format!("{folder}/{file}");
        let sound = room.text(&name);
        for (what, bytes, words) in &hostile {
            room.put(&name, bytes);
            complaints.extend(refused(&room, &["check", folder], &name, what, words).err());
        }
        for (what, text) in [
            ("Windows line ends", sound.replace('\n', "\r\n")),
            ("a byte order mark", format!("\u{feff}{sound}")),
        ] {
            room.put(&name, &text);
            let what = format!("{name} with {what}");
            complaints.extend(accepted(&room, &["check", folder], &what).err());
        }
        room.put(&name, &sound);
    }
    none(&complaints);
}

/// Tables that are none, or that would fill the memory.
fn hostile_tables(header: &str) -> Vec<(&'static str, Vec<u8>)> {
    let with = |rest: &[u8]| [header.as_bytes(), b"\n", rest].concat();
    vec![
        ("nothing", Vec::new()),
        ("bytes that are no UTF-8", with(b"\xff\xfe,\xff\n")),
        ("UTF-16", b"\xff\xfec\0a\0n\0".to_vec()),
        ("a quote that stays open", with(b"\"a,b\n")),
        (
            "a quote that stays open over 15 MB",
            with(format!("\"{}", "a,b\n".repeat(4_000_000)).as_bytes()),
        ),
        (
            "a cell of 100 MB",
            with("a".repeat(100 * 1024 * 1024).as_bytes()),
        ),
        (
            "two separators",
            format!("{}\n", header.replacen(',', ";", 1)).into_bytes(),
        ),
        ("NUL", with(b"\0,\0,\0,\0\n")),
        (
            "a million columns",
            format!("{}\n", "a,".repeat(1_000_000)).into_bytes(),
        ),
    ]
}

#[test]
fn tables_of_every_kind_are_refused_soon_and_in_little_memory() {
    let room = Room::with_example("evening-class");
    let mut complaints = Vec::new();
    for (folder, file) in [
        (EXAM, "roster.csv"),
        (BANK, "samples/gin-quillfeather.panel.csv"),
    ] {
        let name = format!("{folder}/{file}");
        let sound = room.text(&name);
        for (what, bytes) in hostile_tables(sound.lines().next().unwrap()) {
            room.put(&name, &bytes);
            complaints.extend(refused(&room, &["check", folder], &name, what, "").err());
        }
        room.put(&name, format!("\u{feff}{}", sound.replace('\n', "\r\n")));
        complaints.extend(accepted(&room, &["check", folder], "a byte order mark").err());
        room.put(&name, &sound);
    }
    none(&complaints);
}

#[test]
fn answers_and_registers_that_are_none_are_refused() {
    let room = Room::with_example("evening-class");
    room.run(&["assemble", EXAM]).exits(0);
    let mut complaints = Vec::new();
    let table = format!("{EXAM}/answers/answers.csv");
    for (what, bytes) in hostile_tables("candidate,part,question,answer") {
        room.put(&table, &bytes);
        match run(&room, &["mark", EXAM], what) {
            // Rows to nobody are listed and the rest is marked; a table that is none is refused.
            Ok((code, said)) => {
                if ![0, 1, 5].contains(&code) || said.len() > 100_000 {
                    let said: String = said.chars().take(1500).collect();
                    complaints.push(format!("answers with {what}: {code}\n{said}"));
                }
            }
            Err(complaint) => complaints.push(complaint),
        }
    }
    std::fs::remove_file(room.path(&table)).unwrap();
    let register = format!("{EXAM}/sitting.register");
    let sound = std::fs::read(room.path(&register)).unwrap();
    let mut torn = sound.clone();
    torn.truncate(sound.len() / 2);
    let mut scratched = sound.clone();
    for byte in scratched.iter_mut().skip(100).step_by(97) {
        *byte ^= 0x5a;
    }
    for (what, bytes) in [
        ("nothing", Vec::new()),
        ("a text", b"this is no register\n".to_vec()),
        ("zeros", vec![0; 100_000]),
        ("its first half", torn),
        ("scratches", scratched),
    ] {
        for command in ["mark", "results", "pour"] {
            room.put(&register, &bytes);
            match run(&room, &[command, EXAM], what) {
                Ok((code, said)) => {
                    if ![3, 5].contains(&code) || !said.contains("hint") {
                        complaints.push(format!("{command}, register with {what}: {code}\n{said}"));
                    }
                }
                Err(complaint) => complaints.push(complaint),
            }
        }
    }
    none(&complaints);
}
