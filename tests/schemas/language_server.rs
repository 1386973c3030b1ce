//! A language server for YAML, as editors run it, is told a text and asked what it thinks.
//!
//! `VALINCH_LANGUAGE_SERVER` says where the server is; `tests/run` installs one below `target/`
//! and sets it. Where the variable is not set and none was installed, the test says so and ends.
// What was counted, or is missing, is said where the test is run.
#![allow(clippy::print_stdout)]

use std::io::{BufRead, BufReader, Read, Write};
use std::path::PathBuf;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

use serde_json::{Value, json};

/// Where `tests/run` puts the server.
const INSTALLED: &str =
    "target/language-server/node_modules/yaml-language-server/bin/yaml-language-server";

fn server() -> Option<PathBuf> {
    match std::env::var_os("VALINCH_LANGUAGE_SERVER") {
        Some(path) => {
            let path = PathBuf::from(path);
            assert!(path.is_file(), "no language server at {}", path.display());
            Some(path)
        }
        None => Some(tests::top().join(INSTALLED)).filter(|path| path.is_file()),
    }
}

struct Server {
    child: Child,
    input: ChildStdin,
    output: BufReader<ChildStdout>,
    number: u64,
}

impl Server {
    fn start(path: &PathBuf) -> Self {
        let mut child = Command::new("node")
            .arg(path)
            .arg("--stdio")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("node is needed");
        let input = child.stdin.take().unwrap();
        let output = BufReader::new(child.stdout.take().unwrap());
        let mut server = Self {
            child,
            input,
            output,
            number: 0,
        };
        let folder = format!("file://{}", tests::top().display());
        server.ask(
            "initialize",
            &json!({ "processId": null, "rootUri": folder, "capabilities": {
                "workspace": { "configuration": true },
                "textDocument": { "completion": { "completionItem": {} }, "publishDiagnostics": {} }
            } }),
        );
        server.tell("initialized", &json!({}));
        server
    }
    fn send(&mut self, message: &Value) {
        let body = message.to_string();
        write!(self.input, "Content-Length: {}\r\n\r\n{body}", body.len()).unwrap();
        self.input.flush().unwrap();
    }
    fn tell(&mut self, method: &str, parameters: &Value) {
        self.send(&json!({ "jsonrpc": "2.0", "method": method, "params": parameters }));
    }
    fn ask(&mut self, method: &str, parameters: &Value) -> Value {
        self.number += 1;
        let number = self.number;
        self.send(
            &json!({ "jsonrpc": "2.0", "id": number, "method": method, "params": parameters }),
        );
        loop {
            let message = self.hear();
            if message["id"] == number && message.get("method").is_none() {
                assert!(message.get("error").is_none(), "{message:#}");
                return message["result"].clone();
            }
        }
    }
    /// The next message; what the server itself asks for is answered on the way.
    fn hear(&mut self) -> Value {
        let mut length = 0;
        loop {
            let mut line = String::new();
            let read = self.output.read_line(&mut line).unwrap();
            assert!(read > 0, "the language server ended");
            let line = line.trim();
            if line.is_empty() {
                break;
            }
            if let Some(number) = line.strip_prefix("Content-Length: ") {
                length = number.parse().unwrap();
            }
        }
        let mut body = vec![0; length];
        self.output.read_exact(&mut body).unwrap();
        let message: Value = serde_json::from_slice(&body).unwrap();
        if let (Some(id), Some(method)) = (message.get("id"), message["method"].as_str()) {
            let result = match method {
                "workspace/configuration" => {
                    let asked = message["params"]["items"].as_array().unwrap();
                    let ours = |item: &Value| match item["section"].as_str() {
                        Some("yaml") => json!({ "validate": true, "completion": true,
                            "schemaStore": { "enable": false } }),
                        _ => json!({}),
                    };
                    Value::Array(asked.iter().map(ours).collect())
                }
                _ => Value::Null,
            };
            self.send(&json!({ "jsonrpc": "2.0", "id": id, "result": result }));
        }
        message
    }
    /// Opens a text under a name in the project; what is underlined, as lines with messages.
    fn open(&mut self, name: &str, text: &str) -> (String, Vec<(u64, String)>) {
        let address = format!("file://{}", tests::top().join(name).display());
        self.tell(
            "textDocument/didOpen",
            &json!({ "textDocument": { "uri": address, "languageId": "yaml", "version": 1, "text": text } }),
        );
        loop {
            let message = self.hear();
            if message["method"] == "textDocument/publishDiagnostics"
                && message["params"]["uri"] == address.as_str()
            {
                let found = message["params"]["diagnostics"].as_array().unwrap();
                let lines = found
                    .iter()
                    .map(|one| {
                        (
                            one["range"]["start"]["line"].as_u64().unwrap(),
                            one["message"].as_str().unwrap().to_owned(),
                        )
                    })
                    .collect();
                return (address, lines);
            }
        }
    }
    fn offers(&mut self, address: &str, line: u64, character: u64) -> Vec<String> {
        let answer = self.ask(
            "textDocument/completion",
            &json!({ "textDocument": { "uri": address }, "position": { "line": line, "character": character } }),
        );
        let items = answer["items"].as_array().or(answer.as_array()).unwrap();
        items
            .iter()
            .map(|item| item["label"].as_str().unwrap().to_owned())
            .collect()
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

#[test]
fn an_editor_completes_and_underlines() {
    let Some(path) = server() else {
        println!("no language server: run tests/run, which installs one");
        return;
    };
    let mut server = Server::start(&path);

    // As it is shipped, nothing is underlined.
    let name = "question-banks/foundation/questions/distillation.yaml";
    let shipped = std::fs::read_to_string(tests::top().join(name)).unwrap();
    let (_, underlined) = server.open(name, &shipped);
    assert_eq!(underlined, [], "{name}");

    // A wrong word and a field that is not known are underlined where they stand.
    let first = shipped.lines().next().unwrap();
    let text = format!(
        "{first}\nquestions:\n  - id: one\n    cell: distillation\n    level: recal\n    stat: draft\n    \n"
    );
    let (address, underlined) = server.open("question-banks/foundation/questions/new.yaml", &text);
    let on = |line: u64, words: &str| {
        underlined
            .iter()
            .any(|(at, message)| *at == line && message.contains(words))
    };
    assert!(on(4, "judgement"), "{underlined:?}");
    assert!(on(5, "stat"), "{underlined:?}");

    // Behind the colon the allowed words are offered; below, the fields that are still missing.
    let words = server.offers(&address, 4, 11);
    assert_eq!(words, ["recall", "application", "judgement"]);
    let fields = server.offers(&address, 6, 4);
    for field in ["source", "verified", "best_answer", "numeric"] {
        assert!(fields.contains(&field.to_owned()), "{field}: {fields:?}");
    }
    assert!(!fields.contains(&"cell".to_owned()), "{fields:?}");

    // The same for a plan.
    let name = "examples/evening-class/plan.yaml";
    let plan = std::fs::read_to_string(tests::top().join(name)).unwrap();
    let first = plan.lines().next().unwrap();
    let text = format!("{first}\ntitle: T\npaper: A4\ntheory:\n  forms: 30\n");
    let (address, underlined) = server.open("examples/evening-class/plan-b.yaml", &text);
    let lines: Vec<u64> = underlined.iter().map(|(line, _)| *line).collect();
    assert!(lines.contains(&2) && lines.contains(&4), "{underlined:?}");
    assert_eq!(server.offers(&address, 2, 7), ["a4", "letter"]);
}
