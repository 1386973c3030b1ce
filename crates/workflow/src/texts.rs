//! The texts of an exam or a bank: gathered from a folder, or taken back from a register.

use std::collections::BTreeMap;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use base::{Fault, SourceName, SourceText};
use exam_plan::read::without_people;
use question_bank::read::{BankTexts, SampleTexts};
use register::{ROSTER, StoredText};

use crate::failure::Failure;
use crate::surroundings::Surroundings;

/// Texts by the name under which faults speak of them, for the snippets of messages.
pub type Sources = BTreeMap<SourceName, Arc<str>>;

/// Texts by their name within the exam: `plan.yaml`, `bank/questions/law.yaml`.
#[derive(Debug, Clone, Default)]
pub struct Texts {
    by_name: BTreeMap<String, SourceText>,
}

/// Below this name stand the bank's texts within an exam.
const BANK: &str = "bank/";

impl Texts {
    /// Gathers the texts of a bank's folder.
    ///
    /// # Errors
    /// When a file cannot be read. A file that is no UTF-8 is a fault.
    pub fn of_bank(
        around: &dyn Surroundings,
        folder: &Path,
        faults: &mut Vec<Fault>,
    ) -> Result<Self, Failure> {
        let mut texts = Self::default();
        texts.add_bank(around, folder, faults)?;
        Ok(texts)
    }

    /// The tables of use history of a bank's folder. They are no part of what an exam is made from.
    ///
    /// # Errors
    /// When a file cannot be read.
    pub fn history_of_bank(
        around: &dyn Surroundings,
        folder: &Path,
        faults: &mut Vec<Fault>,
    ) -> Result<Self, Failure> {
        let mut texts = Self::default();
        let below = folder.join("history");
        texts.add_folder(around, "history", &below, &[".csv"], faults)?;
        Ok(texts)
    }

    /// All texts, in the order of their names.
    pub fn all(&self) -> impl Iterator<Item = &SourceText> {
        self.by_name.values()
    }

    /// Gathers the texts of an exam's folder and of the bank that its plan names.
    ///
    /// # Errors
    /// When a file cannot be read.
    pub fn of_exam(
        around: &dyn Surroundings,
        folder: &Path,
        faults: &mut Vec<Fault>,
    ) -> Result<Self, Failure> {
        let mut texts = Self::default();
        for name in ["plan.yaml", ROSTER, "room.yaml"] {
            let path = folder.join(name);
            if around.has_file(&path) {
                texts.add(around, name.to_owned(), &path, faults)?;
            }
        }
        texts.add_folder(
            around,
            "samples",
            &folder.join("samples"),
            &[".yaml", ".csv"],
            faults,
        )?;
        // The plan is read here once for the words that say where bank and classes are; its faults
        // are told when it is checked.
        let plan = texts.get("plan.yaml").cloned();
        for class in plan.iter().flat_map(classes_named_by) {
            let path = tidy(&folder.join(&class).join("class.yaml"));
            if around.has_file(&path) {
                texts.add(around, class_text(&class), &path, faults)?;
            }
        }
        let bank = plan.as_ref().and_then(bank_named_by);
        if let Some(bank) = bank {
            texts.add_bank(around, &tidy(&folder.join(bank)), faults)?;
        }
        Ok(texts)
    }

    /// Gathers the texts of a class's folder and of the bank that it names.
    ///
    /// # Errors
    /// When a file cannot be read.
    pub fn of_class(
        around: &dyn Surroundings,
        folder: &Path,
        faults: &mut Vec<Fault>,
    ) -> Result<Self, Failure> {
        let mut texts = Self::default();
        for name in ["class.yaml", "roster.csv"] {
            let path = folder.join(name);
            if around.has_file(&path) {
                texts.add(around, name.to_owned(), &path, faults)?;
            }
        }
        texts.add_folder(
            around,
            "samples",
            &folder.join("samples"),
            &[".yaml", ".csv"],
            faults,
        )?;
        if let Some(bank) = texts.get("class.yaml").and_then(bank_named_by) {
            texts.add_bank(around, &tidy(&folder.join(bank)), faults)?;
        }
        Ok(texts)
    }

    /// Takes the texts back from a register.
    #[must_use]
    pub fn of_register(stored: Vec<StoredText>) -> Self {
        let by_name = stored
            .into_iter()
            .map(|text| {
                let source = SourceText::new(&format!("register:{}", text.name), &text.text);
                (text.name, source)
            })
            .collect();
        Self { by_name }
    }

