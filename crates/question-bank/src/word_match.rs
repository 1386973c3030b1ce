//! Finds the lexicon's word for what a person wrote: case, accents, plurals, word order, phrases
//! such as "notes of" and small slips. What is not clear stays unknown and is never guessed.

use std::collections::BTreeSet;

pub use crate::folded_text::fold;
use crate::lexicon::{Entry, Lexicon, WordPlace};

/// What a written word is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Resolved {
    /// A word of the lexicon.
    Known {
        /// The lexicon's main word.
        word: String,
        /// How it was recognised.
        how: How,
    },
    /// Not recognised: for a person.
    Unknown {
        /// At most three main words that may be meant, likeliest first.
        near: Vec<String>,
    },
}

/// How a word was recognised.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum How {
    /// It is the main word, but for case, accents, hyphens and spaces.
    Exact,
    /// It is a synonym.
    Synonym,
    /// It is a regular form of the word or of a synonym: plural or singular, adjective in -y, words
    /// in another order, or with a phrase such as "notes of" around it.
    Plural,
    /// It is a slip of the pen, and no other word is as near.
    Spelling,
}

/// A text longer than this many bytes is no descriptor.
const LONGEST: usize = 120;

/// The words of a folded form in alphabetical order, without words that only join.
pub(crate) fn arranged(folded: &str) -> String {
    let mut words: Vec<&str> = folded.split(' ').filter(|word| !joins(word)).collect();
    words.sort_unstable();
    words.join(" ")
}

/// Whether a word only joins others, so that "zest of orange" is "orange zest".
fn joins(word: &str) -> bool {
    matches!(word, "of" | "the" | "a" | "an")
}

/// Finds the lexicon's word for a written one.
///
/// In this order: the main word or a synonym; a regular form of one (plural, adjective in -y, other
/// order of words), with phrases such as "notes of" or "slightly" taken off; a slip of one letter
/// in words of five to seven letters, or two in longer ones, where exactly one word of the lexicon
/// is that near (Damerau and Levenshtein, as optimal string alignment; the first letter must agree). What denies something ("no
/// smoke") is never resolved. Everything else is unknown.
#[must_use]
pub fn resolve(lexicon: &Lexicon, written: &str) -> Resolved {
    if written.len() > LONGEST {
        return Resolved::Unknown { near: Vec::new() };
    }
    if let Some(entry) = lexicon.index.get(written) {
        return known(lexicon, *entry, None);
    }
    let folded = fold(written);
    if let Some(entry) = lexicon.index.get(&folded) {
        return known(lexicon, *entry, None);
    }
    let words: Vec<&str> = folded.split(' ').filter(|word| !word.is_empty()).collect();
    if words.is_empty() {
        return Resolved::Unknown { near: Vec::new() };
    }
    if words.iter().any(|word| DENIALS.contains(word)) {
        return Resolved::Unknown {
            near: near(lexicon, &words),
        };
    }
    let mut core = words.as_slice();
    loop {
        match form_of(lexicon, core) {
            Found::One(place) => {
                return known(lexicon, Entry { place, main: false }, Some(How::Plural));
            }
            Found::Several => {
                return Resolved::Unknown {
                    near: near(lexicon, core),
                };
            }
            Found::Nothing => {}
        }
        match without_phrase(core) {
            Some(rest) => core = rest,
            None => break,
        }
    }
    match slip_of(lexicon, core) {
        Some(place) => known(lexicon, Entry { place, main: false }, Some(How::Spelling)),
        None => Resolved::Unknown {
            near: near(lexicon, core),
        },
    }
}

fn known(lexicon: &Lexicon, entry: Entry, how: Option<How>) -> Resolved {
    Resolved::Known {
        word: lexicon.main_word(entry.place).unwrap_or("").to_owned(),
        how: how.unwrap_or(if entry.main { How::Exact } else { How::Synonym }),
    }
}

/// Words that deny what stands beside them. "Little" denies, "a little" does not.
const DENIALS: [&str; 36] = [
    "no", "not", "non", "nor", "none", "never", "neither", "nothing", "nil", "zero", "without",
    "lack", "lacks", "lacking", "lacked", "absent", "absence", "free", "hardly", "barely",
    "scarcely", "isn", "isnt", "aren", "wasn", "wasnt", "doesn", "doesnt", "don", "dont", "didn",
    "didnt", "cannot", "minus", "missing", "less",
];

