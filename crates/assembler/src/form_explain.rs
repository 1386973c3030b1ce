//! Why no forms can be drawn: a smallest set of clauses that cannot hold together, and what would
//! help, cheapest first.
//!
//! The set is found by leaving out one clause after another and keeping out each without which the
//! rest still cannot hold (a deletion filter; Chinneck and Dravnieks 1991). None of the clauses
//! that remain can then be done without; another set as small may exist. Every remedy that is told
//! was tried against all clauses. Their order is this project's choice: a looser number in the plan
//! costs 1 for each unit, a question less 2, two enemies less 3, a question to be written 4.

use std::cell::Cell;
use std::collections::BTreeSet;

use crate::form_feasible::{Clause, Feasible, clauses, feasible};
use crate::form_model::{FormModel, ModelItem};

/// After the solver gave up so often nothing more is decided.
const MOST_GIVEN_UP: usize = 4;
/// A remedy is looked for up to so many units.
const MOST_UNITS: usize = 40;

/// Why no forms can be drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Explanation {
    /// The clauses that cannot hold together.
    pub clauses: Vec<Clause>,
    /// They in words, one sentence.
    pub words: String,
    /// What would help, cheapest first; each alone is enough.
    pub remedies: Vec<Remedy>,
}

/// One thing that alone would make the forms possible.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remedy {
    /// Its price, for the order.
    pub price: usize,
    /// "write 3 more for cell maturation, application".
    pub words: String,
}

/// What can be said of a program for which the search found no start.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reason {
    /// Forms exist, though the search found none.
    Possible,
    /// They do not, and this is why.
    Impossible(Explanation),
    /// It could not be decided.
    Undecided,
}

/// Decides whether forms exist, and explains where they do not.
#[must_use]
pub fn explain(model: &FormModel) -> Reason {
    let judge = Judge::new();
    let all: BTreeSet<Clause> = clauses(model).into_iter().collect();
    let mut kept = all.clone();
    kept.remove(&Clause::Overlap);
    // What not even one form can keep is told without the overlap, and found much sooner.
    if kept.len() == all.len() || judge.feasible(model, &kept) != Feasible::No {
        kept = all;
        match judge.feasible(model, &kept) {
            Feasible::Yes => return Reason::Possible,
            Feasible::Undecided => return Reason::Undecided,
            Feasible::No => {}
        }
    }
    // Many clauses go at once where that is possible: halves first, then single ones.
    let order = clauses(model);
    let mut width = order.len().div_ceil(2).max(1);
    loop {
        for chunk in order.chunks(width) {
            let without: BTreeSet<Clause> = kept
                .iter()
                .filter(|clause| !chunk.contains(clause))
                .copied()
                .collect();
            if without.len() < kept.len() && judge.feasible(model, &without) == Feasible::No {
                kept = without;
            }
        }
        if width == 1 {
            break;
        }
        width = width.div_ceil(2);
    }
    let words = in_words(model, &kept);
    let mut remedies = remedies(model, &kept, &judge);
    remedies.sort_by(|one, other| (one.price, &one.words).cmp(&(other.price, &other.words)));
    Reason::Impossible(Explanation {
        clauses: kept.into_iter().collect(),
        words,
        remedies,
    })
}

/// Decides feasibility until the solver gave up too often; then nothing more is decided, so that an
/// explanation ends. What it leaves out is a shorter set, or a remedy; what it says stays true.
struct Judge {
    given_up: Cell<usize>,
}

impl Judge {
    const fn new() -> Self {
        Self {
            given_up: Cell::new(0),
        }
    }
    fn feasible(&self, model: &FormModel, kept: &BTreeSet<Clause>) -> Feasible {
        if self.given_up.get() >= MOST_GIVEN_UP {
            return Feasible::Undecided;
        }
        let found = feasible(model, kept);
        if found == Feasible::Undecided {
            self.given_up.set(self.given_up.get() + 1);
        }
        found
    }
}

