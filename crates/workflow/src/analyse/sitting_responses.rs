//! The answers of sittings as an analysis takes them: theory by question of the bank, tasting by
//! sample and what was asked.

use std::path::{Path, PathBuf};

use exam_plan::plan::Join;
use grader::{Award, Item};
use question_bank::Shape;
use question_bank::printed_order::place_of;
use results::analysis::{
    Answer, AskedQuestion, CandidateAnswers, Responses, SampleWords, SideBySide, sample_words,
};
use results::scripts;

use super::{Beside, Part};
use crate::failure::Failure;
use crate::moderate::agreement;
use crate::open_sitting::{DrawnSitting, OpenSitting};
use crate::response_tables::stem;
use crate::surroundings::Surroundings;

/// Sittings, read.
pub(super) struct ReadSittings {
    pub(super) title: String,
    pub(super) source: String,
    pub(super) parts: Vec<Part>,
    /// What was left out.
    pub(super) notes: Vec<String>,
    /// Each sitting's name with the folder of its bank.
    pub(super) banks: Vec<(String, PathBuf)>,
}

/// Reads and pools sittings.
///
/// # Errors
/// When one cannot be opened or is not marked, or their plans have unlike cuts and none is given.
pub(super) fn read_sittings(
    around: &dyn Surroundings,
    folders: &[PathBuf],
    cut_is_given: bool,
) -> Result<ReadSittings, Failure> {
    let mut theory = Pool::new("theory");
    let mut tasting = Pool::new("tasting");
    let mut samples: Vec<SampleWords> = Vec::new();
    let (mut moderation, mut notes) = (None, Vec::new());
    let mut beside = Vec::new();
    let mut weights = [0.0, 0.0];
    let (mut titles, mut banks) = (Vec::new(), Vec::new());
    let (mut theory_cuts, mut tasting_cuts) = (Vec::new(), Vec::new());
    for folder in folders {
        let open = OpenSitting::open(around, folder)?;
        let awards = open.register.marks()?;
        let drawn = &open.drawn;
        if awards.is_empty() {
            return Err(Failure::Refused {
                what: format!("{} is not marked yet", folder.display()),
                hint: format!("valinch mark {}", folder.display()),
            });
        }
        let plan = &drawn.exam.plan;
        let name = format!("{} {}", plan.date, stem(folder));
        let made = scripts(&drawn.exam, &drawn.sitting, &awards);
        beside.extend(side_by_side(drawn, theory.made.candidates.len()));
        for script in &made {
            let who = script.place.candidate.to_string();
            let form = script
                .place
                .form
                .as_ref()
                .map_or_else(String::new, ToString::to_string);
            theory.begin(&who, &name, &form);
            tasting.begin(&who, &name, "");
            for award in &script.awards {
                match &award.item {
                    Item::Theory { .. } => theory.add(theory_answer(drawn, &form, award)),
                    Item::Tasting { sample, asked, .. } => {
                        tasting.add(tasting_answer(sample.as_str(), asked, award));
                    }
                }
            }
        }
        if folders.len() == 1 {
            samples = sample_words(&drawn.exam, &drawn.sitting, &made);
            if let Some((made, not_taken)) = agreement(around, folder, drawn, &awards)? {
                moderation = Some(made);
                if not_taken > 0 {
                    notes.push(format!(
                        "{not_taken} faults in the tables of the markers; what is at fault is left out: \
                         valinch moderate {} lists them.",
                        folder.display()
                    ));
                }
            }
        }
        if let Some(script) = made.first().filter(|_| weights == [0.0, 0.0]) {
            weights = match plan.pass.join {
                // The total that decides has weights of its own.
                Join::Compensatory { theory_weight, .. } => {
                    let theory = f64::from(theory_weight) / 1000.0;
                    [theory, 1.0 - theory]
                }
                // Marks are added up: a part weighs as much as it has marks.
                Join::Conjunctive { .. } => [script.marks.theory, script.marks.tasting]
                    .map(|part| part.map_or(0.0, |part| part.of.as_f64())),
            };
        }
        let cuts = match plan.pass.join {
            Join::Conjunctive { theory, tasting } => [Some(theory), Some(tasting)],
            // A cut of the weighted total is none of a part.
            Join::Compensatory { .. } => [None, None],
        };
        let [theory_cut, tasting_cut] = cuts;
        if plan.theory.is_some() {
            theory_cuts.push(theory_cut);
        }
        if plan.tasting.is_some() {
            tasting_cuts.push(tasting_cut);
        }
        titles.push(plan.title.clone());
        banks.push((name, folder.join(Path::new(&plan.bank))));
        open.register.close()?;
    }
    titles.dedup();
    let one = |cuts: &[Option<u32>], part: &str| {
        if cut_is_given {
            Ok(None)
        } else {
            one_cut(cuts, part)
        }
    };
    let (theory_cut, tasting_cut) = (one(&theory_cuts, "theory")?, one(&tasting_cuts, "tasting")?);
    let parts = [
        (
            theory,
            theory_cut,
            Vec::new(),
            moderation,
            Beside::Seats(beside),
            weights[0],
        ),
        // Tasters write words of their own: there are no options that could be alike.
        (
            tasting,
            tasting_cut,
            samples,
            None,
            Beside::Nobody,
            weights[1],
        ),
    ]
    .into_iter()
    .filter(|(pool, _, _, _, _, _)| !pool.made.questions.is_empty())
    .map(
        |(pool, pass_mark, samples, moderation, beside, weight)| Part {
            beside,
            weight,
            responses: pool.made,
            pass_mark,
            markers: None,
            marker_shares: Vec::new(),
            moderation,
            samples,
        },
    )
    .collect();
    let names: Vec<&str> = banks.iter().map(|(name, _)| name.as_str()).collect();
    Ok(ReadSittings {
        title: format!("Analysis: {}", titles.join("; ")),
        source: format!("Sittings: {}.", names.join("; ")),
        parts,
        notes,
        banks,
    })
}

