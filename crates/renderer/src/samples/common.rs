//! What the invented contents share.

use crate::content::ExamHead;

/// The invented exam of all samples.
pub(super) fn exam() -> ExamHead {
    ExamHead {
        title: "Certificate in Spirits Tasting, first level".to_owned(),
        school: "Lindenhof School of Tasting".to_owned(),
        date: "14 March 2031".to_owned(),
        note: String::new(),
    }
}

/// Plain words as owned text.
pub(super) fn words(list: &[&str]) -> Vec<String> {
    list.iter().map(|word| (*word).to_owned()).collect()
}

/// The cautions wherever pouring or tasting is printed.
pub(super) fn cautions() -> Vec<String> {
    words(&[
        "A spit cup and water stand at every place; use them.",
        "Nobody drives after tasting, however little was swallowed.",
        "Legal drinking age, licensing, carriage of spirits and drink-drive limits are local law.",
        "Nosing only is allowed: ask the proctor for the nosing form.",
        "Allergy, pregnancy and medication are asked beforehand, privately.",
    ])
}
