//! Reads `categories.yaml` and `regions.yaml`: a tree of nodes.

use std::collections::BTreeMap;
use std::ops::Range;

use base::tree::{Tree, read_tree};
use base::walk::Walk;
use base::{Checked, Fault, NodeId, SourceText};

use super::question_text::EVIDENCE;
use crate::taxonomy::{Node, NotATree, Taxonomy};
use crate::word_match::fold;

/// Reads a tree of categories or regions.
#[must_use]
pub fn read_tree_of_nodes(source: &SourceText) -> Checked<Taxonomy> {
    let mut faults = Vec::new();
    let tree = read_tree_text(source, &mut faults);
    Checked::new(tree, faults)
}

/// Where the parts of a node stand.
struct NodeBytes {
    id: Range<usize>,
    parent: Option<Range<usize>>,
    inside: Vec<(NodeId, Range<usize>)>,
    names: Vec<(String, Range<usize>)>,
}

/// Reads the text. The tree is handed out where the nodes are one, even beside other faults, so
/// that references into it can be followed.
pub(crate) fn read_tree_text(source: &SourceText, faults: &mut Vec<Fault>) -> Option<Taxonomy> {
    let tree = match read_tree(source) {
        Ok(tree) => tree,
        Err(fault) => {
            faults.push(*fault);
            return None;
        }
    };
    let mut walk = Walk::new(source);
    let taxonomy = read_nodes(&mut walk, &tree);
    faults.extend(walk.finish());
    taxonomy
}

/// Reads what stands in the text.
pub(crate) fn read_nodes<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Taxonomy> {
    let mut fields = walk.fields(tree, "a tree of nodes")?;
    let scheme = fields.required(walk, "scheme").and_then(|t| walk.text(t));
    let list = fields.required(walk, "nodes");
    fields.finish(walk);
    let (mut nodes, mut bytes) = (Vec::new(), Vec::new());
    let mut complete = true;
    for item in walk.list(list?, "nodes") {
        match read_node(walk, item) {
            Some((node, places)) => {
                nodes.push(node);
                bytes.push(places);
            }
            None => complete = false,
        }
    }
    note_doubled_names(walk, &bytes, &nodes);
    match Taxonomy::new(scheme.unwrap_or_default(), nodes.clone()) {
        Ok(tree) => complete.then_some(tree),
        Err(wrong) => {
            for wrong in wrong {
                let fault = fault_of(walk, &wrong, &nodes, &bytes);
                walk.note(fault);
            }
            None
        }
    }
}

fn read_node<'t>(walk: &mut Walk<'t>, item: &'t Tree) -> Option<(Node, NodeBytes)> {
    let mut fields = walk.fields(item, "a node")?;
    let id_tree = fields.required(walk, "id");
    let id = id_tree.and_then(|t| walk.id::<NodeId>(t));
    let name_tree = fields.required(walk, "name");
    let name = name_tree.and_then(|t| walk.text(t));
    let parent_tree = fields.optional("parent");
    let parent = parent_tree.map(|t| walk.id::<NodeId>(t));
    let mut names = Vec::new();
    if let (Some(tree), Some(name)) = (name_tree, &name) {
        names.push((name.clone(), tree.bytes.clone()));
    }
    let mut aliases = Vec::new();
    if let Some(tree) = fields.optional("aliases") {
        for alias in walk.list(tree, "aliases") {
            if let Some(text) = walk.text(alias) {
                names.push((text.clone(), alias.bytes.clone()));
                aliases.push(text);
            }
        }
    }
    let mut inside = Vec::new();
    if let Some(tree) = fields.optional("inside") {
        for other in walk.list(tree, "node ids") {
            if let Some(id) = walk.id::<NodeId>(other) {
                inside.push((id, other.bytes.clone()));
            }
        }
    }
    let source = fields.optional("source").and_then(|t| walk.text(t));
    let evidence = fields
        .optional("evidence")
        .and_then(|t| walk.choice(t, &EVIDENCE));
    fields.finish(walk);
    // A parent that could not be read must not make a second root.
    let parent = match parent {
        Some(read) => Some(read?),
        None => None,
    };
    let id = id?;
    let places = NodeBytes {
        id: id_tree?.bytes.clone(),
        parent: parent_tree.map(|t| t.bytes.clone()),
        inside: inside.clone(),
        names,
    };
    let node = Node {
        name: name.unwrap_or_else(|| id.as_str().to_owned()),
        id,
        parent,
        aliases,
        inside: inside.into_iter().map(|(id, _)| id).collect(),
        source,
        evidence,
    };
    Some((node, places))
}

/// Notes names and aliases that lead to two nodes: what a candidate writes must mean one.
fn note_doubled_names(walk: &mut Walk<'_>, bytes: &[NodeBytes], nodes: &[Node]) {
    let mut owners: BTreeMap<String, usize> = BTreeMap::new();
    for (place, node) in nodes.iter().enumerate() {
        owners.entry(fold(node.id.as_str())).or_insert(place);
    }
    for (place, part) in bytes.iter().enumerate() {
        for (name, at) in &part.names {
            let owner = *owners.entry(fold(name)).or_insert(place);
            if owner != place {
                let other = nodes.get(owner).map_or("", |node| node.id.as_str());
                let where_at = walk.place(at);
                walk.note(
                    Fault::new(
                        "doubled-name",
                        where_at,
                        format!("\"{name}\" also names the node \"{other}\": an answer could mean either"),
                    )
                    .hint("give one of them another name"),
                );
            }
        }
    }
}

