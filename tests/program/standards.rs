//! `cut` and `equate` as a person runs them, on the open data of the reference folder: what is printed
//! is what was published.

use tests::Room;

use crate::analysis::{near, published, room};

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
    assert!(
        made["limits"].is_array()
            || made["error_says"]
                .as_str()
                .unwrap()
                .starts_with("No error:")
    );
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
    // One table has both forms only where two columns count them.
    room.run(&["equate", "kbneat_x.csv", "--total", "total"])
        .exits(3)
        .says("one table would be equated with itself");
    room.run(&[
        "equate",
        "kbneat_x.csv",
        "kbneat_y.csv",
        "--anchor-question",
        "anchor",
        "--anchor-beside",
    ])
    .exits(3)
    .says("--anchor-beside");
    room.run(&neat[..9])
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
