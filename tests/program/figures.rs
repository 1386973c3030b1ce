//! Figures that stand behind the first sentences: answers of neighbours, agreement of raters, further
//! figures, scales by other models, equating by curves, cuts by the class and by levels; on the open data
//! of the reference folder where there are published values, and on tables that are no good.

use std::fmt::Write as _;

use serde_json::Value;
use tests::Room;

use crate::analysis::{near, published, room};

/// The line of a table of figures whose name has these words.
#[track_caller]
fn line<'v>(lines: &'v Value, words: &str) -> &'v Value {
    let all = lines.as_array().unwrap();
    let found = all
        .iter()
        .find(|line| line["figure"].as_str().unwrap().contains(words));
    found.unwrap_or_else(|| panic!("no line {words} in {lines:#}"))
}

#[test]
fn agreement_of_raters_is_the_published_one() {
    let room = room(&[
        "shrout_fleiss_6x4.csv",
        "gwet_raw4raters_12x4.csv",
        "stdset_61x13_levels.csv",
    ]);
    let agreement = |table: &str, kind: &str| {
        room.run(&["panel", "agreement", table, "--as", kind, "--json"])
            .exits(0)
            .json()["figures"]
            .clone()
    };
    let file = "t04_agreement.json";
    let made = agreement("shrout_fleiss_6x4.csv", "numbers");
    let icc = published(file, "t4.shrout_fleiss.icc");
    for (name, id) in [
        ("ICC(1,1)", "ICC1"),
        ("ICC(2,1)", "ICC2"),
        ("ICC(3,1)", "ICC3"),
        ("ICC(1,k)", "ICC1k"),
        ("ICC(2,k)", "ICC2k"),
        ("ICC(3,k)", "ICC3k"),
    ] {
        near(&line(&made, name)["value"], &icc[id], 1e-9);
    }
    let limits = published(file, "t4.shrout_fleiss.icc_ci95");
    near(
        &line(&made, "ICC(2,1)")["limits"][0],
        &limits["ICC2"][0],
        1e-6,
    );
    let w = published(file, "t4.shrout_fleiss.kendall_w");
    near(&line(&made, "Kendall")["value"], &w["W"], 1e-9);
    let made = agreement("gwet_raw4raters_12x4.csv", "names");
    near(
        &line(&made, "AC1")["value"],
        &published(file, "t4.gwet4.gwet_coef_unweighted"),
        1e-9,
    );
    near(
        &line(&made, "Krippendorff")["value"],
        &published(file, "t4.gwet4.kripp_nominal"),
        1e-9,
    );
    let made = agreement("gwet_raw4raters_12x4.csv", "levels");
    near(
        &line(&made, "Krippendorff")["value"],
        &published(file, "t4.gwet4.kripp_ordinal"),
        1e-9,
    );
    // Words are names; they are refused as numbers, with their cell.
    room.put("words.csv", "sample,A,B\n1,rum,rum\n2,gin,rum\n3,gin,gin\n");
    room.run(&["panel", "agreement", "words.csv", "--as", "names"])
        .exits(0)
        .gives("Cohen's kappa")
        .gives("3 things rated by A, B");
    room.run(&["panel", "agreement", "words.csv"])
        .exits(1)
        .says("\"rum\" is no number")
        .says("words.csv:2");
}

#[test]
fn a_cut_by_matched_levels_is_the_published_one() {
    let room = room(&["stdset_61x13_levels.csv"]);
    let text = room.text("stdset_61x13_levels.csv");
    let (mut levels, mut difficulties) = (String::new(), "question,difficulty\n".to_owned());
    for (row, text) in text.lines().enumerate() {
        let cells: Vec<&str> = text.split(',').collect();
        let name = if row == 0 { "question" } else { cells[0] };
        writeln!(levels, "{name},{}", cells[2..].join(",")).unwrap();
        if row > 0 {
            // The published scale is far wider than logits: a line between the two is exact.
            let scaled = (cells[1].parse::<f64>().unwrap() - 500.0) / 100.0;
            writeln!(difficulties, "{name},{scaled}").unwrap();
        }
    }
    room.put("levels.csv", levels);
    room.put("difficulties.csv", difficulties);
    let cut = |level: &str| {
        let run = room.run(&[
            "cut",
            "set",
            "--way",
            "matching",
            "--ratings",
            "levels.csv",
            "--difficulties",
            "difficulties.csv",
            "--level",
            level,
            "--json",
        ]);
        run.exits(0).json()["cut"].clone()
    };
    for level in ["2", "3"] {
        let made = cut(level);
        let told = published(
            "t07_standard_setting.json",
            &format!("t7.levels61.logistic_cut_{level}"),
        );
        let logits = (told.as_f64().unwrap() - 500.0) / 100.0;
        let words = format!("from {logits:.2} logits on");
        assert!(
            made["sentences"][0].as_str().unwrap().contains(&words),
            "{made:#}"
        );
        assert!(made["error"].as_f64().unwrap() > 0.0);
    }
    room.run(&["cut", "set", "--way", "matching", "--ratings", "levels.csv"])
        .exits(3)
        .says("--difficulties TABLE");
}

