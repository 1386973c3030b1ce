//! `analyse` with groups of candidates: the published comparisons of the verbal aggression data, from
//! a column and from a table, and what is refused.

use serde_json::Value;

use crate::analysis::{near, published, room};

const TABLE: &str = "verbal24_316.csv";

fn purified(report: &Value) {
    let made = &report["parts"][0]["fairness"]["comparisons"][0];
    let expected = published("t08_dif.json", "t8.verbal.mh_chisq_purified");
    let questions = made["questions"].as_array().unwrap();
    assert_eq!(questions.len(), expected.as_array().unwrap().len());
    for (question, value) in questions.iter().zip(expected.as_array().unwrap()) {
        near(
            &question["mantel_haenszel"]["Ok"]["chi_square"],
            value,
            1e-8,
        );
    }
}

#[test]
fn groups_of_a_column_give_the_published_comparisons() {
    let room = room(&[TABLE]);
    let call = [
        "analyse",
        TABLE,
        "--leave-out",
        "Anger",
        "--group",
        "Gender",
        "--reference",
        "0",
    ];
    let report = room.run(&[&call[..], &["--json"]].concat()).exits(0).json();
    purified(&report);
    let fairness = &report["parts"][0]["fairness"];
    assert_eq!(fairness["tests"], 48);
    let made = &fairness["comparisons"][0];
    // Gender 1 has 73 of the 316 rows.
    assert_eq!(
        (made["n"].clone(), made["n_reference"].clone()),
        (73.into(), 243.into())
    );
    // What is named is a part of what the published screen flags without adjustment.
    let flagged = published("t08_dif.json", "t8.verbal.mh_dif_items_purified");
    let flagged: Vec<u64> = flagged
        .as_array()
        .unwrap()
        .iter()
        .map(|n| n.as_u64().unwrap())
        .collect();
    let mut named = 0;
    for (place, question) in made["questions"].as_array().unwrap().iter().enumerate() {
        let adjusted = question["adjusted"].as_f64().unwrap();
        let plain = question["mantel_haenszel"]["Ok"]["p_value"]["probability"]
            .as_f64()
            .unwrap();
        assert!(adjusted >= plain && adjusted <= 1.0);
        if let Some(words) = question["finding"].as_str() {
            named += 1;
            if words.contains("class") {
                assert!(flagged.contains(&(place as u64 + 1)), "{words}");
            }
        }
    }
    assert!(named > 0 && named < flagged.len());
    let words = room.run(&call).exits(0);
    let words = words
        .gives("Groups beside each other:")
        .gives("1 (n = 73) beside 0 (n = 243) at equal totals")
        .gives("a verdict on it")
        .gives("no proof of fairness");
    assert!(!words.out.contains("NaN"));
    let page = room.text("verbal24_316-analysis.html");
    assert!(page.contains("1 beside 0, at equal totals") && page.contains("adjusted p"));
    assert!(page.contains("no proof of fairness") && !page.contains("NaN"));
}

#[test]
fn groups_of_a_table_of_their_own_say_the_same() {
    let room = room(&[TABLE]);
    let text = room.text(TABLE);
    let groups: String = std::iter::once("candidate,group\n".to_owned())
        .chain(text.lines().skip(1).enumerate().map(|(place, row)| {
            let gender = row.rsplit(',').next().unwrap();
            format!(
                "{},{}\n",
                place + 1,
                if gender == "1" { "men" } else { "women" }
            )
        }))
        .collect();
    room.put("groups.csv", groups);
    let report = room
        .run(&[
            "analyse",
            TABLE,
            "--leave-out",
            "Anger",
            "--leave-out",
            "Gender",
            "--groups",
            "groups.csv",
            "--json",
        ])
        .exits(0)
        .json();
    // The largest group is the reference where none is named.
    assert_eq!(report["parts"][0]["fairness"]["reference"], "women");
    purified(&report);
}

#[test]
fn what_was_not_reached_is_no_blank_and_takes_no_part_in_a_comparison() {
    let room = room(&[]);
    let mut text = "candidate,group,q1,q2,q3,q4\n".to_owned();
    for place in 0..120 {
        let group = if place % 2 == 0 { "evening" } else { "morning" };
        let last = match place % 6 {
            0 | 2 => "x",
            1 => "",
            _ => "1",
        };
        let marks = (place / 2 % 2, place / 3 % 2, place / 5 % 2);
        text.push_str(&format!(
            "c{place},{group},{},{},{},{last}\n",
            marks.0, marks.1, marks.2
        ));
    }
    room.put("late.csv", text);
    let call = [
        "analyse",
        "late.csv",
        "--group",
        "group",
        "--not-reached",
        "x",
    ];
    let report = room.run(&[&call[..], &["--json"]].concat()).exits(0).json();
    let made = &report["parts"][0]["analysis"];
    let last = &made["questions"][3];
    assert_eq!(
        (last["omitted"].clone(), last["not_reached"].clone()),
        (20.into(), 40.into())
    );
    assert_eq!(made["speededness"]["finished"]["successes"], 80);
    room.run(&call)
        .exits(0)
        .gives("Time was short: 80 of 120 reached the last question, and the slowest 3 of 4");
    let page = room.text("late-analysis.html");
    assert!(page.contains("left out") && page.contains("not reached"));
    // All evening candidates but 20 did not reach the last question: too few are left to compare.
    let why = &report["parts"][0]["fairness"]["comparisons"][0]["questions"][3];
    assert!(why["mantel_haenszel"]["Err"]["TooFew"].is_object(), "{why}");
}

#[test]
fn small_groups_are_refused_by_name_and_mistakes_are_told() {
    let room = room(&[]);
    let mut few = "candidate,group,q1,q2,q3\n".to_owned();
    for place in 0..40 {
        let group = if place % 4 == 0 { "evening" } else { "morning" };
        few.push_str(&format!(
            "c{place},{group},{},{},1\n",
            place % 2,
            place / 3 % 2
        ));
    }
    room.put("few.csv", few);
    room.run(&["analyse", "few.csv", "--group", "group"])
        .exits(0)
        .gives(
            "No comparison of evening (10 candidates) with morning (30): at least 50 in each group",
        )
        .gives("a reader from each group");
    room.run(&[
        "analyse",
        "few.csv",
        "--group",
        "group",
        "--reference",
        "noon",
    ])
    .exits(3)
    .says("no candidate is of the group \"noon\"")
    .says("evening, morning");
    room.put("one.csv", "candidate,group\nc1,evening\n,x\nc1,noon\n");
    room.run(&[
        "analyse",
        "few.csv",
        "--leave-out",
        "group",
        "--groups",
        "one.csv",
    ])
    .exits(1)
    .says("names no candidate")
    .says("candidate c1 has a second group");
    room.put("one.csv", "candidate,group\nc1,evening\n");
    room.run(&[
        "analyse",
        "few.csv",
        "--leave-out",
        "group",
        "--groups",
        "one.csv",
    ])
    .exits(3)
    .says("all candidates with a group are of evening");
    room.run(&[
        "analyse", "few.csv", "--group", "group", "--groups", "one.csv",
    ])
    .exits(2);
}
