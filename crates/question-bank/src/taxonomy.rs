//! Trees of categories and of regions.

use std::collections::BTreeMap;

use base::NodeId;

use crate::question::Evidence;
use crate::word_match::fold;

/// A checked tree: one root, no cycle, every parent known.
#[derive(Debug, Clone, PartialEq)]
pub struct Taxonomy {
    scheme: String,
    /// In the order of the text.
    nodes: Vec<Node>,
    places: BTreeMap<NodeId, usize>,
    /// Folded ids, names and aliases; where one stands for several nodes, an id goes before a name
    /// and a name before an alias.
    names: BTreeMap<String, usize>,
    /// The parent's place; none for the root.
    parents: Vec<Option<usize>>,
    /// Nodes from the root down, the root counted as 1.
    depths: Vec<usize>,
    /// Places of nodes that are nobody's parent.
    leaf_places: Vec<usize>,
}

/// One node.
#[derive(Debug, Clone, PartialEq)]
pub struct Node {
    /// Its id.
    pub id: NodeId,
    /// Its name as printed.
    pub name: String,
    /// Its parent; none for the root.
    pub parent: Option<NodeId>,
    /// Other names that candidates write.
    pub aliases: Vec<String>,
    /// Nodes of another branch that this one also lies inside.
    pub inside: Vec<NodeId>,
    /// Where it is defined.
    pub source: Option<String>,
    /// How the author knows.
    pub evidence: Option<Evidence>,
    /// What the law asks of it.
    pub law: NodeLaw,
}

/// What the law asks of a category, as far as the tree says it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct NodeLaw {
    /// The least strength at bottling or release, % vol.
    pub minimum_strength: Option<f64>,
    /// The least age, in months.
    pub minimum_age_months: Option<u32>,
    /// What else is said of it.
    pub remark: Option<String>,
}

/// One line of a printed list of names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReferenceLine {
    /// The node.
    pub id: NodeId,
    /// Its name.
    pub name: String,
    /// How far it stands below the root, which is left out: 0 for the root's own children.
    pub depth: usize,
    /// Whether the row is from memory, which the page says.
    pub from_memory: bool,
}

/// Why nodes are no tree.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NotATree {
    /// Two nodes have one id: the place of the second.
    Doubled(usize),
    /// A parent or an `inside` that no node has: the place of the child, and the missing id.
    Unknown(usize, NodeId),
    /// A second node without parent, or none at all.
    Roots(Vec<usize>),
    /// A node that is its own ancestor.
    Cycle(usize),
}

impl Taxonomy {
    /// Checks nodes as a tree.
    ///
    /// # Errors
    /// Everything that stands against it.
    pub fn new(scheme: String, nodes: Vec<Node>) -> Result<Self, Vec<NotATree>> {
        let mut wrong = Vec::new();
        let mut places = BTreeMap::new();
        for (place, node) in nodes.iter().enumerate() {
            if places.contains_key(&node.id) {
                wrong.push(NotATree::Doubled(place));
            } else {
                places.insert(node.id.clone(), place);
            }
        }
        for (place, node) in nodes.iter().enumerate() {
            for id in node.parent.iter().chain(&node.inside) {
                if !places.contains_key(id) {
                    wrong.push(NotATree::Unknown(place, id.clone()));
                }
            }
        }
        let roots: Vec<_> = nodes
            .iter()
            .enumerate()
            .filter(|(_, n)| n.parent.is_none())
            .map(|(p, _)| p)
            .collect();
        if roots.len() != 1 {
            wrong.push(NotATree::Roots(roots));
        }
        let parents: Vec<Option<usize>> = nodes
            .iter()
            .map(|node| node.parent.as_ref().and_then(|id| places.get(id).copied()))
            .collect();
        let mut tree = Self {
            scheme,
            nodes,
            places,
            names: BTreeMap::new(),
            parents,
            depths: Vec::new(),
            leaf_places: Vec::new(),
        };
        for (place, node) in tree.nodes.iter().enumerate() {
            // Following parents for more steps than there are nodes means going in a circle.
            let mut at = Some(node);
            let mut steps = 0;
            while let Some(n) = at {
                at = n.parent.as_ref().and_then(|id| tree.node(id));
                steps += 1;
                if steps > tree.nodes.len() {
                    wrong.push(NotATree::Cycle(place));
                    break;
                }
            }
        }
        if !wrong.is_empty() {
            return Err(wrong);
        }
        tree.depths = (0..tree.nodes.len())
            .map(|place| tree.line(place).count())
            .collect();
        let mut childless = vec![true; tree.nodes.len()];
        for parent in tree.parents.iter().flatten() {
            if let Some(flag) = childless.get_mut(*parent) {
                *flag = false;
            }
        }
        tree.leaf_places = childless
            .iter()
            .enumerate()
            .filter(|(_, leaf)| **leaf)
            .map(|(place, _)| place)
            .collect();
        let mut names = BTreeMap::new();
        let aliases = tree.nodes.iter().enumerate().flat_map(|(place, node)| {
            node.aliases
                .iter()
                .map(move |alias| (place, alias.as_str()))
        });
        let named = tree.nodes.iter().enumerate();
        let ids = named.clone().map(|(place, node)| (place, node.id.as_str()));
        let printed = named.map(|(place, node)| (place, node.name.as_str()));
        for (place, name) in ids.chain(printed).chain(aliases) {
            names.entry(fold(name)).or_insert(place);
        }
        tree.names = names;
        Ok(tree)
    }

