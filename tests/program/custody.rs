//! Custody: the ledger of a sitting is checked by the program, alone and with a head that was kept.

use register::{Entry, Head};
use tests::Room;

const EXAM: &str = "examples/evening-class";

fn assembled() -> Room {
    let room = Room::with_example("evening-class");
    room.run(&["assemble", EXAM, "--seed", &"5a".repeat(32)])
        .exits(0);
    room
}

fn head(room: &Room) -> String {
    let report = room.run(&["verify", EXAM, "--json"]).exits(0).json();
    report["head"].as_str().unwrap().to_owned()
}

#[test]
fn every_act_leaves_its_entry_and_its_head_on_paper() {
    let room = assembled();
    let before = head(&room);
    room.run(&["print", EXAM]).exits(0);
    let after = head(&room);
    assert_ne!(before, after);
    room.run(&["verify", EXAM, "--head", &before])
        .exits(0)
        .gives("All is as it was written");
    let heads: Head = before.parse().unwrap();
    assert_eq!(heads.size, 1);
    room.run(&["verify", EXAM, "--ledger", "--to", "ledger.txt"])
        .exits(0);
    let acts: Vec<String> = room
        .text("ledger.txt")
        .lines()
        .map(|line| Entry::read(line).unwrap().act.to_string())
        .collect();
    assert_eq!(acts, ["assembled", "printed"]);
    // Every sheet that a proctor or an examiner holds shows it; no candidate's paper does.
    let group = before.split(['-', ':']).nth(1).unwrap();
    let shows = |name: &str| {
        let path = room.path(EXAM).join("papers").join(name);
        let output = std::process::Command::new("pdftotext")
            .arg(path)
            .arg("-")
            .output()
            .unwrap();
        String::from_utf8_lossy(&output.stdout).contains(group)
    };
    let (showing, others): (Vec<String>, Vec<String>) = room
        .files(&format!("{EXAM}/papers"))
        .into_keys()
        .filter(|name| name.ends_with(".pdf"))
        .partition(|name| shows(name));
    let for_examiners = |name: &String| {
        ["print-list", "room-sheet", "closed-for-examiners/"]
            .iter()
            .any(|part| name.contains(part))
    };
    assert!(showing.iter().all(for_examiners), "{showing:?}");
    assert!(!others.iter().any(for_examiners), "{others:?}");
    assert!(showing.len() > 4 && others.len() > 4);
}

#[test]
fn the_register_keeps_the_templates_of_its_papers() {
    let room = assembled();
    let path = room.path(EXAM).join("sitting.register");
    let kept = || {
        register::Register::open(&path)
            .unwrap()
            .templates()
            .unwrap()
    };
    assert_eq!(kept(), []);
    room.run(&["print", EXAM]).exits(0);
    let shipped = kept();
    let look = std::fs::read_to_string(tests::top().join("templates/look.typ.jinja")).unwrap();
    assert!(
        shipped
            .iter()
            .any(|t| t.name == "look.typ.jinja" && t.text == look)
    );
    // Printed again nothing is kept twice; one's own stands beside the shipped one.
    room.run(&["print", EXAM]).exits(0);
    assert_eq!(kept(), shipped);
    room.put(
        &format!("{EXAM}/templates/look.typ.jinja"),
        format!("{look}\n// ours\n"),
    );
    room.run(&["print", EXAM]).exits(0);
    let all = kept();
    assert_eq!(all.len(), shipped.len() + 1);
    assert!(all.iter().any(|t| t.text.ends_with("// ours\n")));
    room.run(&["verify", EXAM]).exits(0);
}

/// What each role may do is a table; whatever is not in it is refused and entered.
#[test]
fn each_role_keeps_to_the_table() {
    let room = assembled();
    for (command, role) in [
        (&["pour", EXAM][..], "marker"),
        (&["print", EXAM], "proctor"),
        (&["mark", EXAM], "assembler"),
        (&["results", EXAM], "marker"),
        (&["results", "retention", EXAM], "author"),
        (&["moderate", EXAM], "proctor"),
    ] {
        let before: Head = head(&room).parse().unwrap();
        room.run(&[command, &["--role", role]].concat())
            .exits(3)
            .says("may not");
        let after: Head = head(&room).parse().unwrap();
        assert_eq!(after.size, before.size + 1, "{command:?}");
    }
    room.run(&["pour", EXAM, "--role", "proctor"]).exits(0);
}

