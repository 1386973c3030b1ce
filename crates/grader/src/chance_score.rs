//! What a guesser and a lister get without knowing or tasting anything.
//!
//! A guesser picks from what is printed, or from the lexicon, with equal chance; a lister answers
//! as generally as the sheet allows. What each does is said with each rule. All are exact sums but
//! one: for descriptors the mean over 2,000 draws of L different words of the lexicon, from the
//! stream "chance score" of the seed of 32 zero bytes, so that the figure is the same everywhere
//! and for ever; its standard error is given.

use base::ExamSeed;
use base::stream::{Purpose, Stream};
use exam_plan::Asked;
use exam_plan::plan::AgeAnswer;
use question_bank::lexicon::WordPlace;
use question_bank::{Lexicon, Question};

use crate::sample_key::{KnownWords, SampleKey};
use crate::tasting_rule::descriptor_assignment::{DescriptorKey, MOST_WORDS};
use crate::tasting_rule::ordered_scale::{self, Scale};
use crate::tasting_rule::{
    age_band, age_range, confidence, fault_exact, measured_number, producer_extra_credit,
    quality_from_panel, tree_ancestry,
};
use crate::theory_rule::rule_of;

/// Shares of the marks, 0 to 1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ChanceScore {
    /// What a guesser gets on average.
    pub guesser: f64,
    /// The standard error of the guesser's figure; 0 where it is exact.
    pub standard_error: f64,
    /// What a lister gets.
    pub lister: f64,
}

impl ChanceScore {
    const fn exact(guesser: f64, lister: f64) -> Self {
        Self {
            guesser,
            standard_error: 0.0,
            lister,
        }
    }
}

/// What a guesser gets for a theory question on average, as a share of its marks. Numbers and
/// short answers have no list to guess from and count as 0 by agreement.
#[must_use]
pub fn theory_chance_score(question: &Question) -> f64 {
    rule_of(&question.kind).guesser()
}

/// What a guesser and a lister get for one thing asked about one sample.
#[must_use]
pub fn tasting_chance_score(key: &SampleKey, words: KnownWords<'_>, asked: &Asked) -> ChanceScore {
    match asked {
        Asked::Aroma { words: most } => descriptors(&key.neat, words.lexicon, *most),
        Asked::Water { words: most } => descriptors(&key.with_water, words.lexicon, *most),
        Asked::Category => ChanceScore::exact(
            tree_ancestry::chance_score(&key.category, words.categories),
            tree_ancestry::lister_score(&key.category, words.categories),
        ),
        Asked::Region => ChanceScore::exact(
            tree_ancestry::chance_score(&key.region, words.regions),
            tree_ancestry::lister_score(&key.region, words.regions),
        ),
        Asked::Age(AgeAnswer::Band { from }) => {
            ChanceScore::exact(age_band::chance_score(key.age, from), 0.0)
        }
        Asked::Age(AgeAnswer::Range) => ChanceScore::exact(
            age_range::chance_score(key.age),
            age_range::lister_score(key.age),
        ),
        Asked::Strength { tolerance } => {
            ChanceScore::exact(measured_number::chance_score(key.strength, *tolerance), 0.0)
        }
        Asked::Colour => scale(ordered_scale::COLOUR, key.colour),
        Asked::Body => scale(ordered_scale::BODY, key.body),
        Asked::Finish => scale(ordered_scale::FINISH, key.finish),
        Asked::Quality => ChanceScore::exact(
            key.quality.map_or(0.0, quality_from_panel::chance_score),
            0.0,
        ),
        Asked::Fault { from } => {
            ChanceScore::exact(fault_exact::chance_score(key.fault.as_deref(), from), 0.0)
        }
        Asked::Confidence(asked) => {
            let score = confidence::chance_score(asked);
            ChanceScore::exact(score, score)
        }
        Asked::Producer { from } => ChanceScore::exact(
            producer_extra_credit::chance_score(&key.producer, from),
            0.0,
        ),
    }
}

fn scale(scale: Scale, truth: Option<u32>) -> ChanceScore {
    ChanceScore::exact(
        truth.map_or(0.0, |truth| ordered_scale::chance_score(scale, truth)),
        0.0,
    )
}

/// How many random lists are drawn for a descriptor question.
pub const DRAWS: u32 = 2_000;

/// What a guesser and a lister get for descriptors before anything is taken off.
pub(crate) fn descriptors(key: &DescriptorKey, lexicon: &Lexicon, words: u32) -> ChanceScore {
    let mut all: Vec<WordPlace> = lexicon.words().map(|(place, _)| place).collect();
    let length = usize::try_from(words.min(MOST_WORDS))
        .unwrap_or(0)
        .min(all.len());
    let mut stream = Stream::new(&ExamSeed::from_bytes([0; 32]), Purpose::ChanceScore, 0);
    let (mut sum, mut squares) = (0.0, 0.0);
    for _ in 0..DRAWS {
        // The first places of a shuffle from the front; what earlier draws left does not matter.
        for place in 0..length {
            let other = place + stream.index(all.len() - place);
            all.swap(place, other);
        }
        let drawn = all.get(..length).unwrap_or(&[]);
        let credit = key.share(&key.worth(drawn), words).as_f64();
        sum += credit;
        squares += credit * credit;
    }
    let draws = f64::from(DRAWS);
    let mean = sum / draws;
    let variance = ((squares - draws * mean * mean) / (draws - 1.0)).max(0.0);
    let listed = one_of_each_family(lexicon, length);
    ChanceScore {
        guesser: mean,
        standard_error: (variance / draws).sqrt(),
        lister: key.share(&key.worth(&listed), words).as_f64(),
    }
}

