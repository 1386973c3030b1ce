//! Which items a sitting asks of each candidate, and the award for an answer to one of them.
//!
//! The same marker serves real answer tables and the rehearsal's simulated ones, so that a
//! rehearsal walks the very path of the day.

use std::borrow::Cow;
use std::collections::BTreeMap;

use assembler::{FormQuestion, Sitting};
use base::{CandidateNumber, Fault, Marks, SampleId};
use exam_plan::plan::TastingQuestion;
use exam_plan::{Exam, TastingWay};
use grader::{Award, Item, KnownWords, SampleKey, Sentences, Subject, mark_tasting, mark_theory};
use question_bank::Question;

use crate::recall::Recall;

/// Everything that marking a sitting needs, looked up once.
#[derive(Debug)]
pub struct Marker<'e> {
    sitting: &'e Sitting,
    /// For each form, its questions in printed order.
    forms: Vec<Vec<(Cow<'e, Question>, &'e FormQuestion)>>,
    /// For each candidate, the place of the form.
    form_of: Vec<Option<usize>>,
    candidates: BTreeMap<&'e str, usize>,
    /// For each candidate, how the glasses are met.
    way_of: Vec<TastingWay>,
    keys: BTreeMap<(&'e SampleId, TastingWay), SampleKey>,
    words: KnownWords<'e>,
    /// What is asked of who tastes.
    ask: Vec<&'e TastingQuestion>,
    /// What is asked of who noses only.
    nosed: Vec<&'e TastingQuestion>,
    sentences: &'e Sentences,
}

/// Why an answer is to nothing that was asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NotAsked {
    /// The candidate's form has no question of this number.
    Number,
    /// The candidate had no glass with this code.
    Glass,
    /// This was not asked of the glasses.
    Asked,
}

/// One item of one candidate, by its place among all that the candidate was asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct ItemPlace(pub usize);

impl<'e> Marker<'e> {
    /// Looks everything up.
    ///
    /// # Errors
    /// When the sitting names a question or a sample that the exam does not have.
    pub fn new(exam: &'e Exam, sitting: &'e Sitting) -> Result<Self, Vec<Fault>> {
        let mut faults = Vec::new();
        let mut forms = Vec::new();
        for form in &sitting.forms {
            let mut questions = Vec::new();
            for printed in &form.questions {
                let known = exam.bank.questions.get(&printed.question);
                match known.map(|known| known.realised(&printed.drawn)) {
                    Some(Ok(question)) if question.kind.lettered() == printed.order.len() => {
                        questions.push((question, printed));
                    }
                    Some(_) => faults.push(Fault::new(
                        "changed-question",
                        None,
                        format!(
                            "question {} no longer has the options or numbers that form {} printed",
                            printed.question, form.name
                        ),
                    )),
                    None => faults.push(Fault::new(
                        "missing-question",
                        None,
                        format!(
                            "form {} printed question {}, which the bank does not have",
                            form.name, printed.question
                        ),
                    )),
                }
            }
            forms.push(questions);
        }
        let words = KnownWords {
            lexicon: &exam.bank.lexicon,
            categories: &exam.bank.categories,
            regions: &exam.bank.regions,
        };
        let asked_of = |way| {
            let part = exam.plan.tasting.as_ref();
            part.into_iter()
                .flat_map(|part| part.asked_of(way))
                .collect::<Vec<_>>()
        };
        let ways = sitting.places.iter();
        let way_of: Vec<TastingWay> = ways.map(|place| exam.way_of(&place.candidate)).collect();
        let mut missing: Vec<&SampleId> = Vec::new();
        let mut keys = BTreeMap::new();
        if let Some(part) = &exam.plan.tasting {
            for (place, way) in sitting.places.iter().zip(&way_of) {
                for glass in &place.glasses {
                    let sample = &glass.sample;
                    if keys.contains_key(&(sample, *way)) {
                        continue;
                    }
                    match exam.sample(sample) {
                        Some(record) => {
                            let key = SampleKey::tasted(record, words, part, *way);
                            keys.insert((sample, *way), key);
                        }
                        None => missing.push(sample),
                    }
                }
            }
        }
        missing.sort_unstable();
        missing.dedup();
        faults.extend(missing.into_iter().map(|sample| {
            Fault::new(
                "missing-sample",
                None,
                format!("sample {sample} was poured, but there is no record of it"),
            )
        }));
        if !faults.is_empty() {
            return Err(faults);
        }
        let form_of = sitting
            .places
            .iter()
            .map(|p| {
                p.form
                    .as_ref()
                    .and_then(|name| sitting.forms.iter().position(|f| f.name == *name))
            })
            .collect();
        let candidates = sitting
            .places
            .iter()
            .enumerate()
            .map(|(place, p)| (p.candidate.as_str(), place))
            .collect();
        Ok(Self {
            sitting,
            forms,
            form_of,
            candidates,
            way_of,
            keys,
            words,
            ask: asked_of(TastingWay::Full),
            nosed: asked_of(TastingWay::NosingOnly),
            sentences: Sentences::english(),
        })
    }

