//! Reads a variant question from a text.

use std::collections::BTreeSet;

use alcoholometry::{Computation, Mistake};
use base::tree::{Tree, Value};
use base::walk::{Fields, Walk};
use base::{Fault, Text};

use super::{FEWEST_DRAWINGS, NumberRange, Recipe, Variant, WrongRecipe, WrongWay};
use crate::drawn_numbers::is_name;
use crate::formula::Formula;
use crate::question_kind::{QuestionKind, ShortAnswer};
use crate::read::aligned_texts;

const LARGEST: f64 = 1e9;
const MOST_DECIMALS: u32 = 6;
const MOST_NAMES: usize = 8;
/// With the key they make seven options, as many as any choice may have.
const MOST_MISTAKES: usize = 6;

impl Variant {
    /// Reads one from a text.
    pub(crate) fn read<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Self> {
        let mut fields = walk.fields(tree, "a variant question")?;
        let stem_tree = fields.required(walk, "stem");
        let stem = stem_tree.and_then(|t| walk.letters(t));
        let draw_tree = fields.required(walk, "draw");
        let draw = draw_tree.and_then(|t| read_draw(walk, t));
        let key = read_key(walk, &mut fields, draw.as_deref());
        let unit = fields.required(walk, "unit").and_then(|t| walk.letters(t));
        let unit_words = unit.clone().unwrap_or_default();
        let decimals = fields
            .required(walk, "decimals")
            .and_then(|t| walk.whole(t, 0..=MOST_DECIMALS));
        let distance = |walk: &mut Walk<'t>, t| walk.number(t, 0.0..=LARGEST, &unit_words);
        let tolerance = fields
            .required(walk, "tolerance")
            .and_then(|t| distance(walk, t));
        let half_tree = fields.optional("half_within");
        let half_within = half_tree.and_then(|t| distance(walk, t));
        let apart = fields.optional("apart").map(|t| distance(walk, t));
        let mistakes_tree = fields.optional("mistakes");
        let mistakes = match mistakes_tree {
            Some(t) => read_mistakes(walk, t, key.as_ref(), draw.as_deref()),
            None => Some(Vec::new()),
        };
        let options_tree = fields.optional("options");
        let options = match options_tree {
            Some(t) => walk.truth(t),
            None => Some(false),
        };
        let why = fields.required(walk, "why").and_then(|t| walk.letters(t));
        fields.finish(walk);
        if let (Some(t), Some(half), Some(full)) = (half_tree, half_within, tolerance)
            && half <= full
        {
            let place = walk.place(&t.bytes);
            let what = format!(
                "half marks within {half} would never be given, since full marks are given within {full}"
            );
            walk.note(
                Fault::new("tolerance-order", place, what)
                    .allowed("half_within larger than tolerance"),
            );
        }
        if let (Some(t), Some(true), Some(mistakes)) = (options_tree, options, &mistakes)
            && mistakes.is_empty()
        {
            let place = walk.place(&t.bytes);
            walk.note(
                Fault::new(
                    "number-of-entries",
                    place,
                    "options without a mistake to make them of",
                )
                .allowed("one mistake or more where \"options: true\" is written"),
            );
            return None;
        }
        if let (Some(stem), Some(draw), Some(t)) = (&stem, &draw, stem_tree) {
            check_names(walk, stem, draw, t);
        }
        let tolerance = tolerance?;
        let mut variant = Self {
            stem: stem?,
            draw: draw?,
            key: key?,
            unit: unit?,
            decimals: decimals? as usize,
            tolerance,
            half_within,
            mistakes: mistakes?,
            options: options?,
            apart: match apart {
                Some(apart) => apart?,
                None => 2.0 * tolerance,
            },
            why: why?,
            // Replaced below; a question without a fit drawing is none.
            typical: Box::new(QuestionKind::ShortAnswer(ShortAnswer {
                stem: Text::default(),
                accept: Vec::new(),
                why: Text::default(),
            })),
        };
        let fit: Vec<QuestionKind> = variant.fit_drawings().take(FEWEST_DRAWINGS).collect();
        if fit.len() < FEWEST_DRAWINGS {
            note_too_few(walk, &variant, fit.len(), draw_tree.unwrap_or(tree));
        }
        *variant.typical = fit.into_iter().next()?;
        // A copy lets go of what its formulas computed with.
        Some(variant.clone())
    }
}

