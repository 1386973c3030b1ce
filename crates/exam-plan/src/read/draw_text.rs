//! Reads how forms are drawn: a word, or the rules that a draw keeps and what it aims at.

use std::str::FromStr;

use base::Fault;
use base::tree::{Tree, Value};
use base::walk::Walk;
use base::{Place, QuestionId};

use crate::plan::{Draw, InformationTarget, NearBest, UsedLately, UsedOften};

/// Reads `draw:`.
pub(super) fn read_draw<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Draw> {
    match &tree.value {
        Value::Fields(_) => within_rules(walk, tree),
        Value::Nothing | Value::Truth(_) | Value::Number | Value::Text(_) | Value::List(_) => {
            let near = walk.choice(tree, &WAYS)?;
            let place = walk.place(&tree.bytes);
            Some(if near {
                Draw::NearBest(Box::new(NearBest::plain(Some(place))))
            } else {
                Draw::ByLot
            })
        }
    }
}

/// The words for the ways of drawing, and whether it is the one near the best.
const WAYS: [(&str, bool); 2] = [("by-lot", false), ("near-best", true)];

fn within_rules<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Draw> {
    let mut rules = NearBest::plain(Some(walk.place(&tree.bytes)));
    let mut fields = walk.fields(tree, "a draw within rules")?;
    let mut sound = true;
    let near = fields
        .optional("way")
        .map_or(Some(true), |t| walk.choice(t, &WAYS));
    let target_tree = fields.optional("target");
    if let Some(list) = target_tree {
        for item in walk.list(list, "the targets") {
            match target(walk, item) {
                Some(target) if rules.target.iter().any(|t| t.ability == target.ability) => {
                    let what = format!("ability {} has two targets", target.ability);
                    walk.note(
                        Fault::new("doubled-target", target.place, what).hint("keep one of them"),
                    );
                    sound = false;
                }
                Some(target) => rules.target.push(target),
                None => sound = false,
            }
        }
    }
    if let (Some(false), Some(list)) = (near, target_tree) {
        let place = walk.place(&list.bytes);
        let what = "a draw by lot aims at no information";
        walk.note(
            Fault::new("idle-target", place, what)
                .allowed("way: near-best with a target, or way: by-lot without one")
                .hint("take the target out, or let the forms be searched for"),
        );
        sound = false;
    }
    for (name, bounds, rule) in [
        ("words", 1..=100_000, &mut rules.words),
        ("same_letter", 0..=500, &mut rules.same_letter),
        ("pictures", 0..=500, &mut rules.pictures),
        ("drawn_numbers", 0..=500, &mut rules.drawn_numbers),
    ] {
        if let Some(tree) = fields.optional(name) {
            *rule = walk.whole(tree, bounds);
            sound &= rule.is_some();
        }
    }
    if let Some(tree) = fields.optional("used_lately") {
        sound &= all_used_lately(walk, tree, &mut rules.used_lately);
    }
    if let Some(tree) = fields.optional("used_often") {
        rules.used_often = used_often(walk, tree);
        sound &= rules.used_often.is_some();
    }
    if let Some(list) = fields.optional("translated") {
        rules.translated = walk.texts(list, "language tags");
    }
    for (name, what, named) in [
        ("anchors", "the anchors", &mut rules.anchors),
        ("links", "the links", &mut rules.links),
    ] {
        if let Some(list) = fields.optional(name) {
            for item in walk.list(list, what) {
                match walk.id(item) {
                    Some(id) => named.push((id, walk.place(&item.bytes))),
                    None => sound = false,
                }
            }
        }
    }
    fields.finish(walk);
    sound &= no_doubles(walk, &rules);
    if !sound {
        return None;
    }
    Some(if near? {
        Draw::NearBest(Box::new(rules))
    } else {
        Draw::ByLotWithin(Box::new(rules))
    })
}

/// Whether no question is named twice among anchors and links.
fn no_doubles(walk: &mut Walk<'_>, rules: &NearBest) -> bool {
    let named: Vec<&(QuestionId, Place)> = rules.anchors.iter().chain(&rules.links).collect();
    let mut sound = true;
    for (number, (id, place)) in named.iter().enumerate() {
        if named.iter().take(number).any(|(other, _)| other == id) {
            let what = format!("\"{id}\" is named twice among anchors and links");
            walk.note(
                Fault::new("doubled-anchor", place.clone(), what)
                    .hint("a question counts, as an anchor, or it does not, as a link"),
            );
            sound = false;
        }
    }
    sound
}

fn target<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<InformationTarget> {
    let mut fields = walk.fields(tree, "a target")?;
    let ability = fields
        .required(walk, "ability")
        .and_then(|t| walk.number(t, -6.0..=6.0, "on the scale of ability"));
    let information = fields
        .required(walk, "information")
        .and_then(|t| walk.number(t, 0.01..=1000.0, "information of a form"));
    fields.finish(walk);
    Some(InformationTarget {
        place: walk.place(&tree.bytes),
        ability: ability?,
        information: information?,
    })
}

/// One bound, or a list of them; whether all were sound.
fn all_used_lately<'t>(walk: &mut Walk<'t>, tree: &'t Tree, found: &mut Vec<UsedLately>) -> bool {
    let items = match &tree.value {
        Value::List(_) => walk.list(tree, "bounds of questions used of late"),
        Value::Nothing | Value::Truth(_) | Value::Number | Value::Text(_) | Value::Fields(_) => {
            std::slice::from_ref(tree)
        }
    };
    let mut sound = true;
    for item in items {
        match used_lately(walk, item) {
            Some(bound) => found.push(bound),
            None => sound = false,
        }
    }
    sound
}

fn used_often<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<UsedOften> {
    let mut fields = walk.fields(tree, "the rule for questions used often")?;
    let sittings = fields
        .required(walk, "sittings")
        .and_then(|t| walk.whole(t, 1..=1000));
    let at_most = fields
        .required(walk, "at_most")
        .and_then(|t| walk.whole(t, 0..=500));
    fields.finish(walk);
    Some(UsedOften {
        sittings: sittings?,
        at_most: at_most?,
    })
}

fn used_lately<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<UsedLately> {
    let mut fields = walk.fields(tree, "the rule for questions used of late")?;
    let since = fields.required(walk, "since").and_then(|t| {
        let text = walk.text(t)?;
        let sound = text.len() == 10 && jiff::civil::Date::from_str(&text).is_ok();
        if !sound {
            let place = walk.place(&t.bytes);
            let what = format!("\"{}\" is no day", base::walk::shortened(&text));
            walk.note(Fault::new("bad-date", place, what).allowed("a calendar day as YYYY-MM-DD"));
        }
        sound.then_some(text)
    });
    let at_most = fields
        .required(walk, "at_most")
        .and_then(|t| walk.whole(t, 0..=500));
    fields.finish(walk);
    Some(UsedLately {
        since: since?,
        at_most: at_most?,
    })
}