    /// This marker, with reasons in these sentences.
    #[must_use]
    pub fn saying(self, sentences: &'e Sentences) -> Self {
        Self { sentences, ..self }
    }

    /// The sentences in which it gives reasons.
    #[must_use]
    pub const fn sentences(&self) -> &'e Sentences {
        self.sentences
    }

    /// The place of a candidate in the sitting.
    #[must_use]
    pub fn candidate(&self, number: &str) -> Option<usize> {
        self.candidates.get(number).copied()
    }
    /// The number of a candidate.
    #[must_use]
    pub fn number(&self, candidate: usize) -> Option<&'e CandidateNumber> {
        self.sitting.places.get(candidate).map(|p| &p.candidate)
    }
    /// The numbers of all candidates.
    pub fn numbers(&self) -> impl Iterator<Item = &'e str> {
        self.sitting.places.iter().map(|p| p.candidate.as_str())
    }

    fn theory(&self, candidate: usize) -> &[(Cow<'e, Question>, &'e FormQuestion)] {
        self.form_of
            .get(candidate)
            .copied()
            .flatten()
            .and_then(|form| self.forms.get(form))
            .map_or(&[], Vec::as_slice)
    }
    fn glasses(&self, candidate: usize) -> &'e [assembler::Glass] {
        self.sitting
            .places
            .get(candidate)
            .map_or(&[], |p| p.glasses.as_slice())
    }

    fn way(&self, candidate: usize) -> TastingWay {
        self.way_of.get(candidate).copied().unwrap_or_default()
    }
    /// What is asked of each glass of this candidate.
    fn ask(&self, candidate: usize) -> &[&'e TastingQuestion] {
        self.asked_in(self.way(candidate))
    }

    /// What is asked of each glass of who tastes in this way.
    fn asked_in(&self, way: TastingWay) -> &[&'e TastingQuestion] {
        match way {
            TastingWay::Full => &self.ask,
            TastingWay::NosingOnly => &self.nosed,
        }
    }

    /// How many items this candidate was asked: theory questions first, then for each glass in
    /// serving order what the plan asks.
    #[must_use]
    pub fn items(&self, candidate: usize) -> usize {
        self.theory(candidate).len() + self.glasses(candidate).len() * self.ask(candidate).len()
    }
    /// The item of a printed question number.
    ///
    /// # Errors
    /// When the form has no such number.
    pub fn question(&self, candidate: usize, number: usize) -> Result<ItemPlace, NotAsked> {
        if (1..=self.theory(candidate).len()).contains(&number) {
            Ok(ItemPlace(number - 1))
        } else {
            Err(NotAsked::Number)
        }
    }
    /// The item of something asked of a glass, by the code on the glass.
    ///
    /// # Errors
    /// When the candidate had no such glass, or this was not asked.
    pub fn by_code(
        &self,
        candidate: usize,
        code: &str,
        asked: &str,
    ) -> Result<ItemPlace, NotAsked> {
        let glass = self
            .glasses(candidate)
            .iter()
            .position(|g| g.code == code)
            .ok_or(NotAsked::Glass)?;
        self.by_glass(candidate, glass + 1, asked)
    }
    /// The item of something asked of a glass, by its place in the serving order, from 1.
    ///
    /// # Errors
    /// When the candidate had no such glass, or this was not asked.
    pub fn by_glass(
        &self,
        candidate: usize,
        glass: usize,
        asked: &str,
    ) -> Result<ItemPlace, NotAsked> {
        if !(1..=self.glasses(candidate).len()).contains(&glass) {
            return Err(NotAsked::Glass);
        }
        let ask = self.ask(candidate);
        let question = ask
            .iter()
            .position(|q| q.asked.name().eq_ignore_ascii_case(asked))
            .ok_or(NotAsked::Asked)?;
        Ok(ItemPlace(
            self.theory(candidate).len() + (glass - 1) * ask.len() + question,
        ))
    }

    /// How many questions this candidate's form has.
    #[must_use]
    pub fn questions(&self, candidate: usize) -> usize {
        self.theory(candidate).len()
    }
    /// The codes of this candidate's glasses in serving order.
    pub fn codes(&self, candidate: usize) -> impl Iterator<Item = &'e str> {
        self.glasses(candidate).iter().map(|g| g.code.as_str())
    }
    /// The words for what is asked of each glass of this candidate.
    pub fn asked(&self, candidate: usize) -> impl Iterator<Item = &'static str> {
        self.ask(candidate).iter().map(|q| q.asked.name())
    }

    /// What an item is, in the words of answer tables: `theory 7`, `tasting 417 aroma`.
    #[must_use]
    pub fn name(&self, candidate: usize, item: ItemPlace) -> String {
        match self.find(candidate, item) {
            Some(Found::Theory(number, ..)) => format!("theory {number}"),
            Some(Found::Tasting { code, question, .. }) => {
                format!("tasting {code} {}", question.asked.name())
            }
            None => "nothing".to_owned(),
        }
    }

    /// The award for an answer; none for an item or a candidate that does not exist.
    #[must_use]
    pub fn mark(&self, candidate: usize, item: ItemPlace, answer: &str) -> Option<Award> {
        let number = self.number(candidate)?.clone();
        Some(match self.find(candidate, item)? {
            Found::Theory(printed_number, question, printed) => Award {
                candidate: number,
                item: Item::Theory {
                    number: printed_number,
                    question: question.id.clone(),
                },
                answer: answer.to_owned(),
                outcome: mark_theory(question, &printed.order, answer).told(self.sentences),
                of: question.marks,
                counts: printed.counts,
                extra: false,
            },
            Found::Tasting {
                glass,
                code,
                sample,
                question,
                key,
            } => Award {
                candidate: number,
                item: Item::Tasting {
                    glass,
                    code: code.to_owned(),
                    sample: sample.clone(),
                    asked: question.asked.name().to_owned(),
                },
                answer: answer.to_owned(),
                outcome: mark_tasting(key, self.words, question, answer).told(self.sentences),
                of: question.marks,
                counts: true,
                extra: question.asked.is_extra_credit(),
            },
        })
    }

    /// The same, with what the same answers to the same printed questions came to before.
    #[must_use]
    pub fn mark_recalling(
        &self,
        recall: &mut Recall,
        candidate: usize,
        item: ItemPlace,
        answer: &str,
    ) -> Option<Award> {
        let form = self.form_of.get(candidate).copied().flatten();
        let theory = form.and_then(|form| Some((form, self.forms.get(form)?.get(item.0)?)));
        let Some((form, (question, printed))) = theory else {
            return self.mark(candidate, item, answer);
        };
        if let Some(outcome) = recall.of(form, item.0, answer) {
            return Some(Award {
                candidate: self.number(candidate)?.clone(),
                item: Item::Theory {
                    number: u32::try_from(item.0 + 1).ok()?,
                    question: question.id.clone(),
                },
                answer: answer.to_owned(),
                outcome: outcome.clone(),
                of: question.marks,
                counts: printed.counts,
                extra: false,
            });
        }
        let award = self.mark(candidate, item, answer)?;
        recall.keep(form, item.0, answer, &award.outcome);
        Some(award)
    }

    /// Whether this was asked of anybody.
    #[must_use]
    pub fn asks(&self, subject: &Subject) -> bool {
        match subject {
            Subject::Theory(id) => {
                let mut printed = self.forms.iter().flatten();
                printed.any(|(question, _)| question.id == *id)
            }
            Subject::Tasting(sample, asked) => {
                let asks = |way| {
                    let mut questions = self.asked_in(way).iter();
                    questions.any(|question| question.asked.name() == asked)
                };
                let mut poured = self.keys.keys();
                poured.any(|(poured, way)| *poured == sample && asks(*way))
            }
        }
    }

    /// The full marks of an item.
    #[must_use]
    pub fn full_marks(&self, candidate: usize, item: ItemPlace) -> Marks {
        match self.find(candidate, item) {
            Some(Found::Theory(_, question, _)) => question.marks,
            Some(Found::Tasting { question, .. }) => question.marks,
            None => Marks::ZERO,
        }
    }

    fn find(&self, candidate: usize, item: ItemPlace) -> Option<Found<'_, 'e>> {
        let theory = self.theory(candidate);
        if let Some((question, printed)) = theory.get(item.0) {
            return Some(Found::Theory(
                u32::try_from(item.0 + 1).ok()?,
                question,
                printed,
            ));
        }
        let rest = item.0 - theory.len();
        let ask = self.ask(candidate);
        let asked = ask.len();
        let (glass, question) = (rest.checked_div(asked)?, rest.checked_rem(asked)?);
        let poured = self.glasses(candidate).get(glass)?;
        Some(Found::Tasting {
            glass: u32::try_from(glass + 1).ok()?,
            code: &poured.code,
            sample: &poured.sample,
            question: ask.get(question).copied()?,
            key: self.keys.get(&(&poured.sample, self.way(candidate)))?,
        })
    }
}

/// An item with all that marking it needs.
enum Found<'m, 'e> {
    Theory(u32, &'m Question, &'e FormQuestion),
    Tasting {
        glass: u32,
        code: &'e str,
        sample: &'e SampleId,
        question: &'e TastingQuestion,
        key: &'m SampleKey,
    },
}
