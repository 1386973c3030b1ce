//! Multiple response: choose all that apply.

use super::AnswerOption;

/// A checked multiple-response question: at least one option is right and at least one is not.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MultipleResponse {
    /// What is asked.
    pub stem: String,
    /// The options as written.
    pub options: Vec<AnswerOption>,
    /// Print the options as written.
    pub keep_order: bool,
    /// How partial answers are credited.
    pub rule: MultipleResponseRule,
}

/// How a partly right choice is credited. With n options, t of them right, h right ones marked,
/// f wrong ones marked, m right ones left out, c = n - f - m options judged rightly.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MultipleResponseRule {
    /// 1 if c = n, else 0.
    Dichotomous,
    /// c / n (Betts et al. 2021; "partial scoring 1/n", Kanzow et al. 2023).
    TrueFalse,
    /// 1 if c = n, one half if c = n - 1, else 0 (Kanzow et al. 2023, definition from memory).
    HalfPoint,
    /// 1 if c = n, one half if c >= n/2, else 0 (Kanzow et al. 2023, definition from memory).
    Ps50,
    /// max(0, (h - f) / t) (plus/minus, Betts et al. 2021).
    PlusMinusFloor0,
    /// h / t if at most t options are marked, else 0 (Ripkey, Case and Swanson 1996, from memory).
    Ripkey,
    /// max(0, h/t - f/(n-t)): marking everything earns nothing. The default.
    BalancedPenaltyFloor0,
    /// h / (h + f + m).
    Jaccard,
    /// 2h / (2h + f + m).
    F1,
}

impl MultipleResponseRule {
    /// All rules with their names in texts.
    pub const ALL: [(&'static str, Self); 9] = [
        ("dichotomous", Self::Dichotomous),
        ("true_false", Self::TrueFalse),
        ("half_point", Self::HalfPoint),
        ("ps50", Self::Ps50),
        ("plus_minus_floor0", Self::PlusMinusFloor0),
        ("ripkey", Self::Ripkey),
        ("balanced_penalty_floor0", Self::BalancedPenaltyFloor0),
        ("jaccard", Self::Jaccard),
        ("f1", Self::F1),
    ];
}