impl Variant {
    /// The same question in another language: the stem with all numbers, unit, why, and the whys of
    /// the mistakes in their order.
    pub(super) fn read_translation<'t>(
        &self,
        walk: &mut Walk<'t>,
        tree: &'t Tree,
    ) -> Option<QuestionKind> {
        let mut fields = walk.fields(tree, "a translation")?;
        let stem_tree = fields.required(walk, "stem");
        let stem = stem_tree.and_then(|t| walk.letters(t));
        let unit = fields.optional("unit").and_then(|t| walk.letters(t));
        let why = fields.optional("why").and_then(|t| walk.letters(t));
        let mistakes_tree = fields.optional("mistakes");
        let whys = mistakes_tree.map(|t| aligned_texts(walk, t, "mistakes", self.mistakes.len()));
        fields.finish(walk);
        if let (Some(stem), Some(t)) = (&stem, stem_tree) {
            check_names(walk, stem, &self.draw, t);
        }
        let mut variant = Self {
            stem: stem?,
            unit: unit.unwrap_or_else(|| self.unit.clone()),
            why: why.unwrap_or_else(|| self.why.clone()),
            ..self.clone()
        };
        if let Some(whys) = whys {
            for (mistake, why) in variant.mistakes.iter_mut().zip(whys?) {
                mistake.why = why;
            }
        }
        let typical = variant.fit_drawings().next()?;
        *variant.typical = typical;
        Some(QuestionKind::Variant(Box::new(variant.clone())))
    }
}

fn note_too_few(walk: &mut Walk<'_>, variant: &Variant, fit: usize, tree: &Tree) {
    let refused = variant
        .scattered_drawings()
        .find_map(|drawn| Some((variant.question_of(&drawn).err()?, drawn)));
    let hint = match refused {
        Some((why, drawn)) => format!("widen the ranges; {drawn} is refused: {why}"),
        None => "widen the ranges, or make the steps smaller".to_owned(),
    };
    let place = walk.place(&tree.bytes);
    walk.note(
        Fault::new(
            "too-few-drawings",
            place,
            format!("the ranges leave {fit} fit drawings"),
        )
        .allowed(format!("{FEWEST_DRAWINGS} or more"))
        .hint(hint),
    );
}

/// The ranges in the order of their names; none where one could not be read.
fn read_draw<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Vec<NumberRange>> {
    let named = walk.named(tree, "numbers to draw");
    if !(1..=MOST_NAMES).contains(&named.len()) {
        if matches!(tree.value, Value::Fields(_)) {
            let place = walk.place(&tree.bytes);
            let what = format!("{} numbers to draw", named.len());
            walk.note(
                Fault::new("number-of-entries", place, what).allowed(format!("1 to {MOST_NAMES}")),
            );
        }
        return None;
    }
    let mut ranges = Vec::new();
    for field in named {
        if !is_name(&field.name) {
            let place = walk.place(&field.bytes);
            walk.note(
                Fault::new("bad-name", place, format!("\"{}\" is no name", field.name))
                    .allowed("small letters, digits and _, a letter first, at most 32"),
            );
        }
        let Some(mut fields) = walk.fields(&field.tree, "a range (from, to, step)") else {
            continue;
        };
        let mut part = |walk: &mut Walk<'t>, name| {
            let tree = fields.required(walk, name)?;
            walk.number(tree, -LARGEST..=LARGEST, "")?;
            Some(walk.written(tree))
        };
        let parts = (part(walk, "from"), part(walk, "to"), part(walk, "step"));
        fields.finish(walk);
        if let (Some(from), Some(to), Some(step)) = parts {
            match NumberRange::new(&field.name, from, to, step) {
                Ok(range) => ranges.push(range),
                Err(why) => {
                    let place = walk.place(&field.tree.bytes);
                    walk.note(
                        Fault::new("bad-range", place, why)
                            .allowed("from, to and step as plain decimal numbers, whole steps"),
                    );
                }
            }
        }
    }
    ranges.sort_by(|a, b| a.name.cmp(&b.name));
    (ranges.len() == named.len()).then_some(ranges)
}

