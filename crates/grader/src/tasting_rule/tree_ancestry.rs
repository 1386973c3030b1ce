//! Category and region: shared ancestry in a tree, corrected for chance for that truth.
//!
//! Credit = max(0, (s - c) / (1 - c)): s the similarity of Wu and Palmer 1994 between answer and
//! truth, c its mean over all leaves as answers
//! ([`question_bank::similarity::chance_corrected_credit`]). Full marks for the truth, for nodes
//! the record accepts, and for nodes inside which the truth or one of its ancestors also lies.
//! Nothing for what shares the root only: the root holds everything and says nothing, however
//! little its shallow place costs in the formula.
//! Chance score: a guesser names any leaf with equal chance; a lister names the root.

use std::collections::BTreeMap;

use base::{Marks, NodeId};
use question_bank::Taxonomy;
use question_bank::similarity::{chance, chance_corrected_credit, wu_palmer};
use question_bank::taxonomy::Node;
use question_bank::word_match::fold;

use crate::award::UnknownWord;
use crate::reason::{Earned, Reason};
use crate::spelling::{LONGEST, is_slip};
use crate::verdict::{Verdict, Why};

/// The rule's stable name for categories.
pub const CATEGORY_RULE: &str = "category ancestry";
/// The rule's stable name for regions.
pub const REGION_RULE: &str = "region ancestry";

/// What each node of the tree is worth for one sample.
#[derive(Debug, Clone, PartialEq)]
pub struct TreeKey {
    truth: NodeId,
    credits: BTreeMap<NodeId, f64>,
    accepted: Vec<NodeId>,
    /// How near a guess is to the truth on average.
    guess: f64,
}

impl TreeKey {
    /// The credits of all nodes for this truth.
    #[must_use]
    pub fn new(tree: &Taxonomy, truth: &NodeId, accepted: &[NodeId]) -> Self {
        let inside = tree
            .lineage(truth)
            .into_iter()
            .flat_map(|node| node.inside.iter().cloned());
        let mut accepted: Vec<NodeId> = accepted.iter().cloned().chain(inside).collect();
        accepted.sort();
        accepted.dedup();
        accepted.retain(|node| node != truth);
        let credits = tree
            .nodes()
            .iter()
            .map(|node| {
                let shares_the_root_only = tree
                    .lowest_common(truth, &node.id)
                    .is_none_or(|common| common.parent.is_none());
                let credit = if node.id == *truth || accepted.binary_search(&node.id).is_ok() {
                    1.0
                } else if shares_the_root_only {
                    0.0
                } else {
                    chance_corrected_credit(tree, truth, &node.id).unwrap_or(0.0)
                };
                (node.id.clone(), credit)
            })
            .collect();
        Self {
            truth: truth.clone(),
            credits,
            accepted,
            guess: chance(tree, truth).unwrap_or(0.0),
        }
    }
    /// The credit of a node, 0 to 1.
    #[must_use]
    pub fn credit(&self, node: &NodeId) -> f64 {
        self.credits.get(node).copied().unwrap_or(0.0)
    }
}

/// Marks an answer that is not blank.
#[must_use]
pub fn mark(
    key: &TreeKey,
    tree: &Taxonomy,
    answer: &str,
    of: Marks,
    rule: &'static str,
) -> Verdict {
    let found = if answer.len() > LONGEST {
        None
    } else {
        tree.find(answer).or_else(|| slip(tree, answer))
    };
    let Some(node) = found else {
        return unknown(tree, answer);
    };
    let truth = tree
        .node(&key.truth)
        .map_or_else(|| key.truth.to_string(), |truth| truth.name.clone());
    let answer = node.name.clone();
    if node.id == key.truth {
        return Reason::NodeRight { name: answer }.verdict(of, rule);
    }
    if key.accepted.binary_search(&node.id).is_ok() {
        return Reason::NodeAccepted { answer, truth }.verdict(of, rule);
    }
    let credit = key.credit(&node.id);
    match of.credit(credit) {
        Some(marks) if credit > 0.0 => Reason::NodeNear {
            answer,
            truth,
            common: tree
                .lowest_common(&key.truth, &node.id)
                .map_or_else(String::new, |common| common.name.clone()),
            nearness: wu_palmer(tree, &key.truth, &node.id).unwrap_or(0.0),
            guess: key.guess,
            earned: Earned { marks, of },
        }
        .verdict(marks, rule),
        Some(_) | None => Reason::NodeFar { answer, truth }.verdict(Marks::ZERO, rule),
    }
}

/// The only node with a name of which the answer is a slip.
fn slip<'t>(tree: &'t Taxonomy, answer: &str) -> Option<&'t Node> {
    let written = fold(answer);
    let mut slips = tree
        .nodes()
        .iter()
        .filter(|node| names(node).any(|name| is_slip(&written, &fold(name))));
    slips.next().filter(|_| slips.next().is_none())
}