/// Words that say how much of something there is, when "of" follows.
const AMOUNTS: [&str; 42] = [
    "note",
    "notes",
    "hint",
    "hints",
    "touch",
    "touches",
    "trace",
    "traces",
    "whiff",
    "whiffs",
    "bit",
    "lot",
    "lots",
    "plenty",
    "loads",
    "aroma",
    "aromas",
    "smell",
    "smells",
    "scent",
    "scents",
    "odour",
    "odours",
    "odor",
    "odors",
    "taste",
    "tastes",
    "flavour",
    "flavours",
    "flavor",
    "flavors",
    "nuance",
    "nuances",
    "impression",
    "impressions",
    "suggestion",
    "suggestions",
    "background",
    "tone",
    "tones",
    "undertone",
    "undertones",
];

/// Words that say how strong something is.
const DEGREES: [&str; 24] = [
    "slight",
    "slightly",
    "faint",
    "faintly",
    "subtle",
    "subtly",
    "gentle",
    "gently",
    "delicate",
    "light",
    "lightly",
    "mild",
    "mildly",
    "soft",
    "some",
    "quite",
    "very",
    "strong",
    "strongly",
    "intense",
    "intensely",
    "distinct",
    "distinctly",
    "pronounced",
];

/// The words without one phrase at the beginning or end; none where there is no such phrase, or
/// nothing would remain.
fn without_phrase<'w, 't>(words: &'w [&'t str]) -> Option<&'w [&'t str]> {
    let shorter = match words {
        ["a", "little" | "bit", "of", rest @ ..] | ["a", "little" | "bit", rest @ ..] => rest,
        [amount, "of", rest @ ..] if AMOUNTS.contains(amount) => rest,
        ["a" | "an" | "the", rest @ ..] => rest,
        [degree, rest @ ..] if DEGREES.contains(degree) => rest,
        [rest @ .., "like"] => rest,
        [rest @ .., amount] if AMOUNTS.contains(amount) => rest,
        _ => return None,
    };
    (!shorter.is_empty()).then_some(shorter)
}

/// What a search among the forms gave.
enum Found {
    Nothing,
    One(WordPlace),
    Several,
}

/// Looks for the words, or a regular form of one of them, as they stand and in another order.
fn form_of(lexicon: &Lexicon, words: &[&str]) -> Found {
    let as_written = words.join(" ");
    if let Some(place) = look_up(lexicon, &as_written) {
        return Found::One(place);
    }
    let mut found = BTreeSet::new();
    for (position, word) in words.iter().enumerate() {
        // One word at a time is varied, so all others must be words of the lexicon already.
        let mut others = words.iter().enumerate().filter(|(at, _)| *at != position);
        if !others.all(|(_, other)| lexicon.vocabulary.contains(*other) || joins(other)) {
            continue;
        }
        for form in forms(word) {
            let mut varied: Vec<&str> = words.to_vec();
            if let Some(spot) = varied.get_mut(position) {
                *spot = &form;
            }
            found.extend(look_up(lexicon, &varied.join(" ")));
        }
    }
    let mut found = found.into_iter();
    match (found.next(), found.next()) {
        (None, _) => Found::Nothing,
        (Some(place), None) => Found::One(place),
        (Some(_), Some(_)) => Found::Several,
    }
}

fn look_up(lexicon: &Lexicon, form: &str) -> Option<WordPlace> {
    if let Some(entry) = lexicon.index.get(form) {
        return Some(entry.place);
    }
    if !form.contains(' ') {
        return None;
    }
    let arranged = arranged(form);
    lexicon
        .arranged
        .get(&arranged)
        .copied()
        .flatten()
        .or_else(|| lexicon.index.get(&arranged).map(|entry| entry.place))
}

