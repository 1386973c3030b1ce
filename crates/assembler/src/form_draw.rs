//! Which questions stand on which form: a seeded draw within blueprint, enemies and overlap.
//!
//! Each attempt has a stream of its own (purpose "form questions", index: attempt). It fills the
//! forms one place at a time with a question that has no enemy there, has been used least, adds
//! least to what forms have in common, and is else chosen by lot; repairs enemies and overlap by
//! exchanging questions; and then exchanges further as long as the forms share less, have nearer
//! sums of marks, and nearer sums of author's difficulty (easy 1, medium 2, hard 3), in this order
//! of weight. The first sound attempts are compared and the best is kept. Attempts and steps are
//! bounded by the constants below and never by time, so the same seed gives the same forms anywhere.
//!
//! Only operational questions count, none that are for practice only. Pretest questions come beyond
//! the cells, from the plan's cells, obey the same enemies and are spread over cells and forms.
//!
//! Where the plan asks for it (`draw: near-best`), or gives rules that this draw does not know
//! (ranges, sets of questions, words to read and the like), [`crate::form_within`] stands behind the
//! same function: bank, theory part and seed in, forms or all faults out.

use base::{ExamSeed, Fault, Purpose, QuestionId, Stream};
use exam_plan::plan::{Draw, NearBest, TheoryPart};
use question_bank::Bank;
use question_bank::question::Difficulty;

use crate::form_build::{Goal, build};
use crate::form_explain::{Reason, explain};
use crate::form_need::form_need;
use crate::form_pool::FormPool;
use crate::form_within::{draw_within, impossible};

/// At most so many attempts.
pub const MOST_ATTEMPTS: u64 = 40;
/// So many sound attempts are compared.
pub const SOUND_ATTEMPTS: usize = 3;
/// Steps of an attempt for each place of each form.
pub const STEPS_FOR_A_PLACE: usize = 200;

/// The questions of all forms.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DrawnForms {
    /// Form A first.
    pub forms: Vec<DrawnForm>,
    /// What could not be levelled out, in plain sentences.
    pub shortfalls: Vec<String>,
}

/// The questions of one form, in no printed order yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DrawnForm {
    /// Counted questions, line of the blueprint by line.
    pub counted: Vec<QuestionId>,
    /// Pretest questions.
    pub pretest: Vec<QuestionId>,
}

/// Draws the forms of a theory part.
///
/// # Errors
/// All lines of the blueprint that the bank cannot fill, each with its place in the plan and the
/// number of questions lacking; or, where numbers suffice and no draw was found, what stood in the
/// way of the best attempt.
pub fn draw_forms(
    bank: &Bank,
    theory: &TheoryPart,
    seed: &ExamSeed,
) -> Result<DrawnForms, Vec<Fault>> {
    let pool = FormPool::new(bank, theory);
    let need = form_need(&pool, theory);
    if !need.faults.is_empty() {
        return Err(need.faults);
    }
    let within =
        |rules: &NearBest, goal| draw_within(bank, &pool, theory, (rules, goal), need.forced, seed);
    match &theory.draw {
        Draw::ByLot if theory.cells_are_exact() && !pool.has_sets => {
            draw_by_lot(&pool, theory, need.forced, bank, seed)
        }
        Draw::ByLot => within(&NearBest::plain(pool.place.clone()), Goal::Lot),
        Draw::ByLotWithin(rules) => within(rules, Goal::Lot),
        Draw::NearBest(rules) => within(rules, Goal::Targets),
    }
}

