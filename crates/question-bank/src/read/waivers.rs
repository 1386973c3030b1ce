//! Reads the rules of item writing that an author sets aside for one question.

use base::tree::Tree;
use base::walk::Walk;

use crate::check::{ItemRule, Waiver};

/// Reads a list such as `[{ rule: L05, because: "the full name of the still is long" }]`.
pub(crate) fn read_waivers<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Vec<Waiver> {
    let names = ItemRule::ALL.map(|rule| (rule.number(), rule));
    let mut waivers = Vec::new();
    for item in walk.list(tree, "waived rules") {
        let Some(mut fields) = walk.fields(item, "a waived rule") else {
            continue;
        };
        let rule = fields
            .required(walk, "rule")
            .and_then(|tree| walk.choice(tree, &names));
        let because = fields
            .required(walk, "because")
            .and_then(|tree| walk.letters(tree));
        fields.finish(walk);
        if let (Some(rule), Some(because)) = (rule, because) {
            waivers.push(Waiver { rule, because });
        }
    }
    waivers
}
