//! The formats that have a schema, and the texts from which their shapes are taken.

use std::path::Path;

use base::shape::Shape;
use base::{Fault, SourceText};
use exam_plan::read::{ExamFormat, shape_of as exam_shape};
use question_bank::read::{BankFormat, shape_of as bank_shape};

/// A format with a schema of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Format {
    Bank(BankFormat),
    Exam(ExamFormat),
}

impl Format {
    pub const ALL: [Self; 8] = [
        Self::Bank(BankFormat::Bank),
        Self::Bank(BankFormat::Questions),
        Self::Bank(BankFormat::Lexicon),
        Self::Bank(BankFormat::Tree),
        Self::Bank(BankFormat::Sample),
        Self::Exam(ExamFormat::Plan),
        Self::Exam(ExamFormat::Room),
        Self::Exam(ExamFormat::Class),
    ];
    /// The schema's file name.
    pub fn file(self) -> &'static str {
        match self {
            Self::Bank(BankFormat::Bank) => "bank.json",
            Self::Bank(BankFormat::Questions) => "questions.json",
            Self::Bank(BankFormat::Lexicon) => "lexicon.json",
            Self::Bank(BankFormat::Tree) => "tree.json",
            Self::Bank(BankFormat::Sample) => "sample.json",
            Self::Exam(ExamFormat::Plan) => "plan.json",
            Self::Exam(ExamFormat::Room) => "room.json",
            Self::Exam(ExamFormat::Class) => "class.json",
        }
    }
    /// What it describes.
    pub fn title(self) -> &'static str {
        match self {
            Self::Bank(BankFormat::Bank) => "What a bank is called and which cells it has",
            Self::Bank(BankFormat::Questions) => "Questions of a bank",
            Self::Bank(BankFormat::Lexicon) => "Words for aroma and flavour",
            Self::Bank(BankFormat::Tree) => "A tree of categories or regions",
            Self::Bank(BankFormat::Sample) => "What is in a bottle",
            Self::Exam(ExamFormat::Plan) => "What an exam consists of",
            Self::Exam(ExamFormat::Room) => "Tables and seats",
            Self::Exam(ExamFormat::Class) => "A class before the exam",
        }
    }
    /// The format of a file by its name, as a bank's or an exam's folder has it.
    pub fn of(name: &str) -> Option<Self> {
        let path = Path::new(name);
        let folder = path
            .parent()
            .and_then(Path::file_name)
            .and_then(|n| n.to_str());
        let file = path.file_name()?.to_str()?;
        match (folder, file) {
            (_, "bank.yaml") => Some(Self::Bank(BankFormat::Bank)),
            (_, "lexicon.yaml") => Some(Self::Bank(BankFormat::Lexicon)),
            (_, "categories.yaml" | "regions.yaml") => Some(Self::Bank(BankFormat::Tree)),
            (_, "plan.yaml" | "plan-with-everything.yaml") => Some(Self::Exam(ExamFormat::Plan)),
            (_, "room.yaml") => Some(Self::Exam(ExamFormat::Room)),
            (_, "class.yaml" | "class-with-everything.yaml") => Some(Self::Exam(ExamFormat::Class)),
            (Some("questions"), _) if file.ends_with(".yaml") => {
                Some(Self::Bank(BankFormat::Questions))
            }
            (Some("samples"), _) if file.ends_with(".yaml") => Some(Self::Bank(BankFormat::Sample)),
            _ => None,
        }
    }
    /// The shape that the reader asks for in one text.
    pub fn shape(self, text: &SourceText) -> Result<Shape, Vec<Fault>> {
        match self {
            Self::Bank(format) => bank_shape(format, text),
            Self::Exam(format) => exam_shape(format, text),
        }
    }
    /// The rules of the faults that the reader finds in one text alone.
    pub fn faults(self, text: &SourceText) -> Vec<&'static str> {
        match self.shape(text) {
            Ok(_) => Vec::new(),
            Err(faults) => faults.iter().map(|fault| fault.rule).collect(),
        }
    }
}

/// The shipped YAML texts that have a format, by their path in the project.
pub fn shipped() -> Vec<(Format, SourceText)> {
    let mut found = Vec::new();
    for top in ["question-banks", "examples"] {
        gather(top, &mut found);
    }
    found.sort_by(|one, other| one.1.name.cmp(&other.1.name));
    assert!(found.len() > 40, "{} texts", found.len());
    found
}

fn gather(folder: &str, found: &mut Vec<(Format, SourceText)>) {
    for entry in std::fs::read_dir(tests::top().join(folder)).unwrap() {
        let entry = entry.unwrap();
        let name = format!("{folder}/{}", entry.file_name().to_str().unwrap());
        if entry.path().is_dir() {
            gather(&name, found);
        } else if name.ends_with(".yaml") {
            let format = Format::of(&name).unwrap_or_else(|| panic!("{name} has no format"));
            let text = std::fs::read_to_string(entry.path()).unwrap();
            found.push((format, SourceText::new(&name, &text)));
        }
    }
}

/// The blocks of YAML in the two papers that explain the formats.
pub fn blocks() -> Vec<(Format, SourceText)> {
    let mut found = Vec::new();
    for paper in ["question-banks/README.md", "examples/README.md"] {
        let text = std::fs::read_to_string(tests::top().join(paper)).unwrap();
        let mut block: Option<(String, String)> = None;
        for line in text.lines() {
            if let Some(name) = line.strip_prefix("```yaml ") {
                block = Some((name.trim().to_owned(), String::new()));
            } else if line.starts_with("```") {
                if let Some((name, text)) = block.take() {
                    let format = Format::of(&name).unwrap_or_else(|| panic!("{paper}: {name}"));
                    found.push((format, SourceText::new(&name, &text)));
                }
            } else if let Some((_, text)) = &mut block {
                text.push_str(line);
                text.push('\n');
            }
        }
    }
    assert!(found.len() >= 8, "{} blocks", found.len());
    found
}

