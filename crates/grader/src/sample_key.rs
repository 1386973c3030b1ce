//! What is right for one sample, looked up once so that many answers are marked quickly.

use exam_plan::plan::TastingPart;
use exam_plan::{Asked, TastingWay};
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
    /// The place of the right name where it is asked how sure a candidate is.
    pub right_belief: Option<usize>,
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
        let neat = part.aroma_key(record, way);
        let with_water = TastingKey::with_water(record, part.threshold);
        let mut neat = DescriptorKey::new(&neat, words.lexicon);
        let mut with_water = DescriptorKey::new(&with_water, words.lexicon);
        if part.less_chance {
            // Trees are corrected in any plan; all else has few answers, and its chance is stated.
            for asked in part
                .ask
                .iter()
                .filter_map(|question| question.asked.words())
            {
                let key = if asked.with_water {
                    &mut with_water
                } else {
                    &mut neat
                };
                let chance = descriptors(key, words.lexicon, asked.most).guesser;
                key.take_off(chance);
            }
        }
        let right_belief = part.ask.iter().find_map(|question| match &question.asked {
            Asked::Confidence(asked) => asked.right(record, words.categories, words.regions).ok(),
            Asked::Aroma { .. }
            | Asked::Water { .. }
            | Asked::Category
            | Asked::Region
            | Asked::Age(_)
            | Asked::Strength { .. }
            | Asked::Colour
            | Asked::Body
            | Asked::Finish
            | Asked::Quality
            | Asked::Fault { .. }
            | Asked::Producer { .. } => None,
        });
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
            right_belief,
            producer: record.producer.clone(),
        }
    }
}

#[cfg(test)]
mod tests {
    use exam_plan::flight_rules::{AromaOf, FlightRules};
    use exam_plan::plan::{Pour, ServingStrength};
    use question_bank::reference_tasting::Stage;

    use crate::example::{Glass, part};

    use super::*;

    #[test]
    fn words_of_one_stage_are_marked_by_the_notes_of_that_stage() {
        let mut glass = Glass::new();
        // Whatever was noted on oak was tasted, all else smelled.
        for note in &mut glass.record.tasting.notes {
            if note.stage.neat() {
                note.stage = if note.descriptor == "oak" {
                    Stage::Finish
                } else {
                    Stage::Nose
                };
            }
        }
        let share_of = |aroma_of: AromaOf, word: &str| {
            let part = TastingPart {
                rules: FlightRules {
                    aroma_of,
                    ..FlightRules::default()
                },
                ..part()
            };
            let key = SampleKey::new(&glass.record, glass.words(), &part);
            let place = glass.lexicon.place_of(word).into_iter().collect::<Vec<_>>();
            key.neat.share(&key.neat.worth(&place), 1).as_f64()
        };
        assert!(share_of(AromaOf::Together, "oak") > 0.0);
        assert_eq!(share_of(AromaOf::Palate, "oak"), 1.0);
        assert!(share_of(AromaOf::Nose, "oak") < share_of(AromaOf::Together, "oak"));
        assert_eq!(share_of(AromaOf::Nose, "banana"), 1.0);
        assert_eq!(share_of(AromaOf::Palate, "banana"), 0.0);
    }

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