/// `compute` or `formula`, exactly one.
fn read_key<'t>(
    walk: &mut Walk<'t>,
    fields: &mut Fields<'t>,
    draw: Option<&[NumberRange]>,
) -> Option<Recipe> {
    match (fields.optional("compute"), fields.optional("formula")) {
        (Some(tree), None) => {
            let computation = walk.choice(tree, &Computation::ALL)?;
            let known = |name: &str| draw.is_none_or(|draw| draw.iter().any(|r| r.name == name));
            let missing: Vec<&str> = computation
                .parameters()
                .iter()
                .filter(|parameter| parameter.usual.is_none() && !known(parameter.name))
                .map(|parameter| parameter.name)
                .collect();
            if !missing.is_empty() {
                let place = walk.place(&tree.bytes);
                let what = format!("{} needs {}", computation.name(), missing.join(", "));
                walk.note(
                    Fault::new("missing-number", place, what)
                        .allowed(parameters_of(computation))
                        .hint("draw it under this name; a number that is the same on every form is drawn from itself to itself"),
                );
                return None;
            }
            Some(Recipe::Named(computation))
        }
        (None, Some(tree)) => read_formula(walk, tree, draw).map(Recipe::Written),
        (None, None) => {
            let place = walk.place(&fields.start());
            walk.note(
                Fault::new("no-key", place, "nothing says how the key is computed")
                    .allowed("compute (a named computation) or formula (plain arithmetic)"),
            );
            None
        }
        (Some(_), Some(tree)) => {
            let place = walk.place(&tree.bytes);
            walk.note(
                Fault::new("two-keys", place, "the key is computed in two ways")
                    .allowed("compute or formula, one of them"),
            );
            None
        }
    }
}

fn parameters_of(computation: Computation) -> String {
    let one = |p: &alcoholometry::Parameter| match p.usual {
        Some(usual) => format!("{} ({}, {usual} where it is not drawn)", p.name, p.unit),
        None => format!("{} ({})", p.name, p.unit),
    };
    let all: Vec<String> = computation.parameters().iter().map(one).collect();
    all.join(", ")
}

fn read_formula<'t>(
    walk: &mut Walk<'t>,
    tree: &'t Tree,
    draw: Option<&[NumberRange]>,
) -> Option<Formula> {
    let text = walk.letters(tree)?;
    let formula = match Formula::parse(&text) {
        Ok(formula) => formula,
        Err(why) => {
            let place = walk.place(&tree.bytes);
            walk.note(
                Fault::new("bad-formula", place, format!("this is no formula: {why}"))
                    .allowed("drawn names and numbers with + - * / ^ and parentheses"),
            );
            return None;
        }
    };
    let draw = draw?;
    let unknown: Vec<&str> = formula
        .names()
        .filter(|name| draw.iter().all(|range| range.name != *name))
        .collect();
    if let Some(first) = unknown.first() {
        let names: Vec<&str> = draw.iter().map(|range| range.name.as_str()).collect();
        let place = walk.place(&tree.bytes);
        walk.note(
            Fault::new(
                "unknown-number",
                place,
                format!("{} is not drawn", unknown.join(", ")),
            )
            .allowed(names.join(", "))
            .near(first, names.iter().copied()),
        );
        return None;
    }
    Some(formula)
}