/// The draw by lot.
fn draw_by_lot(
    pool: &FormPool<'_>,
    theory: &TheoryPart,
    forced: u64,
    bank: &Bank,
    seed: &ExamSeed,
) -> Result<DrawnForms, Vec<Fault>> {
    let pretest = usize::try_from(theory.pretest).unwrap_or(usize::MAX);
    let mut best: Option<(Cost, Draft<'_>, Vec<Vec<usize>>)> = None;
    let mut nearest: Option<(Cost, Draft<'_>)> = None;
    let mut sound = 0;
    for attempt in 0..MOST_ATTEMPTS {
        let mut stream = Stream::new(seed, Purpose::FormQuestions, attempt);
        let mut draft = Draft::new(pool, theory);
        draft.fill(&mut stream);
        draft.search(&mut stream, Aim::Sound);
        if draft.cost.is_sound() {
            let perfect = draft.perfect(forced);
            draft.search(&mut stream, Aim::Level(perfect));
            if let Some(extra) = draw_pretest(&draft, pretest, &mut stream) {
                sound += 1;
                let is_perfect = draft.cost == perfect;
                if best.as_ref().is_none_or(|(cost, _, _)| draft.cost < *cost) {
                    best = Some((draft.cost, draft, extra));
                }
                if is_perfect || sound >= SOUND_ATTEMPTS {
                    break;
                }
                continue;
            }
        }
        if nearest.as_ref().is_none_or(|(cost, _)| draft.cost < *cost) {
            nearest = Some((draft.cost, draft));
        }
    }
    match (best, nearest) {
        (Some((_, draft, extra)), _) => Ok(draft.finish(extra)),
        (None, Some((_, draft))) => Err(vec![why_none(bank, &draft, theory)]),
        // Not reached: every attempt leaves a draft in one of the two.
        (None, None) => Err(vec![Fault::new(
            "no-draw",
            pool.place.clone(),
            "no form could be drawn",
        )]),
    }
}

/// Why no draw was found: proven where it can be, else what stood in the way of the best attempt.
fn why_none(bank: &Bank, draft: &Draft<'_>, theory: &TheoryPart) -> Fault {
    let overlap = theory
        .overlap
        .and_then(|overlap| usize::try_from(overlap).ok());
    let plain = NearBest::plain(draft.pool.place.clone());
    if let Ok(built) = build(bank, draft.pool, theory, &plain, overlap, Goal::Lot)
        && let Reason::Impossible(why) = explain(&built.model)
    {
        return impossible(draft.pool, theory, &why);
    }
    draft.what_stood_in_the_way(theory)
}

/// How far a draft is from what is wanted; the first member that differs decides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Cost {
    /// Pairs of enemies on one form.
    enemies: i64,
    /// Common questions beyond the allowed, over all pairs of forms.
    excess: i64,
    /// Squares of the number of common questions, over all pairs.
    common: i64,
    /// Differences of marks in thousandths, over all pairs.
    marks: i64,
    /// Differences of difficulty, over all pairs.
    difficulty: i64,
}

impl Cost {
    const fn is_sound(&self) -> bool {
        self.enemies == 0 && self.excess == 0
    }
}

/// What a search is after.
#[derive(Clone, Copy)]
enum Aim {
    /// No enemies together, no overlap beyond the allowed.
    Sound,
    /// All of the cost, until this is reached.
    Level(Cost),
}

/// Forms on the way.
struct Draft<'p> {
    pool: &'p FormPool<'p>,
    overlap: Option<i64>,
    /// The line of each place; the same on every form.
    line_of: Vec<usize>,
    /// The question at each place of each form.
    at: Vec<Vec<usize>>,
    /// Whether a question is on a form.
    on: Vec<Vec<bool>>,
    /// On how many forms a question is.
    uses: Vec<usize>,
    /// How many questions two forms have in common.
    common: Vec<Vec<i64>>,
    marks: Vec<i64>,
    difficulty: Vec<i64>,
    cost: Cost,
}

