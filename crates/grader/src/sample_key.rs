//! What is right for one sample, looked up once so that many answers are marked quickly.

use exam_plan::plan::TastingPart;
use exam_plan::{Asked, TastingWay};
use question_bank::reference_tasting::Stage;
use question_bank::sample_record::Age;
use question_bank::{Bank, Lexicon, SampleRecord, TastingKey, Taxonomy};

use crate::chance_score::descriptors;
use crate::tasting_rule::descriptor_assignment::DescriptorKey;
use crate::tasting_rule::quality_from_panel::PanelQuality;
use crate::tasting_rule::tree_ancestry::TreeKey;

/// The words and trees by which answers are understood.
#[derive(Debug, Clone, Copy)]
pub struct KnownWords<'b> {
    /// Aromas and flavours.
    pub lexicon: &'b Lexicon,
    /// Categories.
    pub categories: &'b Taxonomy,
    /// Regions.
    pub regions: &'b Taxonomy,
}

impl<'b> KnownWords<'b> {
    /// Those of a bank.
    #[must_use]
    pub const fn of(bank: &'b Bank) -> Self {
        Self {
            lexicon: &bank.lexicon,
            categories: &bank.categories,
            regions: &bank.regions,
        }
    }
}

/// The key of one sample, ready for marking. Holds the truth of a blind sample and therefore has
/// no `Serialize`.
#[derive(Debug, Clone, PartialEq)]
pub struct SampleKey {
    /// What the panel found neat.
    pub neat: DescriptorKey,
    /// What the panel found with water.
    pub with_water: DescriptorKey,
    /// What each category is worth.
    pub category: TreeKey,
    /// What each region is worth.
    pub region: TreeKey,
    /// The age.
    pub age: Age,
    /// Strength in the glass, % vol: what a candidate can taste.
    pub strength: f64,
    /// Depth of colour, 0 to 10.
    pub colour: Option<u32>,
    /// Body, 1 to 5.
    pub body: Option<u32>,
    /// Finish, 1 to 5.
    pub finish: Option<u32>,
    /// The panel's quality ratings.
    pub quality: Option<PanelQuality>,
    /// The fault, if any.
    pub fault: Option<String>,
    /// The producer.
    pub producer: String,
}

impl SampleKey {
    /// The key of a sample under a plan: its threshold says which descriptors are required, and it
    /// says whether what guessing earns is taken off.
    #[must_use]
    pub fn new(record: &SampleRecord, words: KnownWords<'_>, part: &TastingPart) -> Self {
        Self::tasted(record, words, part, TastingWay::Full)
    }

    /// The key for candidates who taste in this way: who noses only is held to what the panel found
    /// by the nose.
    #[must_use]
    pub fn tasted(
        record: &SampleRecord,
        words: KnownWords<'_>,
        part: &TastingPart,
        way: TastingWay,
    ) -> Self {
        let ratings: Vec<f64> = record
            .tasting
            .quality
            .iter()
            .map(|(_, rating)| *rating)
            .collect();
        let neat = match way {
            TastingWay::Full => TastingKey::neat(record, part.threshold),
            TastingWay::NosingOnly => TastingKey::of_stage(record, part.threshold, Stage::Nose),
        };
        let with_water = TastingKey::with_water(record, part.threshold);
        let mut neat = DescriptorKey::new(&neat, words.lexicon);
        let mut with_water = DescriptorKey::new(&with_water, words.lexicon);
        if part.less_chance {
            let chance = |key: &DescriptorKey, most| descriptors(key, words.lexicon, most).guesser;
            for question in &part.ask {
                match question.asked {
                    Asked::Aroma { words } => {
                        let score = chance(&neat, words);
                        neat = neat.less_chance(score);
                    }
                    Asked::Water { words } => {
                        let score = chance(&with_water, words);
                        with_water = with_water.less_chance(score);
                    }
                    // Trees are corrected in any plan; the others have few answers, and their
                    // chance is stated.
                    Asked::Category
                    | Asked::Region
                    | Asked::Age(_)
                    | Asked::Strength { .. }
                    | Asked::Colour
                    | Asked::Body
                    | Asked::Finish
                    | Asked::Quality
                    | Asked::Fault { .. }
                    | Asked::Producer { .. } => {}
                }
            }
        }
        Self {
            neat,
            with_water,
            category: TreeKey::new(words.categories, &record.category, &[]),
            region: TreeKey::new(words.regions, &record.region, &record.accepted_regions),
            age: record.age,
            strength: part.pour.served(record.strength),
            colour: record.colour,
            body: record.body,
            finish: record.finish,
            quality: PanelQuality::of(&ratings),
            fault: record.fault.clone(),
            producer: record.producer.clone(),
        }
    }
}

#[cfg(test)]
mod tests {
    use exam_plan::plan::{Pour, ServingStrength};

    use crate::example::{Glass, part};

    use super::*;

    #[test]
    fn the_strength_that_counts_is_that_in_the_glass() {
        let glass = Glass::new();
        let reduced = TastingPart {
            pour: Pour {
                volume: 20.0,
                strength: ServingStrength::Reduced(20.0),
            },
            ..part()
        };
        let bottled = glass.key().strength;
        assert!((bottled - glass.record.strength).abs() < 1e-12);
        let served = SampleKey::new(&glass.record, glass.words(), &reduced).strength;
        assert!((served - 20.0).abs() < 1e-12);
    }
}