#[test]
fn a_register_is_copied_whole_and_taken_back() {
    let room = assembled();
    // Somebody has it open and has acted: the last act stands in the file beside it.
    let path = room.path(EXAM).join("sitting.register");
    let mut open = register::Register::open(&path).unwrap();
    let by = register::By::new(register::Role::Proctor, None);
    open.note(register::Act::Incident, &by, register::Details::new())
        .unwrap();
    let backup = ["verify", EXAM, "--backup", "--to", "backup.register"];
    room.run(&backup).exits(0).says("backup.register");
    drop(open);
    room.run(&backup).exits(5).says("exists already");
    let head = head(&room);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let about = std::fs::metadata(room.path("backup.register")).unwrap();
        assert_eq!(about.permissions().mode() & 0o777, 0o600);
    }
    std::fs::remove_dir_all(room.path(EXAM)).unwrap();
    room.run(&["verify", "backup.register", "--head", &head])
        .exits(0);
    room.put(&format!("{EXAM}/sitting.register"), "");
    std::fs::copy(room.path("backup.register"), &path).unwrap();
    room.run(&["print", EXAM, "--names", "roster.csv"]).exits(3);
    room.run(&["verify", EXAM, "--head", &head]).exits(0);
}

#[test]
fn proofs_are_checked_without_the_register() {
    let room = assembled();
    room.run(&["print", EXAM]).exits(0);
    let head = head(&room);
    room.run(&["verify", EXAM, "--entry", "1", "--to", "entry.json"])
        .exits(0);
    room.run(&["verify", EXAM, "--growth", "1", "--to", "growth.json"])
        .exits(0);
    std::fs::remove_dir_all(room.path("examples")).unwrap();
    for proof in ["entry.json", "growth.json"] {
        room.run(&["verify", proof, "--head", &head]).exits(0);
    }
    room.replace("entry.json", "assembler", "proctor");
    room.run(&["verify", "entry.json"])
        .exits(4)
        .gives("does not hold");
    room.run(&[
        "verify",
        "growth.json",
        "--head",
        &format!("7:{}", "A".repeat(52)),
    ])
    .exits(4)
    .gives("other heads");
    room.run(&["verify", "nowhere"])
        .exits(3)
        .says("nothing to check");
}

#[test]
fn a_changed_register_is_told_with_its_own_exit_code() {
    let room = assembled();
    let path = room.path(EXAM).join("sitting.register");
    let bytes = std::fs::read(&path).unwrap();
    let sought = b"A1";
    let at = bytes.windows(2).rposition(|two| two == sought).unwrap();
    let mut changed = bytes.clone();
    changed[at + 1] = b'2';
    std::fs::write(&path, changed).unwrap();
    let code = room.run(&["verify", EXAM]).code;
    assert!(code == 4 || code == 5, "{code}");
    std::fs::write(&path, bytes).unwrap();
    room.run(&["verify", EXAM]).exits(0);
}

/// The script in another language, which knows the format page alone.
fn script(room: &Room, file: &str, against: &str) -> (bool, String) {
    let output = std::process::Command::new("python3")
        .arg(tests::top().join("tests/program/verify_seal.py"))
        .args([file, against])
        .current_dir(room.path(""))
        .output()
        .unwrap();
    (
        output.status.success(),
        String::from_utf8_lossy(&output.stdout).into_owned(),
    )
}

const PASSPHRASE: &str = "heron lantern forty gravel";

fn sealed() -> (Room, String) {
    let room = assembled();
    room.put("passphrase", format!("{PASSPHRASE}\n"));
    let report = room
        .run(&["seal", EXAM, "--passphrase-file", "passphrase", "--json"])
        .exits(0)
        .json();
    let root = report["root"].as_str().unwrap().to_owned();
    (room, root)
}

/// What a reader of codes sees on the first page of a paper, as a camera would.
fn scanned(paper: &std::path::Path) -> String {
    let folder = tempfile::tempdir().unwrap();
    let picture = folder.path().join("page");
    let drawn = std::process::Command::new("pdftoppm")
        .args(["-r", "120", "-png", "-f", "1", "-singlefile"])
        .arg(paper)
        .arg(&picture)
        .status()
        .unwrap();
    assert!(drawn.success());
    let output = std::process::Command::new("zbarimg")
        .args(["--quiet", "--raw"])
        .arg(picture.with_extension("png"))
        .output()
        .unwrap_or_else(|error| panic!("zbarimg: {error} (tests/run installs it)"));
    String::from_utf8_lossy(&output.stdout).trim().to_owned()
}

