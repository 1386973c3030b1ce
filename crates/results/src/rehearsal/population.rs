//! Who sits a rehearsal: the spread of abilities, what tasters are like, named guessers.
//!
//! The numbers are assumptions, not findings: no source gives them for spirits tasters. They are
//! arguments, so that a school can set what its own sittings showed.

use serde::Serialize;

/// A class of simulated candidates. Abilities are on the scale on which a question of medium
/// difficulty is known by half of those of ability 0 (logistic model), and likewise in tasting.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Population {
    /// Mean ability in theory.
    pub theory_mean: f64,
    /// Standard deviation of ability in theory.
    pub theory_deviation: f64,
    /// Mean ability in tasting.
    pub tasting_mean: f64,
    /// Standard deviation of ability in tasting.
    pub tasting_deviation: f64,
    /// Correlation of the two abilities, −1 to 1.
    pub correlation: f64,
    /// How tasters write.
    pub taster: Taster,
    /// What goes wrong on the day.
    pub mishaps: Mishaps,
    /// Who marks what no machine can.
    pub markers: Markers,
    /// How much of what is not known of questions moves from sitting to sitting: 1 as their
    /// standard errors say, 0 where difficulties are taken as they stand.
    pub question_doubt: f64,
}

/// People who mark essays, each script by two of them.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Markers {
    /// How many there are; one marks alone.
    pub number: u32,
    /// Standard deviation of severity from marker to marker, as a share of full marks.
    pub severity: f64,
    /// Standard deviation of what a marker gives to equal scripts, as a share of full marks.
    pub scatter: f64,
}

impl Default for Markers {
    /// Two, with a severity of 0.05 and a scatter of 0.10 of full marks: assumed, no source.
    fn default() -> Self {
        Self {
            number: 2,
            severity: 0.05,
            scatter: 0.10,
        }
    }
}

/// What goes wrong on the day, each with its chance. None of it by default.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
pub struct Mishaps {
    /// A candidate does not come.
    pub no_show: f64,
    /// A glass is broken before it was tasted, and not poured again.
    pub broken_glass: f64,
    /// A theory sheet cannot be read, and nobody keys it.
    pub unreadable_sheet: f64,
}

impl Mishaps {
    /// Whether anything can go wrong at all.
    #[must_use]
    pub fn any(&self) -> bool {
        self.no_show > 0.0 || self.broken_glass > 0.0 || self.unreadable_sheet > 0.0
    }
}

/// How simulated tasters write, beyond their ability.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Taster {
    /// How much more often a heavy word of the panel is found than a light one: the log-odds of
    /// finding rise by this much from weight 0 to weight 1.
    pub weight_slope: f64,
    /// The panel weight of a word that a taster of ability 0 finds half the time.
    pub middle_weight: f64,
    /// How many of the panel's words a taster has at command; for another the next word of its
    /// group is written.
    pub vocabulary: f64,
    /// How often a word that was not found is written as another word of its group.
    pub near_miss: f64,
    /// How often a place still empty is filled with a common word that came to mind.
    pub filler: f64,
    /// Standard deviation of what a taster can do from glass to glass: people know some spirits
    /// better than others. Drawn anew for each glass, so that reliability speaks of other samples
    /// of the same kind and not of the same ones again.
    pub from_glass_to_glass: f64,
    /// Ability lost with each glass of the flight after the first.
    pub fatigue: f64,
    /// Ability lost in the glass right after a heavy sample.
    pub carry_over: f64,
    /// How often somebody who does not know the category names that of the sample record whose
    /// colour comes nearest; 0 where colours are not recorded.
    pub colour_led: f64,
}

impl Default for Population {
    /// A prepared class: means half a standard deviation above the middle, standard deviations 1,
    /// correlation 0.5. Common practice in simulation; no source for this trade.
    fn default() -> Self {
        Self {
            theory_mean: 0.5,
            theory_deviation: 1.0,
            tasting_mean: 0.5,
            tasting_deviation: 1.0,
            correlation: 0.5,
            taster: Taster::default(),
            mishaps: Mishaps::default(),
            markers: Markers::default(),
            question_doubt: 0.0,
        }
    }
}

impl Default for Taster {
    /// Assumed: slope 4, middle weight 0.6, all words at command, near misses 0.3, fillers 0.7, from glass to glass 0.8;
    /// no fatigue, carry-over or guess by colour; no source.
    fn default() -> Self {
        Self {
            weight_slope: 4.0,
            middle_weight: 0.6,
            vocabulary: 1.0,
            near_miss: 0.3,
            filler: 0.7,
            from_glass_to_glass: 0.8,
            fatigue: 0.0,
            carry_over: 0.0,
            colour_led: 0.0,
        }
    }
}

/// What one simulated candidate can do.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Abilities {
    /// In theory.
    pub theory: f64,
    /// In tasting.
    pub tasting: f64,
}

/// Candidates who know nothing, each kind with its way of guessing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Guesser {
    /// Every letter, word, place and age is drawn at random, each as likely as any other.
    Blind,
    /// As the blind guesser, but writes the words that panels use most: vanilla, oak, …
    Lister,
    /// Knows nothing and writes down what the neighbour writes at the same place: the letter under
    /// the same number, the words beside the same glass of the flight.
    Copier,
}

impl Guesser {
    /// All kinds.
    pub const ALL: [Self; 3] = [Self::Blind, Self::Lister, Self::Copier];
    /// Its name.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Blind => "guesser",
            Self::Lister => "lister",
            Self::Copier => "copier",
        }
    }
    /// What the kind does, in words.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Blind => "a blind guesser (random letters, random words)",
            Self::Lister => "a lister (random letters, the commonest words)",
            Self::Copier => "somebody who copies a neighbour (letters and words at the same place)",
        }
    }
}

/// Minutes that candidates need.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Pace {
    /// Minutes for one theory question; 1.5 by common practice, no source.
    pub per_question: f64,
    /// Minutes for one glass; 12 by common practice, no source.
    pub per_glass: f64,
}

impl Default for Pace {
    fn default() -> Self {
        Self {
            per_question: 1.5,
            per_glass: 12.0,
        }
    }
}
