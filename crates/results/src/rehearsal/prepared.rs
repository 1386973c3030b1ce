//! What every simulated script needs, looked up once: questions by form, panel words, word counts.

use std::borrow::Cow;
use std::collections::BTreeMap;

use assembler::question_curve::{KnownFrom, QuestionCurve};
use assembler::{CandidatePlace, Sitting};
use base::{FormName, NodeId, SampleId};
use exam_plan::plan::TastingPart;
use exam_plan::{Asked, Exam, TastingWay};
use question_bank::tasting_key::KeyWord;
use question_bank::{Lexicon, PrintedOrder, Question, SampleRecord, Shape, TastingKey, Taxonomy};

use super::draws::logistic;
use super::theory_answers::difficulty;

/// A sitting made ready for simulation.
pub(super) struct Prepared<'a> {
    pub(super) places: &'a [CandidatePlace],
    pub(super) forms: BTreeMap<&'a FormName, Vec<PreparedQuestion<'a>>>,
    pub(super) tasting: Option<&'a TastingPart>,
    pub(super) samples: BTreeMap<&'a SampleId, PreparedSample<'a>>,
    pub(super) words: CommonWords<'a>,
    pub(super) categories: Names,
    pub(super) regions: Names,
    /// Colour and name of the category of other sample records of the bank.
    pub(super) by_colour: Vec<(u32, String)>,
    /// For each place the place of a neighbour at the same table, where there is one.
    pub(super) neighbour: Vec<Option<usize>>,
}

/// A question as it stands on a form.
pub(super) struct PreparedQuestion<'a> {
    pub(super) number: u32,
    pub(super) question: Cow<'a, Question>,
    pub(super) order: &'a PrintedOrder,
    pub(super) counts: bool,
    /// What answers have shown of it; none where the author's guess is all there is.
    curve: Option<QuestionCurve>,
    /// Standard error of its difficulty.
    pub(super) error: f64,
}

impl PreparedQuestion<'_> {
    /// The chance that somebody of this ability knows it, where it is so much harder than the bank
    /// says. A chance of being right that calibration gives is freed of what guessing among the
    /// printed options would give.
    pub(super) fn knows(&self, ability: f64, harder: f64) -> f64 {
        let Some(curve) = &self.curve else {
            return logistic(ability - difficulty(self.question.difficulty) - harder);
        };
        let by_guessing = match self.question.kind.shape() {
            Shape::Choice { options, one: true } => 1.0 / options.len().max(1) as f64,
            Shape::Choice { .. }
            | Shape::Number { .. }
            | Shape::Order { .. }
            | Shape::Columns { .. }
            | Shape::Words { .. }
            | Shape::Space { .. } => 0.0,
        };
        let right = curve.right_at(ability - harder);
        ((right - by_guessing) / (1.0 - by_guessing).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0)
    }
    /// Whether people mark it.
    pub(super) fn is_marked_by_people(&self) -> bool {
        matches!(self.question.kind.shape(), Shape::Space { .. })
    }
}

/// A sample with its panel's words.
pub(super) struct PreparedSample<'a> {
    pub(super) record: &'a SampleRecord,
    pub(super) neat: Vec<PanelKeyWord>,
    pub(super) water: Vec<PanelKeyWord>,
    /// Names of the true category and of the other children of its parent.
    pub(super) category: Vec<String>,
    /// Likewise for the region.
    pub(super) region: Vec<String>,
    pub(super) mean_quality: f64,
    /// The place of the right name where it is asked how sure somebody is.
    pub(super) right_belief: Option<usize>,
}

/// A word of the panel with the other words of its group.
pub(super) struct PanelKeyWord {
    pub(super) word: String,
    pub(super) weight: f64,
    pub(super) group: Vec<String>,
}

/// The lexicon's words with how common panels find them.
pub(super) struct CommonWords<'a> {
    pub(super) all: Vec<&'a str>,
    /// Running sums of 1 + citations over all sample records.
    pub(super) cumulative: Vec<u64>,
    /// Words by citations, most first.
    pub(super) commonest: Vec<&'a str>,
}

/// Names of the leaves of a tree.
pub(super) struct Names {
    pub(super) leaves: Vec<String>,
}

impl<'a> Prepared<'a> {
    /// Looks everything up.
    pub(super) fn new(exam: &'a Exam, sitting: &'a Sitting) -> Self {
        let tasting = exam.plan.tasting.as_ref();
        let forms = sitting.forms.iter().map(|form| {
            let questions = form.questions.iter().zip(1..).filter_map(|(q, number)| {
                let question = q.in_bank(&exam.bank)?;
                let curve = QuestionCurve::of(&question, exam.bank.calibration.get(&question.id));
                Some(PreparedQuestion {
                    number,
                    question,
                    order: &q.order,
                    counts: q.counts,
                    curve: match curve.known {
                        KnownFrom::Parameters | KnownFrom::Share => Some(curve),
                        KnownFrom::Author => None,
                    },
                    error: curve.error,
                })
            });
            (&form.name, questions.collect())
        });
        let samples = tasting.into_iter().flat_map(|part| {
            part.samples.iter().filter_map(move |(id, _)| {
                let record = exam.sample(id)?;
                Some((id, prepared_sample(exam, part, record)))
            })
        });
        Self {
            places: &sitting.places,
            forms: forms.collect(),
            tasting,
            samples: samples.collect(),
            words: common_words(exam),
            categories: leaf_names(&exam.bank.categories),
            regions: leaf_names(&exam.bank.regions),
            by_colour: by_colour(exam),
            neighbour: neighbours(&sitting.places),
        }
    }
}