/// What no shipped text holds: further ways of writing, so that every field is seen once.
pub fn further() -> Vec<(Format, SourceText)> {
    let plan = |rest: &str| {
        let text = format!("title: T\ndate: 2027-03-18\nbank: ../bank\n{rest}");
        let source = SourceText::new("further/plan.yaml", &text);
        (Format::Exam(ExamFormat::Plan), source)
    };
    let question = "questions:
  - id: one
    cell: law
    level: recall
    state: reviewed
    reviewed_by: chief examiner
    source: { work: Some law, clause: \"1\", evidence: read }
    verified: 2026-11-25
    anchor: true
    practice_only: true
    live: true
    enemies: [two]
    waive: [{ rule: L05, because: the full name is long }]
    multiple_response:
      stem: Which?
      options: [{ text: a, key: true, why: w }, { text: b, why: w }]
      rule: f1
      keep_order: true
    picture: { file: still.svg, alternative: A still with a long neck. }
    translations:
      de: { stem: Welche?, options: [a, { text: b, why: w }] }
  - id: three
    cell: law
    level: recall
    state: draft
    source: { work: Some law, clause: \"1\", evidence: read }
    verified: 2026-11-25
    list: { stem: Name two., wanted: 2, accept: [rum, gin], why: So. }
    translations:
      de: { stem: Nennen Sie zwei., accept: [Rum, [Gin, Wacholder]], why: Darum. }
  - id: four
    cell: law
    level: recall
    state: draft
    source: { work: Some law, clause: \"1\", evidence: read }
    verified: 2026-11-25
    ordering: { stem: Order., steps: [a, b, c], why: So. }
    translations:
      de: { stem: Ordnen Sie., steps: [x, y, z], why: Darum. }
  - id: five
    cell: law
    level: recall
    state: draft
    source: { work: Some law, clause: \"1\", evidence: read }
    verified: 2026-11-25
    matching: { stem: Match., pairs: [{ left: a, right: b }, { left: c, right: d }], distractors: [e], why: So. }
    translations:
      de: { stem: Ordnen Sie zu., left: [l, m], right: [n, o, p], why: Darum. }
  - id: six
    cell: law
    level: recall
    state: draft
    source: { work: Some law, clause: \"1\", evidence: read }
    verified: 2026-11-25
    marks: 1
    essay: { stem: Say., lines: 3, rubric: [{ criterion: c, marks: 1 }], model: m }
    translations:
      de: { stem: Sagen Sie., model: n }
  - id: seven
    cell: law
    level: recall
    state: draft
    source: { work: Some law, clause: \"1\", evidence: read }
    verified: 2026-11-25
    variant:
      stem: \"{a}?\"
      draw: { a: { from: 1, to: 20, step: 1 } }
      formula: a * 2
      unit: l
      decimals: 0
      tolerance: 0
      mistakes: [{ formula: a * 3, why: Thrice. }]
      why: So.
    translations:
      de: { stem: \"{a}!\", unit: Liter, mistakes: [Dreimal.], why: Darum. }
";
    let sample = "sample:
  id: q
  name: N
  producer: P
  category: rum
  region: world
  age: unknown
  strength: 43
  bottle: 700
  allergens: [milk]
  source: common practice
  describe: Invented.
  families_note: none
";
    let room = "room: Reading room
drawing: |
  a1 a2 . b1 b2
  a3 a4 . b3 b4
neighbours: [[a2, b1]]
near_door: [a1]
";
    let tree = "scheme: own
nodes:
  - { id: spirit, name: Spirit, minimum_strength: 37.5, minimum_age_months: 36, remark: as the law has it }
";
    let one = "theory:\n  cells: { law: 1, distillation: { judgement: 1 } }\n";
    vec![
        (
            Format::Bank(BankFormat::Questions),
            SourceText::new("further/questions/q.yaml", question),
        ),
        (
            Format::Bank(BankFormat::Sample),
            SourceText::new("further/samples/q.yaml", sample),
        ),
        (
            Format::Exam(ExamFormat::Room),
            SourceText::new("further/room.yaml", room),
        ),
        (
            Format::Bank(BankFormat::Tree),
            SourceText::new("further/categories.yaml", tree),
        ),
        plan(&format!(
            "{one}tasting:\n  samples: [a]\n  pour: {{ strength: bottle }}\npass: {{ rule: compensatory, total: 62.5, theory_weight: 40 }}\n"
        )),
        plan(&format!(
            "{one}  draw: {{ used_lately: {{ since: 2026-09-01, at_most: 4 }} }}\n"
        )),
        plan(&format!(
            "{one}  pretest: 1\ntasting:\n  samples: [a]\n  ask:\n    age: {{ marks: 2, as: range }}\n"
        )),
    ]
}

/// All sound texts of one format.
pub fn examples(format: Format) -> Vec<SourceText> {
    blocks()
        .into_iter()
        .chain(further())
        .chain(shipped())
        .filter(|(of, _)| *of == format)
        .map(|(_, text)| text)
        .collect()
}

/// The shape of a format: what its reader asks for in any of the examples.
pub fn shape(format: Format) -> Shape {
    let mut shape = Shape::default();
    for example in examples(format) {
        let part = format.shape(&example).unwrap_or_else(|faults| {
            panic!(
                "{}: {}",
                example.name,
                faults
                    .iter()
                    .map(ToString::to_string)
                    .collect::<Vec<_>>()
                    .join("\n")
            )
        });
        shape.merge(&part);
    }
    shape
}