/// Regular forms of an English word: plural and singular, noun and adjective in -y.
fn forms(word: &str) -> Vec<String> {
    let mut forms = Vec::new();
    if word.len() < 3 || !word.is_ascii() {
        return forms;
    }
    if let Some(stem) = word.strip_suffix("ies") {
        forms.push(format!("{stem}y"));
    }
    if let Some(stem) = word.strip_suffix("ves") {
        forms.push(format!("{stem}f"));
    }
    if let Some(stem) = word.strip_suffix("es") {
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
    if let Some(stem) = word.strip_suffix('y') {
        forms.push(format!("{stem}ies"));
        forms.push(stem.to_owned());
        forms.push(format!("{stem}e"));
        let stem = stem.strip_suffix('e').unwrap_or(stem);
        forms.push(format!("{stem}e"));
        if let Some(short) = single_end(stem) {
            forms.push(short.to_owned());
        }
    } else {
        forms.push(format!("{word}y"));
        if let Some(stem) = word.strip_suffix('e') {
            forms.push(format!("{stem}y"));
        } else if let Some(last) = word.chars().last() {
            forms.push(format!("{word}{last}y"));
        }
    }
    forms.retain(|form| form.len() >= 3);
    forms
}

/// A stem that ends in a doubled consonant, with one of the two: nutt → nut.
fn single_end(stem: &str) -> Option<&str> {
    let mut ends = stem.chars().rev();
    let (last, before) = (ends.next()?, ends.next()?);
    (last == before && !"aeiou".contains(last))
        .then(|| stem.strip_suffix(last))
        .flatten()
}

/// The only entry that the words can be a slip of.
fn slip_of(lexicon: &Lexicon, words: &[&str]) -> Option<WordPlace> {
    let mut found = BTreeSet::new();
    let joined = words.concat();
    for (form, entry) in &lexicon.index {
        if is_slip(lexicon, words, &joined, form) {
            found.insert(entry.place);
        }
    }
    let mut found = found.into_iter();
    match (found.next(), found.next()) {
        (Some(place), None) => Some(place),
        (None | Some(_), _) => None,
    }
}

fn is_slip(lexicon: &Lexicon, words: &[&str], joined: &str, form: &str) -> bool {
    if form.split(' ').count() == words.len() {
        return words
            .iter()
            .zip(form.split(' '))
            .all(|(word, meant)| *word == meant || is_word_slip(lexicon, word, meant));
    }
    // Parted or joined otherwise: "bees wax", "wood smoke". No letter may differ in short ones.
    let spaces = form.split(' ').count() - 1;
    if (form.len() - spaces).abs_diff(joined.len()) > 4 {
        return false;
    }
    let meant: String = form.split(' ').collect();
    joined == meant
        || (letters(joined) >= 8
            && words.len() == 1
            && begins_alike(joined, &meant)
            && strsim::osa_distance(joined, &meant) <= 1)
}

/// Whether a single word is another one with a slip in it. A word that the lexicon uses anywhere
/// is no slip of another, and "unpeated" is no slip of "peated".
fn is_word_slip(lexicon: &Lexicon, word: &str, meant: &str) -> bool {
    let reach = match letters(word) {
        0..=4 => return false,
        5..=7 => 1,
        _ => 2,
    };
    letters(word).abs_diff(letters(meant)) <= reach
        && begins_alike(word, meant)
        && !opposite(word, meant)
        && !opposite(meant, word)
        && strsim::osa_distance(word, meant) <= reach
        && !lexicon.vocabulary.contains(word)
}

fn letters(word: &str) -> usize {
    word.chars().count()
}

/// Whether two words begin alike: cherry is no slip of sherry. C and k sound alike, and the first
/// two letters may have changed places.
fn begins_alike(word: &str, meant: &str) -> bool {
    let mut first = word.chars();
    let mut second = meant.chars();
    let (a, b) = (first.next(), second.next());
    let sounded = |c: Option<char>| if c == Some('k') { Some('c') } else { c };
    sounded(a) == sounded(b) || (a == second.next() && b == first.next())
}

/// Whether one word is the other with a prefix that turns its meaning round.
fn opposite(longer: &str, shorter: &str) -> bool {
    ["un", "non", "in", "im", "dis", "de"]
        .iter()
        .any(|prefix| longer.strip_prefix(prefix) == Some(shorter))
}

/// At most three main words that may be meant: those named inside the text, then those with a
/// similar spelling.
fn near(lexicon: &Lexicon, words: &[&str]) -> Vec<String> {
    let mut places: Vec<WordPlace> = Vec::new();
    let mut add = |place: WordPlace| {
        if !places.contains(&place) {
            places.push(place);
        }
    };
    for length in (1..=words.len().min(4)).rev() {
        for part in words.windows(length) {
            if let Found::One(place) = form_of(lexicon, part) {
                add(place);
            }
        }
    }
    let core = words.join(" ");
    for place in alike(lexicon, &core) {
        add(place);
    }
    places
        .into_iter()
        .take(3)
        .filter_map(|place| lexicon.main_word(place).map(str::to_owned))
        .collect()
}

/// Places of forms spelled much like the text, nearest first: an edit for each four letters begun,
/// three at most.
fn alike(lexicon: &Lexicon, text: &str) -> Vec<WordPlace> {
    let length = letters(text);
    let reach = length.div_ceil(4).clamp(1, 3);
    let mut found: Vec<(usize, WordPlace)> = lexicon
        .index
        .iter()
        .filter(|(form, _)| letters(form).abs_diff(length) <= reach)
        .map(|(form, entry)| (strsim::osa_distance(text, form), entry.place))
        .filter(|(distance, _)| *distance <= reach)
        .collect();
    found.sort_unstable();
    found.into_iter().map(|(_, place)| place).collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;
    use crate::lexicon::tests::lexicon_of;
    use proptest::prelude::*;

    fn lexicon() -> Lexicon {
        lexicon_of(&[
            &[&[
                ("apple", &["fresh apple"]),
                ("apricot", &[]),
                ("banana", &["ripe banana"]),
                ("cherry", &[]),
                ("red berries", &[]),
                ("orange peel", &["orange zest"]),
                ("melon", &[]),
                ("lemon", &[]),
                ("pear", &[]),
                ("passion fruit", &[]),
            ]],
            &[&[
                ("smoke", &["bonfire smoke"]),
                ("peat", &["peated malt"]),
                ("oak", &[]),
                ("nut", &[]),
                ("wood smoke", &[]),
                ("leaf", &[]),
                ("sherry", &[]),
                ("bitter almond", &["almond essence"]),
                ("peanut butter", &[]),
                ("crème brûlée", &[]),
                ("cinnamon", &[]),
                ("caramel", &[]),
                ("liquorice", &["licorice"]),
            ]],
        ])
        .unwrap()
    }
    fn word_and_how(written: &str) -> Option<(String, How)> {
        match resolve(&lexicon(), written) {
            Resolved::Known { word, how } => Some((word, how)),
            Resolved::Unknown { .. } => None,
        }
    }
    fn near_of(written: &str) -> Vec<String> {
        match resolve(&lexicon(), written) {
            Resolved::Known { word, .. } => panic!("{written} was taken as {word}"),
            Resolved::Unknown { near } => near,
        }
    }

    #[test]
    fn words_are_recognised_by_the_gentlest_way_that_leads_to_them() {
        for (written, word, how) in [
            ("Apple", "apple", How::Exact),
            ("creme brulee", "crème brûlée", How::Exact),
            ("orange-peel", "orange peel", How::Exact),
            ("fresh apple", "apple", How::Synonym),
            ("apples", "apple", How::Plural),
            ("fresh apples", "apple", How::Plural),
            ("cherries", "cherry", How::Plural),
            ("red berry", "red berries", How::Plural),
            ("leaves", "leaf", How::Plural),
            ("smoky", "smoke", How::Plural),
            ("smokey", "smoke", How::Plural),
            ("nutty", "nut", How::Plural),
            ("oaky", "oak", How::Plural),
            ("peel of orange", "orange peel", How::Plural),
            ("smoke of wood", "wood smoke", How::Plural),
            ("notes of vanilla and oak", "", How::Plural),
            ("notes of oak", "oak", How::Plural),
            ("a hint of ripe bananas", "banana", How::Plural),
            ("slightly smoky", "smoke", How::Plural),
            ("a little smoke", "smoke", How::Plural),
            ("oak notes", "oak", How::Plural),
            ("bannana", "banana", How::Spelling),
            ("aprikot", "apricot", How::Spelling),
            ("cinammon", "cinnamon", How::Spelling),
            ("karamel", "caramel", How::Spelling),
            ("hint of liqorice", "liquorice", How::Spelling),
            ("passionfruit", "passion fruit", How::Spelling),
        ] {
            let expected = (!word.is_empty()).then(|| (word.to_owned(), how));
            assert_eq!(word_and_how(written), expected, "{written}");
        }
    }

    #[test]
    fn nothing_is_guessed() {
        for written in [
            "no smoke",
            "not smoky",
            "without any smoke",
            "little smoke",
            "smoke-free",
            "isn't smoky",
            "unpeated malt",
            "pare",          // four letters: no slip is taken
            "butter almond", // "butter" is a word of the lexicon
            "sherri cherry",
            "vanilla, oak",
            "smoke and wood", // two answers, not "wood smoke"
            "aple",
            "mud",
            "",
            "  ",
            "a",
        ] {
            assert_eq!(word_and_how(written), None, "{written}");
        }
        // Two words are as near: a person decides.
        let two = lexicon_of(&[&[&[("tarragon", &[]), ("taragone", &[])]]]).unwrap();
        let Resolved::Unknown { near } = resolve(&two, "taragon") else {
            panic!("guessed between two");
        };
        assert_eq!(near.len(), 2);
    }

    #[test]
    fn unknown_words_come_with_near_ones() {
        assert_eq!(near_of("no smoke").first().unwrap(), "smoke");
        assert_eq!(near_of("smoked apple skin").first().unwrap(), "apple");
        assert_eq!(near_of("aple").first().unwrap(), "apple");
        assert!(near_of("qqqqqq").is_empty());
        assert!(near_of(&"x".repeat(5000)).is_empty());
    }

    proptest! {
        #[test]
        fn any_text_resolves_without_panic_to_a_lexicon_word_or_none(text in ".{0,60}") {
            let lexicon = lexicon();
            match resolve(&lexicon, &text) {
                Resolved::Known { word, .. } => prop_assert!(lexicon.place_of(&word).is_some()),
                Resolved::Unknown { near } => {
                    prop_assert!(near.len() <= 3);
                    for word in near {
                        prop_assert!(lexicon.place_of(&word).is_some());
                    }
                }
            }
        }
    }
}