#[test]
fn a_cut_from_the_best_of_the_class_has_its_limits() {
    let room = room(&["sitting_scores.csv"]);
    let run = room.run(&[
        "cut",
        "set",
        "--way",
        "cohen",
        "--scores",
        "sitting_scores.csv",
        "--highest",
        "30",
        "--guessing",
        "7.5",
        "--json",
    ]);
    let made = run.exits(0).json()["cut"].clone();
    let mut scores: Vec<f64> = room
        .text("sitting_scores.csv")
        .lines()
        .skip(1)
        .map(|line| line.split(',').nth(1).unwrap().parse().unwrap())
        .collect();
    scores.sort_by(f64::total_cmp);
    // The 95th per cent by the rule of Hyndman and Fan's seventh kind, as in the library's quantile.
    let at = 0.95 * (scores.len() - 1) as f64;
    let best = scores[at as usize] + at.fract() * (scores[at as usize + 1] - scores[at as usize]);
    near(&made["cut"], &(7.5 + 0.6 * (best - 7.5)).into(), 1e-9);
    let (low, high) = (&made["limits"][0], &made["limits"][1]);
    assert!(low.as_f64() <= made["cut"].as_f64() && made["cut"].as_f64() <= high.as_f64());
    room.run(&[
        "cut",
        "set",
        "--way",
        "cohen",
        "--scores",
        "sitting_scores.csv",
        "--guessing",
        "40",
    ])
    .exits(3)
    .says("highest");
}

#[test]
fn forms_of_published_answers_are_equated_by_curves() {
    let room = room(&["kb36_x.csv", "kb36_y.csv"]);
    // Every third question is shared; in the tables they have the same number.
    let shared: Vec<String> = (1..=12).map(|place| format!("i{}", 3 * place)).collect();
    let mut all = vec!["equate", "kb36_x.csv", "kb36_y.csv", "--json"];
    for name in &shared {
        all.extend(["--anchor-question", name]);
    }
    let equate = |way: &str| {
        room.run(&[&all[..], &["--way", way]].concat())
            .exits(0)
            .json()
    };
    let mean = published("t06_equating.json", "t6.kb36.rasch_concurrent")["mean_X"]
        .as_f64()
        .unwrap();
    let made = equate("rasch-true-score");
    let words = format!("is {mean:+.2} logits abler");
    let sentences = made["equated"]["sentences"].to_string();
    assert!(sentences.contains(&words), "{words} in {sentences}");
    for way in [
        "rasch-observed-score",
        "curves-true-score",
        "curves-observed-score",
    ] {
        let made = equate(way);
        let marks = made["equated"]["marks"].as_array().unwrap();
        assert_eq!(marks.len(), 37);
        let at = |mark: usize| marks[mark]["equivalent"].as_f64().unwrap();
        assert!((1..=36).all(|mark| at(mark) >= at(mark - 1)), "{way}");
        assert!((at(18) - 18.0).abs() < 3.0, "{way} {}", at(18));
    }
    room.run(&[
        "equate",
        "kb36_x.csv",
        "kb36_y.csv",
        "--way",
        "rasch-true-score",
    ])
    .exits(3)
    .says("questions that both forms have");
}