/// The clauses as one sentence: what is asked, under which conditions, and what the bank has.
fn in_words(model: &FormModel, kept: &BTreeSet<Clause>) -> String {
    let mut asked = Vec::new();
    let mut under = Vec::new();
    let mut enemies: BTreeSet<usize> = BTreeSet::new();
    let lines = |clause: &Clause| match clause {
        Clause::Line(line) => Some(*line),
        Clause::Sum(_)
        | Clause::Set(_)
        | Clause::Enemies(_)
        | Clause::Anchors
        | Clause::Length
        | Clause::Overlap => None,
    };
    let with_forms = kept.contains(&Clause::Overlap) && model.forms > 1;
    for line in kept.iter().filter_map(lines) {
        let Some(asks) = model.lines.get(line) else {
            continue;
        };
        let has = model.items.iter().filter(|item| item.line == line).count();
        let number = if asks.least == asks.most {
            asks.least.to_string()
        } else {
            format!("{} to {}", asks.least, asks.most)
        };
        let times = if with_forms {
            format!(" × {} forms", model.forms)
        } else {
            String::new()
        };
        asked.push(format!(
            "{} asks {number} a form{times}, and the bank has {has}",
            asks.words
        ));
    }
    for clause in kept {
        match clause {
            Clause::Line(_) => {}
            Clause::Length => asked.push(format!(
                "a form has {}{}, and the bank has {} for all of it",
                match model.length {
                    1 => "1 question".to_owned(),
                    n => format!("{n} questions"),
                },
                if with_forms {
                    format!(" × {} forms", model.forms)
                } else {
                    String::new()
                },
                model.items.len()
            )),
            Clause::Overlap => {
                under.push(format!("an overlap of at most {}", whole_overlap(model)));
            }
            Clause::Anchors => under.push(format!(
                "{} on every form",
                match model.anchors.len() {
                    1 => "1 anchor".to_owned(),
                    n => format!("{n} anchors"),
                }
            )),
            Clause::Sum(number) => {
                if let Some(sum) = model.sums.get(*number) {
                    let bounds = match (sum.least, sum.most) {
                        (Some(least), Some(most)) => format!("{least} to {most}"),
                        (Some(least), None) => format!("at least {least}"),
                        (None, Some(most)) => format!("at most {most}"),
                        (None, None) => "any number of".to_owned(),
                    };
                    under.push(format!("{bounds} {}", sum.words));
                }
            }
            Clause::Set(number) => {
                if let Some(set) = model.sets.get(*number) {
                    under.push(format!(
                        "{}: {} to {} together",
                        set.words, set.least, set.most
                    ));
                }
            }
            Clause::Enemies(number) => {
                if let Some(&(one, other)) = model.enemies.get(*number) {
                    enemies.extend([one, other]);
                }
            }
        }
    }
    if !enemies.is_empty() {
        let name = |item: &usize| {
            let name = model
                .items
                .get(*item)
                .map_or("?", |item| item.name.as_str());
            format!("\"{name}\"")
        };
        let names: Vec<String> = enemies.iter().take(8).map(name).collect();
        let more = match enemies.len() {
            0..=8 => String::new(),
            n => format!(" and {} more", n - 8),
        };
        under.push(format!("the enemies {}{more}", names.join(", ")));
    }
    let mut words = asked.join("; ");
    if words.is_empty() {
        "these do not go together: ".clone_into(&mut words);
    } else if !under.is_empty() {
        words.push_str("; this cannot be had with ");
    }
    words.push_str(&under.join(" and "));
    words
}

/// The overlap as the plan means it, anchors included.
fn whole_overlap(model: &FormModel) -> usize {
    model.overlap.unwrap_or(0) + model.anchors.len()
}