impl<'p> Draft<'p> {
    fn new(pool: &'p FormPool<'p>, theory: &TheoryPart) -> Self {
        let forms = usize::try_from(theory.forms).unwrap_or(usize::MAX).max(1);
        let line_of = pool
            .lines
            .iter()
            .enumerate()
            .flat_map(|(number, line)| std::iter::repeat_n(number, line.wanted))
            .collect();
        Self {
            pool,
            overlap: theory.overlap.map(i64::from),
            line_of,
            at: vec![Vec::new(); forms],
            on: vec![vec![false; pool.questions.len()]; forms],
            uses: vec![0; pool.questions.len()],
            common: vec![vec![0; forms]; forms],
            marks: vec![0; forms],
            difficulty: vec![0; forms],
            cost: Cost {
                enemies: 0,
                excess: 0,
                common: 0,
                marks: 0,
                difficulty: 0,
            },
        }
    }

    fn forms(&self) -> usize {
        self.at.len()
    }

    fn enemies_on(&self, form: usize, question: usize) -> i64 {
        let enemies = &self.pool.enemies[question];
        enemies.iter().filter(|&&e| self.on[form][e]).count() as i64
    }

    /// Fills every form, line by line; lines with least to choose from go first.
    fn fill(&mut self, stream: &mut Stream) {
        let pool = self.pool;
        let mut places: Vec<usize> = (0..self.line_of.len()).collect();
        places.sort_by_key(|&place| {
            let line = &pool.lines[self.line_of[place]];
            line.usable.len() - line.wanted.min(line.usable.len())
        });
        for form in 0..self.forms() {
            let mut filled = vec![usize::MAX; self.line_of.len()];
            for &place in &places {
                let usable = &pool.lines[self.line_of[place]].usable;
                let mut best = None;
                let mut tied: u64 = 0;
                for &question in usable.iter().filter(|&&q| !self.on[form][q]) {
                    let shared: i64 = (0..form)
                        .filter(|&other| self.on[other][question])
                        .map(|other| 2 * self.common[form][other] + 1)
                        .sum();
                    let key = (self.enemies_on(form, question), self.uses[question], shared);
                    let better = match best {
                        None => true,
                        Some((best_key, _)) if key < best_key => true,
                        Some((best_key, _)) => {
                            tied = if key == best_key { tied + 1 } else { tied };
                            // One of all that tie, each equally likely.
                            key == best_key && stream.below(tied + 1) == 0
                        }
                    };
                    if better {
                        if best.is_none_or(|(best_key, _)| key < best_key) {
                            tied = 0;
                        }
                        best = Some((key, question));
                    }
                }
                // The count before the draw saw to it that a line has enough questions; only a cell
                // named twice in a plan could run out here, and the place stays empty then.
                if let Some((_, question)) = best {
                    self.put(form, question);
                    filled[place] = question;
                }
            }
            self.at[form] = filled;
        }
        self.cost.marks = pair_differences(&self.marks);
        self.cost.difficulty = pair_differences(&self.difficulty);
        let empty = self.at.iter().flatten().filter(|&&q| q == usize::MAX);
        self.cost.enemies += empty.count() as i64;
    }

    /// Whether every place has a question.
    fn is_full(&self) -> bool {
        self.at.iter().flatten().all(|&q| q != usize::MAX)
    }

    /// Puts a question on a form.
    fn put(&mut self, form: usize, question: usize) {
        self.cost.enemies += self.enemies_on(form, question);
        self.on[form][question] = true;
        self.uses[question] += 1;
        self.share(form, question, 1);
    }

    /// Takes a question off a form.
    fn take(&mut self, form: usize, question: usize) {
        self.on[form][question] = false;
        self.uses[question] -= 1;
        self.cost.enemies -= self.enemies_on(form, question);
        self.share(form, question, -1);
    }

    /// Books a question that came (1) or went (-1).
    fn share(&mut self, form: usize, question: usize, sign: i64) {
        for other in (0..self.forms()).filter(|&other| other != form) {
            if self.on[other][question] {
                let before = self.common[form][other];
                let after = before + sign;
                self.common[form][other] = after;
                self.common[other][form] = after;
                self.cost.common += after * after - before * before;
                self.cost.excess += self.beyond(after) - self.beyond(before);
            }
        }
        let asked = self.pool.questions[question];
        self.marks[form] += sign * asked.marks.thousandths();
        self.difficulty[form] += sign * weight(asked.difficulty);
    }