    /// The texts as they are written, in the order of their names.
    #[must_use]
    pub fn as_written(&self) -> Vec<StoredText> {
        self.by_name
            .iter()
            .map(|(name, source)| StoredText {
                name: name.clone(),
                text: source.text.to_string(),
            })
            .collect()
    }

    /// The texts as a register stores them: the roster without its people.
    #[must_use]
    pub fn to_store(&self) -> Vec<StoredText> {
        let mut texts = self.as_written();
        let roster = texts.iter_mut().find(|text| text.name == ROSTER);
        if let (Some(stored), Some(source)) = (roster, self.get(ROSTER))
            && let Some(parted) = without_people(source)
        {
            stored.text = parted;
        }
        texts
    }

    /// These texts with the roster of others: who sat the exam is settled when it is drawn.
    #[must_use]
    pub fn with_roster_of(mut self, others: &Self) -> Self {
        if let Some(roster) = others.get(ROSTER) {
            self.by_name.insert(ROSTER.to_owned(), roster.clone());
        }
        self
    }

    /// The names of the texts that differ from those of `earlier`, or that only one of both has.
    #[must_use]
    pub fn differing_from(&self, earlier: &Self) -> Vec<String> {
        let names: std::collections::BTreeSet<&String> =
            self.by_name.keys().chain(earlier.by_name.keys()).collect();
        let text = |texts: &Self, name: &str| texts.get(name).map(|s| Arc::clone(&s.text));
        names
            .into_iter()
            .filter(|name| text(self, name) != text(earlier, name))
            .cloned()
            .collect()
    }

    /// The names of the texts that `earlier` has and these have not.
    #[must_use]
    pub fn gone_since(&self, earlier: &Self) -> Vec<String> {
        let names = earlier.by_name.keys();
        names
            .filter(|name| !self.by_name.contains_key(*name))
            .cloned()
            .collect()
    }

    /// A text by its name within the exam.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&SourceText> {
        self.by_name.get(name)
    }

    /// The texts by the names that faults use.
    #[must_use]
    pub fn sources(&self) -> Sources {
        self.by_name
            .values()
            .map(|s| (s.name.clone(), Arc::clone(&s.text)))
            .collect()
    }

    /// The sample records below a name: `samples/` or `bank/samples/`.
    #[must_use]
    pub fn samples(&self, below: &str) -> Vec<SampleTexts> {
        self.below(below, ".yaml")
            .map(|(name, record)| {
                let stem = name.strip_suffix(".yaml").unwrap_or(name);
                let panel = self.by_name.get(&format!("{stem}.panel.csv")).cloned();
                SampleTexts {
                    record: record.clone(),
                    panel,
                }
            })
            .collect()
    }

    /// The bank's texts; faults for what is missing.
    pub fn bank(&self, faults: &mut Vec<Fault>) -> Option<BankTexts> {
        let mut need = |name: &str| {
            let found = self.by_name.get(&format!("{BANK}{name}")).cloned();
            if found.is_none() {
                faults.push(
                    Fault::new("missing-file", None, format!("the bank has no file {name}"))
                        .hint("a bank's folder holds bank.yaml, lexicon.yaml, categories.yaml, regions.yaml, questions/ and samples/"),
                );
            }
            found
        };
        let (bank, lexicon) = (need("bank.yaml"), need("lexicon.yaml"));
        let (categories, regions) = (need("categories.yaml"), need("regions.yaml"));
        Some(BankTexts {
            bank: bank?,
            lexicon: lexicon?,
            categories: categories?,
            regions: regions?,
            questions: self
                .below("bank/questions/", ".yaml")
                .map(|(_, text)| text.clone())
                .collect(),
            samples: self.samples("bank/samples/"),
            pictures: self
                .below("bank/pictures/", ".svg")
                .map(|(_, text)| text.clone())
                .collect(),
            calibration: self.by_name.get(&format!("{BANK}calibration.csv")).cloned(),
        })
    }

    fn below<'a>(
        &'a self,
        folder: &'a str,
        ending: &'a str,
    ) -> impl Iterator<Item = (&'a str, &'a SourceText)> {
        self.by_name
            .iter()
            .filter(move |(name, _)| name.starts_with(folder) && name.ends_with(ending))
            .map(|(name, text)| (name.as_str(), text))
    }

    fn add_bank(
        &mut self,
        around: &dyn Surroundings,
        folder: &Path,
        faults: &mut Vec<Fault>,
    ) -> Result<(), Failure> {
        for name in [
            "bank.yaml",
            "lexicon.yaml",
            "categories.yaml",
            "regions.yaml",
            "calibration.csv",
        ] {
            let path = folder.join(name);
            if around.has_file(&path) {
                self.add(around, format!("{BANK}{name}"), &path, faults)?;
            }
        }
        self.add_folder(
            around,
            "bank/questions",
            &folder.join("questions"),
            &[".yaml"],
            faults,
        )?;
        self.add_folder(
            around,
            "bank/pictures",
            &folder.join("pictures"),
            &[".svg"],
            faults,
        )?;
        self.add_folder(
            around,
            "bank/samples",
            &folder.join("samples"),
            &[".yaml", ".csv"],
            faults,
        )
    }

    fn add_folder(
        &mut self,
        around: &dyn Surroundings,
        below: &str,
        folder: &Path,
        endings: &[&str],
        faults: &mut Vec<Fault>,
    ) -> Result<(), Failure> {
        for name in around.files_in(folder)? {
            if endings.iter().any(|ending| name.ends_with(ending)) && !name.starts_with('.') {
                self.add(
                    around,
                    format!("{below}/{name}"),
                    &folder.join(&name),
                    faults,
                )?;
            }
        }
        Ok(())
    }

    fn add(
        &mut self,
        around: &dyn Surroundings,
        name: String,
        path: &Path,
        faults: &mut Vec<Fault>,
    ) -> Result<(), Failure> {
        if let Some(source) = read_text(around, path, faults)? {
            self.by_name.insert(name, source);
        }
        Ok(())
    }
}

