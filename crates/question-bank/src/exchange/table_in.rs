//! A table of questions as a text of questions. Each row is written as YAML and read by the same
//! reader as any other text; its faults are told at the cells they come from.

use std::ops::Range;

use base::table::{Row, Table};
use base::walk::shortened;
use base::{Checked, Fault, SourceText};

use super::cell::unguarded;
use super::columns::{self, ANSWER, BETWEEN_FORMS, OPTION};
use super::plain_yaml::scalar;
use crate::question_kind::QuestionKind;
use crate::read::read_question_text;

/// The kinds that fit into a row, each with the columns it uses.
const KINDS: [(&str, &[&str]); 6] = [
    ("best_answer", &["keep_order", "option", "key"]),
    (
        "multiple_response",
        &["keep_order", "rule", "option", "key"],
    ),
    (
        "numeric",
        &["answer", "unit", "tolerance", "half_within", "why"],
    ),
    ("ordering", &["rule", "why", "option"]),
    ("short_answer", &["answer", "why"]),
    ("list", &["answer", "wanted", "why"]),
];

/// The columns that must stand, and whose cells are never empty.
const REQUIRED: [&str; 9] = [
    "id", "kind", "cell", "level", "state", "work", "evidence", "verified", "stem",
];

/// A text of questions that was made from a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TableIn {
    /// The text.
    pub text: String,
    /// How many questions stand in it.
    pub questions: usize,
}

/// A text of questions (`questions/*.yaml`) made from a table. There is no value where the table
/// has faults; each is placed in the table.
#[must_use]
pub fn from_table(source: &SourceText) -> Checked<TableIn> {
    let table = match Table::read(source) {
        Ok(table) => table,
        Err(fault) => return Checked::new(None, vec![*fault]),
    };
    let mut faults = Vec::new();
    let optional: Vec<&'static str> = columns::all()
        .into_iter()
        .filter(|column| !REQUIRED.contains(column))
        .collect();
    if table.columns(REQUIRED, &optional, &mut faults).is_none() {
        return Checked::new(None, faults);
    }
    let mut text = Text {
        table: &table,
        yaml: String::new(),
        cells: Vec::new(),
        faults,
    };
    if table.rows().is_empty() {
        text.line("questions: []", &(0..0));
    } else {
        text.line("questions:", &(0..0));
    }
    for row in table.rows() {
        text.question(row);
    }
    let Text {
        yaml,
        cells,
        mut faults,
        ..
    } = text;
    let made = SourceText {
        name: source.name.clone(),
        text: yaml.as_str().into(),
    };
    let mut found = Vec::new();
    let questions = read_question_text(&made, &mut found).len();
    for mut fault in found {
        // Line by line, the made text knows the cells it comes from.
        let line = fault.place.as_ref().map_or(1, |place| place.line);
        let cell = usize::try_from(line)
            .ok()
            .and_then(|line| cells.get(line.saturating_sub(1)));
        fault.place = cell.map(|bytes| table.place(bytes));
        faults.push(fault);
    }
    faults.sort();
    let sound = faults.iter().all(Fault::is_weakness);
    let made = TableIn {
        text: yaml,
        questions,
    };
    Checked::new(sound.then_some(made), faults)
}

/// The text under making: for each line, the cell it comes from.
struct Text<'t> {
    table: &'t Table<'t>,
    yaml: String,
    cells: Vec<Range<usize>>,
    faults: Vec<Fault>,
}

