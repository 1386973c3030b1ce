//! Panel tables as people write them: sound, wide, on a scale, and faulty.

use super::*;
use crate::lexicon::tests::lexicon_of;
use proptest::prelude::*;

fn lexicon() -> Lexicon {
    lexicon_of(&[&[&[
        ("apple", &["fresh apple"]),
        ("banana", &[]),
        ("oak", &["oaky"]),
    ]]])
    .unwrap()
}
fn read(text: &str) -> (ReferenceTasting, Vec<String>) {
    let mut faults = Vec::new();
    let lexicon = lexicon();
    let tasting = read_panel_table(&SourceText::new("p.csv", text), Some(&lexicon), &mut faults);
    let told = faults
        .iter()
        .map(|f| {
            let place = f.place.as_ref().unwrap();
            format!("{}:{}:{}", f.rule, place.line, place.column)
        })
        .collect();
    (tasting, told)
}

#[test]
fn a_spreadsheet_with_semicolons_and_mark_is_read() {
    let (tasting, told) = read(
        "\u{feff}Assessor;Stage;Descriptor;Intensity\r\nA;nose;Fresh Apples;4\r\nB;Water;oaky;1\r\nC;quality;;7,5\r\nD;finish;oak;2\r\nE;palate;banana;3\r\n",
    );
    assert_eq!(told, [""; 0]);
    assert_eq!(tasting.assessors, ["A", "B", "C", "D", "E"]);
    assert_eq!(tasting.notes[0].descriptor, "apple");
    assert_eq!(tasting.notes[1].stage, Stage::Water);
    assert_eq!(tasting.quality, [(2, 7.5)]);
}

#[test]
fn every_bad_cell_is_told_with_its_line_and_column() {
    let (_, told) = read(
        "assessor,stage,descriptor,intensity
A,nose,mud,3
B,nosee,oak,3
C,nose,oak,6
C,nose,oak,0
,nose,oak,3
D,quality,oak,11
E,nose,oak,2
E,nose,oaky,3
E,nose,Oak,2
F,palate,bannana,2
F,palate,oak,2,note
F,finish,,2
",
    );
    assert_eq!(
        told,
        [
            "unknown-descriptor:2:8",
            "unknown-stage:3:3",
            "intensity:4:12",
            "intensity:5:12",
            "empty-cell:6:1",
            "quality-with-descriptor:7:11",
            "quality:7:15",
            "doubled-synonym:9:8",
            "doubled-row:10:8",
            "extra-cell:12:16",
            "empty-cell:13:10",
        ]
        .iter()
        .flat_map(|told| {
            // The slip is told where it stands.
            if *told == "extra-cell:12:16" {
                vec!["descriptor-slip:11:10", told]
            } else {
                vec![*told]
            }
        })
        .collect::<Vec<_>>()
    );
}

#[test]
fn sessions_are_kept_apart_and_small_or_empty_panels_named() {
    let (tasting, told) =
        read("assessor,stage,descriptor,intensity,session\nA,nose,oak,2,1\nA,nose,oak,3,2\n");
    assert_eq!(told, ["small-panel:1:1"]);
    assert_eq!(tasting.notes.len(), 2);
    assert_eq!(
        read("assessor,stage,descriptor,intensity\n").1,
        ["empty-panel:1:1"]
    );
    assert_eq!(
        read("assessor,stage\n").1,
        ["missing-column:1:1", "missing-column:1:1"]
    );
    assert_eq!(read("").1, ["empty-table:1:1"]);
}

#[test]
fn one_column_for_each_descriptor_is_read() {
    let (tasting, told) = read(
        "assessor,stage,scale,session,apple,Oaky,quality\nA,nose,100,1,80,0,7\nA,palate,100,1,,20,\nB,nose,100,1,50,10,\nC,nose,100,1,5,,\nD,nose,100,1,5,,\nE,water,100,2,1,,\n",
    );
    assert_eq!(told, [""; 0]);
    let notes: Vec<_> = tasting
        .notes
        .iter()
        .map(|n| {
            (
                n.assessor,
                n.stage.word(),
                n.descriptor.as_str(),
                n.intensity,
            )
        })
        .collect();
    assert_eq!(
        notes[..3],
        [
            (0, "nose", "apple", 800),
            (0, "palate", "oak", 200),
            (1, "nose", "apple", 500)
        ]
    );
    assert_eq!(tasting.quality, [(0, 7.0)]);
    assert_eq!(tasting.sessions, ["1", "2"]);
    let (heads, told) = read(
        "assessor,nose: apple,palate: oak,finish banana\nA,5,1,\nB,3,,2\nC,1,,\nD,2,,\nE,1,,\n",
    );
    assert_eq!(told, [""; 0]);
    assert_eq!(heads.notes.len(), 7);
    assert_eq!(heads.notes[0].intensity, 1000);
    let (_, told) = read("assessor,apple,nose: oak\nA,5,9\n");
    assert_eq!(told, ["unknown-stage:1:10", "intensity:2:5"]);
}

#[test]
fn a_word_has_one_scale_and_intensities_vary() {
    let (_, told) = read(
        "assessor,stage,descriptor,intensity,scale\nA,nose,oak,2,5\nB,nose,oak,60,100\nC,nose,oak,70,100\nD,nose,apple,9,10\nE,nose,apple,9,ten\n",
    );
    assert_eq!(told, ["two-scales:3:8", "two-scales:4:8", "scale:6:16"]);
    let mut text = "assessor,stage,descriptor,intensity\n".to_owned();
    for who in ["A", "B", "C", "D", "E", "F"] {
        text += &format!("{who},nose,oak,3\n{who},nose,apple,3\n");
    }
    assert_eq!(read(&text).1, ["equal-intensities:1:1"]);
}

proptest! {
    #[test]
    fn any_text_is_read_without_panic(text in "(assessor,stage,descriptor,intensity\n)?[A-C,;\"a-k0-9\t\r\n é]{0,120}") {
        let (tasting, _) = read(&text);
        for note in tasting.notes {
            prop_assert!(note.assessor < tasting.assessors.len());
        }
    }
    #[test]
    fn the_order_of_rows_does_not_change_the_key(order in Just((0..8).collect::<Vec<usize>>()).prop_shuffle()) {
        let rows = ["A,nose,apple,4", "A,palate,apple,2", "B,nose,apple,1", "C,finish,banana,5",
                    "D,nose,banana,2", "E,nose,oak,3", "A,water,oak,3", "B,nose,oak,1"];
        let text_of = |rows: &[&str]| format!("assessor,stage,descriptor,intensity\n{}\n", rows.join("\n"));
        let shuffled: Vec<&str> = order.iter().map(|n| rows[*n]).collect();
        let key_of = |text: &str| {
            let mut record = crate::sample_record::tests::record_of(&[], &[]);
            record.tasting = read(text).0;
            crate::tasting_key::TastingKey::neat(&record, 0.3)
        };
        prop_assert_eq!(key_of(&text_of(&rows)), key_of(&text_of(&shuffled)));
    }
}