/// Everything that alone would help, each tried.
fn remedies(model: &FormModel, kept: &BTreeSet<Clause>, judge: &Judge) -> Vec<Remedy> {
    let all: BTreeSet<Clause> = clauses(model).into_iter().collect();
    let works = |model: &FormModel| judge.feasible(model, &all) == Feasible::Yes;
    let mut found = Vec::new();
    for clause in kept {
        match clause {
            Clause::Overlap => {
                let looser = |units: usize| FormModel {
                    overlap: model.overlap.map(|overlap| overlap + units),
                    ..model.clone()
                };
                if let Some(units) = least_units(&|units| works(&looser(units)), MOST_UNITS) {
                    found.push(Remedy {
                        price: units,
                        words: format!("allow an overlap of {}", whole_overlap(model) + units),
                    });
                }
            }
            Clause::Line(line) => {
                let Some(asks) = model.lines.get(*line) else {
                    continue;
                };
                let with_more = |units: usize| with_written(model, *line, units);
                if let Some(units) = least_units(&|units| works(&with_more(units)), MOST_UNITS) {
                    found.push(Remedy {
                        price: 4 * units,
                        words: format!("write {units} more for {}", asks.words),
                    });
                }
                if asks.least < asks.most {
                    let wider = |units: usize| allowing_more(model, *line, units);
                    if let Some(units) = least_units(&|units| works(&wider(units)), MOST_UNITS) {
                        found.push(Remedy {
                            price: units,
                            words: format!(
                                "ask {} to {} of {}",
                                asks.least,
                                asks.most + units,
                                asks.words
                            ),
                        });
                    }
                }
                let fewer = |units: usize| asking_fewer(model, *line, units);
                if let Some(units) = least_units(&|units| works(&fewer(units)), asks.least) {
                    found.push(Remedy {
                        price: 2 * units,
                        words: if asks.least == asks.most {
                            format!("ask {} of {}", asks.least - units, asks.words)
                        } else {
                            format!(
                                "ask {} to {} of {}",
                                asks.least - units,
                                asks.most,
                                asks.words
                            )
                        },
                    });
                }
            }
            Clause::Length => found.extend(other_length(model, &works)),
            Clause::Enemies(number) => {
                let mut without = model.clone();
                without.enemies.remove(*number);
                if works(&without)
                    && let Some(&(one, other)) = model.enemies.get(*number)
                    && let (Some(one), Some(other)) = (model.items.get(one), model.items.get(other))
                {
                    found.push(Remedy {
                        price: 3,
                        words: format!(
                            "let \"{}\" and \"{}\" stand together",
                            one.name, other.name
                        ),
                    });
                }
            }
            Clause::Anchors => {
                for (place, &anchor) in model.anchors.iter().enumerate() {
                    let mut without = model.clone();
                    without.anchors.remove(place);
                    if works(&without)
                        && let Some(item) = model.items.get(anchor)
                    {
                        found.push(Remedy {
                            price: 3,
                            words: format!("take \"{}\" off the anchors", item.name),
                        });
                        break;
                    }
                }
            }
            Clause::Sum(number) => found.extend(looser_sum(model, *number, &works)),
            Clause::Set(number) => {
                let mut without = model.clone();
                without.sets.remove(*number);
                if works(&without)
                    && let Some(set) = model.sets.get(*number)
                {
                    found.push(Remedy {
                        price: 3,
                        words: format!("let the questions of {} stand apart", set.words),
                    });
                }
            }
        }
    }
    found
}

/// Forms that are shorter or longer by the fewest questions.
fn other_length(model: &FormModel, works: &dyn Fn(&FormModel) -> bool) -> Option<Remedy> {
    let of = |length: usize| FormModel {
        length,
        ..model.clone()
    };
    for units in 1..=MOST_UNITS {
        let shorter = model.length.checked_sub(units).filter(|length| *length > 0);
        for length in shorter.into_iter().chain([model.length + units]) {
            if works(&of(length)) {
                return Some(Remedy {
                    price: units,
                    words: format!("let a form have {length} questions"),
                });
            }
        }
    }
    None
}

