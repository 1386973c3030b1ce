//! A class before the exam: its sheets, the learners' pages and the page with the pictures; nothing
//! is marked, liking is judged by nobody, and what was taught can be barred from the exam.

use std::path::Path;

use tests::Room;

const CLASS: &str = "examples/first-evening";

fn words(path: &Path) -> String {
    let output = std::process::Command::new("pdftotext")
        .args(["-layout", "-enc", "UTF-8"])
        .arg(path)
        .arg("-")
        .output()
        .unwrap();
    assert!(output.status.success());
    let text = String::from_utf8(output.stdout).unwrap();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn only(room: &Room, below: &str, part: &str) -> std::path::PathBuf {
    let files = room.files(below);
    let found: Vec<_> = files.keys().filter(|name| name.contains(part)).collect();
    assert_eq!(found.len(), 1, "{part}: {found:?}");
    room.path(below).join(found[0])
}

#[test]
fn the_sheet_asks_for_everything_and_shows_the_cautions_and_no_panel_word() {
    let room = Room::with_example("first-evening");
    room.run(&["practise", "class-sheets", CLASS])
        .exits(0)
        .gives("Corvey Gully Seven Years")
        .gives("15.0 g of ethanol")
        .gives("! Nobody drives after tasting")
        .says("24 pages");
    let text = words(&only(&room, &format!("{CLASS}/papers"), "class-sheets"));
    for asked in [
        "E-01 · Marisol Quispe Andrade",
        "Look",
        "Nose",
        "Palate",
        "Finish",
        "grew or appeared",
        "faded",
        "Quality",
        "Liking",
        "Nobody drives after tasting",
        "served at 43 % vol",
        "15.0 g of ethanol",
    ] {
        assert!(text.contains(asked), "{asked:?} is not in {text}");
    }
    let pour = words(&only(&room, &format!("{CLASS}/papers"), "pour-sheet"));
    for told in [
        "Pour sample 1",
        "192 ml spirit with 14 ml water",
        "Nobody drives after tasting",
    ] {
        assert!(pour.contains(told), "{told:?} is not in {pour}");
    }
    assert!(!pour.contains("closed") && !pour.contains("Codes in the order"));
    for panels in ["banana", "dried apricot", "medicinal"] {
        assert!(!text.contains(panels), "the sheet says {panels}");
    }
    // The table that was there is not written over.
    room.run(&["practise", "class-sheets", CLASS, "--json"])
        .exits(0)
        .gives("\"table\": null");
}

#[test]
fn without_a_roster_one_sheet_is_copied_and_an_empty_table_is_put_down() {
    let room = Room::with_example("first-evening");
    std::fs::remove_file(room.path(&format!("{CLASS}/roster.csv"))).unwrap();
    std::fs::remove_file(room.path(&format!("{CLASS}/notes/notes.csv"))).unwrap();
    room.run(&["practise", "class-sheets", CLASS])
        .exits(1)
        .says("nothing says how many taste")
        .says("learners: 12");
    let yaml = room.text(&format!("{CLASS}/class.yaml"));
    room.put(
        &format!("{CLASS}/class.yaml"),
        format!("{yaml}learners: 9\n"),
    );
    room.run(&["practise", "class-sheets", CLASS])
        .exits(0)
        .says("2 pages, 9 copies")
        .says("notes.csv");
    let head = room.text(&format!("{CLASS}/notes/notes.csv"));
    assert!(head.starts_with("candidate,g1.colour,g1.nose"), "{head}");
    room.run(&["practise", "class-notes", CLASS])
        .exits(3)
        .says("no notes came in");
    // Whoever is named in the table is a learner then.
    room.put(
        &format!("{CLASS}/notes/notes.csv"),
        "candidate,g1.nose,g3.liking\nanna,banana; oak,9\n",
    );
    room.run(&["practise", "class-notes", CLASS]).exits(0);
    only(&room, &format!("{CLASS}/pages"), "_anna_");
}

#[test]
fn a_learners_page_sets_words_and_ratings_beside_the_panels_without_a_mark() {
    let room = Room::with_example("first-evening");
    room.run(&["practise", "class-notes", CLASS])
        .exits(0)
        .gives("Nothing came in from: E-11")
        .gives("lamp oil  E-03, E-10")
        .says("11 page files");
    let page = words(&only(&room, &format!("{CLASS}/pages"), "E-03"));
    for told in [
        "You wrote 3 of the panel’s 8 main words; 2 more are near yours.",
        "molasses the panel too: 6 of 10",
        "lamp oil not in the word list; near: oily",
        "the panel 7.8 on average, from 7 to 9 (n = 10)",
        "Your liking: 7 of 10. It is yours alone and is compared with nothing.",
        "nobody drives after tasting",
    ] {
        assert!(page.contains(told), "{told:?} is not in {page}");
    }
    let rest = page.replace("Nothing here is a mark.", "");
    assert!(!rest.contains("mark"), "{rest}");
    let html = room.text(&format!("{CLASS}/pages/class.html"));
    assert!(html.contains("role=\"img\"") && html.contains("<desc id=\"sample1-words-says\">"));
    assert!(html.contains("Class and panel meet most in banana"));
    assert!(!html.contains("<script"));
}

#[test]
fn liking_changes_nothing_that_is_compared() {
    let room = Room::with_example("first-evening");
    let page = || {
        room.run(&["practise", "class-notes", CLASS]).exits(0);
        room.text(&format!("{CLASS}/pages/class.html"))
    };
    let before = page();
    let notes = room.text(&format!("{CLASS}/notes/notes.csv"));
    let mut lines = notes.lines();
    let head: Vec<&str> = lines.next().unwrap().split(',').collect();
    let mut changed = head.join(",") + "\n";
    for line in lines {
        let cells: Vec<&str> = line.split(',').collect();
        assert_eq!(cells.len(), head.len(), "no cell of the example is quoted");
        let row: Vec<&str> = cells
            .iter()
            .zip(&head)
            .map(|(cell, name)| if name.ends_with("liking") { "0" } else { cell })
            .collect();
        changed += &(row.join(",") + "\n");
    }
    assert_ne!(changed, notes);
    room.put(&format!("{CLASS}/notes/notes.csv"), changed);
    assert_eq!(page(), before, "the class's page is the same to the byte");
    let text = words(&only(&room, &format!("{CLASS}/pages"), "E-03"));
    assert!(text.contains("Your liking: 0 of 10."));
}

#[test]
fn faulty_notes_are_listed_and_the_rest_is_taken_in() {
    let room = Room::with_example("first-evening");
    room.put(
        &format!("{CLASS}/notes/late.csv"),
        "candidate;question;answer\nE-11;1 nose;banana\nE-99;1 nose;oak\nE-11;4 nose;oak\nE-11;1 quality;good\nE-01;1 nose;fig\n",
    );
    let told = room
        .run(&["practise", "class-notes", CLASS])
        .exits(1)
        .says("nobody with the number \"E-99\"")
        .says("\"4\" is no glass of this class")
        .says("\"good\" is no rating of the quality")
        .says("stands twice for this learner")
        .says("4 faults above: what is faulty was left out");
    assert!(!told.out.contains("Nothing came in"), "{}", told.out);
}

#[test]
fn a_smoky_sample_before_a_milder_one_and_a_wrong_name_are_told() {
    let room = Room::with_example("first-evening");
    let path = format!("{CLASS}/class.yaml");
    room.replace(
        &path,
        "  - rum-corvey-gully-7\n",
        "  - malt-skerryhollin-10\n",
    );
    room.replace(
        &path,
        "  - malt-skerryhollin-10                   # smoky: last\n",
        "  - rum-corvey-gully-8\n",
    );
    room.run(&["practise", "class-sheets", CLASS])
        .exits(1)
        .says("\"cognac-thibarneau-15\" is tasted after \"malt-skerryhollin-10\", which lingers")
        .says("there is no sample record \"rum-corvey-gully-8\"")
        .says("rum-corvey-gully-7");
}

#[test]
fn an_exam_can_bar_or_want_what_a_class_tasted() {
    let room = Room::with_example("evening-class");
    tests::copy(&tests::top().join(CLASS), &room.path(CLASS));
    let plan = "examples/evening-class/plan.yaml";
    let flight = "  samples: [armagnac-pouychauvet-12]\n";
    let with = |samples: &str, rule: &str| {
        format!(
            "  samples: [{samples}]\n  taught: {{ classes: [../first-evening], in_flight: {rule} }}\n"
        )
    };
    let plain = room.text(plan);
    let check = |samples: &str, rule: &str| {
        room.put(plan, plain.replace(flight, &with(samples, rule)));
        room.run(&["check", "examples/evening-class"])
    };
    check("armagnac-pouychauvet-12", "barred").exits(0);
    check("cognac-thibarneau-15", "barred")
        .exits(1)
        .says("\"cognac-thibarneau-15\" was tasted in class, and the plan bars what was taught");
    check("cognac-thibarneau-15", "wanted").exits(0);
    check("armagnac-pouychauvet-12", "wanted")
        .exits(1)
        .says("the plan wants a sample that was tasted in class, and the flight has none")
        .says("malt-skerryhollin-10");
    // The register keeps the class's text: it still holds when the folder is gone.
    check("cognac-thibarneau-15", "wanted").exits(0);
    room.run(&["assemble", "examples/evening-class"]).exits(0);
    std::fs::remove_dir_all(room.path(CLASS)).unwrap();
    room.run(&["print", "examples/evening-class"]).exits(0);
    room.run(&["check", "examples/evening-class"])
        .exits(1)
        .says("there is no class.yaml in \"../first-evening\"");
    room.put(
        plan,
        plain.replace(
            flight,
            "  samples: [armagnac-pouychauvet-12]\n  taught: { samples: [cognac-thibarneau-51], in_flight: barred }\n",
        ),
    );
    room.run(&["check", "examples/evening-class"])
        .exits(0)
        .says("A misspelt name bars nothing");
}
