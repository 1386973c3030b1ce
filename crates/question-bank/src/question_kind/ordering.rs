//! Steps to be put in order.

/// A checked ordering question: three to seven different steps in their true order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ordering {
    /// What is asked.
    pub stem: String,
    /// The steps in their true order.
    pub steps: Vec<String>,
    /// How partly right orders are credited.
    pub rule: OrderingRule,
    /// Why the order is right.
    pub why: String,
}

/// How a partly right order of n steps is credited.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum OrderingRule {
    /// max(0, tau), tau = (C - D) / (n(n-1)/2) (Kendall 1938). The default.
    Tau,
    /// 1 - sum|d| / floor(n²/2) (Spearman's footrule; Diaconis and Graham 1977).
    Footrule,
    /// Steps in their true place / n.
    Positions,
    /// True neighbours kept next to each other in true order / (n - 1).
    AdjacentPairs,
    /// 1 if every step is in its place, else 0.
    AllOrNothing,
}

impl OrderingRule {
    /// All rules with their names in texts.
    pub const ALL: [(&'static str, Self); 5] = [
        ("tau", Self::Tau),
        ("footrule", Self::Footrule),
        ("positions", Self::Positions),
        ("adjacent_pairs", Self::AdjacentPairs),
        ("all_or_nothing", Self::AllOrNothing),
    ];
}
