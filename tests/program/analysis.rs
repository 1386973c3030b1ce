//! `analyse`, `cut` and `equate` as a person runs them, on the open data of the reference folder: what
//! is printed is what was published (the record that each figure comes from is named beside it).

use std::path::Path;

use serde_json::Value;
use tests::Room;

const EXPECTED: &str = "tests/published/reference/examination-statistics/expected";
const DATA: &str = "tests/published/reference/examination-statistics/data";

/// A room with these data sets.
fn room(files: &[&str]) -> Room {
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
fn published(file: &str, id: &str) -> Value {
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
fn near(found: &Value, expected: &Value, tolerance: f64) {
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

#[test]
fn few_candidates_are_told_what_their_number_does_not_carry() {
    let room = Room::empty();
    let mut table = "candidate,q1,q2,q3,q4\n".to_owned();
    for n in 0..12 {
        let bit = |k: usize| u8::from(!(n * 7 + k * 5).is_multiple_of(k + 2));
        table.push_str(&format!(
            "c{n},{},{},{},{}\n",
            bit(1),
            bit(2),
            bit(3),
            bit(4)
        ));
    }
    room.put("small.csv", table);
    room.run(&["analyse", "small.csv", "--cut", "50%"])
        .exits(0)
        .gives("12 candidates are few")
        .gives("No difficulties and candidates on one scale (Rasch): 12 candidates, at least 30 are needed")
        .gives("Instead: shares of right answers with their intervals");
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
    room.run(&["analyse", "absent.csv"]).exits(3);
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
fn a_cut_by_angoff_is_the_published_one_with_its_error() {
    let room = room(&[
        "angoff_ratings.csv",
        "sitting_scores.csv",
        "rasch_item_difficulty.csv",
    ]);
    let run = room
        .run(&[
            "cut",
            "set",
            "--ratings",
            "angoff_ratings.csv",
            "--scores",
            "sitting_scores.csv",
            "--difficulties",
            "rasch_item_difficulty.csv",
            "--json",
        ])
        .exits(0);
    let made = run.json()["cut"].clone();
    let file = "t07_standard_setting.json";
    near(&made["cut"], &published(file, "t7.open.angoff_cut"), 1e-9);
    near(
        &made["error"],
        &published(file, "t7.open.angoff_se_judges"),
        1e-9,
    );
    let by_judge = published(file, "t7.open.angoff_cut_by_judge");
    for judge in 0..8 {
        near(
            &made["rounds"][0]["judges"][judge]["cut"],
            &by_judge[judge],
            1e-9,
        );
    }
    let minutes = room.text("angoff_ratings-minutes.md");
    // 17.50625 of 30 is 58.354 %: rounded up to a tenth.
    assert!(minutes.contains("  theory: 58.4") && minutes.contains("17.51 of 30 marks"));
    // t7.open.angoff_intrajudge_r, first judge .9214, mad .0974.
    assert!(
        minutes.contains(
            "Judge J1 against how hard the questions were: r = 0.92, mean difference 0.097"
        )
    );
}

#[test]
fn cuts_by_the_other_ways_are_the_published_ones() {
    let room = room(&[
        "ebel.csv",
        "hofstee_judges.csv",
        "sitting_scores.csv",
        "bookmark_pages.csv",
        "rasch_item_difficulty.csv",
    ]);
    let file = "t07_standard_setting.json";
    let cut = |arguments: &[&str]| {
        let mut all = vec!["cut", "set", "--json", "--highest", "30"];
        all.extend(arguments);
        room.run(&all).exits(0).json()["cut"].clone()
    };
    let made = cut(&["--way", "ebel", "--ratings", "ebel.csv"]);
    near(&made["cut"], &published(file, "t7.open.ebel")["cut"], 1e-9);
    assert!(made["error"].is_null() && made["error_says"].as_str().unwrap().contains("no spread"));
    let scores = ["--scores", "sitting_scores.csv"];
    let with = |more: &[&'static str]| -> Vec<&'static str> { [more, &scores[..]].concat() };
    let made = cut(&with(&[
        "--way",
        "hofstee",
        "--ratings",
        "hofstee_judges.csv",
    ]));
    near(
        &made["cut"],
        &published(file, "t7.open.hofstee")["cut"],
        1e-7,
    );
    assert!(made["limits"].is_array());
    let made = cut(&with(&[
        "--way",
        "borderline-group",
        "--grade",
        "global_grade",
    ]));
    near(
        &made["cut"],
        &published(file, "t7.open.borderline_group")["median"],
        1e-9,
    );
    near(
        &made["error"],
        &published(file, "t7.open.borderline_group")["se_mean"],
        1e-9,
    );
    let made = cut(&with(&[
        "--way",
        "borderline-regression",
        "--grade",
        "global_grade",
    ]));
    near(
        &made["cut"],
        &published(file, "t7.open.borderline_regression")["cut"],
        1e-8,
    );
    near(
        &made["error"],
        &published(file, "t7.open.borderline_regression")["se"],
        1e-8,
    );
    let made = cut(&with(&[
        "--way",
        "contrasting-groups",
        "--competent",
        "judged_competent",
    ]));
    near(
        &made["cut"],
        &published(file, "t7.open.contrasting_logistic")["cut"],
        1e-7,
    );
    let made = cut(&[
        "--way",
        "bookmark",
        "--ratings",
        "bookmark_pages.csv",
        "--difficulties",
        "rasch_item_difficulty.csv",
        "--response-probability",
        "0.5",
    ]);
    near(
        &made["cut"],
        &published(file, "t7.open.bookmark_rp50")["raw_at_median_theta"],
        1e-7,
    );
}

#[test]
fn a_cut_that_the_numbers_do_not_carry_is_refused() {
    let room = Room::empty();
    room.put("one.csv", "question,A\nq1,50\nq2,60\n");
    room.run(&["cut", "set", "--ratings", "one.csv"])
        .exits(3)
        .says("judges");
    room.put("gap.csv", "question,A,B\nq1,50,\nq2,x,60\n");
    room.run(&["cut", "set", "--ratings", "gap.csv"])
        .exits(1)
        .says("gap.csv:2")
        .says("gap.csv:3");
    room.run(&["cut", "set", "--way", "hofstee", "--ratings", "gap.csv"])
        .exits(3)
        .says("--scores TABLE");
}

#[test]
fn the_published_equatings_come_out_and_the_advisor_gives_its_reason() {
    let room = room(&["actmath_freq.csv", "kbneat_x.csv", "kbneat_y.csv"]);
    let file = "t06_equating.json";
    let act = [
        "equate",
        "actmath_freq.csv",
        "--total",
        "scale",
        "--count",
        "xcount",
        "--count",
        "ycount",
        "--highest",
        "40",
        "--json",
        "--way",
    ];
    let run = |first: &[&str], way: &str| {
        let all: Vec<&str> = first.iter().copied().chain([way]).collect();
        room.run(&all).exits(0).json()["equated"].clone()
    };
    let made = run(&act, "linear");
    let (marks, errors) = (
        published(file, "t6.actmath.linear"),
        published(file, "t6.actmath.linear_se"),
    );
    for mark in 0..=40 {
        near(&made["marks"][mark]["equivalent"], &marks[mark], 1e-9);
        near(&made["marks"][mark]["standard_error"], &errors[mark], 1e-9);
    }
    let made = run(&act, "mean");
    let marks = published(file, "t6.actmath.mean");
    for mark in 0..=40 {
        near(&made["marks"][mark]["equivalent"], &marks[mark], 1e-9);
    }
    let neat = [
        "equate",
        "kbneat_x.csv",
        "kbneat_y.csv",
        "--total",
        "total",
        "--anchor",
        "anchor",
        "--highest",
        "36",
        "--json",
        "--way",
    ];
    for (way, id) in [
        ("tucker", "t6.kbneat.tucker_w0.5"),
        ("levine", "t6.kbneat.levine_w0.5"),
        ("chained-linear", "t6.kbneat.chained_linear"),
    ] {
        let made = run(&neat, way);
        let line = published(file, id);
        let (slope, intercept) = (
            line["slope"].as_f64().unwrap(),
            line["intercept"].as_f64().unwrap(),
        );
        for mark in 0..=36 {
            let expected = intercept + slope * mark as f64;
            near(&made["marks"][mark]["equivalent"], &expected.into(), 1e-7);
        }
    }
    let made = run(&neat, "circle-arc");
    let arc = published(file, "t6.kbneat.circle_arc_chained");
    for mark in 0..=36 {
        near(&made["marks"][mark]["equivalent"], &arc[mark], 1e-7);
    }
    room.run(&neat[..8])
        .exits(0)
        .gives("about 1,500 a form carry the whole distribution (Kolen & Brennan 2004, ch. 8)")
        .gives("By frequency-estimation equating:");
}

#[test]
fn with_twenty_five_a_mark_stays_a_mark() {
    let room = Room::empty();
    let table = |shift: usize| -> String {
        (0..25)
            .map(|n| format!("{}\n", 5 + (n * 7) % 13 + shift))
            .fold("marks\n".to_owned(), |t, l| t + &l)
    };
    room.put("x.csv", table(0));
    room.put("y.csv", table(2));
    let equate = [
        "equate",
        "x.csv",
        "y.csv",
        "--total",
        "marks",
        "--highest",
        "20",
    ];
    room.run(&equate)
        .exits(0)
        .gives("equating adds more error than it removes (Skaggs 2005)")
        .gives("By identity equating:");
    room.run(&[&equate[..], &["--way", "linear"]].concat())
        .exits(3)
        .says("linear equating is not carried by 25 candidates: at least 100");
}

#[test]
fn a_sitting_is_analysed_and_its_bank_remembers() {
    let room = Room::with_example("certificate");
    assert!(Path::new(&room.path("examples/certificate/plan.yaml")).exists());
    room.run(&["rehearse", "examples/certificate", "--sittings", "2"])
        .exits(0);
    // The rehearsal is a sitting of its own: its folder is marked and can be analysed like any other.
    room.run(&["assemble", "examples/certificate"]).exits(0);
    room.run(&["mark", "examples/certificate"]).exits(0);
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
    let filled = room
        .text("examples/certificate/cut/ratings_form-A_round-1.csv")
        .lines()
        .enumerate()
        .map(|(line, text)| match (line, text.strip_suffix(",,")) {
            (0, _) | (_, None) => format!("{text}\n"),
            (n, Some(start)) => format!("{start},{},{}\n", 50 + n % 30, 55 + n % 25),
        })
        .collect::<String>();
    room.put("examples/certificate/cut/round-1.csv", filled);
    room.run(&[
        "cut",
        "set",
        "--ratings",
        "examples/certificate/cut/round-1.csv",
        "--sitting",
        "examples/certificate",
    ])
    .exits(0)
    .gives("The cut by Angoff is")
    .says("noted in the register");
}