#[test]
fn answers_of_published_candidates_are_compared_by_seats_and_all_together() {
    let room = room(&["similarity_responses.csv", "similarity_key.csv"]);
    let key = room
        .text("similarity_key.csv")
        .replace("item,key", "question,key");
    room.put("key.csv", key);
    let mut text = room.text("similarity_responses.csv");
    // The second candidate of the table hands in the first one's answers but for two questions.
    let rows: Vec<String> = text.lines().map(str::to_owned).collect();
    let first: Vec<&str> = rows[1].split(',').collect();
    let second: Vec<&str> = rows[2].split(',').collect();
    let copied = format!("c2,{},{}", first[1..29].join(","), second[29..].join(","));
    text = text.replace(&rows[2], &copied);
    room.put("copied.csv", &text);
    let mut seats = "candidate,table,seat\n".to_owned();
    for place in 1..=300 {
        writeln!(
            seats,
            "c{place},t{},{}",
            (place - 1) / 10,
            (place - 1) % 10 + 1
        )
        .unwrap();
    }
    room.put("seats.csv", &seats);
    let of = |table: &str, more: &[&str]| {
        let start = [
            "analyse",
            table,
            "--key",
            "key.csv",
            "--candidate",
            "id",
            "--json",
        ];
        let made = room.run(&[&start[..], more].concat()).exits(0).json();
        made["parts"][0]["alike"].clone()
    };
    let by_seats = of("copied.csv", &["--seats", "seats.csv"]);
    assert_eq!(by_seats["looked_at"], 270);
    let named: Vec<&Value> = by_seats["pairs"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|pair| pair["named"] == true)
        .collect();
    assert_eq!(named.len(), 1, "{by_seats:#}");
    assert_eq!(named[0]["candidates"], serde_json::json!(["c1", "c2"]));
    let all = of("copied.csv", &[]);
    assert_eq!(all["looked_at"], 300 * 299 / 2);
    assert_eq!(
        all["pairs"][0]["candidates"],
        serde_json::json!(["c1", "c2"])
    );
    // On the terminal and on the page: what was found, and what it is not.
    let run = room.run(&[
        "analyse",
        "copied.csv",
        "--key",
        "key.csv",
        "--candidate",
        "id",
        "--seats",
        "seats.csv",
    ]);
    run.exits(0)
        .gives("c1 and c2 sat side by side")
        .gives("never a verdict");
    let page = room.text("copied-analysis.html");
    assert!(page.contains("never a verdict") && page.contains("c1 and c2"));
    // Faults of a table of seats come all at once.
    room.put(
        "seats.csv",
        "candidate,table,seat\nc1,a,1\nc2,a,1\nc3,a,zero\n,a,4\n",
    );
    let bad = room.run(&[
        "analyse",
        "copied.csv",
        "--key",
        "key.csv",
        "--candidate",
        "id",
        "--seats",
        "seats.csv",
    ]);
    bad.exits(1)
        .says("candidate c1 sits there already")
        .says("\"zero\" is no number of a seat")
        .says("this row names no candidate");
}

#[test]
fn each_model_gives_a_scale_on_open_data_or_says_what_it_lacks() {
    let room = room(&["verbal24_316.csv", "rasch30x100.csv"]);
    for model in [
        "rasch-conditional",
        "rasch-marginal",
        "rasch-joint",
        "two-parameters",
        "normal-ogive",
    ] {
        let made = room
            .run(&[
                "analyse",
                "verbal24_316.csv",
                "--leave-out",
                "Anger",
                "--leave-out",
                "Gender",
                "--model",
                model,
                "--json",
            ])
            .exits(0)
            .json();
        let scale = &made["parts"][0]["by_model"]["Ok"];
        assert_eq!(scale["questions"].as_array().unwrap().len(), 24, "{model}");
        assert!(scale["log_likelihood"].as_f64().unwrap() < -3_000.0);
    }
    room.run(&["analyse", "rasch30x100.csv", "--model", "three-parameters"])
        .exits(0)
        .gives(
            "No scale by three-parameters: 100 candidates with answers: at least 1000 are needed",
        );
    let page = room.text("rasch30x100-analysis.html");
    assert!(page.contains("No scale by three-parameters"));
}

/// Words in which a figure that is no number would show itself.
#[track_caller]
fn no_number_is_invented(what: &str, text: &str) {
    let mut words = text.split(|c: char| !c.is_alphanumeric());
    let found = words.find(|word| ["NaN", "nan", "inf", "Infinity"].contains(word));
    assert!(found.is_none(), "{what}: {found:?} in\n{text}");
}

