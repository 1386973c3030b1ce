//! A candidate's own exercise: questions of a bank, or a note on an opened sample record, with
//! marks, reasons and sources at once.
//!
//! A question that is live for a coming exam is never shown: one that its author marked `live`,
//! and one that stands on a form of a sitting named in the request.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use assembler::candidate_view::{PrintedBody, printed_body};
use base::{ExamSeed, Marks, Purpose, Stream};
use exam_plan::confidence::{About, Confidence, ConfidenceScore};
use exam_plan::plan::{
    AgeAnswer, Asked, CodeSharing, DEFAULT_BANDS, Pour, ServingStrength, TastingPart,
    TastingQuestion,
};
use grader::{KnownWords, Outcome, SampleKey, Sentences, mark_tasting, mark_theory};
use question_bank::sample_record::Age;
use question_bank::tasting_key::TastingKey;
use question_bank::{Bank, PrintedOrder, Question, ReviewState, SampleRecord, Shape};

use crate::failure::Failure;
use crate::load;
use crate::open_sitting::OpenSitting;
use crate::surroundings::Surroundings;
use crate::texts::Texts;

/// What `practise` is asked.
#[derive(Debug, Clone)]
pub struct PractiseRequest {
    /// The bank's folder.
    pub bank: PathBuf,
    /// Only questions of this cell.
    pub cell: Option<String>,
    /// How many questions at most.
    pub questions: usize,
    /// Exam folders whose questions are kept out.
    pub not_of: Vec<PathBuf>,
    /// Practise the same questions again; drawn anew where none is given.
    pub seed: Option<ExamSeed>,
}

/// A practice session on questions.
#[derive(Debug)]
pub struct Practice {
    drawn: Vec<(Question, PrintedOrder)>,
    /// How many questions were kept out because they are live.
    pub kept_out: usize,
    /// The language of the questions, for the reasons.
    language: String,
}

/// One question as shown.
#[derive(Debug, Clone)]
pub struct Shown {
    /// What is asked.
    pub stem: String,
    /// What the picture shows, in words.
    pub picture: Option<String>,
    /// The marks for a full answer.
    pub marks: Marks,
    /// What stands below the stem.
    pub body: PrintedBody,
}

/// What an answer earned and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Feedback {
    /// Marks.
    pub marks: Marks,
    /// Full marks.
    pub of: Marks,
    /// One sentence that says why; or why a person would have to look.
    pub reason: String,
    /// What is right, where the answer was not wholly right.
    pub right: Option<String>,
    /// Why it is right, and why what was chosen is not.
    pub why: Vec<String>,
    /// Where to read on.
    pub source: String,
}

impl Practice {
    /// Opens a session.
    ///
    /// # Errors
    /// When the bank has faults, or nothing is left to practise.
    pub fn open(around: &dyn Surroundings, request: &PractiseRequest) -> Result<Self, Failure> {
        let bank = open_bank(around, &request.bank)?;
        let mut live = BTreeSet::new();
        for folder in &request.not_of {
            let open = OpenSitting::open(around, folder)?;
            live.extend(
                open.drawn
                    .sitting
                    .forms
                    .iter()
                    .flat_map(|f| f.questions.iter().map(|q| q.question.clone())),
            );
        }
        if let Some(cell) = &request.cell
            && !bank.cells.iter().any(|(id, _)| id.as_str() == cell)
        {
            let known: Vec<_> = bank.cells.iter().map(|(id, _)| id.as_str()).collect();
            return Err(Failure::Refused {
                what: format!("the bank has no cell \"{cell}\""),
                hint: format!("its cells: {}", known.join(", ")),
            });
        }
        let fit = |question: &&Question| {
            request
                .cell
                .as_ref()
                .is_none_or(|cell| question.cell.as_str() == cell)
                && matches!(
                    question.state,
                    ReviewState::Operational | ReviewState::Reviewed
                )
        };
        let (kept, mut drawn): (Vec<&Question>, Vec<&Question>) = bank
            .questions
            .values()
            .filter(fit)
            .partition(|q| q.live || live.contains(&q.id));
        if drawn.is_empty() {
            return Err(Failure::Refused {
                what: format!(
                    "there is nothing to practise: {} are live for a coming exam",
                    crate::print::head::count(kept.len(), "question")
                ),
                hint: "choose another cell, or practise after the exam".to_owned(),
            });
        }
        let seed = match &request.seed {
            Some(seed) => seed.clone(),
            None => around.fresh_seed()?,
        };
        Stream::new(&seed, Purpose::Practice, 0).shuffle(&mut drawn);
        drawn.truncate(request.questions.max(1));
        let kept_out = kept.len();
        let language = bank.language.clone();
        let drawn = drawn
            .into_iter()
            .enumerate()
            .filter_map(|(number, question)| {
                let mut numbers = Stream::new(&seed, Purpose::VariantNumbers, number as u64 + 1);
                let drawn = question.kind.draw(&mut numbers, &[]).ok()?;
                let question = question.realised(&drawn).ok()?.into_owned();
                let mut places: Vec<usize> = (0..question.kind.lettered()).collect();
                if !question.kind.keeps_order() {
                    let mut stream = Stream::new(&seed, Purpose::Practice, number as u64 + 1);
                    stream.shuffle(&mut places);
                    // Steps in their true order would be answered by writing A B C.
                    if matches!(question.kind.shape(), Shape::Order { .. }) && places.is_sorted() {
                        places.rotate_left(1);
                    }
                }
                let order = PrintedOrder::from_places(places)
                    .unwrap_or_else(|| PrintedOrder::as_written(question.kind.lettered()));
                Some((question, order))
            })
            .collect();
        Ok(Self {
            drawn,
            kept_out,
            language,
        })
    }

