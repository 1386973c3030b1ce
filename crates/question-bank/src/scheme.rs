//! Trees that come with the program, by legal scheme: categories under the name of the law's land
//! (`eu`, `uk`, `us` …), origins under `eu-origins`, `uk-origins` and so on.
//!
//! A bank chooses one by writing its name as `scheme` of its tree, and may extend it by nodes of its
//! own. Each node names its clause, and says whether the text was read or the row is from memory.

/// The names of the shipped trees with their texts.
const SHIPPED: [(&str, &str); 20] = [
    ("au", include_str!("../schemes/au-categories.yaml")),
    ("br", include_str!("../schemes/br-categories.yaml")),
    ("ca", include_str!("../schemes/ca-categories.yaml")),
    (
        "caribbean",
        include_str!("../schemes/caribbean-categories.yaml"),
    ),
    ("cl", include_str!("../schemes/cl-categories.yaml")),
    ("cl-origins", include_str!("../schemes/cl-origins.yaml")),
    ("eu", include_str!("../schemes/eu-categories.yaml")),
    ("eu-origins", include_str!("../schemes/eu-origins.yaml")),
    ("in", include_str!("../schemes/in-categories.yaml")),
    ("jp", include_str!("../schemes/jp-categories.yaml")),
    ("mx", include_str!("../schemes/mx-categories.yaml")),
    ("mx-origins", include_str!("../schemes/mx-origins.yaml")),
    ("no", include_str!("../schemes/no-categories.yaml")),
    ("pe", include_str!("../schemes/pe-categories.yaml")),
    ("pe-origins", include_str!("../schemes/pe-origins.yaml")),
    ("rum-origins", include_str!("../schemes/rum-origins.yaml")),
    ("uk", include_str!("../schemes/uk-categories.yaml")),
    ("uk-origins", include_str!("../schemes/uk-origins.yaml")),
    ("us", include_str!("../schemes/us-categories.yaml")),
    ("us-origins", include_str!("../schemes/us-origins.yaml")),
];

/// The text of a shipped tree.
#[must_use]
pub fn scheme_text(name: &str) -> Option<&'static str> {
    SHIPPED
        .iter()
        .find(|(known, _)| *known == name)
        .map(|(_, text)| *text)
}

/// The names of the shipped trees, in alphabetical order.
pub fn scheme_names() -> impl Iterator<Item = &'static str> {
    SHIPPED.iter().map(|(name, _)| *name)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::read::read_tree_of_nodes;
    use base::SourceText;

    #[test]
    fn every_shipped_tree_is_read_without_a_word_against_it() {
        let mut before = "";
        for name in scheme_names() {
            assert!(before < name, "{name}");
            before = name;
            let text = format!("scheme: {name}\n");
            let checked = read_tree_of_nodes(&SourceText::new("categories.yaml", &text));
            assert!(checked.faults.is_empty(), "{name}: {:?}", checked.faults);
            let tree = checked.value.unwrap();
            assert_eq!(tree.scheme(), name);
            assert!(tree.nodes().len() > 1, "{name}");
            let sourced = tree.nodes().iter().filter(|node| node.source.is_some());
            assert!(sourced.clone().count() > 0, "{name}");
            assert!(
                sourced.into_iter().all(|node| node.evidence.is_some()),
                "{name}"
            );
        }
    }
}
