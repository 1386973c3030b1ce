//! Trees of hashes: root, proof that a leaf stands in a tree, proof that one tree begins another.
//!
//! Hashing is that of RFC 6962, section 2.1: a leaf is `SHA-256(00 data)`, a node
//! `SHA-256(01 left right)`, the empty tree `SHA-256("")`; proofs are checked as RFC 9162 writes it,
//! sections 2.1.3.2 and 2.1.4.2. Pure: bytes in, bytes out.

use sha2::{Digest, Sha256};

use crate::hex::Digest32;

/// The hash of a leaf.
#[must_use]
pub fn leaf_hash(data: &[u8]) -> Digest32 {
    let mut hash = Sha256::new();
    hash.update([0]);
    hash.update(data);
    hash.finalize().into()
}

/// The hash of a node.
#[must_use]
pub fn node_hash(left: &Digest32, right: &Digest32) -> Digest32 {
    let mut hash = Sha256::new();
    hash.update([1]);
    hash.update(left);
    hash.update(right);
    hash.finalize().into()
}

/// The root of the tree without leaves.
#[must_use]
pub fn empty_root() -> Digest32 {
    Sha256::digest([]).into()
}

/// A tree that only grows: the roots of its full parts, from the largest to the smallest. Adding a
/// leaf and asking for the root take no more steps than the tree is high.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Growing {
    size: u64,
    parts: Vec<Digest32>,
}

impl Growing {
    /// A tree of this size with these full parts; none where the number of parts does not fit.
    #[must_use]
    pub fn from_parts(size: u64, parts: Vec<Digest32>) -> Option<Self> {
        (usize::try_from(size.count_ones()) == Ok(parts.len())).then_some(Self { size, parts })
    }
    /// Adds a leaf by its hash.
    pub fn push(&mut self, leaf: Digest32) {
        let mut node = leaf;
        for _ in 0..self.size.trailing_ones() {
            if let Some(left) = self.parts.pop() {
                node = node_hash(&left, &node);
            }
        }
        self.parts.push(node);
        self.size += 1;
    }
    /// How many leaves.
    #[must_use]
    pub const fn size(&self) -> u64 {
        self.size
    }
    /// The roots of the full parts.
    #[must_use]
    pub fn parts(&self) -> &[Digest32] {
        &self.parts
    }
    /// The root.
    #[must_use]
    pub fn root(&self) -> Digest32 {
        let mut parts = self.parts.iter().rev();
        let Some(last) = parts.next() else {
            return empty_root();
        };
        parts.fold(*last, |right, left| node_hash(left, &right))
    }
}

/// The root over the hashes of leaves.
#[must_use]
pub fn root(leaves: &[Digest32]) -> Digest32 {
    let mut tree = Growing::default();
    for leaf in leaves {
        tree.push(*leaf);
    }
    tree.root()
}

/// Where a tree of more than one leaf is parted: the largest power of two below its size.
fn parted(size: usize) -> usize {
    size.next_power_of_two() / 2
}

/// The proof that the leaf at `place` stands in this tree; none where there is no such leaf.
#[must_use]
pub fn inclusion(leaves: &[Digest32], place: usize) -> Option<Vec<Digest32>> {
    if place >= leaves.len() {
        return None;
    }
    let mut path = Vec::new();
    let (mut part, mut place) = (leaves, place);
    while part.len() > 1 {
        let (left, right) = part.split_at(parted(part.len()));
        if place < left.len() {
            path.push(root(right));
            part = left;
        } else {
            place -= left.len();
            path.push(root(left));
            part = right;
        }
    }
    path.reverse();
    Some(path)
}

/// The proof that the tree of the first `size` leaves begins this tree; none where `size` is 0 or
/// more than there are.
#[must_use]
pub fn consistency(leaves: &[Digest32], size: usize) -> Option<Vec<Digest32>> {
    if size == 0 || size > leaves.len() {
        return None;
    }
    let mut path = Vec::new();
    let (mut part, mut size) = (leaves, size);
    // Whether the part is still one whose root the holder of the old root knows.
    let mut known = true;
    while size < part.len() {
        let (left, right) = part.split_at(parted(part.len()));
        if size <= left.len() {
            path.push(root(right));
            part = left;
        } else {
            size -= left.len();
            path.push(root(left));
            part = right;
            known = false;
        }
    }
    if !known {
        path.push(root(part));
    }
    path.reverse();
    Some(path)
}