impl Text<'_> {
    fn line(&mut self, line: &str, cell: &Range<usize>) {
        self.yaml.push_str(line);
        self.yaml.push('\n');
        self.cells.push(cell.clone());
    }
    /// The text of a cell and its bytes; empty where there is no such column.
    fn cell(&self, row: &Row, column: &str) -> (String, Range<usize>) {
        match self.table.column(column) {
            Some(column) => {
                let cell = row.cell(column);
                (unguarded(&cell.text).to_owned(), cell.bytes)
            }
            None => (String::new(), 0..0),
        }
    }
    /// A field as it is written. An empty cell is a field left out; where it must stand, an empty
    /// text that the reader finds.
    fn field(&mut self, row: &Row, column: &str, before: &str, as_yaml: fn(&str) -> String) {
        let (text, bytes) = self.cell(row, column);
        if !text.is_empty() || REQUIRED.contains(&column) {
            self.line(&format!("{before}{}", as_yaml(&text)), &bytes);
        }
    }
    /// A field that is `true`, or left out.
    fn flag(&mut self, row: &Row, column: &str, before: &str) {
        let (text, bytes) = self.cell(row, column);
        match text.to_lowercase().as_str() {
            "" | "no" | "false" | "0" => {}
            "yes" | "true" | "x" | "1" => self.line(&format!("{before}true"), &bytes),
            _ => self.line(&format!("{before}{}", scalar(&text)), &bytes),
        }
    }

    fn question(&mut self, row: &Row) {
        let (id, id_bytes) = self.cell(row, "id");
        self.line(&format!("  - id: {}", scalar(&id)), &id_bytes);
        for column in ["cell", "level", "difficulty", "state", "reviewed_by"] {
            self.field(row, column, &format!("    {column}: "), scalar);
        }
        let (_, work_bytes) = self.cell(row, "work");
        self.line("    source:", &work_bytes);
        for column in ["work", "clause", "evidence"] {
            self.field(row, column, &format!("      {column}: "), scalar);
        }
        self.field(row, "verified", "    verified: ", date);
        self.field(row, "marks", "    marks: ", number);
        let (enemies, bytes) = self.cell(row, "enemies");
        if !enemies.is_empty() {
            self.line("    enemies:", &bytes);
            for enemy in enemies
                .split([' ', ',', ';', '\n'])
                .filter(|e| !e.is_empty())
            {
                self.line(&format!("      - {}", scalar(enemy)), &bytes);
            }
        }
        for column in ["anchor", "practice_only", "live"] {
            self.flag(row, column, &format!("    {column}: "));
        }
        let (waived, bytes) = self.cell(row, "waive");
        if !waived.is_empty() {
            self.line("    waive:", &bytes);
            for waiver in waived.lines().filter(|line| !line.trim().is_empty()) {
                let (rule, because) = waiver.split_once(':').unwrap_or((waiver, ""));
                self.line(&format!("      - rule: {}", scalar(rule.trim())), &bytes);
                self.line(
                    &format!("        because: {}", scalar(because.trim())),
                    &bytes,
                );
            }
        }
        self.kind(row);
    }

    fn kind(&mut self, row: &Row) {
        let (name, bytes) = self.cell(row, "kind");
        let Some((_, used)) = KINDS.iter().find(|(known, _)| *known == name) else {
            let place = self.table.place(&bytes);
            let allowed = KINDS.map(|(name, _)| name);
            let what = if QuestionKind::NAMES.contains(&name.as_str()) {
                format!("{name} does not fit into a row of a table")
            } else {
                format!("\"{}\" is no kind of question", shortened(&name))
            };
            self.faults.push(
                Fault::new("unknown-word", place, what)
                    .allowed(allowed.join(", "))
                    .near(&name, allowed),
            );
            // Something must be asked, or the reader would complain once more.
            self.line("    short_answer: { stem: s, accept: [a], why: w }", &bytes);
            return;
        };
        self.note_idle(row, &name, used);
        self.line(&format!("    {name}:"), &bytes);
        self.field(row, "stem", "      stem: ", scalar);
        if used.contains(&"option") {
            self.options(row, used.contains(&"key"));
        }
        for column in ANSWER.into_iter().filter(|column| used.contains(column)) {
            let before = format!("      {column}: ");
            match column {
                "answer" if name == "short_answer" => self.forms(row),
                "answer" if name == "list" => self.entries(row),
                "answer" | "tolerance" | "half_within" | "wanted" => {
                    self.field(row, column, &before, number);
                }
                "keep_order" => self.flag(row, column, &before),
                _ => self.field(row, column, &before, scalar),
            }
        }
    }

    /// Options, or the steps of an order.
    fn options(&mut self, row: &Row, with_keys: bool) {
        let (_, first) = self.cell(row, OPTION[0][0]);
        let head = if with_keys { "options" } else { "steps" };
        let filled: Vec<[&str; 3]> = OPTION
            .into_iter()
            .filter(|names| names.iter().any(|name| !self.cell(row, name).0.is_empty()))
            .collect();
        if filled.is_empty() {
            self.line(&format!("      {head}: []"), &first);
            return;
        }
        self.line(&format!("      {head}:"), &first);
        for [text_name, key_name, why_name] in filled {
            let (text, bytes) = self.cell(row, text_name);
            if with_keys {
                self.line(&format!("        - text: {}", scalar(&text)), &bytes);
                self.flag(row, key_name, "          key: ");
                self.field(row, why_name, "          why: ", scalar);
            } else {
                self.line(&format!("        - {}", scalar(&text)), &bytes);
            }
        }
    }

    /// The right answers of a list: one a line, each with its forms.
    fn entries(&mut self, row: &Row) {
        let (text, bytes) = self.cell(row, "answer");
        let entries: Vec<&str> = text.lines().filter(|l| !l.trim().is_empty()).collect();
        if entries.is_empty() {
            self.line("      accept: []", &bytes);
            return;
        }
        self.line("      accept:", &bytes);
        for entry in entries {
            let forms: Vec<String> = entry
                .split(BETWEEN_FORMS)
                .map(str::trim)
                .filter(|form| !form.is_empty())
                .map(scalar)
                .collect();
            self.line(&format!("        - [{}]", forms.join(", ")), &bytes);
        }
    }

    fn forms(&mut self, row: &Row) {
        let (text, bytes) = self.cell(row, "answer");
        let forms: Vec<&str> = text
            .split(BETWEEN_FORMS)
            .map(str::trim)
            .filter(|form| !form.is_empty())
            .collect();
        if forms.is_empty() {
            self.line("      accept: []", &bytes);
            return;
        }
        self.line("      accept:", &bytes);
        for form in forms {
            self.line(&format!("        - {}", scalar(form)), &bytes);
        }
    }

    /// Notes cells that this kind has no use for, so that nothing is dropped in silence.
    fn note_idle(&mut self, row: &Row, kind: &str, used: &[&str]) {
        let mut idle: Vec<&str> = ANSWER
            .into_iter()
            .filter(|column| !used.contains(column))
            .collect();
        for [text, key, why] in OPTION {
            if !used.contains(&"option") {
                idle.push(text);
            }
            if !used.contains(&"key") {
                idle.extend([key, why]);
            }
        }
        for column in idle {
            let (text, bytes) = self.cell(row, column);
            if !text.is_empty() {
                let place = self.table.place(&bytes);
                self.faults.push(
                    Fault::new(
                        "idle-cell",
                        place,
                        format!("\"{column}\" means nothing for {kind}"),
                    )
                    .hint("empty this cell, or is the kind another one?"),
                );
            }
        }
    }
}

