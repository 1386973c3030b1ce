//! Trees of categories and of regions.

use std::collections::BTreeMap;

use base::NodeId;

use crate::question::Evidence;

/// A checked tree: one root, no cycle, every parent known.
#[derive(Debug, Clone, PartialEq)]
pub struct Taxonomy {
    scheme: String,
    /// In the order of the text.
    nodes: Vec<Node>,
    places: BTreeMap<NodeId, usize>,
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
        let tree = Self {
            scheme,
            nodes,
            places,
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
        if wrong.is_empty() {
            Ok(tree)
        } else {
            Err(wrong)
        }
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
        self.lineage(id).len()
    }
    /// The deepest node that is an ancestor of both, each counted as its own ancestor.
    #[must_use]
    pub fn lowest_common(&self, a: &NodeId, b: &NodeId) -> Option<&Node> {
        let line = self.lineage(b);
        self.lineage(a)
            .into_iter()
            .find(|node| line.iter().any(|other| other.id == node.id))
    }
    /// Nodes that are nobody's parent, in the order of the text.
    #[must_use]
    pub fn leaves(&self) -> Vec<&Node> {
        let parents: std::collections::BTreeSet<_> = self
            .nodes
            .iter()
            .filter_map(|n| n.parent.as_ref())
            .collect();
        self.nodes
            .iter()
            .filter(|n| !parents.contains(&n.id))
            .collect()
    }
}
