//! Forms side by side, plans that cannot be kept, and clauses that contradict each other.

use tests::Room;

const EXAM: &str = "examples/certificate";
const PLAN: &str = "examples/certificate/plan.yaml";

#[test]
fn the_full_example_has_three_forms_that_are_equally_hard() {
    // Not for one seed only: each time another is taken from the machine.
    for _ in 0..3 {
        let room = Room::with_example("certificate");
        let report = room.run(&["assemble", EXAM, "--json"]).exits(0).json();
        let beside = &report["beside"];
        assert_eq!(beside["forms"].as_array().unwrap().len(), 3);
        let difference = beside["largest_difference"].as_f64().unwrap();
        assert!(difference < 0.2, "{beside}");
        assert!(
            beside["nearness"]["deviation"].as_f64().unwrap() < 20.0,
            "{beside}"
        );
    }
}

#[test]
fn forms_are_set_side_by_side_on_a_page_and_as_json() {
    let room = Room::with_example("certificate");
    room.run(&["check", EXAM, "--page", "tried.html"]).exits(0);
    room.run(&["assemble", EXAM, "--page", "forms.html"])
        .exits(0)
        .says("The forms side by side are in forms.html")
        .gives("expected marks at the cut");
    for file in ["tried.html", "forms.html"] {
        let page = room.text(file);
        for words in [
            "Spirits certificate, June sitting: forms side by side",
            "Law and labels",
            "words to read",
            "difference of the cut",
            "Information by ability",
            "Aimed at: expected marks at the cut",
        ] {
            assert!(page.contains(words), "{file}: {words}");
        }
        assert!(!page.contains("<script"));
        assert_eq!(page.matches("<svg").count(), 3);
    }
    let json = room.run(&["check", EXAM, "--json"]).exits(0).json();
    let form = &json["beside"]["forms"][0];
    for figure in ["words", "minutes", "expected", "deviation", "information"] {
        assert!(form[figure].as_f64().unwrap() > 0.0, "{figure}: {form}");
    }
    assert_eq!(form["over_ability"].as_array().unwrap().len(), 25);
}

#[test]
fn twelve_questions_less_in_one_cell_are_explained() {
    let room = Room::with_example("certificate");
    room.replace(PLAN, "sensory-method: 3", "sensory-method: 7");
    room.replace(PLAN, "  overlap: 12 ", "  overlap: 4 ");
    room.run(&["check", EXAM]).exits(0);
    let file = "question-banks/foundation/questions/sensory-method.yaml";
    let text = room.text(file);
    let parts: Vec<&str> = text.splitn(13, "state: operational").collect();
    assert_eq!(parts.len(), 13, "twelve questions to retire, and more");
    room.put(file, parts.join("state: retired"));
    // By hand: 7 on each of 3 forms use 9 questions 21 times; 9 second uses are common to one pair
    // each, 3 third uses to two further pairs, 15 in all, and 3 pairs may have 4 each.
    room.run(&["check", EXAM])
        .exits(1)
        .says("cell sensory-method: 7 wanted on each of 3 forms with at most 4 questions common")
        .says("the bank has 9 usable")
        .says("12 retired")
        .says("more, or allow an overlap of 5")
        .says("plan.yaml");
}

#[test]
fn clauses_that_cannot_hold_together_are_named_with_what_would_be_enough() {
    let room = Room::with_example("certificate");
    room.replace(PLAN, "  draw: near-best ", "  draw: { words: 300 } ");
    room.run(&["check", EXAM])
        .exits(1)
        .says("no 3 forms can be drawn that hold this together")
        .says("at most 300 words to read");
}

/// Breaks the plan's theory part in one way; the fault, its place and what is possible.
#[track_caller]
fn broken(changes: &[(&str, &str)], words: &[&str]) {
    let room = Room::with_example("certificate");
    for (old, new) in changes {
        room.replace(PLAN, old, new);
    }
    let mut outcome = room.run(&["check", EXAM]).exits(1).says("plan.yaml:");
    for words in words {
        outcome = outcome.says(words);
    }
    room.run(&["assemble", EXAM]).exits(1);
    assert!(!room.path("examples/certificate/sitting.register").exists());
}

