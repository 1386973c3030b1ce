//! `analyse` as a person runs it, on the open data of the reference folder: what
//! is printed is what was published (the record that each figure comes from is named beside it).

use std::path::Path;

use serde_json::Value;
use tests::Room;

/// The seed from which the certificate's recorded answers were written.
const SEED: &str = "6f1d2c3b4a59687706152433425160fedcba98765432100123456789abcdef00";
const EXPECTED: &str = "tests/published/reference/examination-statistics/expected";
const DATA: &str = "tests/published/reference/examination-statistics/data";

/// A room with these data sets.
pub(crate) fn room(files: &[&str]) -> Room {
    let room = Room::empty();
    for file in files {
        room.put(
            file,
            std::fs::read(tests::top().join(DATA).join(file)).unwrap(),
        );
    }
    room
}

/// The value of a published record.
pub(crate) fn published(file: &str, id: &str) -> Value {
    let path = tests::top().join(EXPECTED).join(file);
    let all: Value = serde_json::from_slice(&std::fs::read(path).unwrap()).unwrap();
    let records: Vec<&Value> = match &all {
        Value::Array(list) => list.iter().collect(),
        Value::Object(map) => map
            .values()
            .flat_map(|value| value.as_array().into_iter().flatten())
            .collect(),
        _ => Vec::new(),
    };
    let found = records.into_iter().find(|record| record["id"] == id);
    found.unwrap_or_else(|| panic!("no record {id}"))["value"].clone()
}

#[track_caller]
pub(crate) fn near(found: &Value, expected: &Value, tolerance: f64) {
    let (found, expected) = (found.as_f64().unwrap(), expected.as_f64().unwrap());
    assert!(
        (found - expected).abs() <= tolerance,
        "{found} where {expected} was published"
    );
}

#[test]
fn a_keyed_table_gives_the_published_item_figures() {
    let room = room(&["mc20_responses.csv", "mc20_key.csv"]);
    let run = room
        .run(&[
            "analyse",
            "mc20_responses.csv",
            "--key",
            "mc20_key.csv",
            "--json",
        ])
        .exits(0);
    let part = &run.json()["parts"][0]["analysis"];
    let p = published("t01_item_analysis.json", "t1.mc20.p");
    let rest = published("t01_item_analysis.json", "t1.mc20.r_item_rest");
    let d27 = published("t01_item_analysis.json", "t1.mc20.D27");
    let counts = published("t01_item_analysis.json", "t1.mc20.option_counts");
    let means = published("t01_item_analysis.json", "t1.mc20.option_mean_total");
    let option_r = published("t01_item_analysis.json", "t1.mc20.option_rest_r");
    for item in 0..20 {
        let question = &part["questions"][item];
        near(&question["difficulty"]["Ok"]["share"], &p[item], 1e-9);
        near(&question["with_rest"]["Ok"]["r"], &rest[item], 1e-9);
        near(&question["upper_lower"]["Ok"], &d27[item], 1e-9);
        for option in 0..4 {
            let row = &question["options"][option];
            assert_eq!(row["chosen"], counts[item][option]);
            near(&row["with_rest"]["Ok"]["r"], &option_r[item][option], 1e-9);
            let mean = row["mean_share"]["Ok"].as_f64().unwrap() * 20.0;
            near(&mean.into(), &means[item][option], 1e-9);
        }
    }
    let set = &part["reliability"][0];
    near(
        &set["alpha"]["alpha"],
        &published("t02_reliability.json", "t2.mc20.alpha"),
        1e-9,
    );
    let limits = published("t02_reliability.json", "t2.mc20.alpha_ci95");
    near(&set["alpha"]["interval"]["lower"], &limits[0], 1e-8);
    near(&set["alpha"]["interval"]["upper"], &limits[1], 1e-8);
    near(
        &set["omega"]["omega"],
        &published("t02_reliability.json", "t2.mc20.omega_1factor"),
        1e-5,
    );
    near(
        &set["lambdas"]["lambda2"],
        &published("t02_reliability.json", "t2.mc20.lambda2"),
        1e-9,
    );
    near(
        &set["error"]["marks"],
        &published("t02_reliability.json", "t2.mc20.sem"),
        1e-9,
    );
    assert!(!run.out.contains("NaN") && !run.out.contains("null,\n        null"));
}