/// Reads a file as a text. A file that is no UTF-8 is a fault that names the line.
///
/// # Errors
/// When the file cannot be read.
pub fn read_text(
    around: &dyn Surroundings,
    path: &Path,
    faults: &mut Vec<Fault>,
) -> Result<Option<SourceText>, Failure> {
    let bytes = around.read(path)?;
    let name = path.to_string_lossy().into_owned();
    match std::str::from_utf8(&bytes) {
        Ok(text) => Ok(Some(SourceText::new(&name, text))),
        Err(error) => {
            let sound = bytes.get(..error.valid_up_to()).unwrap_or_default();
            let line = sound.iter().filter(|&&b| b == b'\n').count() + 1;
            faults.push(
                Fault::new(
                    "not-utf-8",
                    None,
                    format!("{name}: line {line} holds bytes that are no UTF-8 text"),
                )
                .allowed("UTF-8")
                .hint("save the file again with the encoding UTF-8"),
            );
            Ok(None)
        }
    }
}

/// The folder of the bank as a plan names it, if the plan can be read so far.
pub(crate) fn bank_named_by(plan: &SourceText) -> Option<PathBuf> {
    let tree = base::tree::read_tree(plan).ok()?;
    let mut walk = base::walk::Walk::new(plan);
    let mut fields = walk.fields(&tree, "a plan")?;
    let bank = fields.optional("bank")?;
    walk.text(bank).map(PathBuf::from)
}

/// The folders of the classes that a plan names, if the plan can be read so far.
fn classes_named_by(plan: &SourceText) -> Vec<String> {
    // A plan that cannot be read so far has its faults told elsewhere.
    let named = || {
        let tree = base::tree::read_tree(plan).ok()?;
        let mut walk = base::walk::Walk::new(plan);
        let mut fields = walk.fields(&tree, "a plan")?;
        let tasting = fields.optional("tasting")?;
        let taught = walk.fields(tasting, "a tasting part")?.optional("taught")?;
        let classes = walk
            .fields(taught, "what was taught")?
            .optional("classes")?;
        Some(walk.texts(classes, "folders of classes"))
    };
    named().unwrap_or_default()
}

/// The name within the exam under which the text of a class stands, by its folder as the plan
/// writes it.
pub(crate) fn class_text(folder: &str) -> String {
    format!("taught/{}/class.yaml", folder.trim_end_matches('/'))
}

/// A path without `folder/..`, so that messages name files as a person would.
fn tidy(path: &Path) -> PathBuf {
    let mut tidy = PathBuf::new();
    for part in path.components() {
        let undoes = part == Component::ParentDir
            && matches!(tidy.components().next_back(), Some(Component::Normal(_)));
        match part {
            Component::ParentDir if undoes => {
                tidy.pop();
            }
            Component::CurDir => {}
            Component::Prefix(_)
            | Component::RootDir
            | Component::ParentDir
            | Component::Normal(_) => {
                tidy.push(part);
            }
        }
    }
    tidy
}
