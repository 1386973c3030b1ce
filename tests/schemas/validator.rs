//! The independent judge: the library jsonschema of Python, asked for many texts at once.

use std::io::Write;
use std::process::{Command, Stdio};

use crate::format::Format;

/// Whether each text satisfies the schema of its format.
pub fn judge(texts: &[(Format, String)]) -> Vec<bool> {
    // Debian's own Python sees the packages of Debian; another one may stand before it in the path.
    let python = std::env::var("VALINCH_PYTHON").unwrap_or_else(|_| "python3".to_owned());
    let mut child = Command::new(python)
        .arg("-W")
        .arg("ignore")
        .arg(tests::top().join("tests/schemas/validate.py"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("python3 with the packages jsonschema and yaml is needed");
    let mut lines = String::new();
    for (format, text) in texts {
        let schema = tests::top()
            .join("question-banks/schemas")
            .join(format.file());
        let asked = serde_json::json!({ "schema": schema, "text": text });
        lines.push_str(&asked.to_string());
        lines.push('\n');
    }
    let mut input = child.stdin.take().unwrap();
    let writing = std::thread::spawn(move || input.write_all(lines.as_bytes()));
    let output = child.wait_with_output().unwrap();
    // What it could not take is told by how it ended.
    let _ = writing.join().unwrap();
    assert!(output.status.success(), "the validator did not run");
    let verdicts: Vec<bool> = String::from_utf8(output.stdout)
        .unwrap()
        .lines()
        .map(|line| line == "true")
        .collect();
    assert_eq!(verdicts.len(), texts.len());
    verdicts
}