#[test]
fn what_a_plan_of_forms_cannot_mean_is_told_with_its_place_and_what_can_be() {
    // A cell named twice.
    broken(
        &[("    service: 2\n", "    service: 2\n    maturation: 2\n")],
        &[
            "this field stands here a second time: maturation",
            "put the two together, or take one off",
        ],
    );
    // Contradictory bounds, of a cell and of a form.
    broken(
        &[("    service: 2\n", "    service: 3 to 2\n")],
        &["at least 3 and at most 2 cannot both be kept", "2 to 3"],
    );
    broken(
        &[("    service: 2\n", "    service: 1 to 3\n")],
        &["how many questions a form has is not said", "39 to 41"],
    );
    broken(
        &[("  minutes: 60\n", "  minutes: 60\n  questions: 41\n")],
        &["a form has 41 questions, and the cells ask for 40"],
    );
    // Anchors that are enemies, and one that is none of the plan's questions.
    let enemies = enemies_of_the_bank();
    broken(
        &[(
            "  draw: near-best ",
            &format!("  draw: {{ anchors: [{}, {}] }} ", enemies.0, enemies.1),
        )],
        &[
            "are enemies, and both must stand on every form",
            "take one of them off",
        ],
    );
    broken(
        &[(
            "  draw: near-best ",
            "  draw: { anchors: [nobody-wrote-this] } ",
        )],
        &[
            "cannot stand on a form",
            "operational questions of the plan's cells",
        ],
    );
    broken(
        &[(
            "  draw: near-best ",
            &format!("  draw: {{ anchors: [{0}], links: [{0}] }} ", enemies.0),
        )],
        &["named twice among anchors and links"],
    );
}

/// Two enemies of the shipped bank, both operational and of cells of the plan.
fn enemies_of_the_bank() -> (String, String) {
    let folder = tests::top().join("question-banks/foundation/questions");
    let text = std::fs::read_to_string(folder.join("law-and-labels.yaml")).unwrap();
    let question = text
        .split("\n  - id: ")
        .find(|part| part.contains("state: operational") && part.contains("enemies: ["))
        .expect("the bank has enemies");
    let id = question.lines().next().unwrap().trim().to_owned();
    let (_, list) = question.split_once("enemies: [").unwrap();
    let enemy = list.split([',', ']']).next().unwrap().trim().to_owned();
    (id, enemy)
}

#[test]
fn figures_and_plans_that_no_bank_can_follow_are_told() {
    // A target that no form reaches is a weakness: forms come as near as they can.
    let room = Room::with_example("certificate");
    room.replace(
        PLAN,
        "  draw: near-best ",
        "  draw: { target: [{ ability: 0, information: 400 }] } ",
    );
    room.run(&["check", EXAM])
        .exits(0)
        .says("information 400 at ability 0 is out of reach")
        .says("at most ");
    // Parameters that say nothing.
    let room = Room::with_example("certificate");
    room.put(
        "question-banks/foundation/calibration.csv",
        "question,discrimination,difficulty\nheavy-rum-wash,0,0.2\ngin-basket,1,6.5\n",
    );
    room.run(&["check", EXAM])
        .exits(1)
        .says("discrimination \"0\" cannot be used")
        .says("difficulty \"6.5\" cannot be used")
        .says("calibration.csv:2:")
        .says("from −6 to 6");
    // More forms than people.
    let room = Room::with_example("evening-class");
    room.replace("examples/evening-class/plan.yaml", "forms: 2", "forms: 13");
    room.run(&["check", "examples/evening-class"])
        .says("13 forms are planned for 12 candidates")
        .says("forms: 1 to 12");
}