    /// The node that a person means: by id, name or alias; case, accents and hyphens do not matter.
    #[must_use]
    pub fn find(&self, written: &str) -> Option<&Node> {
        let folded = fold(written);
        if folded.is_empty() {
            return None;
        }
        self.names
            .get(&folded)
            .and_then(|place| self.nodes.get(*place))
    }
    /// The place of a node in the order of the text.
    pub(crate) fn place(&self, id: &NodeId) -> Option<usize> {
        self.places.get(id).copied()
    }
    /// The places of a node and its ancestors, up to the root.
    pub(crate) fn line(&self, place: usize) -> impl Iterator<Item = usize> {
        std::iter::successors(Some(place), |at| self.parents.get(*at).copied().flatten())
    }
    /// The depth of the node at a place, the root counted as 1.
    pub(crate) fn depth_at(&self, place: usize) -> usize {
        self.depths.get(place).copied().unwrap_or(0)
    }
    /// The places of the leaves.
    pub(crate) fn leaf_places(&self) -> &[usize] {
        &self.leaf_places
    }
    /// The place of the deepest common ancestor.
    pub(crate) fn common_place(&self, a: usize, b: usize) -> Option<usize> {
        let (mut a, mut b) = (a, b);
        loop {
            if a == b {
                return Some(a);
            }
            if self.depth_at(a) >= self.depth_at(b) {
                a = self.parents.get(a).copied().flatten()?;
            } else {
                b = self.parents.get(b).copied().flatten()?;
            }
        }
    }
    /// The greatest depth in nodes.
    #[must_use]
    pub fn greatest_depth(&self) -> usize {
        self.depths.iter().copied().max().unwrap_or(0)
    }

