//! Names near to a mistyped one.

/// The known names nearest to a word, nearest first, at most three; none where nothing is near.
/// Near means an edit distance (Damerau and Levenshtein) of at most a third of the word's length,
/// and never more than three. Ties keep the order of the names.
#[must_use]
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Vec<&'a str> {
    if word.len() > 200 {
        return Vec::new();
    }
    let folded = word.to_lowercase();
    let reach = (folded.chars().count().div_ceil(3)).clamp(1, 3);
    let mut found: Vec<(usize, &str)> = known
        .into_iter()
        .filter(|name| name.len() <= 200)
        .map(|name| {
            (
                strsim::damerau_levenshtein(&folded, &name.to_lowercase()),
                name,
            )
        })
        .filter(|(distance, _)| *distance <= reach)
        .collect();
    found.sort_by_key(|(distance, _)| *distance);
    found.into_iter().take(3).map(|(_, name)| name).collect()
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn a_slip_finds_its_word() {
        assert_eq!(nearest("tittle", ["date", "title", "bank"]), ["title"]);
        assert!(nearest("xyz", ["date", "title"]).is_empty());
    }
}