    /// How many questions the session has.
    #[must_use]
    pub fn len(&self) -> usize {
        self.drawn.len()
    }
    /// Whether the session has no questions; an open one always has.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.drawn.is_empty()
    }

    fn at(&self, number: usize) -> Option<(&Question, &PrintedOrder)> {
        let (question, order) = self.drawn.get(number)?;
        Some((question, order))
    }

    /// The question at this place, from 0.
    #[must_use]
    pub fn show(&self, number: usize) -> Option<Shown> {
        let (question, order) = self.at(number)?;
        Some(Shown {
            stem: question.with_its_text(),
            picture: question
                .picture
                .as_ref()
                .map(|picture| picture.alternative.to_string()),
            marks: question.marks,
            body: printed_body(&question.kind, order),
        })
    }

    /// What this answer earns.
    #[must_use]
    pub fn answer(&self, number: usize, answer: &str) -> Option<Feedback> {
        let (question, order) = self.at(number)?;
        let outcome = mark_theory(question, order, answer).told(sentences_of(&self.language));
        let marks = outcome.marks();
        Some(Feedback {
            marks,
            of: question.marks,
            reason: words_of(&outcome),
            right: (marks < question.marks).then(|| question.kind.shape().key_in_words()),
            why: question.kind.whys(),
            source: question.source.to_string(),
        })
    }
}

/// The shipped sentences of a bank's language, or English.
fn sentences_of(language: &str) -> &'static Sentences {
    Sentences::shipped(language).unwrap_or_else(Sentences::english)
}

fn words_of(outcome: &Outcome) -> String {
    match outcome {
        Outcome::Marked { reason, .. } => reason.clone(),
        Outcome::ForAPerson { why, near, .. } if near.is_empty() => why.clone(),
        Outcome::ForAPerson { why, near, .. } => format!("{why} (near: {})", near.join(", ")),
    }
}

fn open_bank(around: &dyn Surroundings, folder: &Path) -> Result<Bank, Failure> {
    if !around.has_file(&folder.join("bank.yaml")) {
        return Err(Failure::Refused {
            what: format!("{} is no bank: it has no bank.yaml", folder.display()),
            hint: "name a folder below question-banks/".to_owned(),
        });
    }
    let mut faults = Vec::new();
    let texts = Texts::of_bank(around, folder, &mut faults)?;
    let bank = load::bank(&texts, &mut faults);
    bank.ok_or_else(|| Failure::Faults {
        faults,
        sources: texts.sources(),
    })
}

/// A practice session on one opened sample record.
#[derive(Debug)]
pub struct TastingPractice {
    bank: Bank,
    sample: SampleRecord,
    part: TastingPart,
    key: SampleKey,
}

/// How sure somebody is of the branch of the category tree: the true one among five others, in the
/// order of the tree. None where the tree has one branch only.
fn how_sure(bank: &Bank, sample: &SampleRecord) -> Option<Asked> {
    const OTHERS: usize = 5;
    let lineage = bank.categories.lineage(&sample.category);
    let nodes = bank.categories.nodes().iter();
    let root = nodes.clone().find(|node| node.parent.is_none())?;
    let mut others = 0;
    let from: Vec<String> = nodes
        .filter(|node| node.parent.as_ref() == Some(&root.id))
        .filter(|node| {
            let true_one = lineage.iter().any(|above| above.id == node.id);
            others += usize::from(!true_one);
            true_one || others <= OTHERS
        })
        .map(|node| node.name.clone())
        .collect();
    let asked = Confidence {
        about: About::Category,
        from,
        score: ConfidenceScore::Quadratic,
    };
    let right = asked.right(sample, &bank.categories, &bank.regions);
    (asked.from.len() > 1 && right.is_ok()).then_some(Asked::Confidence(asked))
}

