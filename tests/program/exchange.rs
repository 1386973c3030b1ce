//! Questions out to a spreadsheet or to reviewers, and back.

use tests::Room;

const BANK: &str = "question-banks/foundation";

fn room() -> Room {
    Room::with_example("evening-class")
}

/// The table with these ids taken out of its cells of enemies, where spaces stand between them.
fn without_enemies(mut table: String, ids: &[&str]) -> String {
    for id in ids {
        for (with, without) in [
            (format!(",{id},"), ",,"),
            (format!(",{id} "), ","),
            (format!(" {id} "), " "),
            (format!(" {id},"), ","),
        ] {
            table = table.replace(&with, without);
        }
    }
    table
}

#[test]
fn the_shipped_bank_goes_out_and_comes_back() {
    let room = room();
    let out = room
        .run(&["bank", "to-csv", BANK, "--to", "q.csv", "--json"])
        .exits(0)
        .json();
    let rows = out["questions"].as_u64().unwrap();
    let left: Vec<&str> = out["left_out"]
        .as_array()
        .unwrap()
        .iter()
        .map(|left| left["id"].as_str().unwrap())
        .collect();
    assert!(!left.is_empty());
    assert!(rows > 100, "{rows} rows");
    // Each that stays behind is told with a reason.
    room.run(&["bank", "to-csv", BANK, "--to", "q2.csv"])
        .exits(0)
        .says(&format!("{rows} questions"))
        .says("left out, since");
    // The table alone makes a bank of its own again, and that goes out as the very same table.
    for name in [
        "bank.yaml",
        "lexicon.yaml",
        "categories.yaml",
        "regions.yaml",
    ] {
        room.put(
            &format!("again/{name}"),
            room.text(&format!("{BANK}/{name}")),
        );
    }
    // Enemies that were left out of the table are unknown to the bank that it makes.
    let table = without_enemies(room.text("q.csv"), &left);
    room.put("q.csv", &table);
    room.run(&[
        "bank",
        "from-csv",
        "q.csv",
        "--to",
        "again/questions/all.yaml",
    ])
    .exits(0)
    .says(&format!("{rows} questions read"));
    room.run(&["bank", "to-csv", "again", "--to", "again.csv"])
        .exits(0);
    assert_eq!(room.text("again.csv"), table);
    // A text that is there is never written over.
    room.run(&[
        "bank",
        "from-csv",
        "q.csv",
        "--to",
        "again/questions/all.yaml",
    ])
    .exits(3)
    .says("there already");
}

#[test]
fn faults_of_a_table_stand_at_their_cells() {
    let room = room();
    room.put(
        "q.csv",
        "id;kind;cell;level;state;work;evidence;verified;stem;answer;why\none;short_answer;law;recal;draft;W;read;2026-11-25;What?;rum;So.\n",
    );
    room.run(&["bank", "from-csv", "q.csv", "--to", "q.yaml"])
        .exits(1)
        .says("q.csv:2:22")
        .says("did you mean \"recall\"?");
    assert!(!room.path("q.yaml").exists());
}

#[test]
fn reviewers_change_states_and_nothing_else() {
    let room = room();
    room.run(&["bank", "to-review", BANK, "--to", "review.md"])
        .exits(0)
        .says("questions in review.md");
    // A paper on which reviewers may have written is never written over, nor is a table.
    room.put("begun.md", "a verdict\n");
    for way in ["to-review", "to-csv"] {
        room.run(&["bank", way, BANK, "--to", "begun.md"])
            .exits(3)
            .says("begun.md is there already");
        assert_eq!(room.text("begun.md"), "a verdict\n");
    }
    // Unchanged, the paper changes nothing.
    let before = room.files(BANK);
    room.run(&["bank", "from-review", "review.md", BANK])
        .exits(0)
        .says("0 files changed");
    assert_eq!(room.files(BANK), before);
    // One verdict changes one line.
    let paper = room.text("review.md");
    let at = paper.find("## cuts-in-order\n").unwrap();
    let (head, tail) = paper.split_at(at);
    let tail = tail
        .replacen("State: operational", "State: retired", 1)
        .replacen("Comments:", "Comments: the key is disputed", 1);
    room.put("review.md", format!("{head}{tail}"));
    room.run(&["bank", "from-review", "review.md", BANK])
        .exits(0)
        .gives("distillation.yaml")
        .says("1 file changed");
    let after = room.files(BANK);
    let changed: Vec<&String> = after
        .iter()
        .filter(|(name, bytes)| before[*name] != **bytes)
        .map(|(name, _)| name)
        .collect();
    assert_eq!(changed, ["questions/distillation.yaml"]);
    let lines = |files: &std::collections::BTreeMap<String, Vec<u8>>| -> Vec<String> {
        String::from_utf8(files["questions/distillation.yaml"].clone())
            .unwrap()
            .lines()
            .map(str::to_owned)
            .collect()
    };
    let differ: Vec<(String, String)> = lines(&before)
        .into_iter()
        .zip(lines(&after))
        .filter(|(old, new)| old != new)
        .collect();
    assert_eq!(
        differ,
        [(
            "    state: operational".to_owned(),
            "    state: retired".to_owned()
        )]
    );
    room.run(&["check", BANK]).exits(0);
    // A slip is told where it stands, and nothing is written.
    room.replace("review.md", "State: operational", "State: operatonal");
    room.run(&["bank", "from-review", "review.md", BANK])
        .exits(1)
        .says("did you mean \"operational\"?");
    assert_eq!(room.files(BANK), after);
}
