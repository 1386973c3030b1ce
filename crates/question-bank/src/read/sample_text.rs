//! Reads `samples/ID.yaml`: what is in a bottle.

use std::collections::BTreeSet;
use std::ops::Range;

use base::tree::{Tree, Value, read_tree};
use base::walk::{Fields, Walk, shortened};
use base::{Fault, NodeId, SampleId, SourceText};

use super::bank_folder::SampleTexts;
use super::calendar_date::read_date;
use super::panel_table::{read_panel_table, unknown_descriptor};
use crate::lexicon::Lexicon;
use crate::reference_tasting::ReferenceTasting;
use crate::sample_record::{Age, CarryOver, SampleRecord};
use crate::taxonomy::Taxonomy;
use crate::word_match::{How, Resolved, resolve};

/// What a sample record is measured against; none where it could not be read itself.
#[derive(Clone, Copy)]
pub(crate) struct Surroundings<'l> {
    pub(crate) lexicon: Option<&'l Lexicon>,
    pub(crate) categories: Option<&'l Taxonomy>,
    pub(crate) regions: Option<&'l Taxonomy>,
}

/// A sample record as far as it could be read.
pub(crate) struct ReadSample {
    pub(crate) id: Option<(SampleId, base::Place)>,
    pub(crate) record: Option<SampleRecord>,
}

/// Reads a record and its panel.
pub(crate) fn read_sample(
    texts: &SampleTexts,
    around: Surroundings<'_>,
    faults: &mut Vec<Fault>,
) -> ReadSample {
    let tasting = match &texts.panel {
        Some(panel) => read_panel_table(panel, around.lexicon, faults),
        None => ReferenceTasting::default(),
    };
    let nothing = ReadSample {
        id: None,
        record: None,
    };
    let source = &texts.record;
    let tree = match read_tree(source) {
        Ok(tree) => tree,
        Err(fault) => {
            faults.push(*fault);
            return nothing;
        }
    };
    let mut walk = Walk::new(source);
    let read = read_record(&mut walk, &tree, around, tasting);
    if let Some(read) = &read
        && let Some((id, place)) = &read.id
    {
        if let Some(stem) = stem_of(source).filter(|stem| *stem != id.as_str()) {
            walk.note(
                Fault::new(
                    "id-not-file-name",
                    place.clone(),
                    format!(
                        "the sample \"{id}\" stands in a file called \"{}\"",
                        shortened(stem)
                    ),
                )
                .hint("call both alike, so that the panel's table is found"),
            );
        }
        if texts.panel.is_none() {
            walk.note(
                Fault::weakness(
                    "no-panel",
                    place.clone(),
                    format!("the sample \"{id}\" has no reference panel: aromas cannot be marked"),
                )
                .hint(format!("add {id}.panel.csv beside it")),
            );
        }
    }
    faults.extend(walk.finish());
    read.unwrap_or(nothing)
}

/// Reads what stands in the text.
pub(crate) fn read_record<'t>(
    walk: &mut Walk<'t>,
    tree: &'t Tree,
    around: Surroundings<'_>,
    tasting: ReferenceTasting,
) -> Option<ReadSample> {
    let mut fields = walk.fields(tree, "a sample record")?;
    let inner = fields.required(walk, "sample");
    fields.finish(walk);
    read_fields(walk, inner?, around, tasting)
}

/// The file's name without folder and ending.
fn stem_of(source: &SourceText) -> Option<&str> {
    let file = source.name.as_str().rsplit(['/', '\\']).next()?;
    Some(
        file.strip_suffix(".yaml")
            .or_else(|| file.strip_suffix(".yml"))
            .unwrap_or(file),
    )
}