#[test]
fn a_sealed_exam_is_opened_and_checked_by_anybody() {
    let (room, root) = sealed();
    room.run(&["print", EXAM]).exits(0);
    let booklet = room
        .files(&format!("{EXAM}/papers"))
        .into_keys()
        .find(|name| name.starts_with("02-theory"))
        .unwrap();
    let path = room.path(EXAM).join("papers").join(booklet);
    let text = std::process::Command::new("pdftotext")
        .arg(&path)
        .arg("-")
        .output()
        .unwrap();
    let text: String = String::from_utf8_lossy(&text.stdout)
        .chars()
        .filter(char::is_ascii_alphanumeric)
        .collect();
    assert!(text.contains(&root.replace('-', "")), "{root}");
    assert_eq!(
        scanned(&path),
        format!("VALINCH-SEAL-1:{}", root.replace('-', ""))
    );
    // One role does not open it, and that it tried is entered.
    let open = [
        "seal",
        EXAM,
        "--open",
        "--to",
        "key.json",
        "--passphrase-file",
        "passphrase",
    ];
    room.run(&open).exits(3).says("two roles");
    room.run(&[&open[..], &["--confirmed-by", "proctor"]].concat())
        .exits(0);
    room.run(&["verify", "key.json", "--root", &root])
        .exits(0)
        .gives("All is as it was written");
    assert!(script(&room, "key.json", &root).0);
    let head = head(&room);
    room.run(&["verify", EXAM, "--ledger", "--to", "ledger.txt"])
        .exits(0);
    assert!(room.text("ledger.txt").contains("\"refused\""));
    room.run(&["verify", EXAM, "--entry", "1", "--to", "entry.json"])
        .exits(0);
    room.run(&["verify", EXAM, "--growth", "1", "--to", "growth.json"])
        .exits(0);
    for file in ["ledger.txt", "entry.json", "growth.json"] {
        let (good, words) = script(&room, file, &head);
        assert!(good, "{file}: {words}");
    }
    // Both find what was changed.
    for file in ["key.json", "ledger.txt", "entry.json", "growth.json"] {
        let text = room.text(file);
        let against = if file == "key.json" { &root } else { &head };
        let mut bytes = text.into_bytes();
        let middle = bytes.len() / 2;
        let at = (middle..).find(|at| bytes[*at].is_ascii_digit()).unwrap();
        bytes[at] = if bytes[at] == b'7' { b'8' } else { b'7' };
        room.put(file, bytes);
        assert!(!script(&room, file, against).0, "{file}");
        let option = if file == "key.json" {
            "--root"
        } else {
            "--head"
        };
        let code = room.run(&["verify", file, option, against]).code;
        assert!(code == 4 || code == 3, "{file}: {code}");
    }
}

/// The words of a paper, letters and digits alone.
fn letters_of(room: &Room, paper: &str) -> String {
    let path = room.path(EXAM).join("papers").join(paper);
    let output = std::process::Command::new("pdftotext")
        .arg(path)
        .arg("-")
        .output()
        .unwrap();
    String::from_utf8_lossy(&output.stdout)
        .chars()
        .filter(char::is_ascii_alphanumeric)
        .collect()
}

