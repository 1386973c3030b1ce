//! Which lines a file of sentences has, and which values each is told.

/// One line for each sentence or part of a sentence: its member, its key in the file, its values.
/// A value that begins with `?` may be left out of a line; all others are needed to work the mark
/// out, or to know what it is about.
macro_rules! lines {
    ($($member:ident $key:literal [$($name:literal),*]),* $(,)?) => {
        /// A line of the file.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub(crate) enum Line { $(
            #[doc = $key]
            $member,
        )* }

        impl Line {
            /// All lines, in the order of their numbers.
            pub(crate) const ALL: &'static [Self] = &[$(Self::$member),*];
            /// The key in the file.
            pub(crate) const fn key(self) -> &'static str {
                match self { $(Self::$member => $key),* }
            }
            /// The values, in the order in which they are told.
            pub(crate) const fn names(self) -> &'static [&'static str] {
                match self { $(Self::$member => &[$($name),*]),* }
            }
        }
    };
}

lines![
    More "more" ["list", "more"],
    Earned "earned" ["marks", "of"],
    NoAnswer "no_answer" [],
    OptionRight "option_right" ["marked"],
    OptionWrong "option_wrong" ["marked", "right"],
    SeveralOptions "several_options" ["marked"],
    OptionsChosen "options_chosen" ["right_marked", "right", "wrong_marked", "wrong", "what_counts", "earned"],
    CountsDichotomous "counts_dichotomous" [],
    CountsTrueFalse "counts_true_false" [],
    CountsHalfPoint "counts_half_point" [],
    CountsPs50 "counts_ps50" [],
    CountsPlusMinusFloor0 "counts_plus_minus_floor0" [],
    CountsRipkey "counts_ripkey" [],
    CountsBalancedPenaltyFloor0 "counts_balanced_penalty_floor0" [],
    CountsJaccard "counts_jaccard" [],
    CountsF1 "counts_f1" [],
    NumberWithin "number_within" ["given", "distance", "right", "unit", "earned"],
    NumberHalfWithin "number_half_within" ["given", "distance", "right", "unit", "earned"],
    NumberBeyond "number_beyond" ["given", "distance", "right", "unit", "earned"],
    NumberByMistake "number_by_mistake" ["given", "right", "unit", "earned", "why"],
    EntriesFound "entries_found" ["right", "wanted", "repeated", "beyond", "earned"],
    PairsInOrder "pairs_in_order" ["pairs", "in_order", "?out_of_order", "earned"],
    PairsInOrderOnly "pairs_in_order_only" ["in_order", "pairs", "earned"],
    PlacesMoved "places_moved" ["moved", "most", "earned"],
    SquaresMoved "squares_moved" ["squares", "nothing_from", "earned"],
    LongestInOrder "longest_in_order" ["longest", "steps", "earned"],
    StepsInPlace "steps_in_place" ["in_place", "steps", "earned"],
    WholeOrderOnly "whole_order_only" ["in_place", "steps", "earned"],
    NeighboursKept "neighbours_kept" ["kept", "pairs", "earned"],
    PairsMatched "pairs_matched" ["right", "pairs", "earned"],
    WordAccepted "word_accepted" ["accepted"],
    WordSlip "word_slip" ["written", "accepted"],
    NodeRight "node_right" ["name"],
    NodeAccepted "node_accepted" ["answer", "truth"],
    NodeNear "node_near" ["answer", "truth", "?common", "nearness", "guess", "earned"],
    NodeFar "node_far" ["answer", "truth"],
    BandRight "band_right" ["answer"],
    BandNext "band_next" ["answer", "truth", "earned"],
    BandsApart "bands_apart" ["answer", "truth", "apart", "earned"],
    BandOther "band_other" ["answer", "truth", "earned"],
    NoAgeRight "no_age_right" [],
    NoAgeWrong "no_age_wrong" ["truth"],
    AgeRange "age_range" ["low", "high", "truth", "score", "full_up_to", "none_from", "earned"],
    StepRight "step_right" ["given"],
    StepsApart "steps_apart" ["given", "truth", "apart", "length", "earned"],
    PanelDistance "panel_distance" ["given", "mean", "?distance", "deviation", "earned"],
    NameRight "name_right" ["name"],
    NameWrong "name_wrong" ["name", "truth"],
    NotOnTheList "not_on_the_list" ["written"],
    BeliefsQuadratic "beliefs_quadratic" ["given", "truth", "distance", "earned"],
    BeliefsLogarithmic "beliefs_logarithmic" ["given", "truth", "held", "sum", "all", "earned"],
    Descriptors "descriptors" [
        "found", "without_credit", "said_again", "contradicting", "?contradictions", "missed",
        "denied", "words", "left_off", "weight", "full_weight", "chance", "earned"
    ],
    Found "found" ["found"],
    FoundNothing "found_nothing" [],
    WordAs "word_as" ["written", "key_word"],
    WordFor "word_for" ["written", "key_word"],
    WordFull "word_full" ["word", "weight"],
    WordGroup "word_group" ["word", "weight"],
    WordFamily "word_family" ["word", "weight"],
    WordApart "word_apart" ["word"],
    NotInTheLexicon "not_in_the_lexicon" ["words", "so_far"],
    NotInTheTree "not_in_the_tree" ["word"],
    NotAccepted "not_accepted" ["word"],
    EntriesNotAccepted "entries_not_accepted" ["words", "?unknown", "so_far"],
    CountsAs "counts_as" ["word", "known", "by", "why"],
    CountsForNothing "counts_for_nothing" ["word", "by", "why"],
    ByDecision "by_decision" ["marks", "of", "by", "why"],
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_stands_at_its_number() {
        for (place, line) in Line::ALL.iter().enumerate() {
            assert_eq!(*line as usize, place, "{}", line.key());
        }
    }
}
