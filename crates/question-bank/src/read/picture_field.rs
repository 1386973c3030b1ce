//! Reads which picture a question shows, and what stands for it in words.

use base::Fault;
use base::tree::Tree;
use base::walk::{Walk, shortened};

use crate::picture::Picture;

/// What [`is_file`] takes, as a pattern.
const FILE: &str = "^[A-Za-z0-9][A-Za-z0-9_-]*\\.svg$";
const ALLOWED: &str = "the name of a file in the bank's folder pictures, such as pot-still.svg";
/// Fewer words say less than a picture shows.
const FEWEST_WORDS: usize = 3;

pub(super) fn read_picture<'t>(walk: &mut Walk<'t>, tree: &'t Tree) -> Option<Picture> {
    let mut fields = walk.fields(tree, "a picture")?;
    let file = fields.required(walk, "file").and_then(|t| {
        walk.of_form(t, FILE, ALLOWED);
        let file = walk.text(t)?;
        if !is_file(&file) {
            let place = walk.place(&t.bytes);
            let what = format!("\"{}\" is no name of a picture", shortened(&file));
            walk.note(Fault::new("bad-picture-name", place, what).allowed(ALLOWED));
            return None;
        }
        Some(file)
    });
    let alternative = fields.required(walk, "alternative").and_then(|t| {
        let words = walk.letters(t)?;
        if words.split_whitespace().count() < FEWEST_WORDS {
            let place = walk.place(&t.bytes);
            walk.note(
                Fault::new(
                    "bare-alternative",
                    place,
                    format!("\"{}\" says too little", shortened(&words)),
                )
                .allowed(format!("{FEWEST_WORDS} words or more"))
                .hint("say what is to be seen, so that who cannot see it can answer as well, without the key"),
            );
        }
        Some(words)
    });
    fields.finish(walk);
    Some(Picture {
        file: file?,
        alternative: alternative?,
    })
}

fn is_file(name: &str) -> bool {
    name.strip_suffix(".svg").is_some_and(|stem| {
        stem.starts_with(|c: char| c.is_ascii_alphanumeric())
            && stem
                .bytes()
                .all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_')
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use crate::read::question_tests::{read_one_question, text_of};

    fn rules(picture: &str) -> Vec<String> {
        let kind = "best_answer: { stem: Which?, options: [{ text: rum, why: w }, { text: gin, key: true, why: v }] }";
        let (question, faults) =
            read_one_question(&format!("{}    picture: {picture}\n", text_of(kind)));
        assert_eq!(
            question.is_some_and(|q| q.picture.is_some()),
            faults.is_empty()
        );
        faults
            .iter()
            .map(|f| f.split(':').next().unwrap().to_owned())
            .collect()
    }

    #[test]
    fn a_picture_has_a_plain_name_and_words() {
        assert_eq!(
            rules("{ file: pot-still.svg, alternative: A vessel with a neck. }"),
            [""; 0]
        );
        assert_eq!(
            rules("{ file: ../x.svg, alternative: A vessel with a neck. }"),
            ["bad-picture-name"]
        );
        assert_eq!(
            rules("{ file: x.png, alternative: A vessel with a neck. }"),
            ["bad-picture-name"]
        );
        assert_eq!(rules("{ file: x.svg }"), ["missing-field"]);
    }
}