/// The least number of units that works, where more never works worse: doubling, then halving.
fn least_units(works: &dyn Fn(usize) -> bool, most: usize) -> Option<usize> {
    let mut high = 1;
    let mut low = 0;
    while high <= most && !works(high) {
        low = high;
        if high == most {
            return None;
        }
        high = (high * 2).min(most);
    }
    if high > most {
        return None;
    }
    while high - low > 1 {
        let middle = low.midpoint(high);
        if works(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(high)
}

/// The program with so many more questions of a line, without enemies, each adding to the sums
/// what the questions of the line add on average.
fn with_written(model: &FormModel, line: usize, more: usize) -> FormModel {
    let mut with = model.clone();
    let of_line: Vec<usize> = (0..model.items.len())
        .filter(|&i| model.items[i].line == line)
        .collect();
    for number in 0..more {
        with.items.push(ModelItem {
            name: format!("to be written {number}"),
            line,
            shared_counts: of_line
                .first()
                .is_none_or(|&i| model.items[i].shared_counts),
        });
    }
    for sum in &mut with.sums {
        let known: Vec<i64> = of_line
            .iter()
            .filter_map(|&i| sum.weights.get(i))
            .copied()
            .collect();
        let mean = known.iter().sum::<i64>() / (known.len() as i64).max(1);
        sum.weights.resize(with.items.len(), mean);
    }
    for target in &mut with.targets {
        target.weights.resize(with.items.len(), 0);
    }
    with
}

/// The program asking so many fewer of a line, forms being that much shorter.
fn asking_fewer(model: &FormModel, line: usize, fewer: usize) -> FormModel {
    let mut asking = model.clone();
    if let Some(line) = asking.lines.get_mut(line) {
        let exact = line.least == line.most;
        line.least = line.least.saturating_sub(fewer);
        if exact {
            line.most = line.least;
            asking.length = asking.length.saturating_sub(fewer);
        }
    }
    asking
}

/// The program allowing so many more of a line that asks for a range.
fn allowing_more(model: &FormModel, line: usize, more: usize) -> FormModel {
    let mut allowing = model.clone();
    if let Some(line) = allowing.lines.get_mut(line) {
        line.most = line.most.saturating_add(more);
    }
    allowing
}

/// The smallest widening of a bounded sum that works, to the nearest unit.
fn looser_sum(
    model: &FormModel,
    number: usize,
    works: &dyn Fn(&FormModel) -> bool,
) -> Option<Remedy> {
    let sum = model.sums.get(number)?;
    let looser = |units: usize| {
        let mut looser = model.clone();
        let units = i64::try_from(units).unwrap_or(i64::MAX);
        if let Some(sum) = looser.sums.get_mut(number) {
            sum.most = sum.most.map(|most| most.saturating_add(units));
            sum.least = sum.least.map(|least| least.saturating_sub(units));
        }
        looser
    };
    let widest: i64 = sum
        .weights
        .iter()
        .map(|weight| weight.abs())
        .fold(0, i64::saturating_add);
    let widest = usize::try_from(widest).unwrap_or(usize::MAX).min(1 << 24);
    let units = least_units(&|units| works(&looser(units)), widest)?;
    let units = i64::try_from(units).ok()?;
    let words = match (sum.least, sum.most) {
        (_, Some(most)) => format!("allow {} {}", most.saturating_add(units), sum.words),
        (Some(least), None) => format!("be content with {} {}", least - units, sum.words),
        (None, None) => return None,
    };
    // A unit of a large sum is a small thing: a tenth of the bound costs as much as a question less.
    let whole = sum.most.or(sum.least).unwrap_or(1).unsigned_abs().max(1);
    let price = (20 * units.unsigned_abs() / whole).max(1);
    Some(Remedy {
        price: usize::try_from(price).unwrap_or(usize::MAX),
        words,
    })
}