/// The panel weight from which a word is required in practice.
const USUAL_THRESHOLD: f64 = 0.25;

impl TastingPractice {
    /// Opens a sample record.
    ///
    /// # Errors
    /// When the bank has faults or no such sample.
    pub fn open(around: &dyn Surroundings, bank: &Path, sample: &str) -> Result<Self, Failure> {
        let bank = open_bank(around, bank)?;
        let Some(sample) = bank
            .samples
            .values()
            .find(|s| s.id.as_str() == sample)
            .cloned()
        else {
            let known: Vec<_> = bank.samples.keys().map(base::SampleId::as_str).collect();
            return Err(Failure::Refused {
                what: format!("the bank has no sample record \"{sample}\""),
                hint: format!("its sample records: {}", known.join(", ")),
            });
        };
        let question = |asked, marks| TastingQuestion {
            asked,
            marks: Marks::from_thousandths(marks),
        };
        let mut ask = vec![
            question(Asked::Aroma { words: 6 }, 10_000),
            question(Asked::Water { words: 3 }, 3_000),
            question(Asked::Category, 4_000),
            question(Asked::Region, 3_000),
        ];
        if sample.age != Age::Unknown {
            ask.push(question(
                Asked::Age(AgeAnswer::Band {
                    from: DEFAULT_BANDS.to_vec(),
                }),
                3_000,
            ));
        }
        ask.extend(how_sure(&bank, &sample).map(|asked| question(asked, 2_000)));
        let part = TastingPart {
            minutes: 0,
            warm_up: None,
            samples: vec![(sample.id.clone(), sample.place.clone())],
            ask,
            pour: Pour {
                volume: 20.0,
                strength: ServingStrength::AsBottled,
            },
            codes: CodeSharing::Room,
            check_digit: false,
            threshold: USUAL_THRESHOLD,
            less_chance: false,
            rules: exam_plan::flight_rules::FlightRules::default(),
        };
        let key = SampleKey::new(&sample, KnownWords::of(&bank), &part);
        Ok(Self {
            bank,
            sample,
            part,
            key,
        })
    }

    /// What is asked, in order: the word of plans and the full marks.
    #[must_use]
    pub fn questions(&self) -> Vec<(&'static str, Marks)> {
        self.part
            .ask
            .iter()
            .map(|q| (q.asked.name(), q.marks))
            .collect()
    }
    /// The names of the age bands, where an age is asked.
    #[must_use]
    pub fn age_bands(&self) -> Vec<String> {
        exam_plan::plan::band_names(&DEFAULT_BANDS)
    }

    /// The names over which a hundred parts are shared out, where that is asked.
    #[must_use]
    pub fn sure_of(&self) -> &[String] {
        let mut asked = self.part.ask.iter();
        asked
            .find_map(|question| match &question.asked {
                Asked::Confidence(asked) => Some(asked.from.as_slice()),
                Asked::Aroma { .. }
                | Asked::Water { .. }
                | Asked::Category
                | Asked::Region
                | Asked::Age(_)
                | Asked::Strength { .. }
                | Asked::Colour
                | Asked::Body
                | Asked::Finish
                | Asked::Quality
                | Asked::Fault { .. }
                | Asked::Producer { .. } => None,
            })
            .unwrap_or(&[])
    }

    /// What this answer to the question at this place earns.
    #[must_use]
    pub fn answer(&self, number: usize, answer: &str) -> Option<Feedback> {
        let question = self.part.ask.get(number)?;
        let outcome = mark_tasting(&self.key, KnownWords::of(&self.bank), question, answer);
        let outcome = outcome.told(sentences_of(&self.bank.language));
        Some(Feedback {
            marks: outcome.marks(),
            of: question.marks,
            reason: words_of(&outcome),
            right: None,
            why: Vec::new(),
            source: self.sample.source.clone(),
        })
    }

    /// What was in the glass, and the panel's words with their weights, heaviest first.
    #[must_use]
    pub fn reveal(&self) -> (String, Vec<(String, f64)>) {
        let key = TastingKey::neat(&self.sample, self.part.threshold);
        let words = key
            .required
            .into_iter()
            .map(|word| (word.word, word.weight))
            .collect();
        (
            format!(
                "{}, {}. {}",
                self.sample.name, self.sample.producer, self.sample.describe
            ),
            words,
        )
    }
}