/// Who sat side by side, by their places among the candidates; those of this sitting begin at `first`.
fn side_by_side(drawn: &DrawnSitting, first: usize) -> Vec<SideBySide> {
    let seats = drawn.exam.room.seats();
    let candidate = |seat: usize| {
        let (_, name) = seats.get(seat)?;
        let mut places = drawn.sitting.places.iter();
        Some(first + places.position(|place| place.seat.as_ref() == Some(*name))?)
    };
    drawn
        .exam
        .room
        .neighbours()
        .into_iter()
        .filter_map(|(one, other)| Some((candidate(one)?, candidate(other)?)))
        .collect()
}

/// The cut that all plans have for a part, as a share of full marks; none where they have none.
fn one_cut(cuts: &[Option<u32>], part: &str) -> Result<Option<f64>, Failure> {
    let mut unlike = cuts.to_vec();
    unlike.dedup();
    match unlike.as_slice() {
        [] => Ok(None),
        [cut] => Ok(cut.map(|thousandths| f64::from(thousandths) / 1000.0)),
        [_, _, ..] => {
            let words: Vec<String> = cuts
                .iter()
                .map(|cut| match cut {
                    Some(thousandths) => format!("{} %", f64::from(*thousandths) / 10.0),
                    None => "none".to_owned(),
                })
                .collect();
            Err(Failure::Refused {
                what: format!(
                    "the plans of these sittings have unlike cuts of {part}: {}",
                    words.join(", ")
                ),
                hint: "--cut says which is taken for all of them, such as --cut 60%".to_owned(),
            })
        }
    }
}

/// One question with one answer.
struct OneAnswer {
    question: AskedQuestion,
    answer: Answer,
}

/// Answers of one part under gathering.
struct Pool {
    made: Responses,
}

impl Pool {
    fn new(what: &str) -> Self {
        Self {
            made: Responses {
                what: what.to_owned(),
                ..Responses::default()
            },
        }
    }

    fn begin(&mut self, candidate: &str, sitting: &str, form: &str) {
        self.made.candidates.push(CandidateAnswers {
            candidate: candidate.to_owned(),
            sitting: sitting.to_owned(),
            form: form.to_owned(),
            group: String::new(),
            answers: vec![Answer::NotAsked; self.made.questions.len()],
        });
    }

    fn add(&mut self, one: OneAnswer) {
        let known = self
            .made
            .questions
            .iter()
            .position(|q| q.name == one.question.name);
        let place = known.unwrap_or_else(|| {
            self.made.questions.push(one.question);
            for candidate in &mut self.made.candidates {
                candidate.answers.push(Answer::NotAsked);
            }
            self.made.questions.len() - 1
        });
        let last = self.made.candidates.last_mut();
        if let Some(slot) = last.and_then(|candidate| candidate.answers.get_mut(place)) {
            *slot = one.answer;
        }
    }
}

fn theory_answer(drawn: &DrawnSitting, form: &str, award: &Award) -> OneAnswer {
    let Item::Theory { question: id, .. } = &award.item else {
        return tasting_answer("", "", award);
    };
    let known = drawn.exam.bank.questions.get(id);
    let (mut options, mut key, mut chosen) = (Vec::new(), None, None);
    // Where numbers are drawn, options differ from form to form and are not counted together.
    let whole = known.filter(|question| question.kind.drawings(1).is_none());
    if let Some(Shape::Choice {
        options: all,
        one: true,
    }) = whole.map(|q| q.kind.shape())
    {
        options = all
            .iter()
            .map(|option| base::walk::shortened(&option.text))
            .collect();
        key = all.iter().position(|option| option.key);
        // The letter was printed on this candidate's form; the option is the one in the bank.
        let mut letters = award.answer.trim().chars();
        if let (Some(letter), None) = (letters.next(), letters.next()) {
            let printed = drawn
                .sitting
                .forms
                .iter()
                .find(|f| f.name.to_string() == form)
                .and_then(|f| f.questions.iter().find(|q| q.question == *id));
            chosen = place_of(letter)
                .and_then(|place| printed.and_then(|printed| printed.order.written_at(place)));
        }
    }
    OneAnswer {
        question: AskedQuestion {
            name: id.to_string(),
            stem: known.map_or_else(String::new, |q| base::walk::shortened(q.kind.stem())),
            key,
            options,
            full: award.of.as_f64(),
            counts: award.counts,
        },
        answer: answer(award, chosen),
    }
}

fn tasting_answer(sample: &str, asked: &str, award: &Award) -> OneAnswer {
    OneAnswer {
        question: AskedQuestion {
            name: format!("{sample} {asked}"),
            stem: String::new(),
            key: None,
            options: Vec::new(),
            full: award.of.as_f64(),
            counts: award.counts && !award.extra,
        },
        answer: answer(award, None),
    }
}

fn answer(award: &Award, option: Option<usize>) -> Answer {
    if award.answer.trim().is_empty() {
        Answer::Omitted
    } else {
        Answer::Given {
            marks: award.marks().as_f64(),
            option,
        }
    }
}