/// The first word of the largest group of each of the largest families; ties in order of the text.
fn one_of_each_family(lexicon: &Lexicon, most: usize) -> Vec<WordPlace> {
    let mut families: Vec<(usize, WordPlace)> = lexicon
        .families
        .iter()
        .enumerate()
        .filter_map(|(family, f)| {
            let size = f.groups.iter().map(|group| group.words.len()).sum();
            let (group, _) = f
                .groups
                .iter()
                .enumerate()
                .rev()
                .max_by_key(|(_, group)| group.words.len())?;
            let place = WordPlace {
                family,
                group,
                word: 0,
            };
            lexicon.word(place)?;
            Some((size, place))
        })
        .collect();
    families.sort_by_key(|(size, place)| (std::cmp::Reverse(*size), *place));
    families
        .into_iter()
        .take(most)
        .map(|(_, place)| place)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::example::{Glass, every_asked, every_kind, question};

    #[test]
    fn every_kind_and_everything_asked_has_a_chance_score() {
        for kind in every_kind() {
            let name = kind.name();
            // Where nothing is lettered there is no list to guess from.
            let none = kind.lettered() == 0;
            let score = theory_chance_score(&question(kind, "1"));
            assert!(
                (0.0..0.5).contains(&score) && (score == 0.0) == none,
                "{name}: {score}"
            );
        }
        let glass = Glass::new();
        for asked in every_asked() {
            let score = tasting_chance_score(&glass.key(), glass.words(), &asked);
            let name = asked.name();
            assert!(
                score.guesser > 0.0 && score.guesser < 1.0,
                "{name}: {score:?}"
            );
            assert!((0.0..=1.0).contains(&score.lister), "{name}: {score:?}");
        }
    }

    #[test]
    fn random_words_match_the_sum_over_all_single_words() {
        // With one word the mean over the whole lexicon is exact, and the draws must agree with
        // it within four standard errors.
        let glass = Glass::new();
        let key = glass.key();
        let score = descriptors(&key.neat, &glass.lexicon, 1);
        let all: Vec<f64> = glass
            .lexicon
            .words()
            .map(|(place, _)| key.neat.share(&key.neat.worth(&[place]), 1).as_f64())
            .collect();
        let exact = all.iter().sum::<f64>() / all.len() as f64;
        assert!(score.standard_error > 0.0);
        assert!(
            (score.guesser - exact).abs() < 4.0 * score.standard_error,
            "{score:?} {exact}"
        );
        assert_eq!(
            score,
            descriptors(&key.neat, &glass.lexicon, 1),
            "drawn again"
        );
    }

    #[test]
    fn chance_corrected_guessers_average_nothing_within_the_error_of_the_draws() {
        // (share - c) / (1 - c) over guessers of another stream than the one c comes from, before it
        // is held at 0: on average nothing, within four standard errors of both means.
        let glass = Glass::new();
        let all: Vec<WordPlace> = glass.lexicon.words().map(|(place, _)| place).collect();
        for (key, words) in [(&glass.key().neat, 3), (&glass.key().with_water, 2)] {
            let score = descriptors(key, &glass.lexicon, words);
            let seed = ExamSeed::from_bytes([1; 32]);
            let mut stream = Stream::new(&seed, Purpose::ChanceScore, 1);
            let corrected: Vec<f64> = (0..4000)
                .map(|_| {
                    let mut drawn = all.clone();
                    stream.shuffle(&mut drawn);
                    drawn.truncate(words as usize);
                    let share = key.share(&key.worth(&drawn), words).as_f64();
                    (share - score.guesser) / (1.0 - score.guesser)
                })
                .collect();
            let n = corrected.len() as f64;
            let mean = corrected.iter().sum::<f64>() / n;
            let squares: f64 = corrected
                .iter()
                .map(|one| (one - mean) * (one - mean))
                .sum();
            let ours = score.standard_error / (1.0 - score.guesser);
            let error = (squares / (n - 1.0) / n + ours * ours).sqrt();
            assert!(mean.abs() < 4.0 * error, "{mean} with an error of {error}");
            // A marker holds the credit at 0, so that what is left of a lucky guess stays: less than
            // guessing earns without the correction.
            let held = corrected.iter().map(|one| one.max(0.0)).sum::<f64>() / n;
            assert!(held < score.guesser, "{held} beside {}", score.guesser);
        }
        // In trees the mean over all leaves is nothing to the last digit, before it is held at 0.
        let truth = &glass.record.category;
        let tree = &glass.categories;
        let guess = question_bank::similarity::chance(tree, truth).unwrap_or(0.0);
        let near = tree
            .leaves()
            .into_iter()
            .map(|leaf| question_bank::similarity::wu_palmer(tree, truth, &leaf.id).unwrap_or(0.0));
        let sum: f64 = near.map(|near| (near - guess) / (1.0 - guess)).sum();
        assert!(sum.abs() < 1e-12, "{sum}");
    }

    #[test]
    fn a_lister_names_the_largest_families() {
        let glass = Glass::new();
        let words: Vec<_> = one_of_each_family(&glass.lexicon, 3)
            .into_iter()
            .filter_map(|place| glass.lexicon.main_word(place))
            .collect();
        assert_eq!(words, ["banana", "oak", "molasses"]);
    }
}
