//! Reads the rules of a flight: floor of the key, releases, days open, what was taught.

use base::tree::Tree;
use base::walk::{Fields, Walk};
use base::{Fault, Place, SampleId};
use question_bank::panel_support::KeyFloor;

use crate::flight_rules::{AromaOf, FlightRules, KeyRelease, Taught, TaughtRule};

/// Takes the rules out of the fields of a tasting part.
pub(super) fn read_rules<'t>(walk: &mut Walk<'t>, fields: &mut Fields<'t>) -> Option<FlightRules> {
    let usual = FlightRules::default();
    let floor = fields
        .optional("key_floor")
        .map_or(Some(usual.floor), |t| floor(walk, t));
    let mut released = Vec::new();
    if let Some(tree) = fields.optional("released") {
        for item in walk.list(tree, "released keys") {
            released.extend(release(walk, item));
        }
    }
    let days_open = match fields.optional("open_at_most") {
        Some(t) => Some(walk.whole(t, 0..=3650)?),
        None => None,
    };
    let taught = fields
        .optional("taught")
        .map_or(Some(usual.taught), |t| taught(walk, t));
    let kits_have_own_codes = fields
        .optional("kit_codes")
        .map_or(Some(usual.kits_have_own_codes), |t| {
            walk.choice(t, &[("shared", false), ("own", true)])
        });
    let aroma_of = fields
        .optional("aroma_of")
        .map_or(Some(AromaOf::Together), |t| walk.choice(t, &AromaOf::ALL));
    Some(FlightRules {
        aroma_of: aroma_of?,
        kits_have_own_codes: kits_have_own_codes?,
        floor: floor?,
        released,
        days_open,
        taught: taught?,
    })
}

fn floor<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<KeyFloor> {
    let usual = KeyFloor::default();
    let mut fields = walk.fields(tree, "a floor of the key")?;
    let whole = |walk: &mut Walk<'t>, tree: Option<&'t Tree>, usual: usize, most: u32| match tree {
        None => Some(usual),
        Some(t) => walk
            .whole(t, 1..=most)
            .and_then(|n| usize::try_from(n).ok()),
    };
    let assessors = fields.optional("assessors");
    let assessors = whole(walk, assessors, usual.assessors, 200);
    let required = fields.optional("required");
    let required = whole(walk, required, usual.required, 50);
    let reliability = fields
        .optional("reliability")
        .map_or(Some(usual.reliability * 100.0), |t| {
            walk.number(t, 0.0..=100.0, "per cent")
        });
    fields.finish(walk);
    Some(KeyFloor {
        assessors: assessors?,
        required: required?,
        reliability: reliability? / 100.0,
    })
}

fn release<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<KeyRelease> {
    let mut fields = walk.fields(tree, "a released key")?;
    let place = walk.place(&tree.bytes);
    let sample = fields
        .required(walk, "sample")
        .and_then(|t| walk.id::<SampleId>(t));
    let mut words = |walk: &mut Walk<'t>, name: &'static str| {
        let tree = fields.required(walk, name)?;
        let text = walk.text(tree)?;
        if text.trim().is_empty() {
            let place = walk.place(&tree.bytes);
            walk.note(
                Fault::new("empty-text", place, format!("\"{name}\" is empty"))
                    .hint("a release names who decided and why"),
            );
            return None;
        }
        Some(text)
    };
    let by = words(walk, "by");
    let because = words(walk, "because");
    fields.finish(walk);
    Some(KeyRelease {
        sample: sample?,
        by: by?,
        because: because?,
        place,
    })
}

fn taught<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Taught> {
    let mut fields = walk.fields(tree, "what was taught in class")?;
    let list = fields.optional("samples");
    let mut samples: Vec<(SampleId, Place)> = Vec::new();
    for item in list.map_or(&[][..], |t| walk.list(t, "sample records")) {
        if let Some(id) = walk.id::<SampleId>(item) {
            samples.push((id, walk.place(&item.bytes)));
        }
    }
    let folders = fields.optional("classes");
    let mut classes: Vec<(String, Place)> = Vec::new();
    for item in folders.map_or(&[][..], |t| walk.list(t, "folders of classes")) {
        if let Some(folder) = walk.text(item) {
            classes.push((folder, walk.place(&item.bytes)));
        }
    }
    if list.is_none() && folders.is_none() {
        let place = walk.place(&fields.start());
        walk.note(
            Fault::new(
                "nothing-taught",
                place,
                "this says nothing of what was taught",
            )
            .allowed("samples: a list of sample records; classes: a list of folders of classes"),
        );
    }
    let in_flight = fields
        .optional("in_flight")
        .map_or(Some(TaughtRule::default()), |t| {
            walk.choice(
                t,
                &[
                    ("allowed", TaughtRule::Allowed),
                    ("barred", TaughtRule::Barred),
                    ("wanted", TaughtRule::Wanted),
                ],
            )
        });
    fields.finish(walk);
    Some(Taught {
        samples,
        classes,
        in_flight: in_flight?,
    })
}
