//! Regular forms of one English word: plural and singular, noun and adjective.

/// Regular forms of an English word: plural and singular, noun and adjective in -y, -ed or -ish,
/// noun in -ness. Whether a form is a word at all, the lexicon decides.
pub(super) fn forms(word: &str) -> Vec<String> {
    let mut forms = Vec::new();
    if word.len() < 3 || !word.is_ascii() {
        return forms;
    }
    plural_and_singular(word, &mut forms);
    if let Some(stem) = word.strip_suffix('y') {
        forms.push(format!("{stem}ies"));
        if is_adverb(stem) {
            forms.push(stem.to_owned());
        } else {
            without_ending(stem, &mut forms);
        }
    } else {
        forms.push(format!("{word}y"));
        if let Some(stem) = word.strip_suffix('e') {
            forms.push(format!("{stem}y"));
        } else if let Some(last) = word.chars().last() {
            forms.push(format!("{word}{last}y"));
        }
    }
    if let Some(stem) = word.strip_suffix("ness") {
        forms.push(stem.to_owned());
        if let Some(stem) = stem.strip_suffix('i') {
            forms.push(format!("{stem}y"));
            without_ending(stem, &mut forms);
        }
    }
    // "Dried" is not "dry": what ends in -ied keeps its own meaning.
    let adjective = word
        .strip_suffix("ed")
        .filter(|stem| !stem.ends_with('i'))
        .or_else(|| word.strip_suffix("ish"));
    if let Some(stem) = adjective {
        if would_double(stem) {
            forms.push(format!("{stem}e"));
        } else {
            without_ending(stem, &mut forms);
        }
        forms.push(format!("{stem}y"));
    }
    forms.retain(|form| form.len() >= 3);
    forms
}

fn plural_and_singular(word: &str, forms: &mut Vec<String>) {
    if let Some(stem) = word.strip_suffix("ies") {
        forms.push(format!("{stem}y"));
    }
    if let Some(stem) = word.strip_suffix("ves") {
        forms.push(format!("{stem}f"));
    }
    // "Fires" is no plural of "fir": only hissing ends and -o take -es.
    let takes_es = |stem: &&str| {
        ["s", "x", "z", "ch", "sh", "o"]
            .iter()
            .any(|e| stem.ends_with(e))
    };
    if let Some(stem) = word.strip_suffix("es").filter(takes_es) {
        forms.push(stem.to_owned());
    }
    match word.strip_suffix('s') {
        Some(stem) if !stem.ends_with('s') => forms.push(stem.to_owned()),
        Some(_) => forms.push(format!("{word}es")),
        None => {
            forms.push(format!("{word}s"));
            forms.push(format!("{word}es"));
        }
    }
}

/// Whether a word in -y with this stem ends in -ly after a consonant: "apply" is no form of "apple".
fn is_adverb(stem: &str) -> bool {
    stem.strip_suffix('l')
        .is_some_and(|before| !before.ends_with(['a', 'e', 'i', 'o', 'u', 'l']))
}

/// Whether a stem doubles its last letter before -ed, so that what ends in -ed after it comes from
/// a word in -e: "fired" is of "fire", not of "fir".
fn would_double(stem: &str) -> bool {
    let vowel = |c: &char| "aeiou".contains(*c);
    let letters: Vec<char> = stem.chars().collect();
    let short = matches!(letters.as_slice(), [.., a, b, c] if !vowel(a) && vowel(b) && !vowel(c));
    short && letters.iter().filter(|c| vowel(c)).count() == 1 && !stem.ends_with(['w', 'x', 'y'])
}

/// What may have stood before an ending: smok → smok, smoke; nutt → nut.
fn without_ending(stem: &str, forms: &mut Vec<String>) {
    forms.push(stem.to_owned());
    forms.push(format!("{stem}e"));
    let stem = stem.strip_suffix('e').unwrap_or(stem);
    forms.push(format!("{stem}e"));
    if let Some(short) = single_end(stem) {
        forms.push(short.to_owned());
    }
}

/// A stem that ends in a doubled consonant, with one of the two: nutt → nut.
fn single_end(stem: &str) -> Option<&str> {
    let mut ends = stem.chars().rev();
    let (last, before) = (ends.next()?, ends.next()?);
    (last == before && !"aeiou".contains(last))
        .then(|| stem.strip_suffix(last))
        .flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn regular_forms_are_among_those_tried() {
        for (word, form) in [
            ("cherries", "cherry"),
            ("leaves", "leaf"),
            ("peaches", "peach"),
            ("smoky", "smoke"),
            ("nutty", "nut"),
            ("apple", "apples"),
            ("peated", "peat"),
            ("honeyed", "honey"),
            ("spiced", "spicy"),
            ("charred", "char"),
            ("smokiness", "smoke"),
            ("sweetness", "sweet"),
            ("sweetish", "sweet"),
        ] {
            assert!(forms(word).iter().any(|f| f == form), "{word}: {form}");
        }
        for (word, other) in [
            ("dried", "dry"),
            ("fires", "fir"),
            ("fired", "fir"),
            ("fated", "fat"),
            ("apply", "apple"),
        ] {
            assert!(!forms(word).iter().any(|form| form == other), "{word}");
        }
        assert!(forms("as").is_empty() && forms("crème").is_empty());
    }
}
