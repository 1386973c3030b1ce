//! What candidates write around a word: how much of it, where it shows, and that it is not there.

/// What a text says of the thing it names.
pub(super) enum Said<'w, 't> {
    /// It is there.
    Present,
    /// It is not there; the words that name it.
    Absent(&'w [&'t str]),
    /// Something is denied, or half denied, and what is left is not clear: "not very smoky".
    Unclear,
}

/// Words that deny what stands beside them.
const DENIALS: [&str; 41] = [
    "no", "not", "non", "nor", "none", "never", "neither", "nothing", "nil", "zero", "without",
    "lack", "lacks", "lacking", "lacked", "absent", "absence", "free", "isn", "isnt", "aren",
    "arent", "wasn", "wasnt", "doesn", "doesnt", "don", "dont", "didn", "didnt", "can", "cannot",
    "cant", "minus", "missing", "devoid", "less", "hardly", "barely", "scarcely", "unlike",
];

/// Words that leave open whether something is there once it is denied: "not much smoke", "not
/// only smoke". Those of degree do the same.
const OPEN: [&str; 14] = [
    "much",
    "many",
    "only",
    "just",
    "too",
    "so",
    "enough",
    "necessarily",
    "particularly",
    "especially",
    "overly",
    "overtly",
    "exactly",
    "all",
];

/// Words that say how much of something there is, when "of" follows, or where it shows.
const AMOUNTS: [&str; 86] = [
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
    "whisper",
    "whispers",
    "bit",
    "lot",
    "lots",
    "plenty",
    "loads",
    "dash",
    "splash",
    "pinch",
    "burst",
    "bursts",
    "wave",
    "waves",
    "layer",
    "layers",
    "edge",
    "streak",
    "wisp",
    "wisps",
    "abundance",
    "full",
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
    "overtone",
    "overtones",
    "character",
    "quality",
    "element",
    "elements",
    "presence",
    "influence",
    "sensation",
    "nose",
    "palate",
    "finish",
    "aftertaste",
    "sign",
    "signs",
    "evidence",
    "amount",
    "amounts",
    "level",
    "levels",
    "slice",
    "reminiscent",
    "redolent",
    "bouquet",
    "hit",
    "side",
    "mouthful",
];

/// Words that say how strong something is, or that it is the thing itself.
const DEGREES: [&str; 70] = [
    "slight",
    "slightly",
    "faint",
    "faintly",
    "subtle",
    "subtly",
    "gentle",
    "gently",
    "delicate",
    "delicately",
    "light",
    "lightly",
    "mild",
    "mildly",
    "soft",
    "softly",
    "weak",
    "weakly",
    "low",
    "medium",
    "moderate",
    "moderately",
    "some",
    "somewhat",
    "quite",
    "rather",
    "fairly",
    "pretty",
    "really",
    "very",
    "extremely",
    "high",
    "strong",
    "strongly",
    "intense",
    "intensely",
    "heavy",
    "heavily",
    "big",
    "huge",
    "massive",
    "bold",
    "powerful",
    "powerfully",
    "deep",
    "deeply",
    "rich",
    "richly",
    "distinct",
    "distinctly",
    "definite",
    "definitely",
    "clear",
    "clearly",
    "obvious",
    "obviously",
    "noticeable",
    "noticeably",
    "pronounced",
    "prominent",
    "dominant",
    "overwhelming",
    "lingering",
    "background",
    "underlying",
    "fresh",
    "freshly",
    "ripe",
    "juicy",
    "vague",
];

/// Whether the words deny what they name, and which words name it.
pub(super) fn said<'w, 't>(words: &'w [&'t str]) -> Said<'w, 't> {
    // "Little smoke" half denies it, "a little smoke" does not.
    let half_denied = words.iter().enumerate().any(|(at, word)| {
        matches!(*word, "little" | "few")
            && (at == 0 || words.get(at - 1).is_none_or(|before| *before != "a"))
    });
    if half_denied {
        return Said::Unclear;
    }
    if !words.iter().any(|word| DENIALS.contains(word)) {
        return Said::Present;
    }
    match denied(opened(words)) {
        Some(rest) => Said::Absent(rest),
        None => Said::Unclear,
    }
}