fn read_fields<'t>(
    walk: &mut Walk<'t>,
    tree: &'t Tree,
    around: Surroundings<'_>,
    tasting: ReferenceTasting,
) -> Option<ReadSample> {
    let mut fields = walk.fields(tree, "a sample")?;
    let id_tree = fields.required(walk, "id");
    let id = id_tree.and_then(|t| walk.id::<SampleId>(t));
    let place = walk.place(&id_tree.map_or_else(|| fields.start(), |t| t.bytes.clone()));
    let name = fields.required(walk, "name").and_then(|t| walk.text(t));
    let producer = fields.required(walk, "producer").and_then(|t| walk.text(t));
    let category = fields
        .required(walk, "category")
        .and_then(|t| node(walk, t, around.categories, "category"));
    let region = fields
        .required(walk, "region")
        .and_then(|t| node(walk, t, around.regions, "region"));
    let mut accepted_regions = Vec::new();
    if let Some(t) = fields.optional("accepted_regions") {
        for item in walk.list(t, "region ids") {
            accepted_regions.extend(node(walk, item, around.regions, "region"));
        }
    }
    let age = fields.required(walk, "age").and_then(|t| read_age(walk, t));
    let strength = fields
        .required(walk, "strength")
        .and_then(|t| walk.number(t, 1.0..=96.0, "% vol"));
    let cask = fields.optional("cask").and_then(|t| walk.text(t));
    let lot = fields.optional("lot").and_then(|t| walk.text(t));
    let panel_lot = fields.optional("panel_lot").and_then(|t| walk.text(t));
    let opened = fields.optional("opened").and_then(|t| read_date(walk, t));
    let bottle = fields
        .required(walk, "bottle")
        .and_then(|t| walk.whole(t, 10..=10_000));
    let allergens = match fields.optional("allergens") {
        Some(t) => walk.texts(t, "allergens"),
        None => Vec::new(),
    };
    let carry_over = match fields.optional("carry_over") {
        Some(t) => walk.choice(
            t,
            &[
                ("ordinary", CarryOver::Ordinary),
                ("heavy", CarryOver::Heavy),
            ],
        ),
        None => Some(CarryOver::Ordinary),
    };
    let contradicts = fields
        .optional("contradicts")
        .map_or_else(Vec::new, |t| read_contradicts(walk, t, around.lexicon));
    let fault = fields
        .optional("fault")
        .and_then(|t| read_fault(walk, t, around.lexicon));
    let colour = scale(walk, &mut fields, "colour", 0..=10);
    let body = scale(walk, &mut fields, "body", 1..=5);
    let finish = scale(walk, &mut fields, "finish", 1..=5);
    let source = fields.required(walk, "source").and_then(|t| walk.text(t));
    let describe = fields.required(walk, "describe").and_then(|t| walk.text(t));
    // Room for the author's remarks; nothing is computed from it.
    let _remark = fields.optional("families_note").and_then(|t| walk.text(t));
    fields.finish(walk);
    let spot = place.clone();
    let record = (|| {
        Some(SampleRecord {
            id: id.clone()?,
            place,
            name: name?,
            producer: producer?,
            category: category?,
            region: region?,
            accepted_regions,
            age: age?,
            strength: strength?,
            cask,
            lot,
            panel_lot,
            opened: opened.map(String::from),
            bottle: bottle?,
            allergens,
            carry_over: carry_over?,
            contradicts,
            fault,
            colour,
            body,
            finish,
            source: source?,
            describe: describe?,
            tasting,
        })
    })();
    Some(ReadSample {
        id: id.map(|id| (id, spot)),
        record,
    })
}

/// A node of a tree, by its id.
fn node<'t>(
    walk: &mut Walk<'t>,
    tree: &'t Tree,
    nodes: Option<&Taxonomy>,
    what: &str,
) -> Option<NodeId> {
    let id = walk.id::<NodeId>(tree)?;
    if let Some(nodes) = nodes.filter(|nodes| nodes.node(&id).is_none()) {
        let place = walk.place(&tree.bytes);
        let known = nodes.nodes().iter().map(|node| node.id.as_str());
        let fault = Fault::new(
            "unknown-node",
            place,
            format!("no {what} \"{id}\" stands in the tree"),
        );
        walk.note(match nodes.find(id.as_str()) {
            Some(meant) => fault.hint(format!("its id is \"{}\"", meant.id)),
            None => fault.near(id.as_str(), known),
        });
    }
    Some(id)
}