#[test]
fn the_words_on_the_terminal_fit_the_figures() {
    let room = room(&["mc20_responses.csv", "mc20_key.csv"]);
    room.run(&[
        "analyse",
        "mc20_responses.csv",
        "--key",
        "mc20_key.csv",
        "--cut",
        "60%",
    ])
    .exits(0)
    // t2.mc20.alpha .8128, t2.mc20.alpha_ci95 .7551 to .8621, t2.mc20.sem 1.956.
    .gives("reliability (KR-20) 0.81, 95 % interval 0.76 to 0.86 (n = 100)")
    .gives("uncertain by 2.0 of 20 marks")
    .gives("reach the cut of 60 %")
    .gives("100 candidates do not carry a slope for each question")
    .says("open mc20_responses-analysis.html in a browser");
    let page = room.text("mc20_responses-analysis.html");
    assert!(page.starts_with("<!doctype html>") && page.contains("<svg"));
    assert!(!page.contains("<script") && !page.contains("NaN"));
}

#[test]
fn marks_on_a_scale_give_the_published_figures() {
    let room = room(&["attitude.csv"]);
    let part = room
        .run(&["analyse", "attitude.csv", "--json"])
        .exits(0)
        .json()["parts"][0]["analysis"]
        .clone();
    let rest = published("t01_item_analysis.json", "t1.attitude.r_item_rest");
    for item in 0..7 {
        near(
            &part["questions"][item]["with_rest"]["Ok"]["r"],
            &rest[item],
            1e-9,
        );
    }
    let set = &part["reliability"][0];
    near(
        &set["alpha"]["alpha"],
        &published("t02_reliability.json", "t2.attitude.alpha"),
        1e-9,
    );
    near(
        &set["omega"]["omega"],
        &published("t02_reliability.json", "t2.attitude.omega_1factor"),
        1e-5,
    );
    assert!(
        part["scale"]["Err"]
            .as_str()
            .unwrap()
            .contains("No common scale")
    );
}

#[test]
fn rows_that_stand_for_many_give_the_published_figures() {
    let room = room(&["lsat7_patterns.csv"]);
    let part = room
        .run(&["analyse", "lsat7_patterns.csv", "--count", "n", "--json"])
        .exits(0)
        .json()["parts"][0]["analysis"]
        .clone();
    assert_eq!(part["n"], 1000);
    let p = published("t01_item_analysis.json", "t1.lsat7.p");
    for item in 0..5 {
        near(
            &part["questions"][item]["difficulty"]["Ok"]["share"],
            &p[item],
            1e-9,
        );
    }
    near(
        &part["reliability"][0]["alpha"]["alpha"],
        &published("t02_reliability.json", "t2.lsat7.alpha"),
        1e-9,
    );
}

#[test]
fn a_table_with_markers_gives_the_published_severities() {
    let room = room(&["ptam4_592.csv"]);
    let run = room
        .run(&[
            "analyse",
            "ptam4_592.csv",
            "--candidate",
            "idstud",
            "--marker",
            "rater",
            "--json",
        ])
        .exits(0);
    let severities = published("t11_facets.json", "t11.ptam4.mfrm_mml")["rater"].clone();
    let json = run.json();
    let markers = json["parts"][0]["markers"]["markers"]
        .as_array()
        .unwrap()
        .clone();
    assert_eq!(markers.len(), severities.as_object().unwrap().len());
    for marker in &markers {
        let name = marker["marker"].as_str().unwrap();
        near(&marker["severity"], &severities[name], 0.01);
    }
    // 803 is the hardest by far: the first line of the picture, and named in the sentence.
    assert_eq!(markers[0]["marker"], "803");
    assert!(
        json["parts"][0]["markers"]["sentence"]
            .as_str()
            .unwrap()
            .contains("803")
    );
}

