//! What the test folders share: a room of their own in which the real program runs.
// A test may stop at the first surprise: these lints guard the program, not its checks.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, missing_docs)]

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::OnceLock;

/// The top of the project.
pub fn top() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .parent()
        .unwrap()
        .to_path_buf()
}

/// The program, built from the sources as they are now.
pub fn program() -> &'static Path {
    static PROGRAM: OnceLock<PathBuf> = OnceLock::new();
    PROGRAM.get_or_init(|| {
        // This test's own path tells the profile and the target folder: …/release/deps/program-…
        let own = std::env::current_exe().unwrap();
        let profile = own.ancestors().nth(2).unwrap();
        let mut build = Command::new(env!("CARGO"));
        build
            .args(["build", "--quiet", "-p", "cli", "--target-dir"])
            .arg(profile.parent().unwrap());
        if profile.ends_with("release") {
            build.arg("--release");
        }
        assert!(
            build.current_dir(top()).status().unwrap().success(),
            "the program does not build"
        );
        profile.join("valinch")
    })
}

/// A folder of its own with nothing but what a test puts there; gone when the test ends.
pub struct Room {
    folder: tempfile::TempDir,
}

/// How a run of the program ended.
#[derive(Debug)]
pub struct Outcome {
    pub code: i32,
    pub out: String,
    pub err: String,
}

impl Room {
    /// An empty room.
    pub fn empty() -> Self {
        Self {
            folder: tempfile::tempdir().unwrap(),
        }
    }
    /// A room with the shipped bank and one of the examples: as they lie in the project.
    pub fn with_example(example: &str) -> Self {
        let room = Self::empty();
        copy(
            &top().join("question-banks/foundation"),
            &room.path("question-banks/foundation"),
        );
        copy(
            &top().join("examples").join(example),
            &room.path("examples").join(example),
        );
        room
    }
    /// A path in the room.
    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }
    /// Puts a file into the room.
    pub fn put(&self, name: &str, text: impl AsRef<[u8]>) {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    }
    /// The text of a file of the room.
    pub fn text(&self, name: &str) -> String {
        std::fs::read_to_string(self.path(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
    }
    /// Replaces words in a file of the room; they must stand there.
    pub fn replace(&self, name: &str, old: &str, new: &str) {
        let text = self.text(name);
        assert!(text.contains(old), "{name} does not hold {old:?}");
        self.put(name, text.replacen(old, new, 1));
    }
    /// Runs the program in the room with an environment of its own.
    pub fn run(&self, arguments: &[&str]) -> Outcome {
        self.run_with(arguments, "", &[])
    }
    /// Runs the program with this on standard input and these variables.
    pub fn run_with(&self, arguments: &[&str], input: &str, variables: &[(&str, &str)]) -> Outcome {
        let mut child = Command::new(program())
            .args(arguments)
            .current_dir(self.folder.path())
            .env_clear()
            .env("COLUMNS", "100")
            // The ledger's clock: the same bytes again want the same moment.
            .env("SOURCE_DATE_EPOCH", "1812792600")
            .envs(variables.iter().copied())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // A program that ends before it has read everything closes the pipe: no fault of the test.
        let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
        let output = child.wait_with_output().unwrap();
        Outcome {
            code: output.status.code().unwrap_or(-1),
            out: String::from_utf8(output.stdout).unwrap(),
            err: String::from_utf8(output.stderr).unwrap(),
        }
    }
    /// All files of a folder of the room with their bytes, by path.
    pub fn files(&self, below: &str) -> std::collections::BTreeMap<String, Vec<u8>> {
        let mut found = std::collections::BTreeMap::new();
        collect(&self.path(below), &self.path(below), &mut found);
        found
    }
}

impl Outcome {
    /// The program ended with this code.
    #[track_caller]
    pub fn exits(self, code: i32) -> Self {
        assert_eq!(
            self.code, code,
            "\n--- out\n{}\n--- err\n{}",
            self.out, self.err
        );
        self
    }
    /// These words stand on standard error.
    #[track_caller]
    pub fn says(self, words: &str) -> Self {
        assert!(
            self.err.contains(words),
            "{words:?} is not in\n{}",
            self.err
        );
        self
    }
    /// These words stand on standard output.
    #[track_caller]
    pub fn gives(self, words: &str) -> Self {
        assert!(
            self.out.contains(words),
            "{words:?} is not in\n{}",
            self.out
        );
        self
    }
    /// Standard output is JSON.
    #[track_caller]
    pub fn json(&self) -> serde_json::Value {
        serde_json::from_str(&self.out).unwrap_or_else(|error| panic!("{error}\n{}", self.out))
    }
}

/// Copies a folder with what is shipped in it: nothing that a run has left there.
pub fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let name = entry.file_name();
        let made = ["rehearsal", "papers", "results", "pages"]
            .iter()
            .any(|made| name == *made);
        if made || name.to_string_lossy().starts_with("sitting.register") {
            continue;
        }
        if entry.path().is_dir() {
            copy(&entry.path(), &to.join(name));
        } else {
            std::fs::copy(entry.path(), to.join(name)).unwrap();
        }
    }
}

fn collect(top: &Path, folder: &Path, found: &mut std::collections::BTreeMap<String, Vec<u8>>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            collect(top, &path, found);
        } else {
            let name = path
                .strip_prefix(top)
                .unwrap()
                .to_string_lossy()
                .into_owned();
            found.insert(name, std::fs::read(&path).unwrap());
        }
    }
}
