//! How near two nodes of a tree are, and what a near answer is worth once chance is taken off.

use std::collections::BTreeMap;

use base::NodeId;

use crate::taxonomy::Taxonomy;

/// 2 depth(lowest common) / (depth a + depth b), depths in nodes with the root as 1 (Wu and Palmer
/// 1994). From above 0 to 1; none for unknown nodes.
#[must_use]
pub fn wu_palmer(tree: &Taxonomy, a: &NodeId, b: &NodeId) -> Option<f64> {
    wu_palmer_at(tree, tree.place(a)?, tree.place(b)?)
}

fn wu_palmer_at(tree: &Taxonomy, a: usize, b: usize) -> Option<f64> {
    let common = tree.depth_at(tree.common_place(a, b)?);
    Some(2.0 * count(common) / count(tree.depth_at(a) + tree.depth_at(b)))
}

/// Edges on the way from one node to the other.
#[must_use]
pub fn edges(tree: &Taxonomy, a: &NodeId, b: &NodeId) -> Option<usize> {
    let (a, b) = (tree.place(a)?, tree.place(b)?);
    let common = tree.depth_at(tree.common_place(a, b)?);
    Some((tree.depth_at(a) + tree.depth_at(b)).saturating_sub(2 * common))
}

/// 1 / (1 + edges). From above 0 to 1.
#[must_use]
pub fn path(tree: &Taxonomy, a: &NodeId, b: &NodeId) -> Option<f64> {
    Some(1.0 / (1.0 + count(edges(tree, a, b)?)))
}

/// -ln((edges + 1) / (2 D)), D the greatest depth of the whole scheme in nodes (Leacock and
/// Chodorow 1998): [`Taxonomy::greatest_depth`], or that of a larger scheme of which the tree is an
/// extract. None for a depth of 0.
#[must_use]
pub fn leacock_chodorow(
    tree: &Taxonomy,
    a: &NodeId,
    b: &NodeId,
    greatest_depth: usize,
) -> Option<f64> {
    let edges = edges(tree, a, b)?;
    (greatest_depth > 0).then(|| -libm::log(count(edges + 1) / (2.0 * count(greatest_depth))))
}

/// Information content of a node, -ln p, p the share of the weight of all leaves that lies under
/// it (Resnik 1995); leaves without weight count nothing. None where the node has no weight.
fn information(tree: &Taxonomy, node: usize, weights: &BTreeMap<NodeId, f64>) -> Option<f64> {
    let (mut under, mut all) = (0.0, 0.0);
    for &leaf in tree.leaf_places() {
        let weight = tree
            .nodes()
            .get(leaf)
            .and_then(|leaf| weights.get(&leaf.id))
            .copied()
            .unwrap_or(0.0);
        all += weight;
        if tree.line(leaf).any(|ancestor| ancestor == node) {
            under += weight;
        }
    }
    // 0.0 - x rather than -x: the root has 0, not -0.
    (under > 0.0).then(|| 0.0 - libm::log(under / all))
}

/// Information content of the lowest common node (Resnik 1995), from the weights of the leaves.
#[must_use]
pub fn resnik(
    tree: &Taxonomy,
    a: &NodeId,
    b: &NodeId,
    leaf_weights: &BTreeMap<NodeId, f64>,
) -> Option<f64> {
    let common = tree.common_place(tree.place(a)?, tree.place(b)?)?;
    information(tree, common, leaf_weights)
}

/// 2 Resnik / (information content of a + that of b) (Lin 1998). From 0 to 1; 1 for the root with
/// itself, where the quotient is 0/0.
#[must_use]
pub fn lin(
    tree: &Taxonomy,
    a: &NodeId,
    b: &NodeId,
    leaf_weights: &BTreeMap<NodeId, f64>,
) -> Option<f64> {
    let shared = resnik(tree, a, b, leaf_weights)?;
    let own = information(tree, tree.place(a)?, leaf_weights)?
        + information(tree, tree.place(b)?, leaf_weights)?;
    if own > 0.0 {
        Some(2.0 * shared / own)
    } else {
        Some(1.0)
    }
}