    /// What the tree follows, in words.
    #[must_use]
    pub fn scheme(&self) -> &str {
        &self.scheme
    }
    /// All nodes in the order of the text.
    #[must_use]
    pub fn nodes(&self) -> &[Node] {
        &self.nodes
    }
    /// The node with this id.
    #[must_use]
    pub fn node(&self, id: &NodeId) -> Option<&Node> {
        self.places.get(id).and_then(|place| self.nodes.get(*place))
    }
    /// The names as a candidate may see them on paper, each branch together in the order of the
    /// text. What would answer a question is left out: strengths, ages, remarks, sources, other
    /// names, in which other nodes one lies, and whatever node the caller names, with all below it.
    #[must_use]
    pub fn reference_list(&self, leave_out: &[NodeId]) -> Vec<ReferenceLine> {
        let mut children: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (place, parent) in self.parents.iter().enumerate() {
            if let Some(parent) = parent {
                children.entry(*parent).or_default().push(place);
            }
        }
        let mut lines = Vec::new();
        let mut waiting: Vec<usize> = self
            .parents
            .iter()
            .position(Option::is_none)
            .into_iter()
            .collect();
        while let Some(place) = waiting.pop() {
            let Some(node) = self
                .nodes
                .get(place)
                .filter(|node| !leave_out.contains(&node.id))
            else {
                continue;
            };
            if node.parent.is_some() {
                lines.push(ReferenceLine {
                    id: node.id.clone(),
                    name: node.name.clone(),
                    depth: self.depth_at(place).saturating_sub(2),
                    from_memory: node.evidence == Some(Evidence::Memory),
                });
            }
            waiting.extend(children.get(&place).into_iter().flatten().rev());
        }
        lines
    }
    /// The node and its ancestors up to the root.
    #[must_use]
    pub fn lineage(&self, id: &NodeId) -> Vec<&Node> {
        let mut line = Vec::new();
        let mut at = self.node(id);
        while let Some(node) = at {
            line.push(node);
            at = node.parent.as_ref().and_then(|parent| self.node(parent));
        }
        line
    }
    /// Nodes from the root down to this one, the root counted as 1 (Wu and Palmer 1994); 0 for an
    /// unknown node.
    #[must_use]
    pub fn depth(&self, id: &NodeId) -> usize {
        self.place(id).map_or(0, |place| self.depth_at(place))
    }
    /// The deepest node that is an ancestor of both, each counted as its own ancestor.
    #[must_use]
    pub fn lowest_common(&self, a: &NodeId, b: &NodeId) -> Option<&Node> {
        let place = self.common_place(self.place(a)?, self.place(b)?)?;
        self.nodes.get(place)
    }
    /// Nodes that are nobody's parent, in the order of the text.
    #[must_use]
    pub fn leaves(&self) -> Vec<&Node> {
        self.leaf_places
            .iter()
            .filter_map(|place| self.nodes.get(*place))
            .collect()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
pub(crate) mod tests {
    use super::*;

    /// A tree of (id, parent), the root's parent empty.
    pub(crate) fn tree_of(nodes: &[(&str, &str)]) -> Result<Taxonomy, Vec<NotATree>> {
        let nodes = nodes.iter().map(|(id, parent)| Node {
            id: NodeId::parse(id).unwrap(),
            name: format!("The {id}"),
            parent: (!parent.is_empty()).then(|| NodeId::parse(parent).unwrap()),
            aliases: vec![format!("{id} alias")],
            inside: Vec::new(),
            source: None,
            evidence: None,
            law: NodeLaw::default(),
        });
        Taxonomy::new("test".to_owned(), nodes.collect())
    }

    #[test]
    fn a_tree_knows_depths_leaves_and_common_ancestors() {
        let tree = tree_of(&[("a", ""), ("b", "a"), ("c", "b"), ("d", "b"), ("e", "a")]).unwrap();
        let id = |text| NodeId::parse(text).unwrap();
        assert_eq!(tree.depth(&id("a")), 1);
        assert_eq!(tree.depth(&id("d")), 3);
        assert_eq!(tree.greatest_depth(), 3);
        assert_eq!(tree.lowest_common(&id("c"), &id("d")).unwrap().id, id("b"));
        assert_eq!(tree.lowest_common(&id("c"), &id("e")).unwrap().id, id("a"));
        assert_eq!(tree.lowest_common(&id("c"), &id("b")).unwrap().id, id("b"));
        let leaves: Vec<_> = tree.leaves().iter().map(|n| n.id.as_str()).collect();
        assert_eq!(leaves, ["c", "d", "e"]);
    }

    #[test]
    fn a_list_for_candidates_keeps_branches_together_and_leaves_out_what_is_named() {
        let tree = tree_of(&[("a", ""), ("b", "a"), ("c", "a"), ("d", "b"), ("e", "c")]).unwrap();
        let list = |out: &[&str]| -> Vec<(String, usize)> {
            let out: Vec<NodeId> = out.iter().map(|id| NodeId::parse(id).unwrap()).collect();
            let lines = tree.reference_list(&out);
            assert!(lines.iter().all(|line| !line.from_memory));
            lines
                .into_iter()
                .map(|line| (line.id.to_string(), line.depth))
                .collect()
        };
        let row = |id: &str, depth| (id.to_owned(), depth);
        assert_eq!(
            list(&[]),
            [row("b", 0), row("d", 1), row("c", 0), row("e", 1)]
        );
        assert_eq!(list(&["c"]), [row("b", 0), row("d", 1)]);
        assert_eq!(list(&["a"]), []);
    }

    #[test]
    fn a_node_is_found_by_id_name_and_alias() {
        let tree = tree_of(&[("a", ""), ("rum-light", "a")]).unwrap();
        for written in ["rum-light", "RUM LIGHT", "the rum-light", "Rúm light alias"] {
            assert_eq!(
                tree.find(written).unwrap().id.as_str(),
                "rum-light",
                "{written}"
            );
        }
        assert!(tree.find("gin").is_none());
        assert!(tree.find(" - ").is_none());
    }

    #[test]
    fn everything_that_is_no_tree_is_named() {
        assert_eq!(tree_of(&[]).unwrap_err(), [NotATree::Roots(vec![])]);
        let wrong =
            tree_of(&[("a", ""), ("b", "c"), ("c", "b"), ("b", "a"), ("d", "x")]).unwrap_err();
        assert!(wrong.contains(&NotATree::Doubled(3)));
        assert!(wrong.contains(&NotATree::Cycle(1)));
        assert!(wrong.contains(&NotATree::Cycle(2)));
        assert!(wrong.contains(&NotATree::Unknown(4, NodeId::parse("x").unwrap())));
    }
}