/// Who sits no theory holds no booklet: the root stands on the cover and on each page of the answer
/// sheet, and nobody who holds a booklet has it there too.
#[test]
fn a_tasting_alone_has_the_root_on_its_papers() {
    let room = Room::with_example("evening-class");
    let plan = room.text(&format!("{EXAM}/plan.yaml"));
    let (before, theory) = plan.split_once("theory:\n").unwrap();
    let (_, tasting) = theory.split_once("tasting:\n").unwrap();
    room.put(
        &format!("{EXAM}/plan.yaml"),
        format!("{before}tasting:\n{tasting}"),
    );
    room.run(&["assemble", EXAM, "--seed", &"5a".repeat(32)])
        .exits(0);
    room.put("passphrase", format!("{PASSPHRASE}\n"));
    let report = room
        .run(&["seal", EXAM, "--passphrase-file", "passphrase", "--json"])
        .exits(0)
        .json();
    let root = report["root"].as_str().unwrap().replace('-', "");
    room.run(&["print", EXAM]).exits(0);
    let names: Vec<String> = room.files(&format!("{EXAM}/papers")).into_keys().collect();
    let candidates = room.text(&format!("{EXAM}/roster.csv")).lines().count() - 1;
    for begins in ["01-candidate-covers", "03-answer-sheets"] {
        let name = names.iter().find(|name| name.starts_with(begins)).unwrap();
        let text = letters_of(&room, name);
        assert_eq!(text.matches(&root).count(), candidates, "{name}");
    }
    assert!(!names.iter().any(|name| name.starts_with("02-")));
    let (with_theory, root) = sealed();
    with_theory.run(&["print", EXAM]).exits(0);
    for (name, _) in with_theory.files(&format!("{EXAM}/papers")) {
        if name.starts_with("01-") || name.starts_with("03-") {
            let text = letters_of(&with_theory, &name);
            assert!(!text.contains(&root.replace('-', "")), "{name}");
        }
    }
}

#[test]
fn on_appeal_one_question_is_shown_and_opens_nothing_else() {
    let (room, root) = sealed();
    let show = |leaf: &str| room.run(&["verify", EXAM, "--leaf", leaf, "--to", "leaf.json"]);
    show("seed").exits(3).says("opens every other leaf");
    show("question A 99").exits(3).says("no leaf");
    show("question A 2").exits(0).gives("\"right\"");
    room.run(&["verify", "leaf.json", "--root", &root])
        .exits(0)
        .gives("\"right\"");
    let (good, words) = script(&room, "leaf.json", &root);
    assert!(good && words.contains("right"), "{words}");
    let shown = room.text("leaf.json");
    assert_eq!(shown.matches("\"salt\"").count(), 1);
    assert!(!shown.contains("question A 3"));
    room.replace("leaf.json", "\"number\": 2", "\"number\": 3");
    room.run(&["verify", "leaf.json", "--root", &root]).exits(4);
    assert!(!script(&room, "leaf.json", &root).0);
}

/// A correction changes what counts and not what was sealed before the sitting: the printed root
/// still proves every leaf.
#[test]
fn after_a_correction_a_leaf_is_still_proven_as_it_was_sealed() {
    let (room, root) = sealed();
    let path = room.path(EXAM).join("sitting.register");
    let mut register = register::Register::open(&path).unwrap();
    let mut text = register
        .inputs()
        .unwrap()
        .into_iter()
        .find(|text| text.name == "plan.yaml")
        .unwrap();
    text.text.push_str("# corrected after the draw\n");
    let by = register::By::new(register::Role::ChiefExaminer, None);
    let seen = register.head().unwrap();
    register
        .put_correction(
            &[text],
            [].iter(),
            register::Details::new(),
            &[],
            &seen,
            &by,
        )
        .unwrap();
    register.close().unwrap();
    room.run(&[
        "verify",
        EXAM,
        "--leaf",
        "question A 2",
        "--to",
        "leaf.json",
        "--root",
        &root,
    ])
    .exits(0);
    room.run(&["verify", "leaf.json", "--root", &root])
        .exits(0)
        .gives("\"right\"");
    room.run(&["seal", EXAM, "--passphrase-file", "passphrase"])
        .exits(0);
}

#[test]
fn a_folder_is_held_against_the_printed_root() {
    let (room, root) = sealed();
    let other = register::hex::to_groups(&[7; 32]);
    room.run(&["verify", EXAM, "--root", &root])
        .exits(0)
        .gives(&root);
    room.run(&["verify", EXAM, "--root", &other])
        .exits(4)
        .gives("not the printed one");
    let leaf = ["--leaf", "question A 2", "--to", "leaf.json"];
    room.run(&[&["verify", EXAM, "--root", &other], &leaf[..]].concat())
        .exits(3)
        .says("no leaf is shown");
    let head = format!("1:{other}");
    room.run(&[&["verify", EXAM, "--head", &head], &leaf[..]].concat())
        .exits(3)
        .says("no leaf is shown");
    assert!(!room.path("leaf.json").exists());
    let unsealed = assembled();
    unsealed
        .run(&["verify", EXAM, "--root", &root])
        .exits(4)
        .gives("not sealed");
}

