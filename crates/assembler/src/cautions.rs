//! The cautions that stand wherever pouring or tasting is printed or shown.

/// Plain sentences, each complete in itself, in the order in which they are printed. Trade practice;
/// limits and licences are local law, so no figure stands here.
pub const CAUTIONS: [&str; 6] = [
    "A spit cup and drinking water stand at every place; spitting is expected and costs no marks.",
    "Nobody drives after tasting, even after spitting: arrange the way home beforehand.",
    "Legal drinking age, licensing, the carriage and posting of spirits and drink-drive limits are \
     local law: find out what holds where you are.",
    "A candidate may choose to nose only and not to taste: that is a different form with its own \
     cut.",
    "Ask about allergies, pregnancy and medication beforehand, privately; declare the allergens of \
     what is poured.",
    "The grams of alcohol stated are what would be swallowed if nothing were spat out; they say \
     nothing about anybody's fitness to drive.",
];