/// Whether `path` proves that `leaf` stands at `place` of the tree with this size and root
/// (RFC 9162, 2.1.3.2).
#[must_use]
pub fn includes(
    leaf: &Digest32,
    place: u64,
    size: u64,
    path: &[Digest32],
    root: &Digest32,
) -> bool {
    if place >= size {
        return false;
    }
    let (mut first, mut last) = (place, size - 1);
    let mut node = *leaf;
    for step in path {
        if last == 0 {
            return false;
        }
        if first & 1 == 1 || first == last {
            node = node_hash(step, &node);
            while first & 1 == 0 && first != 0 {
                first >>= 1;
                last >>= 1;
            }
        } else {
            node = node_hash(&node, step);
        }
        first >>= 1;
        last >>= 1;
    }
    last == 0 && node == *root
}

/// Whether `path` proves that the tree of `size1` leaves with `root1` begins that of `size2` leaves
/// with `root2` (RFC 9162, 2.1.4.2). A tree begins itself without a path; the empty tree proves
/// nothing.
#[must_use]
pub fn begins(
    size1: u64,
    root1: &Digest32,
    size2: u64,
    root2: &Digest32,
    path: &[Digest32],
) -> bool {
    if size1 == 0 || size1 > size2 {
        return false;
    }
    if size1 == size2 {
        return path.is_empty() && root1 == root2;
    }
    let mut steps = path.iter();
    let start = if size1.is_power_of_two() {
        Some(root1)
    } else {
        steps.next()
    };
    let Some(start) = start.filter(|_| !path.is_empty()) else {
        return false;
    };
    let (mut first, mut last) = (size1 - 1, size2 - 1);
    while first & 1 == 1 {
        first >>= 1;
        last >>= 1;
    }
    let (mut old, mut new) = (*start, *start);
    for step in steps {
        if last == 0 {
            return false;
        }
        if first & 1 == 1 || first == last {
            old = node_hash(step, &old);
            new = node_hash(step, &new);
            while first & 1 == 0 && first != 0 {
                first >>= 1;
                last >>= 1;
            }
        } else {
            new = node_hash(&new, step);
        }
        first >>= 1;
        last >>= 1;
    }
    last == 0 && old == *root1 && new == *root2
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn leaves(n: u32) -> Vec<Digest32> {
        (0..n).map(|i| leaf_hash(&i.to_be_bytes())).collect()
    }

    /// The definition of RFC 6962, section 2.1, word for word.
    fn by_definition(leaves: &[Digest32]) -> Digest32 {
        match leaves {
            [] => empty_root(),
            [one] => *one,
            more => {
                let mut k = 1;
                while k * 2 < more.len() {
                    k *= 2;
                }
                node_hash(&by_definition(&more[..k]), &by_definition(&more[k..]))
            }
        }
    }

    #[test]
    fn roots_and_proofs_of_all_small_trees() {
        let all = leaves(40);
        for n in 0..=all.len() {
            let part = &all[..n];
            let whole = root(part);
            assert_eq!(whole, by_definition(part), "{n}");
            for place in 0..n {
                let path = inclusion(part, place).unwrap();
                let (at, size) = (place as u64, n as u64);
                assert!(includes(&part[place], at, size, &path, &whole));
                assert!(!includes(&all[39], at, size, &path, &whole) || place == 39);
                assert!(!includes(&part[place], at, size + 64, &path, &whole));
            }
            for m in 1..=n {
                let path = consistency(part, m).unwrap();
                let old = root(&part[..m]);
                assert!(
                    begins(m as u64, &old, n as u64, &whole, &path),
                    "{m} of {n}"
                );
                if m < n {
                    assert!(!begins(m as u64, &whole, n as u64, &whole, &path));
                    let mut longer = path.clone();
                    longer.push(old);
                    assert!(!begins(m as u64, &old, n as u64, &whole, &longer));
                }
            }
        }
        assert_eq!(inclusion(&all, 40), None);
        assert_eq!(consistency(&all, 0), None);
        assert_eq!(consistency(&all, 41), None);
    }

    #[test]
    fn a_growing_tree_is_taken_up_again() {
        let all = leaves(23);
        let mut tree = Growing::default();
        for (n, leaf) in all.iter().enumerate() {
            tree.push(*leaf);
            assert_eq!(tree.root(), by_definition(&all[..=n]));
            tree = Growing::from_parts(tree.size(), tree.parts().to_vec()).unwrap();
        }
        assert_eq!(Growing::from_parts(3, vec![]), None);
    }
}