    fn beyond(&self, common: i64) -> i64 {
        self.overlap.map_or(0, |allowed| (common - allowed).max(0))
    }

    /// Puts another question at a place.
    fn replace(&mut self, form: usize, place: usize, question: usize) {
        self.take(form, self.at[form][place]);
        self.put(form, question);
        self.at[form][place] = question;
    }

    /// The least cost that could be reached: the forced overlap spread evenly, all else level.
    fn perfect(&self, forced: u64) -> Cost {
        let forms = self.forms() as i64;
        let pairs = (forms * (forms - 1) / 2).max(1);
        let forced = i64::try_from(forced).unwrap_or(i64::MAX);
        let (each, more) = (forced / pairs, forced % pairs);
        Cost {
            enemies: 0,
            excess: 0,
            common: (pairs - more) * each * each + more * (each + 1) * (each + 1),
            marks: 0,
            difficulty: 0,
        }
    }

    /// Exchanges questions by lot and keeps each exchange that does not make the forms worse.
    fn search(&mut self, stream: &mut Stream, aim: Aim) {
        let places = self.line_of.len();
        if places == 0 || !self.is_full() {
            return;
        }
        for _ in 0..STEPS_FOR_A_PLACE * places * self.forms() {
            match aim {
                Aim::Sound if self.cost.is_sound() => return,
                Aim::Level(perfect) if self.cost <= perfect => return,
                Aim::Sound | Aim::Level(_) => {}
            }
            let form = stream.index(self.forms());
            let place = stream.index(places);
            let line = self.line_of[place];
            let here = self.at[form][place];
            // Either a question that is not on the form, or one of another form in exchange.
            if self.forms() == 1 || stream.below(2) == 0 {
                let usable = &self.pool.lines[line].usable;
                let question = usable[stream.index(usable.len())];
                if self.on[form][question] {
                    continue;
                }
                let before = self.cost;
                self.replace(form, place, question);
                self.level_costs();
                if self.worse(before, aim) {
                    self.replace(form, place, here);
                    self.cost = before;
                }
            } else {
                let other = (form + 1 + stream.index(self.forms() - 1)) % self.forms();
                let there_place = stream.index(places);
                let there = self.at[other][there_place];
                if self.line_of[there_place] != line || self.on[form][there] || self.on[other][here]
                {
                    continue;
                }
                let before = self.cost;
                self.replace(form, place, there);
                self.replace(other, there_place, here);
                self.level_costs();
                if self.worse(before, aim) {
                    self.replace(other, there_place, there);
                    self.replace(form, place, here);
                    self.cost = before;
                }
            }
        }
    }

    fn level_costs(&mut self) {
        self.cost.marks = pair_differences(&self.marks);
        self.cost.difficulty = pair_differences(&self.difficulty);
    }

    fn worse(&self, before: Cost, aim: Aim) -> bool {
        match aim {
            Aim::Sound => self.cost.enemies + self.cost.excess > before.enemies + before.excess,
            Aim::Level(_) => self.cost > before,
        }
    }

    fn finish(self, extra: Vec<Vec<usize>>) -> DrawnForms {
        let id = |&question: &usize| self.pool.questions[question].id.clone();
        let forms = self
            .at
            .iter()
            .zip(&extra)
            .map(|(at, extra)| DrawnForm {
                counted: at.iter().map(id).collect(),
                pretest: extra.iter().map(id).collect(),
            })
            .collect();
        let mut shortfalls = Vec::new();
        let (least, most) = (self.marks.iter().min(), self.marks.iter().max());
        if let (Some(&least), Some(&most)) = (least, most)
            && least != most
        {
            shortfalls.push(format!(
                "The forms have different maximum marks, from {} to {}: the cells hold questions \
                 with different marks.",
                base::Marks::from_thousandths(least),
                base::Marks::from_thousandths(most)
            ));
        }
        DrawnForms { forms, shortfalls }
    }