/// The words without "it is", "there is", "I get" and the like before them.
fn opened<'w, 't>(words: &'w [&'t str]) -> &'w [&'t str] {
    match words {
        ["it" | "this", "is" | "was" | "has" | "had", rest @ ..]
        | ["there", "is" | "was" | "are" | "were", rest @ ..]
        | [
            "i",
            "get" | "got" | "find" | "found" | "smell" | "taste",
            rest @ ..,
        ] => rest,
        ["it" | "there" | "i", rest @ ..]
            if rest.first().is_some_and(|word| DENIALS.contains(word)) =>
        {
            rest
        }
        _ => words,
    }
}

/// What is plainly denied; none where that is not plain.
fn denied<'w, 't>(words: &'w [&'t str]) -> Option<&'w [&'t str]> {
    let rest = match words {
        [
            rest @ ..,
            "not",
            "present" | "found" | "detected" | "there" | "noticeable",
        ] => rest,
        [
            "isn" | "aren" | "wasn" | "doesn" | "don" | "didn",
            "t",
            rest @ ..,
        ]
        | ["is" | "does" | "do" | "did", "not", rest @ ..]
        | ["absence" | "lack", "of", rest @ ..]
        | ["devoid" | "free", "of" | "from", rest @ ..]
        | [
            "no" | "not" | "non" | "without" | "zero" | "nil" | "never" | "lacks" | "lacking"
            | "isnt" | "arent" | "wasnt" | "doesnt" | "dont" | "didnt",
            rest @ ..,
        ]
        | [rest @ .., "free" | "absent" | "missing" | "lacking"] => rest,
        _ => return None,
    };
    let rest = match rest {
        [rest @ .., "at", "all" | "present"] | [rest @ .., "present" | "whatsoever"] => rest,
        _ => rest,
    };
    let rest = match rest {
        [
            "any" | "have" | "has" | "get" | "find" | "smell" | "taste",
            "any",
            rest @ ..,
        ]
        | [
            "any" | "have" | "get" | "find" | "detectable" | "discernible",
            rest @ ..,
        ] => rest,
        _ => rest,
    };
    let open =
        |word: &&str| DENIALS.contains(word) || DEGREES.contains(word) || OPEN.contains(word);
    (!rest.is_empty() && !rest.iter().any(open)).then_some(rest)
}

/// What a single word denies by its own prefix or ending: unpeated, smokeless.
pub(super) fn denied_within(word: &str) -> Option<&str> {
    word.strip_prefix("un")
        .or_else(|| word.strip_prefix("non"))
        .or_else(|| word.strip_suffix("less"))
        .filter(|rest| rest.len() >= 4)
}

/// The words without one phrase at the beginning or end; none where there is no such phrase, or
/// nothing would remain.
pub(super) fn without_phrase<'w, 't>(words: &'w [&'t str]) -> Option<&'w [&'t str]> {
    let shorter = match words {
        ["a", "little" | "bit", "of", rest @ ..]
        | ["a", "little" | "bit" | "lot", rest @ ..]
        | [
            "smells" | "smell" | "smelling" | "tastes" | "taste" | "tasting",
            "like" | "of",
            rest @ ..,
        ]
        | ["reminds", "me", "of", rest @ ..]
        | ["ever", "so", rest @ ..]
        | ["just", rest @ ..]
        | [
            rest @ ..,
            "on" | "in" | "at",
            "the",
            "nose" | "palate" | "finish" | "background" | "back" | "end" | "mouth",
        ]
        | [rest @ .., "with" | "after" | "without", "water"] => rest,
        // What is very ripe may be overripe, which is another word.
        ["very" | "extremely" | "really", "ripe", ..] => return None,
        [amount, "of", rest @ ..] if AMOUNTS.contains(amount) => rest,
        ["a" | "an" | "the" | "any", rest @ ..] => rest,
        [degree, rest @ ..] if DEGREES.contains(degree) => rest,
        [
            rest @ ..,
            "like" | "led" | "forward" | "driven" | "tasting" | "smelling" | "scented"
            | "flavoured" | "flavored",
        ] => rest,
        [rest @ .., amount] if AMOUNTS.contains(amount) => rest,
        _ => {
            let opened = opened(words);
            if opened.len() == words.len() {
                return None;
            }
            opened
        }
    };
    (!shorter.is_empty()).then_some(shorter)
}
