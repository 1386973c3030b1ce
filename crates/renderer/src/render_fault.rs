//! Why a sheet could not be printed.

use base::Fault;
use sheet_layout::Millimetres;
use thiserror::Error;

use crate::sheets::Sheet;

/// A character that none of the embedded fonts has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MissingCharacter {
    /// The character.
    pub character: char,
    /// A text in which it stands, cut to a readable length.
    pub in_text: String,
}

/// Why a sheet could not be printed.
///
/// A character without a picture stops the sheet and is named: a blank or a substitute in a
/// candidate's name or in a question would go unnoticed until the papers lie on the table.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum RenderFault {
    /// The template or the page made from it has faults; each has its template and line where
    /// they are known.
    #[error("{sheet}: the template does not make a page: {}", list(faults))]
    Template {
        /// The sheet.
        sheet: &'static str,
        /// All faults found.
        faults: Vec<Fault>,
    },
    /// Characters that no font has.
    #[error("{sheet}: no font has {}", characters(missing))]
    MissingCharacters {
        /// The sheet.
        sheet: &'static str,
        /// Each once, in the order of their code points.
        missing: Vec<MissingCharacter>,
    },
    /// A label code that would be lower than 7 mm.
    #[error(
        "label sheet \"{grid}\": the code \"{code}\" does not fit at the least height of {least}"
    )]
    CodeDoesNotFit {
        /// The label sheet.
        grid: String,
        /// The longest code.
        code: String,
        /// The least height of the digits.
        least: Millimetres,
    },
    /// The label sheet's geometry has faults.
    #[error("the label sheet cannot be used: {}", list(faults))]
    LabelSheet {
        /// All faults of the geometry.
        faults: Vec<Fault>,
    },
    /// The sheet has nothing to print.
    #[error("{sheet}: there is nothing to print: {what}")]
    Nothing {
        /// The sheet.
        sheet: &'static str,
        /// What is empty.
        what: &'static str,
    },
}

impl RenderFault {
    /// A refusal of a sheet that would have nothing on it.
    ///
    /// # Errors
    /// Where the list is empty: what is missing, by the name of the sheet.
    pub(crate) fn unless_some<T>(sheet: Sheet, list: &[T], what: &'static str) -> Result<(), Self> {
        if list.is_empty() {
            return Err(Self::Nothing {
                sheet: sheet.name(),
                what,
            });
        }
        Ok(())
    }

    /// The same as faults with place and hint, for the common report.
    #[must_use]
    pub fn into_faults(self) -> Vec<Fault> {
        match self {
            Self::Template { faults, .. } | Self::LabelSheet { faults } => faults,
            Self::MissingCharacters { sheet, missing } => missing
                .into_iter()
                .map(|one| {
                    Fault::new(
                        "character-without-font",
                        None,
                        format!(
                            "{sheet}: no font has the character {} (U+{:04X}) in \"{}\"",
                            one.character,
                            u32::from(one.character),
                            one.in_text
                        ),
                    )
                    .allowed("Latin, Greek, Cyrillic, Hebrew and Arabic letters, common signs")
                    .hint("write the word in letters that the fonts have")
                })
                .collect(),
            Self::CodeDoesNotFit { ref grid, .. } => vec![
                Fault::new("code-too-large-for-label", None, self.to_string()).hint(format!(
                    "choose a label sheet with larger labels than {grid}"
                )),
            ],
            Self::Nothing { .. } => vec![Fault::new("nothing-to-print", None, self.to_string())],
        }
    }
}

fn list(faults: &[Fault]) -> String {
    faults
        .iter()
        .map(ToString::to_string)
        .collect::<Vec<_>>()
        .join("; ")
}

fn characters(missing: &[MissingCharacter]) -> String {
    missing
        .iter()
        .map(|one| {
            format!(
                "{} (U+{:04X}) in \"{}\"",
                one.character,
                u32::from(one.character),
                one.in_text
            )
        })
        .collect::<Vec<_>>()
        .join(", ")
}