    /// What is left to complain of when no attempt was sound.
    fn what_stood_in_the_way(&self, theory: &TheoryPart) -> Fault {
        let mut reasons = Vec::new();
        for form in 0..self.forms() {
            for &question in self.at[form].iter().filter(|&&q| q != usize::MAX) {
                for &enemy in &self.pool.enemies[question] {
                    if enemy > question && self.on[form][enemy] {
                        reasons.push(format!(
                            "enemies \"{}\" and \"{}\"",
                            self.pool.questions[question].id, self.pool.questions[enemy].id
                        ));
                    }
                }
            }
        }
        if !self.is_full() {
            reasons.push("a cell that is named twice in the plan".to_owned());
        }
        let most_common = self.common.iter().flatten().max().copied().unwrap_or(0);
        if self.cost.excess > 0 {
            reasons.push(format!(
                "{most_common} questions common to two forms where {} are allowed",
                theory.overlap.unwrap_or(0)
            ));
        }
        if reasons.is_empty() {
            reasons.push("enemies of the pretest questions".to_owned());
        }
        reasons.sort();
        reasons.dedup();
        let hint = if self.cost.excess > 0 {
            format!("write more questions for these cells, or allow an overlap of {most_common}")
        } else {
            "write more questions for these cells, or fewer enemies".to_owned()
        };
        Fault::new(
            "no-draw",
            self.pool.place.clone(),
            format!(
                "the cells have enough questions, and yet no {} forms were found in {MOST_ATTEMPTS} \
                 attempts; what stood in the way of the best: {}",
                self.forms(),
                reasons.join(", ")
            ),
        )
        .hint(hint)
    }
}

/// Easy 1, medium 2, hard 3.
const fn weight(difficulty: Difficulty) -> i64 {
    match difficulty {
        Difficulty::Easy => 1,
        Difficulty::Medium => 2,
        Difficulty::Hard => 3,
    }
}

/// The sum of the differences of all pairs.
fn pair_differences(values: &[i64]) -> i64 {
    let with_later = |(place, one): (usize, &i64)| -> i64 {
        values[place + 1..]
            .iter()
            .map(|other| (one - other).abs())
            .sum()
    };
    values.iter().enumerate().map(with_later).sum()
}

/// Draws the pretest questions of each form; none where enemies do not let enough stand.
fn draw_pretest(draft: &Draft<'_>, wanted: usize, stream: &mut Stream) -> Option<Vec<Vec<usize>>> {
    let pool = draft.pool;
    let mut uses = vec![0_usize; pool.questions.len()];
    let mut forms = Vec::new();
    for form in 0..draft.forms() {
        let mut chosen: Vec<usize> = Vec::new();
        while chosen.len() < wanted {
            let mut candidates = pool.pretest.clone();
            stream.shuffle(&mut candidates);
            let of_cell = |question: usize| {
                let cell = &pool.questions[question].cell;
                let same = |other: &&usize| pool.questions[**other].cell == *cell;
                chosen.iter().filter(same).count()
            };
            let enemies = |question: usize| &pool.enemies[question];
            let next = candidates
                .into_iter()
                .filter(|&q| !chosen.contains(&q) && draft.enemies_on(form, q) == 0)
                .filter(|&q| !chosen.iter().any(|other| enemies(q).contains(other)))
                // The first of the shuffled: ties go by lot.
                .min_by_key(|&q| (of_cell(q), uses[q]))?;
            uses[next] += 1;
            chosen.push(next);
        }
        forms.push(chosen);
    }
    Some(forms)
}