fn read_age<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Age> {
    if matches!(tree.value, Value::Fields(_)) {
        let mut fields = walk.fields(tree, "an age")?;
        let years = fields
            .required(walk, "stated")
            .and_then(|t| walk.whole(t, 1..=100));
        fields.finish(walk);
        return years.map(Age::Stated);
    }
    if matches!(tree.value, Value::Number) {
        let place = walk.place(&tree.bytes);
        let written = walk.written(tree);
        walk.note(
            Fault::new(
                "wrong-type",
                place,
                format!("{written} stands where an age is wanted"),
            )
            .allowed("{ stated: YEARS }, none or unknown")
            .hint(format!(
                "write {{ stated: {written} }} for an age on the label"
            )),
        );
        return None;
    }
    walk.choice(tree, &[("none", Age::NotStated), ("unknown", Age::Unknown)])
}

fn scale<'t>(
    walk: &mut Walk<'t>,
    fields: &mut Fields<'t>,
    name: &'static str,
    bounds: std::ops::RangeInclusive<u32>,
) -> Option<u32> {
    fields
        .optional(name)
        .and_then(|tree| walk.whole(tree, bounds))
}

/// Words that contradict the sample, as main words of the lexicon.
fn read_contradicts<'t>(
    walk: &mut Walk<'t>,
    tree: &'t Tree,
    lexicon: Option<&Lexicon>,
) -> Vec<String> {
    let mut words = Vec::new();
    let mut seen = BTreeSet::new();
    for item in walk.list(tree, "words of the lexicon") {
        let Some(written) = walk.text(item) else {
            continue;
        };
        let Some(word) = lexicon_word(walk, &item.bytes, &written, lexicon) else {
            continue;
        };
        if seen.insert(word.clone()) {
            words.push(word);
        } else {
            let place = walk.place(&item.bytes);
            walk.note(
                Fault::new(
                    "doubled-entry",
                    place,
                    format!(
                        "\"{}\" means \"{word}\", which stands here already",
                        shortened(&written)
                    ),
                )
                .hint("remove one of them"),
            );
        }
    }
    words
}

fn lexicon_word(
    walk: &mut Walk<'_>,
    bytes: &Range<usize>,
    written: &str,
    lexicon: Option<&Lexicon>,
) -> Option<String> {
    let Some(lexicon) = lexicon else {
        return Some(written.to_owned());
    };
    let place = walk.place(bytes);
    match resolve(lexicon, written) {
        Resolved::Known { word, how } => {
            match how {
                How::Exact | How::Synonym | How::Plural => {}
                How::Spelling => walk.note(
                    Fault::weakness(
                        "descriptor-slip",
                        place,
                        format!("\"{}\" is read as \"{word}\"", shortened(written)),
                    )
                    .hint(format!("write \"{word}\" if that is meant")),
                ),
            }
            Some(word)
        }
        Resolved::Negated { word, .. } => {
            walk.note(unknown_descriptor(
                place,
                written,
                &[word],
                "what is denied cannot contradict",
            ));
            None
        }
        Resolved::Unknown { near } => {
            walk.note(unknown_descriptor(
                place,
                written,
                &near,
                "it cannot contradict",
            ));
            None
        }
    }
}

/// A fault in the glass: none, or a word for it, which should stand in the lexicon.
fn read_fault<'t>(
    walk: &mut Walk<'t>,
    tree: &'t Tree,
    lexicon: Option<&Lexicon>,
) -> Option<String> {
    let written = walk.text(tree)?;
    if written == "none" {
        return None;
    }
    let Some(lexicon) = lexicon else {
        return Some(written);
    };
    match resolve(lexicon, &written) {
        Resolved::Known { word, .. } => Some(word),
        Resolved::Negated { word, .. } => {
            let place = walk.place(&tree.bytes);
            walk.note(unknown_descriptor(
                place,
                &written,
                &[word],
                "write none where there is no fault",
            ));
            None
        }
        Resolved::Unknown { near } => {
            let place = walk.place(&tree.bytes);
            let mut fault = unknown_descriptor(place, &written, &near, "it is kept as written");
            fault.severity = base::Severity::Weakness;
            walk.note(fault);
            Some(written)
        }
    }
}