fn by_colour(exam: &Exam) -> Vec<(u32, String)> {
    let records = exam.bank.samples.values();
    records
        .filter(|record| {
            let flight = exam.plan.tasting.iter().flat_map(|part| &part.samples);
            !flight.into_iter().any(|(id, _)| *id == record.id)
        })
        .filter_map(|record| {
            let node = exam.bank.categories.node(&record.category)?;
            Some((record.colour?, node.name.clone()))
        })
        .collect()
}

/// The next seat of the same table, or the one before for the last. A seat's name is its table's
/// and a number.
fn neighbours(places: &[CandidatePlace]) -> Vec<Option<usize>> {
    let mut seats: BTreeMap<(&str, u32), usize> = BTreeMap::new();
    let named = |place: &'_ CandidatePlace| -> Option<(String, u32)> {
        let seat = place.seat.as_ref()?.as_str();
        let table = seat.trim_end_matches(|c: char| c.is_ascii_digit());
        let number = seat.get(table.len()..)?.parse().ok()?;
        Some((table.to_owned(), number))
    };
    let names: Vec<Option<(String, u32)>> = places.iter().map(named).collect();
    for (place, name) in names.iter().enumerate() {
        if let Some((table, number)) = name {
            seats.insert((table, *number), place);
        }
    }
    names
        .iter()
        .map(|name| {
            let (table, number) = name.as_ref()?;
            let at = |number: u32| seats.get(&(table.as_str(), number)).copied();
            at(number + 1).or_else(|| at(number.checked_sub(1)?))
        })
        .collect()
}

fn prepared_sample<'a>(
    exam: &Exam,
    part: &TastingPart,
    record: &'a SampleRecord,
) -> PreparedSample<'a> {
    let lexicon = &exam.bank.lexicon;
    let words = |key: TastingKey| {
        let all = key.required.into_iter().chain(key.accepted);
        all.map(|word| panel_key_word(lexicon, word)).collect()
    };
    let ratings = &record.tasting.quality;
    let mean_quality = if ratings.is_empty() {
        5.0
    } else {
        ratings.iter().map(|(_, quality)| quality).sum::<f64>() / ratings.len() as f64
    };
    PreparedSample {
        record,
        neat: words(part.aroma_key(record, TastingWay::Full)),
        water: words(TastingKey::with_water(record, part.threshold)),
        category: with_siblings(&exam.bank.categories, &record.category),
        region: with_siblings(&exam.bank.regions, &record.region),
        mean_quality,
        right_belief: part.ask.iter().find_map(|question| match &question.asked {
            Asked::Confidence(asked) => {
                let (categories, regions) = (&exam.bank.categories, &exam.bank.regions);
                asked.right(record, categories, regions).ok()
            }
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
        }),
    }
}

fn panel_key_word(lexicon: &Lexicon, word: KeyWord) -> PanelKeyWord {
    let group = lexicon
        .place_of(&word.word)
        .and_then(|place| lexicon.group(place))
        .map(|group| {
            let others = group.words.iter().filter(|other| other.word != word.word);
            others.map(|other| other.word.clone()).collect()
        })
        .unwrap_or_default();
    PanelKeyWord {
        word: word.word,
        weight: word.weight,
        group,
    }
}

/// The node's name first, then its siblings in the order of the tree.
fn with_siblings(tree: &Taxonomy, id: &NodeId) -> Vec<String> {
    let Some(node) = tree.node(id) else {
        return Vec::new();
    };
    let siblings = tree
        .nodes()
        .iter()
        .filter(|other| other.parent == node.parent && other.id != node.id);
    std::iter::once(node)
        .chain(siblings)
        .map(|node| node.name.clone())
        .collect()
}

fn leaf_names(tree: &Taxonomy) -> Names {
    Names {
        leaves: tree.leaves().iter().map(|leaf| leaf.name.clone()).collect(),
    }
}

fn common_words(exam: &Exam) -> CommonWords<'_> {
    let mut citations: BTreeMap<&str, u64> = BTreeMap::new();
    let records = exam.bank.samples.values().chain(exam.own_samples.values());
    for note in records.flat_map(|record| &record.tasting.notes) {
        *citations.entry(&note.descriptor).or_default() += 1;
    }
    let all: Vec<&str> = exam
        .bank
        .lexicon
        .words()
        .map(|(_, word)| word.word.as_str())
        .collect();
    let cited = |word: &str| citations.get(word).copied().unwrap_or(0);
    let cumulative = all
        .iter()
        .scan(0, |sum, word| {
            *sum += 1 + cited(word);
            Some(*sum)
        })
        .collect();
    let mut commonest = all.clone();
    commonest.sort_by(|a, b| cited(b).cmp(&cited(a)).then(a.cmp(b)));
    CommonWords {
        all,
        cumulative,
        commonest,
    }
}