/// Right and wrong answers of twelve to four questions. Invented.
fn twelve_candidates() -> String {
    let mut table = "candidate,q1,q2,q3,q4\n".to_owned();
    for n in 0..12_usize {
        let bit = |k: usize| u8::from(!(n * 7 + k * 5).is_multiple_of(k + 2));
        table.push_str(&format!(
            "c{n},{},{},{},{}\n",
            bit(1),
            bit(2),
            bit(3),
            bit(4)
        ));
    }
    table
}

#[test]
fn few_candidates_are_told_what_their_number_does_not_carry() {
    let room = Room::empty();
    room.put("small.csv", twelve_candidates());
    room.run(&["analyse", "small.csv", "--cut", "50%"])
        .exits(0)
        .gives("12 candidates are few")
        .gives("No difficulties and candidates on one scale (Rasch): 12 candidates, at least 30 are needed")
        .gives("Instead: shares of right answers with their intervals");
}

#[test]
fn a_cut_in_marks_is_taken_where_it_means_one_share_and_nowhere_else() {
    let room = Room::empty();
    let table = twelve_candidates();
    room.put("same.csv", &table);
    let share = |file: &str, cut: &str| room.run(&["analyse", file, "--cut", cut]);
    // Two of four marks are half of them.
    share("same.csv", "2")
        .exits(0)
        .gives("reach the cut of 50 %");
    share("same.csv", "5")
        .exits(3)
        .says("a cut of 5 marks lies above the 4 that can be had");
    // One candidate was asked three questions: two marks are another share of them.
    room.put(
        "unlike.csv",
        table.replace("c3,1,", "c3,9,").replace("c3,0,", "c3,9,"),
    );
    room.run(&["analyse", "unlike.csv", "--not-asked", "9", "--cut", "2"])
        .exits(3)
        .says("candidates were asked for 3 to 4 marks")
        .says("--cut 60%");
    room.run(&["analyse", "unlike.csv", "--not-asked", "9", "--cut", "50%"])
        .exits(0);
}

#[test]
fn faults_of_a_table_come_all_at_once_with_their_lines() {
    let room = Room::empty();
    room.put("bad.csv", "candidate,q1,q2\nA,1,x\nB,?,0\n,1,1\nA,1,1\n");
    room.run(&["analyse", "bad.csv"])
        .exits(1)
        .says("bad.csv:2")
        .says("bad.csv:3")
        .says("\"?\" is no mark")
        .says("names no candidate");
    room.run(&["analyse", "bad.csv", "--omitted", "x", "--omitted", "?"])
        .exits(1)
        .says("names no candidate");
    room.put("twice.csv", "candidate,q1,q2\nA,1,0\nB,0,0\nA,1,1\n");
    room.run(&["analyse", "twice.csv"])
        .exits(1)
        .says("candidate A has the same question twice");
    room.put("key.csv", "question,key\nq1,A\nq7,B\n");
    room.run(&["analyse", "bad.csv", "--key", "key.csv"])
        .exits(1);
    room.run(&["analyse", "absent.csv"])
        .exits(3)
        .says("absent.csv is neither a table nor the folder of a sitting");
    room.run(&["analyse", "bad.csv", "--candidate", "name"])
        .exits(1)
        .says("there is no column \"name\"");
}

#[test]
fn one_candidate_and_equal_candidates_are_named_and_no_number_is_invented() {
    let room = Room::empty();
    room.put("one.csv", "q1,q2,q3\n1,0,1\n");
    let one = room.run(&["analyse", "one.csv", "--json"]).exits(0);
    assert!(!one.out.contains("NaN") && one.out.contains("at least 5 are needed"));
    room.put("equal.csv", format!("q1,q2,q3\n{}", "1,1,1\n".repeat(40)));
    room.run(&["analyse", "equal.csv"])
        .exits(0)
        .gives("no variance")
        .gives("fewer than three questions marked right or wrong tell candidates apart");
}