fn names(node: &Node) -> impl Iterator<Item = &str> {
    std::iter::once(node.name.as_str()).chain(node.aliases.iter().map(String::as_str))
}

fn unknown(tree: &Taxonomy, answer: &str) -> Verdict {
    let word = base::walk::shortened(answer.trim());
    let near: Vec<String> = base::near::nearest(&word, tree.nodes().iter().flat_map(names))
        .into_iter()
        .map(str::to_owned)
        .collect();
    Verdict::ForAPerson {
        why: Why::NotInTheTree(word.clone()),
        near: near.clone(),
        provisional: Marks::ZERO,
        words: vec![UnknownWord { word, near }],
    }
}

/// What a guesser who names any leaf gets on average, as a share of the marks.
#[must_use]
pub fn chance_score(key: &TreeKey, tree: &Taxonomy) -> f64 {
    let leaves = tree.leaves();
    let sum: f64 = leaves.iter().map(|leaf| key.credit(&leaf.id)).sum();
    sum / leaves.len().max(1) as f64
}

/// What a lister gets who names the root, which holds everything.
#[must_use]
pub fn lister_score(key: &TreeKey, tree: &Taxonomy) -> f64 {
    tree.nodes()
        .iter()
        .find(|node| node.parent.is_none())
        .map_or(0.0, |root| key.credit(&root.id))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::example::{Glass, told};
    use exam_plan::Asked;

    #[test]
    fn near_branches_earn_a_part_and_far_ones_nothing() {
        // Truth molasses-rum, depth 3. Similarities of the 5 leaves: 1, 4/6, 2/6, 2/6, 2/6: chance
        // 8/15. The sister has (2/3 - 8/15) / (7/15) = 2/7, the parent (4/5 - 8/15) / (7/15) = 4/7.
        let glass = Glass::new();
        for (answer, marks, reason) in [
            ("Molasses rum", "7", "Molasses rum is right"),
            ("heavy-rum", "7", "Molasses rum is right"),
            ("molases rum", "7", "Molasses rum is right"),
            (
                "cane juice rum",
                "2",
                "Cane juice rum for Molasses rum: same branch (Cane spirits), nearness 0.66667 less \
                 the 0.53333 of a guess, 2 of 7 marks",
            ),
            (
                "cane spirits",
                "4",
                "Cane spirits for Molasses rum: same branch (Cane spirits), nearness 0.80 less the \
                 0.53333 of a guess, 4 of 7 marks",
            ),
            (
                "Brandy",
                "0",
                "Brandy for Molasses rum: no nearer than a guess, no marks",
            ),
            ("gin", "0", "person: \"gin\" is not in the tree"),
        ] {
            let outcome = glass.mark(Asked::Category, "7", answer);
            assert_eq!(
                told(&outcome),
                (marks.to_owned(), reason.to_owned()),
                "{answer}"
            );
        }
        let key = glass.key();
        let guesser = chance_score(&key.category, &glass.categories);
        assert!(
            (guesser - (1.0 + 2.0 / 7.0) / 5.0).abs() < 1e-12,
            "{guesser}"
        );
        assert_eq!(lister_score(&key.category, &glass.categories), 0.0);
        // The root is no answer, whatever the formula makes of its depth.
        let mut glass = glass;
        glass.record.region = NodeId::parse("europe").unwrap();
        let world = NodeId::parse("world").unwrap();
        let formula =
            chance_corrected_credit(&glass.regions, &glass.record.region, &world).unwrap();
        assert!(formula > 0.3, "{formula}");
        assert_eq!(glass.key().region.credit(&world), 0.0);
        assert_eq!(glass.mark(Asked::Region, "2", "World").marks(), Marks::ZERO);
    }

    #[test]
    fn accepted_regions_and_wider_ones_are_full() {
        let glass = Glass::new();
        for (answer, full) in [
            ("Martinique", true),
            ("caribbean", true),
            ("France", true),
            ("Jamaica", false),
            ("Cognac", false),
        ] {
            let outcome = glass.mark(Asked::Region, "2", answer);
            assert_eq!(told(&outcome).0 == "2", full, "{answer}");
        }
        assert_eq!(
            told(&glass.mark(Asked::Region, "2", "France")).1,
            "France for Martinique: accepted, full marks"
        );
    }

    #[test]
    fn an_unknown_name_waits_with_near_ones() {
        let Verdict::ForAPerson { words, near, .. } =
            Glass::new().mark(Asked::Region, "2", "Jamaca island")
        else {
            unreachable!("a name that no tree knows");
        };
        assert_eq!(words.len(), 1);
        assert!(near.is_empty() || near.contains(&"Jamaica".to_owned()));
    }
}
