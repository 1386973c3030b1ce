//! One place on the page where a hand writes or marks, and one where words are printed.

use serde::Serialize;

use crate::area::Area;

/// A box, bubble or line to write on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Field {
    /// Which answer it belongs to: a question number or, on a glass page, the name of what is asked.
    pub question: String,
    /// Which part of that answer it is.
    pub part: FieldPart,
    /// Where it is.
    pub area: Area,
    /// How it is drawn.
    pub shape: FieldShape,
    /// What is printed quietly inside it; empty for nothing.
    pub inside: String,
}

/// Which part of an answer a field holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub enum FieldPart {
    /// Marked or not: the option of this place, counted from 0.
    Option(u16),
    /// A number.
    Number,
    /// The lower end of a range.
    Low,
    /// The upper end of a range.
    High,
    /// The number given to the printed word of this place, counted from 0.
    Share(u16),
    /// A letter for the place or the left item of this number, counted from 0.
    Letter(u16),
    /// A word or line of this number, counted from 0.
    Line(u16),
}

/// How a field is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum FieldShape {
    /// A circle to fill: only one of its group counts.
    Bubble,
    /// A square to cross.
    Cross,
    /// A box to write in.
    Box,
    /// A line to write on; the area is the room above it.
    Line,
}

/// Words that are printed beside the fields.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PlacedText {
    /// Where the words have room.
    pub area: Area,
    /// The words.
    pub text: String,
    /// What they are, which says how they look.
    pub role: TextRole,
}

/// What printed words are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum TextRole {
    /// The name of a stage.
    Stage,
    /// What is asked.
    Heading,
    /// The number of a question.
    Number,
    /// Beside a field: an option's words, a unit.
    Label,
    /// Small, centred above a field.
    Above,
    /// Small, at the end of a scale, set to the right edge of its area.
    BeforeField,
}

/// The letter of an option: A for 0. Beyond Z the letters double: AA, AB.
#[must_use]
pub fn option_letter(place: u16) -> String {
    let letter = |index: u16| char::from(b'A' + u8::try_from(index % 26).unwrap_or(0));
    match place / 26 {
        0 => letter(place).to_string(),
        round => format!("{}{}", letter(round - 1), letter(place)),
    }
}

#[cfg(test)]
mod tests {
    use super::option_letter;

    #[test]
    fn letters_go_on_after_z() {
        assert_eq!(
            [0, 6, 25, 26, 27].map(option_letter),
            ["A", "G", "Z", "AA", "AB"]
        );
    }
}