/// A number as it was written, with a point for the comma; anything else as a text, so that the
/// reader tells what is wanted.
fn number(text: &str) -> String {
    let pointed = text.replace(',', ".");
    let digits = pointed.strip_prefix('-').unwrap_or(&pointed);
    let (whole, decimals) = digits.split_once('.').unwrap_or((digits, "0"));
    let sound = [whole, decimals]
        .iter()
        .all(|part| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit()));
    if sound { pointed } else { scalar(text) }
}

/// A date bare, since that is how banks write it.
fn date(text: &str) -> String {
    if crate::read::is_date(text) {
        text.to_owned()
    } else {
        scalar(text)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::table_out::to_table;
    use super::*;
    use crate::question::Question;
    use crate::read::question_tests::{SOUND, read_one_question, text_of};
    use proptest::prelude::*;

    fn there_and_back(yaml: &str) -> (Vec<Question>, Vec<Question>) {
        let read = |text: &str| {
            let mut faults = Vec::new();
            let source = SourceText::new("q.yaml", text);
            let questions: Vec<Question> = read_question_text(&source, &mut faults)
                .into_iter()
                .filter_map(|read| read.question)
                .map(|mut question| {
                    question.place = source.place(0..0);
                    *question
                })
                .collect();
            assert_eq!(faults, [], "{text}");
            questions
        };
        let before = read(yaml);
        let table = to_table(&before);
        assert_eq!(table.left_out, []);
        let back = from_table(&SourceText::new("q.csv", &table.text));
        assert_eq!(back.faults, [], "{}", table.text);
        (before, read(&back.value.unwrap().text))
    }

    #[test]
    fn every_field_comes_back() {
        let text = text_of(SOUND).replace(
            "verified: 2026-11-25",
            "verified: 2026-11-25\n    reviewed_by: \"=HYPERLINK(1)\"\n    difficulty: hard\n    marks: 2.5\n    enemies: [two, three]\n    anchor: true\n    practice_only: true\n    live: true\n    waive: [{ rule: L05, because: 'long: name' }, { rule: L07, because: x }]",
        );
        let (before, after) = there_and_back(&text);
        assert_eq!(before, after);
        assert_eq!(before[0].waived.len(), 2);
    }

    #[test]
    fn faults_stand_at_their_cells() {
        let text = "id,kind,cell,level,state,work,evidence,verified,stem,answer,unit,tolerance,why,option_1
One,numeric,law,recal,draft,W,read,25.11.2026,What?,\"1,5\",ml,about,So.,
two,mattching,law,recall,draft,W,read,2026-11-25,What?,,,,,
three,short_answer,law,recall,draft,W,read,2026-11-25,,rum; ron,ml,,So.,a
";
        let back = from_table(&SourceText::new("q.csv", text));
        assert!(back.value.is_none());
        let told: Vec<String> = back
            .faults
            .iter()
            .map(|f| {
                let place = f.place.as_ref().unwrap();
                format!("{} {}:{}", f.rule, place.line, place.column)
            })
            .collect();
        assert_eq!(
            told,
            [
                "bad-id 2:1",
                "unknown-word 2:17",
                "bad-date 2:36",
                "wrong-type 2:62",
                "unknown-word 3:5",
                "empty-text 4:55",
                "idle-cell 4:65",
                "idle-cell 4:73",
            ]
        );
    }

    fn words() -> impl Strategy<Value = String> {
        "(=|\\+|-|@|'|'=|\"|[0-9]{1,3}[./:-][0-9]{1,3}|#|&|\\*|[a-zé]{0,6}: )[ a-zA-Z0-9,;:\"'\\\\|{}\\[\\]%é€\n]{0,24}"
            .prop_map(|text| text.trim().to_owned())
            .prop_filter("empty", |text| !text.is_empty())
    }

    proptest! {
        #[test]
        fn choices_come_back(stem in words(), texts in proptest::collection::vec(words(), 2..7), why in words(), many in any::<bool>(), keep in any::<bool>()) {
            let kind = if many { "multiple_response" } else { "best_answer" };
            let options: Vec<String> = texts
                .iter()
                .enumerate()
                .map(|(n, text)| format!(
                    "{{ text: {}, key: {}, why: {} }}",
                    scalar(&format!("{text}{n}")), n == 0, scalar(&why)
                ))
                .collect();
            let yaml = text_of(&format!(
                "{kind}: {{ stem: {}, keep_order: {keep}, options: [{}] }}", scalar(&stem), options.join(", ")
            ));
            prop_assume!(read_one_question(&yaml).1.is_empty());
            let (before, after) = there_and_back(&yaml);
            prop_assert_eq!(before, after);
        }
        #[test]
        fn the_other_kinds_come_back(stem in words(), why in words(), unit in words(), answer in -9_999_999_i64..9_999_999, places in 0_usize..4, steps in proptest::collection::vec(words(), 3..7)) {
            let number = format!("{:.places$}", answer as f64 / 1000.0);
            let steps: Vec<String> = steps.iter().enumerate().map(|(n, s)| scalar(&format!("{s}{n}"))).collect();
            let forms: Vec<String> = steps.iter().map(|s| s.replace([';', '\n'], "")).collect();
            for kind in [
                format!("numeric: {{ stem: {}, answer: {number}, unit: {}, tolerance: 0.5, half_within: 1.25, why: {} }}", scalar(&stem), scalar(&unit), scalar(&why)),
                format!("ordering: {{ stem: {}, steps: [{}], rule: footrule, why: {} }}", scalar(&stem), steps.join(", "), scalar(&why)),
                format!("short_answer: {{ stem: {}, accept: [{}], why: {} }}", scalar(&stem), forms.join(", ").replace("\\n", ""), scalar(&why)),
                format!("list: {{ stem: {}, wanted: 2, accept: [{}], why: {} }}", scalar(&stem), forms.join(", ").replace("\\n", ""), scalar(&why)),
            ] {
                let yaml = text_of(&kind);
                if read_one_question(&yaml).1.is_empty() {
                    let (before, after) = there_and_back(&yaml);
                    prop_assert_eq!(before, after);
                }
            }
        }
        #[test]
        fn any_table_is_read_without_panic(text in ".{0,200}", row in "[a-z,;\"'=0-9\n]{0,120}") {
            let _ = from_table(&SourceText::new("q.csv", &text));
            let header = columns::all().join(",");
            let _ = from_table(&SourceText::new("q.csv", &format!("{header}\n{row}")));
        }
    }
}