fn read_mistakes<'t>(
    walk: &mut Walk<'t>,
    tree: &'t Tree,
    key: Option<&Recipe>,
    draw: Option<&[NumberRange]>,
) -> Option<Vec<WrongWay>> {
    let items = walk.list(tree, "mistakes");
    if items.len() > MOST_MISTAKES {
        let place = walk.place(&tree.bytes);
        let what = format!("{} mistakes", items.len());
        walk.note(
            Fault::new("number-of-entries", place, what)
                .allowed(format!("at most {MOST_MISTAKES}")),
        );
        return None;
    }
    let mut ways = Vec::new();
    for item in items {
        let Some(mut fields) = walk.fields(item, "a mistake") else {
            continue;
        };
        let (name, formula) = (fields.optional("name"), fields.optional("formula"));
        let recipe = match (name, formula) {
            (Some(tree), None) => named_mistake(walk, tree, key),
            (None, Some(tree)) => read_formula(walk, tree, draw).map(WrongRecipe::Written),
            (None, None) | (Some(_), Some(_)) => {
                let place = walk.place(&fields.start());
                walk.note(
                    Fault::new(
                        "no-mistake",
                        place,
                        "it is not said how this mistake is computed",
                    )
                    .allowed("name (a named mistake) or formula, one of them"),
                );
                None
            }
        };
        let why = fields.required(walk, "why").and_then(|t| walk.letters(t));
        fields.finish(walk);
        if let (Some(recipe), Some(why)) = (recipe, why) {
            ways.push(WrongWay { recipe, why });
        }
    }
    let whole = matches!(tree.value, Value::List(_)) && ways.len() == items.len();
    whole.then_some(ways)
}

fn named_mistake<'t>(
    walk: &mut Walk<'t>,
    tree: &'t Tree,
    key: Option<&Recipe>,
) -> Option<WrongRecipe> {
    let computation = match key? {
        Recipe::Named(computation) => *computation,
        Recipe::Written(_) => {
            let place = walk.place(&tree.bytes);
            walk.note(
                Fault::new(
                    "unknown-mistake",
                    place,
                    "a named mistake belongs to a named computation",
                )
                .allowed("formula, where the key is a formula")
                .hint("write the wrong way as a formula too"),
            );
            return None;
        }
    };
    let known: Vec<(&str, Mistake)> = Mistake::ALL
        .into_iter()
        .filter(|(_, mistake)| mistake.is_of(computation))
        .collect();
    let mistake = walk.choice(tree, &known)?;
    Some(WrongRecipe::Named(computation, mistake))
}

/// Every drawn number must be told in the stem, and everything in braces must be drawn.
fn check_names(walk: &mut Walk<'_>, stem: &str, draw: &[NumberRange], tree: &Tree) {
    let mut told = BTreeSet::new();
    let mut rest = stem;
    while let Some((_, after)) = rest.split_once('{') {
        let Some((name, behind)) = after.split_once('}') else {
            break;
        };
        told.insert(name);
        rest = behind;
    }
    let names: Vec<&str> = draw.iter().map(|range| range.name.as_str()).collect();
    for name in &told {
        if !names.contains(name) {
            let place = walk.place(&tree.bytes);
            let what = format!("the stem has {{{name}}}, which is not drawn");
            walk.note(
                Fault::new("unknown-number", place, what)
                    .allowed(names.join(", "))
                    .near(name, names.iter().copied()),
            );
        }
    }
    for name in names.iter().filter(|name| !told.contains(*name)) {
        let place = walk.place(&tree.bytes);
        let what = format!("\"{name}\" is drawn, and the stem does not tell it");
        walk.note(
            Fault::new("untold-number", place, what)
                .hint(format!("write {{{name}}} where the number is to stand")),
        );
    }
}