#[test]
fn a_long_table_pools_with_what_was_not_asked() {
    let room = Room::empty();
    let mut long = "candidate,question,mark,form\n".to_owned();
    for n in 0..24 {
        for k in 1..=4_usize {
            // Form A asks q1 to q3, form B q2 to q4.
            let form = if n % 2 == 0 { "A" } else { "B" };
            if (form == "A" && k == 4) || (form == "B" && k == 1) {
                continue;
            }
            long.push_str(&format!(
                "c{n},q{k},{},{form}\n",
                u8::from((n * 5 + k * 3) % 7 > 2)
            ));
        }
    }
    room.put("long.csv", long);
    let part = room.run(&["analyse", "long.csv", "--json"]).exits(0).json()["parts"][0]["analysis"]
        .clone();
    assert_eq!(part["questions"][0]["n"], 12);
    assert_eq!(part["questions"][1]["n"], 24);
    let sets = part["reliability"].as_array().unwrap();
    assert_eq!(sets.len(), 2);
    assert!(sets.iter().all(|set| set["n"] == 12));
}

#[test]
fn a_sitting_is_analysed_and_its_bank_remembers() {
    let room = Room::with_example("certificate");
    assert!(Path::new(&room.path("examples/certificate/plan.yaml")).exists());
    room.run(&["assemble", "examples/certificate", "--seed", SEED])
        .exits(0);
    room.run(&["mark", "examples/certificate"]);
    let run = room.run(&["analyse", "examples/certificate"]).exits(0);
    assert!(run.out.contains("theory:") && run.out.contains("tasting:"));
    run.says("history");
    let history = room.files("question-banks/foundation/history");
    assert_eq!(history.len(), 1);
    let text = String::from_utf8(history.into_values().next().unwrap()).unwrap();
    assert!(text.starts_with("sitting,question,form,n,difficulty,discrimination\n"));
    assert!(text.lines().count() > 10);
    let page = room.text("examples/certificate/results/analysis.html");
    assert!(page.contains("Words of the panel found in each sample"));
    // Marks are of no one part; and what is refused writes nothing into the bank's history.
    room.run(&["analyse", "examples/certificate", "--cut", "24"])
        .exits(3)
        .says("there are 2")
        .says("per cent");
    room.run(&["analyse", "examples/certificate", "--cut", "60%"])
        .exits(0)
        .gives("reach the cut of 60 %");
    // Options that are of tables are not dropped in silence, and no form is equated with itself.
    for (more, said) in [
        (&["--highest", "20"][..], "sittings do not take --highest"),
        (
            &["--count", "n", "--total", "m"][..],
            "sittings do not take --total, --count",
        ),
        (
            &["--anchor-beside"][..],
            "sittings do not take --anchor-beside",
        ),
    ] {
        let forms = [
            "equate",
            "examples/certificate",
            "--form",
            "A",
            "--form",
            "B",
        ];
        room.run(&[&forms[..], more].concat()).exits(3).says(said);
    }
    room.run(&[
        "equate",
        "examples/certificate",
        "--form",
        "A",
        "--form",
        "A",
    ])
    .exits(3)
    .says("equated with itself");
    // Pooled with a sitting of another cut, a cut must be named.
    tests::copy(
        &tests::top().join("examples/certificate"),
        &room.path("examples/other"),
    );
    room.replace("examples/other/plan.yaml", "theory: 60", "theory: 65");
    room.run(&["assemble", "examples/other", "--seed", SEED])
        .exits(0);
    room.run(&["mark", "examples/other"]);
    let both = ["analyse", "examples/certificate", "examples/other"];
    let before = room.files("question-banks/foundation/history");
    room.run(&both)
        .exits(3)
        .says("unlike cuts of theory: 60 %, 65 %");
    assert_eq!(room.files("question-banks/foundation/history"), before);
    room.run(&[&both[..], &["--cut", "60%"]].concat()).exits(0);
    std::fs::remove_dir_all(room.path("question-banks/foundation/history")).unwrap();
    // A template at fault stops it before the history is written.
    room.put("own/analysis.html.jinja", "{% if %}");
    room.run(&["analyse", "examples/certificate", "--templates", "own"]);
    assert!(!room.path("question-banks/foundation/history").exists());
    room.run(&["analyse", "examples/certificate"]).exits(0);
    // A second analysis replaces its own figures and adds no file.
    room.run(&["analyse", "examples/certificate"]).exits(0);
    assert_eq!(room.files("question-banks/foundation/history").len(), 1);
    room.run(&[
        "equate",
        "examples/certificate",
        "--form",
        "A",
        "--form",
        "B",
    ])
    .exits(0)
    .gives("By identity equating:");
    room.run(&[
        "cut",
        "sheets",
        "examples/certificate",
        "--judge",
        "AM",
        "--judge",
        "BK",
    ])
    .exits(0)
    .gives("ratings_form-A_round-1.csv");
    // A question with drawn numbers stands as it does on this form.
    for form in ["A", "B", "C"] {
        let typed = room.text(&format!(
            "examples/certificate/cut/ratings_form-{form}_round-1.csv"
        ));
        assert!(typed.contains("drawn-"), "{typed}");
        assert!(!typed.contains(['{', '}']), "{typed}");
    }
    let filled = room
        .text("examples/certificate/cut/ratings_form-A_round-1.csv")
        .lines()
        .enumerate()
        .map(|(line, text)| match (line, text.strip_suffix(",,")) {
            (0, _) | (_, None) => format!("{text}\n"),
            (n, Some(start)) => format!("{start},{},{}\n", 50 + n % 30, 55 + n % 25),
        })
        .collect::<String>();
    // What judges typed outlives a second call, whatever else stands in its way.
    let typed = "examples/certificate/cut/ratings_form-B_round-1.csv";
    room.put(typed, "question,AM\n");
    let before = room.files("examples/certificate/cut");
    room.run(&["cut", "sheets", "examples/certificate", "--judge", "CT"])
        .exits(3)
        .says("ratings_form-A_round-1.csv, examples/certificate/cut/ratings_form-B_round-1.csv");
    assert_eq!(room.files("examples/certificate/cut"), before);
    room.put("examples/certificate/cut/round-1.csv", filled);
    // A cut is the chief examiner's; nobody else's is noted, and no minutes are written.
    let set = [
        "cut",
        "set",
        "--ratings",
        "examples/certificate/cut/round-1.csv",
        "--sitting",
    ];
    let minutes = "examples/certificate/cut/round-1-minutes.md";
    let by_marker = ["examples/certificate", "--role", "marker"];
    room.run(&[&set[..], &by_marker[..]].concat())
        .exits(3)
        .says("the role marker may not set a cut");
    assert!(!room.path(minutes).exists());
    // Nor does one person set it alone.
    room.run(&[&set[..], &["examples/certificate"]].concat())
        .exits(3)
        .says("to set a cut wants two roles");
    assert!(!room.path(minutes).exists());
    room.run(&[&set[..], &["examples/absent"]].concat())
        .exits(3)
        .says("not assembled");
    assert!(!room.path(minutes).exists());
    room.run(&[
        "cut",
        "sheets",
        "examples/certificate",
        "--judge",
        "AM",
        "--role",
        "proctor",
    ])
    .exits(3)
    .says("the role proctor may not print the papers");
    room.run(&[
        "cut",
        "set",
        "--ratings",
        "examples/certificate/cut/round-1.csv",
        "--sitting",
        "examples/certificate",
        "--confirmed-by",
        "assembler",
    ])
    .exits(0)
    .gives("The cut by Angoff is")
    .says("noted in the register");
}