#[test]
fn tables_that_are_no_good_get_a_named_result_from_every_command() {
    let room = Room::empty();
    let repeat = |head: &str, row: &str, times: usize| {
        format!("{head}\n{}", format!("{row}\n").repeat(times))
    };
    // Right or wrong, with a step that divides them without remainder (separation).
    let separated: String =
        (0..60).fold("score,grade,competent\n".to_owned(), |mut text, place| {
            let strong = u8::from(place >= 30);
            writeln!(text, "{},{},{strong}", place, 1 + strong).unwrap();
            text
        });
    // Two questions that are one and the same, so that omega finds a variance of nothing (Heywood).
    let twins: String = (0..60_u32).fold("q1,q2,q3,q4\n".to_owned(), |mut text, c| {
        let bit = |k: u32| u32::from((c * 37 + k * k * 61 + c * k * 13) % 97 < 30 + c / 2);
        writeln!(text, "{},{},{},{}", bit(1), bit(1), bit(5), bit(9)).unwrap();
        text
    });
    let tables: [(&str, String); 12] = [
        ("one-candidate", repeat("q1,q2,q3", "1,0,1", 1)),
        ("two-candidates", "q1,q2,q3\n1,0,1\n0,1,0\n".to_owned()),
        ("everyone-right", repeat("q1,q2,q3", "1,1,1", 40)),
        ("everyone-wrong", repeat("q1,q2,q3", "0,0,0", 40)),
        ("one-question", repeat("q1", "1", 40)),
        (
            "constant-item",
            twins
                .lines()
                .enumerate()
                .map(|(row, line)| format!("{line},{}\n", if row == 0 { "q5" } else { "1" }))
                .collect(),
        ),
        ("empty-cells", repeat("q1,q2,q3", ",,", 20) + "1,,0\n,1,\n"),
        (
            "duplicated-persons",
            repeat("candidate,q1,q2,q3", "A,1,0,1", 3),
        ),
        ("same-answers", repeat("q1,q2,q3,q4", "1,0,1,0", 60)),
        ("heywood", twins),
        ("one-judge", "question,A\nq1,50\nq2,60\n".to_owned()),
        ("separation", separated),
    ];
    for (name, text) in &tables {
        room.put(&format!("{name}.csv"), text);
    }
    for (name, _) in &tables {
        let file = format!("{name}.csv");
        let runs: Vec<Vec<&str>> = vec![
            vec!["analyse", &file, "--cut", "50%"],
            vec!["analyse", &file, "--model", "rasch-conditional"],
            vec!["analyse", &file, "--model", "rasch-joint"],
            vec!["analyse", &file, "--model", "graded"],
            vec![
                "equate",
                &file,
                "heywood.csv",
                "--way",
                "rasch-true-score",
                "--anchor-question",
                "q3",
            ],
            vec!["equate", &file, "everyone-right.csv"],
            vec!["panel", "agreement", &file, "--as", "names"],
            vec!["panel", "agreement", &file, "--as", "levels"],
            vec!["panel", "agreement", &file, "--as", "numbers"],
            vec!["panel", "ranking", &file],
            vec!["cut", "set", "--ratings", &file],
            vec!["cut", "set", "--way", "ebel", "--ratings", &file],
            vec![
                "cut",
                "set",
                "--way",
                "matching",
                "--ratings",
                &file,
                "--difficulties",
                &file,
            ],
            vec![
                "cut",
                "set",
                "--way",
                "contrasting-groups",
                "--scores",
                &file,
                "--highest",
                "60",
            ],
            vec![
                "cut",
                "set",
                "--way",
                "borderline-regression",
                "--scores",
                &file,
                "--highest",
                "60",
            ],
            vec![
                "cut",
                "set",
                "--way",
                "cohen",
                "--scores",
                &file,
                "--highest",
                "60",
            ],
        ];
        for run in runs {
            let made = room.run(&run);
            let what = run.join(" ");
            assert!(
                [0, 1, 2, 3].contains(&made.code),
                "{what} ends with {}:\n{}",
                made.code,
                made.err
            );
            // Whoever is refused is told why.
            assert!(
                made.code == 0 || made.err.len() > 20,
                "{what}: {}",
                made.err
            );
            no_number_is_invented(&what, &made.out);
            no_number_is_invented(&what, &made.err);
        }
        let page = format!("{name}-analysis.html");
        if room.path(&page).exists() {
            no_number_is_invented(&page, &room.text(&page));
        }
    }
    // The named results, where each of these is what the issue of the table is.
    room.run(&[
        "cut",
        "set",
        "--way",
        "contrasting-groups",
        "--scores",
        "separation.csv",
        "--highest",
        "60",
    ])
    .exits(3)
    .says("no cut by contrasting groups");
    room.run(&["cut", "set", "--ratings", "one-judge.csv"])
        .exits(3)
        .says("judges");
    room.run(&["analyse", "duplicated-persons.csv"])
        .exits(1)
        .says("candidate A has the same question twice");
    room.run(&["analyse", "heywood.csv"])
        .exits(0)
        .gives("No omega");
}