fn fault_of(walk: &Walk<'_>, wrong: &NotATree, nodes: &[Node], bytes: &[NodeBytes]) -> Fault {
    let id_at = |place: usize| bytes.get(place).map_or(0..0, |b| b.id.clone());
    let name = |place: usize| nodes.get(place).map_or("", |node| node.id.as_str());
    match wrong {
        NotATree::Doubled(place) => {
            let first = nodes
                .iter()
                .position(|node| node.id.as_str() == name(*place));
            let line = first.map_or(0, |first| walk.place(&id_at(first)).line);
            Fault::new(
                "doubled-id",
                walk.place(&id_at(*place)),
                format!(
                    "the node \"{}\" stands twice; it stands in line {line} already",
                    name(*place)
                ),
            )
            .hint("give one of them another id")
        }
        NotATree::Unknown(place, missing) => {
            let at = bytes.get(*place).and_then(|b| {
                let inside = b.inside.iter().find(|(id, _)| id == missing);
                let parent = nodes
                    .get(*place)
                    .is_some_and(|n| n.parent.as_ref() == Some(missing));
                if parent {
                    b.parent.clone()
                } else {
                    inside.map(|(_, at)| at.clone())
                }
            });
            Fault::new(
                "unknown-node",
                walk.place(&at.unwrap_or_else(|| id_at(*place))),
                format!("no node \"{missing}\" stands in this tree"),
            )
            .near(missing.as_str(), nodes.iter().map(|node| node.id.as_str()))
        }
        NotATree::Roots(roots) if roots.is_empty() => Fault::new(
            "roots",
            walk.place(&id_at(0)),
            "no node is the root: every node has a parent",
        )
        .hint("leave the parent of the topmost node out"),
        NotATree::Roots(roots) => {
            let names: Vec<_> = roots
                .iter()
                .map(|place| format!("\"{}\"", name(*place)))
                .collect();
            Fault::new(
                "roots",
                walk.place(&id_at(roots.get(1).copied().unwrap_or(0))),
                format!(
                    "{} have no parent, but a tree has one root",
                    names.join(" and ")
                ),
            )
            .hint("give all but one of them a parent")
        }
        NotATree::Cycle(place) => {
            let at = bytes.get(*place).and_then(|b| b.parent.clone());
            Fault::new(
                "cycle",
                walk.place(&at.unwrap_or_else(|| id_at(*place))),
                format!(
                    "\"{}\" is its own ancestor, or hangs under a node that is",
                    name(*place)
                ),
            )
            .hint("follow the parents upward and change the one that leads back")
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn told(text: &str) -> Vec<String> {
        let checked = read_tree_of_nodes(&SourceText::new("t.yaml", text));
        assert_eq!(checked.value.is_none(), !checked.faults.is_empty());
        checked
            .faults
            .iter()
            .map(|f| format!("{}:{}", f.rule, f.place.as_ref().unwrap().line))
            .collect()
    }

    #[test]
    fn a_sound_tree_is_read() {
        let text = "scheme: own\nnodes:\n  - { id: spirit, name: Spirit, evidence: memory }\n  - { id: rum, name: Rum, parent: spirit, aliases: [ron], inside: [spirit] }\n";
        assert!(told(text).is_empty());
        let tree = read_tree_of_nodes(&SourceText::new("t.yaml", text))
            .value
            .unwrap();
        assert_eq!(tree.find("Ron").unwrap().id.as_str(), "rum");
    }

    #[test]
    fn all_that_is_wrong_with_a_tree_is_told_at_once() {
        let text = "scheme: own
nodes:
  - { id: a, name: A }
  - { id: b, name: B, parent: c }
  - { id: c, name: C, parent: b }
  - { id: a, name: D, parent: a }
  - { id: e, name: E }
  - { id: f, name: f, parent: a, inside: [x], aliases: [B] }
  - { id: G, name: G, parent: a, colour: red }
";
        assert_eq!(
            told(text),
            [
                "cycle:4",
                "cycle:5",
                "doubled-id:6",
                "roots:7",
                "unknown-node:8",
                "doubled-name:8",
                "bad-id:9",
                "unknown-key:9",
            ]
        );
        assert_eq!(
            told("scheme: x\nnodes: [{ id: a, name: A, parent: a }]\n"),
            ["roots:2", "cycle:2"]
        );
    }

    proptest! {
        #[test]
        fn any_text_is_read_without_panic(text in ".{0,200}") {
            let _ = read_tree_of_nodes(&SourceText::new("t.yaml", &text));
        }
        #[test]
        fn any_nodes_are_a_tree_or_faults(links in proptest::collection::vec((0_usize..6, 0_usize..7), 0..7)) {
            let mut text = "scheme: x\nnodes:\n".to_owned();
            for (n, (id, parent)) in links.iter().enumerate() {
                let parent = if *parent == 6 { String::new() } else { format!(", parent: n{parent}") };
                text.push_str(&format!("  - {{ id: n{id}, name: N{n}{parent} }}\n"));
            }
            let checked = read_tree_of_nodes(&SourceText::new("t.yaml", &text));
            prop_assert!(checked.value.is_some() || !checked.faults.is_empty());
        }
    }
}
