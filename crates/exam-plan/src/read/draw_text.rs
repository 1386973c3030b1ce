//! Reads how forms are drawn: a word, or what a draw near the best keeps and aims at.

use std::str::FromStr;

use base::Fault;
use base::tree::{Tree, Value};
use base::walk::Walk;

use crate::plan::{Draw, InformationTarget, NearBest};

/// Reads `draw:`.
pub(super) fn read_draw<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Draw> {
    match &tree.value {
        Value::Fields(_) => near_best(walk, tree).map(|near| Draw::NearBest(Box::new(near))),
        Value::Nothing | Value::Truth(_) | Value::Number | Value::Text(_) | Value::List(_) => {
            let near = walk.choice(tree, &[("by-lot", false), ("near-best", true)])?;
            let place = walk.place(&tree.bytes);
            Some(if near {
                Draw::NearBest(Box::new(NearBest::plain(Some(place))))
            } else {
                Draw::ByLot
            })
        }
    }
}

fn near_best<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<NearBest> {
    let mut near = NearBest::plain(Some(walk.place(&tree.bytes)));
    let mut fields = walk.fields(tree, "a draw near the best")?;
    let mut sound = true;
    if let Some(list) = fields.optional("target") {
        for item in walk.list(list, "the targets") {
            match target(walk, item) {
                Some(target) if near.target.iter().any(|t| t.ability == target.ability) => {
                    let place = walk.place(&item.bytes);
                    walk.note(
                        Fault::new(
                            "doubled-target",
                            place,
                            format!("ability {} has two targets", target.ability),
                        )
                        .hint("keep one of them"),
                    );
                    sound = false;
                }
                Some(target) => near.target.push(target),
                None => sound = false,
            }
        }
    }
    if let Some(tree) = fields.optional("words") {
        near.words = walk.whole(tree, 1..=100_000);
        sound &= near.words.is_some();
    }
    if let Some(tree) = fields.optional("same_letter") {
        near.same_letter = walk.whole(tree, 0..=500);
        sound &= near.same_letter.is_some();
    }
    if let Some(tree) = fields.optional("used_lately") {
        near.used_lately = used_lately(walk, tree);
        sound &= near.used_lately.is_some();
    }
    if let Some(list) = fields.optional("anchors") {
        for item in walk.list(list, "the anchors") {
            match walk.id(item) {
                Some(id) => near.anchors.push((id, walk.place(&item.bytes))),
                None => sound = false,
            }
        }
    }
    fields.finish(walk);
    sound.then_some(near)
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
        ability: ability?,
        information: information?,
    })
}

fn used_lately<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<(String, u32)> {
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
    Some((since?, at_most?))
}