/// What a guesser is worth who names any leaf with equal chance: the mean of [`wu_palmer`] between
/// the truth and every leaf. The truth may be an inner node.
#[must_use]
pub fn chance(tree: &Taxonomy, truth: &NodeId) -> Option<f64> {
    let truth = tree.place(truth)?;
    let leaves = tree.leaf_places();
    if leaves.is_empty() {
        return None;
    }
    let sum: f64 = leaves
        .iter()
        .filter_map(|leaf| wu_palmer_at(tree, *leaf, truth))
        .sum();
    Some(sum / count(leaves.len()))
}

/// The share of the marks for an answer: max(0, (s - c) / (1 - c)), s = [`wu_palmer`] of answer
/// and truth, c = [`chance`] for that truth. 1 for the truth itself, 0 at or below chance; a
/// guesser earns a little more than nothing on average, because what lies below chance is not
/// taken off. None for unknown nodes.
#[must_use]
pub fn chance_corrected_credit(tree: &Taxonomy, truth: &NodeId, answer: &NodeId) -> Option<f64> {
    let similarity = wu_palmer(tree, answer, truth)?;
    if truth == answer {
        return Some(1.0);
    }
    let chance = chance(tree, truth)?;
    // In a tree of one leaf everything is chance.
    (chance < 1.0).then(|| ((similarity - chance) / (1.0 - chance)).max(0.0))
}

/// A count as a number; trees are far smaller than 2^53 nodes.
#[allow(clippy::cast_precision_loss)]
fn count(n: usize) -> f64 {
    n as f64
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::taxonomy::tests::tree_of;
    use proptest::prelude::*;

    fn id(text: &str) -> NodeId {
        NodeId::parse(text).unwrap()
    }

    #[test]
    fn an_inner_node_may_be_the_truth() {
        // Leaves c, d, e. Truth b (depth 2): similarities 4/5, 4/5, 2/4; chance 0.7.
        let tree = tree_of(&[("a", ""), ("b", "a"), ("c", "b"), ("d", "b"), ("e", "a")]).unwrap();
        assert!((chance(&tree, &id("b")).unwrap() - 0.7).abs() < 1e-12);
        let credit = chance_corrected_credit(&tree, &id("b"), &id("c")).unwrap();
        assert!((credit - 1.0 / 3.0).abs() < 1e-12, "{credit}");
        assert_eq!(
            chance_corrected_credit(&tree, &id("b"), &id("e")),
            Some(0.0)
        );
        assert_eq!(
            chance_corrected_credit(&tree, &id("b"), &id("b")),
            Some(1.0)
        );
        assert_eq!(chance_corrected_credit(&tree, &id("b"), &id("x")), None);
    }

    #[test]
    fn a_tree_of_one_node_gives_its_node() {
        let tree = tree_of(&[("a", "")]).unwrap();
        assert_eq!(
            chance_corrected_credit(&tree, &id("a"), &id("a")),
            Some(1.0)
        );
        let weights = BTreeMap::from([(id("a"), 1.0)]);
        assert_eq!(lin(&tree, &id("a"), &id("a"), &weights), Some(1.0));
        assert_eq!(leacock_chodorow(&tree, &id("a"), &id("a"), 0), None);
    }

    proptest! {
        /// Any tree in which node i hangs under a node before it.
        #[test]
        fn similarities_keep_their_bounds(hang in proptest::collection::vec(any::<prop::sample::Index>(), 1..30),
                                          a in any::<prop::sample::Index>(), b in any::<prop::sample::Index>()) {
            let names: Vec<String> = (0..=hang.len()).map(|n| format!("n{n}")).collect();
            let mut nodes = vec![("n0", "")];
            for (n, parent) in hang.iter().enumerate() {
                nodes.push((names[n + 1].as_str(), names[parent.index(n + 1)].as_str()));
            }
            let tree = tree_of(&nodes).unwrap();
            let (a, b) = (id(&names[a.index(names.len())]), id(&names[b.index(names.len())]));
            let similarity = wu_palmer(&tree, &a, &b).unwrap();
            prop_assert!(similarity > 0.0 && similarity <= 1.0);
            prop_assert_eq!(Some(similarity), wu_palmer(&tree, &b, &a));
            prop_assert_eq!(similarity == 1.0, a == b);
            prop_assert_eq!(edges(&tree, &a, &b), edges(&tree, &b, &a));
            if let Some(credit) = chance_corrected_credit(&tree, &a, &b) {
                prop_assert!((0.0..=1.0).contains(&credit));
                prop_assert_eq!(credit == 1.0, a == b);
            }
        }
    }
}