#[test]
fn custodians_open_it_together_and_weak_passphrases_are_refused() {
    let room = assembled();
    room.put("weak", "whisky\n");
    room.run(&["seal", EXAM, "--passphrase-file", "weak"])
        .exits(3)
        .says("weak");
    room.run(&["seal", EXAM]).exits(3).says("--passphrase-file");
    room.run(&["seal", EXAM, "--custodians", "3", "--needed", "2"])
        .exits(0);
    let open = [
        "seal",
        EXAM,
        "--open",
        "--to",
        "key.json",
        "--confirmed-by",
        "proctor",
    ];
    let share = |n: u8| format!("{EXAM}/custodians/share-{n}-of-3.txt");
    room.run(&[&open[..], &["--share", &share(2)]].concat())
        .exits(3);
    room.run(&[&open[..], &["--share", &share(3), "--share", &share(1)]].concat())
        .exits(0);
    #[cfg(unix)]
    for secret in [
        "key.json".to_owned(),
        share(1),
        format!("{EXAM}/sealed-key.age"),
        format!("{EXAM}/sitting.register"),
    ] {
        use std::os::unix::fs::PermissionsExt;
        let about = std::fs::metadata(room.path(&secret)).unwrap();
        assert_eq!(about.permissions().mode() & 0o777, 0o600, "{secret}");
    }
    room.run(&["verify", "key.json"])
        .exits(0)
        .says("")
        .gives("compare the root");
    // Nothing secret is on any output.
    let (sealed, _) = sealed();
    let outcome = sealed
        .run(&["seal", EXAM, "--passphrase-file", "passphrase"])
        .exits(0);
    assert!(!outcome.out.contains("heron") && !outcome.err.contains("heron"));
}

/// The age format is read and written by another program: the package age of the distribution.
#[test]
fn another_program_opens_the_key_and_locks_one_for_ours() {
    let room = assembled();
    let tool = |program: &str, arguments: &[&str]| {
        let output = std::process::Command::new(program)
            .args(arguments)
            .current_dir(room.path(""))
            .output()
            .unwrap_or_else(|error| panic!("{program}: {error} (tests/run installs it)"));
        assert!(
            output.status.success(),
            "{program}: {}",
            String::from_utf8_lossy(&output.stderr)
        );
        String::from_utf8_lossy(&output.stdout).into_owned()
    };
    tool("age-keygen", &["-o", "identity.txt"]);
    let recipient = tool("age-keygen", &["-y", "identity.txt"])
        .trim()
        .to_owned();
    room.run(&["seal", EXAM, "--recipient", &recipient])
        .exits(0);
    let key = format!("{EXAM}/sealed-key.age");
    tool("age", &["-d", "-i", "identity.txt", "-o", "key.json", &key]);
    room.run(&["verify", "key.json"]).exits(0);
    tool("age", &["-r", &recipient, "-o", &key, "key.json"]);
    room.run(&[
        "seal",
        EXAM,
        "--open",
        "--to",
        "again.json",
        "--identity-file",
        "identity.txt",
        "--confirmed-by",
        "proctor",
    ])
    .exits(0);
    assert_eq!(room.text("key.json"), room.text("again.json"));
}

#[test]
fn what_a_role_may_not_do_is_refused_and_entered() {
    let room = assembled();
    room.run(&["print", EXAM, "--role", "marker"])
        .exits(3)
        .says("may not print");
    room.run(&["mark", EXAM, "--role", "proctor"])
        .exits(3)
        .says("may not mark");
    room.run(&["print", EXAM, "--role", "boss"])
        .exits(2)
        .says("chief-examiner");
    room.run(&["assemble", EXAM, "--role", "author"])
        .exits(3)
        .says("may not assemble");
    room.run(&["verify", EXAM, "--ledger", "--to", "ledger.txt"])
        .exits(0);
    let entries: Vec<Entry> = room
        .text("ledger.txt")
        .lines()
        .map(|line| Entry::read(line).unwrap())
        .collect();
    let refused = entries
        .iter()
        .filter(|entry| entry.act == register::Act::Refused);
    let roles: Vec<&str> = refused.map(|entry| entry.by.role.word()).collect();
    assert_eq!(roles, ["marker", "proctor", "author"]);
}
