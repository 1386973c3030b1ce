//! In which order the lettered things of each question stand on a form.
//!
//! Options are shuffled for each form and question unless the author keeps their order; the steps
//! of an ordering question never stand in their true order; right columns are shuffled. The keys of
//! single-best-answer questions fall as evenly on the letters as numbers of options and kept orders
//! allow, and no letter is the key more than [`LONGEST_RUN`] times running (counted over the
//! best-answer questions of the form in printed order, whatever stands between them) where it can
//! be had. Purpose "option order", index: form number times 2^32 plus printed number of the
//! question; printed number 0 is the stream for the letters of the keys.

use base::{ExamSeed, Purpose, Stream};
use question_bank::{PrintedOrder, Question, Shape};

/// A letter is the key at most so many times running.
pub const LONGEST_RUN: usize = 3;
/// Exchanges tried to break runs, for each best-answer question.
pub const EXCHANGES_FOR_A_QUESTION: usize = 400;

/// The orders of one form's questions, and what could not be had.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OptionOrders {
    /// One for each question, in printed order.
    pub orders: Vec<PrintedOrder>,
    /// The longest run of one key letter, where it is too long.
    pub too_long_run: Option<usize>,
}

/// Draws the orders of one form; `questions` in printed order.
#[must_use]
pub fn option_orders(questions: &[&Question], form: usize, seed: &ExamSeed) -> OptionOrders {
    let stream_of = |printed: usize| {
        let index = ((form as u64) << 32) | (printed as u64);
        Stream::new(seed, Purpose::OptionOrder, index)
    };
    let keys: Vec<KeyPlace> = questions.iter().filter_map(|q| key_place(q)).collect();
    let letters = draw_letters(&keys, &mut stream_of(0));
    let longest = longest_run(&letters);
    let mut letters = letters.into_iter();
    let orders = questions
        .iter()
        .enumerate()
        .map(|(place, question)| {
            let mut stream = stream_of(place + 1);
            match question.kind.shape() {
                Shape::Choice { options, one: true } => {
                    let letter = letters.next().unwrap_or(0);
                    let count = options.len();
                    let key = options.iter().position(|option| option.key);
                    match key {
                        Some(key) if !question.kind.keeps_order() => {
                            let mut others: Vec<usize> = (0..count).filter(|&o| o != key).collect();
                            stream.shuffle(&mut others);
                            others.insert(letter.min(others.len()), key);
                            order_of(others)
                        }
                        Some(_) | None => PrintedOrder::as_written(count),
                    }
                }
                Shape::Order { steps } => shuffled_steps(steps.len(), &mut stream),
                shape @ (Shape::Choice { one: false, .. }
                | Shape::Columns { .. }
                | Shape::Number { .. }
                | Shape::Words { .. }
                | Shape::Space { .. }) => {
                    let mut places: Vec<usize> = (0..shape.lettered()).collect();
                    if !question.kind.keeps_order() {
                        stream.shuffle(&mut places);
                    }
                    order_of(places)
                }
            }
        })
        .collect();
    OptionOrders {
        orders,
        too_long_run: (longest > LONGEST_RUN).then_some(longest),
    }
}

/// A shuffle is an order; were it none, things stand as written.
fn order_of(places: Vec<usize>) -> PrintedOrder {
    let count = places.len();
    PrintedOrder::from_places(places).unwrap_or_else(|| PrintedOrder::as_written(count))
}

/// Any order of the steps but the true one.
fn shuffled_steps(count: usize, stream: &mut Stream) -> PrintedOrder {
    let mut places: Vec<usize> = (0..count).collect();
    // With three steps one shuffle in six is the true order; sixty-four in a row will not be.
    for _ in 0..64 {
        stream.shuffle(&mut places);
        if !places.is_sorted() {
            break;
        }
    }
    if places.is_sorted() && count > 1 {
        places.swap(0, 1);
    }
    order_of(places)
}

/// Where the key of a best-answer question may stand.
enum KeyPlace {
    /// The author keeps the order.
    Fixed(usize),
    /// Anywhere below this number of options.
    Free(usize),
}

fn key_place(question: &Question) -> Option<KeyPlace> {
    let Shape::Choice { options, one: true } = question.kind.shape() else {
        return None;
    };
    let key = options.iter().position(|option| option.key)?;
    Some(if question.kind.keeps_order() {
        KeyPlace::Fixed(key)
    } else {
        KeyPlace::Free(options.len())
    })
}

/// Draws a letter for each key.
fn draw_letters(keys: &[KeyPlace], stream: &mut Stream) -> Vec<usize> {
    let most = keys.iter().map(|key| match key {
        KeyPlace::Fixed(letter) => letter + 1,
        KeyPlace::Free(options) => *options,
    });
    let mut counts = vec![0_i64; most.max().unwrap_or(0)];
    let mut letters: Vec<usize> = keys
        .iter()
        .map(|key| match key {
            KeyPlace::Fixed(letter) => *letter,
            KeyPlace::Free(_) => 0,
        })
        .collect();
    let mut free: Vec<(usize, usize)> = Vec::new();
    for (place, key) in keys.iter().enumerate() {
        match key {
            KeyPlace::Fixed(letter) => counts[*letter] += 1,
            KeyPlace::Free(options) => free.push((*options, place)),
        }
    }
    // Those with fewest letters to choose from go first, in an order drawn by lot; each takes the
    // letter that is rarest so far.
    stream.shuffle(&mut free);
    free.sort_by_key(|(options, _)| *options);
    for &(options, place) in &free {
        let mut possible: Vec<usize> = (0..options).collect();
        stream.shuffle(&mut possible);
        if let Some(letter) = possible.into_iter().min_by_key(|&letter| counts[letter]) {
            counts[letter] += 1;
            letters[place] = letter;
        }
    }
    break_runs(&free, &mut letters, &mut counts, stream);
    letters
}

/// Exchanges letters, or changes one, as long as runs are too long; evenness comes second.
fn break_runs(
    free: &[(usize, usize)],
    letters: &mut [usize],
    counts: &mut [i64],
    stream: &mut Stream,
) {
    for _ in 0..EXCHANGES_FOR_A_QUESTION * free.len() {
        let runs = too_long(letters);
        if runs == 0 {
            return;
        }
        let (options, place) = free[stream.index(free.len())];
        let (other_options, other) = free[stream.index(free.len())];
        let (one, two) = (letters[place], letters[other]);
        // Changing a single letter costs evenness; it is tried more seldom.
        if stream.below(8) == 0 {
            let letter = stream.index(options);
            letters[place] = letter;
            if too_long(letters) < runs {
                counts[one] -= 1;
                counts[letter] += 1;
            } else {
                letters[place] = one;
            }
        } else if two < options && one < other_options {
            letters.swap(place, other);
            if too_long(letters) > runs {
                letters.swap(place, other);
            }
        }
    }
}

/// How many places end a run that is too long.
fn too_long(letters: &[usize]) -> usize {
    letters
        .windows(LONGEST_RUN + 1)
        .filter(|window| window.iter().all(|letter| *letter == window[0]))
        .count()
}

fn longest_run(letters: &[usize]) -> usize {
    let same = letters.chunk_by(|one, two| one == two);
    same.map(<[usize]>::len).max().unwrap_or(0)
}
