//! How sure a candidate is: a hundred parts shared out over a short printed list, of which exactly
//! one is right for each sample.

use question_bank::word_match::fold;
use question_bank::{SampleRecord, Taxonomy};

/// A question about how sure a candidate is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Confidence {
    /// What the list is of.
    pub about: About,
    /// The printed list.
    pub from: Vec<String>,
    /// How what was stated is scored.
    pub score: ConfidenceScore,
}

/// What the printed list is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum About {
    /// Nodes of the category tree, none inside another.
    Category,
    /// Nodes of the region tree, likewise.
    Region,
    /// Faults, with the word "none" for a sound spirit.
    Fault,
}

/// How stated shares are scored.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ConfidenceScore {
    /// By squared distances.
    Quadratic,
    /// By the logarithm of what was given to the right one.
    Logarithmic,
}

/// Why a list has not exactly one right name for a sample.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoSingleTruth {
    /// The tree does not have this name.
    Unknown(String),
    /// No name is right.
    None,
    /// More than one is.
    Several(Vec<String>),
}

/// The word for a sample without a fault.
const SOUND: &str = "none";

impl About {
    /// Every member with its word in plans.
    pub const ALL: [(&'static str, Self); 3] = [
        ("category", Self::Category),
        ("region", Self::Region),
        ("fault", Self::Fault),
    ];
}

impl ConfidenceScore {
    /// Every member with its word in plans.
    pub const ALL: [(&'static str, Self); 2] = [
        ("quadratic", Self::Quadratic),
        ("logarithmic", Self::Logarithmic),
    ];
}

impl Confidence {
    /// The place, from 0, of the one name that is right for a sample. A name of a tree is right
    /// where it is, or holds, the sample's node or one that the record accepts.
    ///
    /// # Errors
    /// When none or several are right, or a name stands in no tree.
    pub fn right(
        &self,
        record: &SampleRecord,
        categories: &Taxonomy,
        regions: &Taxonomy,
    ) -> Result<usize, NoSingleTruth> {
        let mut right: Vec<usize> = Vec::new();
        match self.about {
            About::Fault => {
                let truth = fold(record.fault.as_deref().unwrap_or(SOUND));
                let names = self.from.iter().enumerate();
                let equal = names.filter(|(_, name)| fold(name) == truth);
                right.extend(equal.map(|(place, _)| place));
            }
            About::Category | About::Region => {
                let (tree, truth, accepted) = match self.about {
                    About::Category | About::Fault => (categories, &record.category, &[][..]),
                    About::Region => (regions, &record.region, &record.accepted_regions[..]),
                };
                let also = tree.lineage(truth).into_iter();
                let mut holds: Vec<&base::NodeId> = also
                    .flat_map(|node| std::iter::once(&node.id).chain(&node.inside))
                    .collect();
                holds.extend(accepted);
                for (place, name) in self.from.iter().enumerate() {
                    let node = tree.find(name);
                    let node = node.ok_or_else(|| NoSingleTruth::Unknown(name.clone()))?;
                    if holds.contains(&&node.id) {
                        right.push(place);
                    }
                }
            }
        }
        match right.as_slice() {
            [one] => Ok(*one),
            [] => Err(NoSingleTruth::None),
            several => Err(NoSingleTruth::Several(
                several
                    .iter()
                    .filter_map(|place| self.from.get(*place).cloned())
                    .collect(),
            )),
        }
    }
}
