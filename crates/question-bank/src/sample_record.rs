//! What is in a bottle, and how a reference panel found it.

use base::{NodeId, Place, SampleId};
use serde::Serialize;

use crate::reference_tasting::ReferenceTasting;

/// A checked sample record. Holds the key of a blind sample and therefore has no `Serialize`.
#[derive(Debug, Clone, PartialEq)]
pub struct SampleRecord {
    /// Its id.
    pub id: SampleId,
    /// Where it stands in its text.
    pub place: Place,
    /// The name on the bottle.
    pub name: String,
    /// The producer.
    pub producer: String,
    /// Where it belongs in the category tree.
    pub category: NodeId,
    /// Where it comes from.
    pub region: NodeId,
    /// Regions that are also right.
    pub accepted_regions: Vec<NodeId>,
    /// Its age.
    pub age: Age,
    /// Strength as bottled, % vol at 20 °C.
    pub strength: f64,
    /// The cask, in words.
    pub cask: Option<String>,
    /// The bottling lot that is poured.
    pub lot: Option<String>,
    /// The lot that the panel tasted, where it was another.
    pub panel_lot: Option<String>,
    /// The day on which the bottle was opened, `YYYY-MM-DD`; none for a sealed bottle.
    pub opened: Option<String>,
    /// Contents of one bottle, ml.
    pub bottle: u32,
    /// Allergens to be declared, in words.
    pub allergens: Vec<String>,
    /// Whether it should come late in a flight.
    pub carry_over: CarryOver,
    /// Lexicon words that contradict this sample and cost marks.
    pub contradicts: Vec<String>,
    /// A fault that was put in or found, as a lexicon word or the fault's name.
    pub fault: Option<String>,
    /// Depth of colour, 0 clear to 10 darkest.
    pub colour: Option<u32>,
    /// Body, 1 light to 5 full.
    pub body: Option<u32>,
    /// Finish, 1 short to 5 long.
    pub finish: Option<u32>,
    /// Where the description of the style comes from.
    pub source: String,
    /// One or two plain sentences for the candidate's report.
    pub describe: String,
    /// The raw notes of the reference panel.
    pub tasting: ReferenceTasting,
}

/// What is known of the age.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Age {
    /// Years stated on the label.
    Stated(u32),
    /// No age is stated (unaged or undisclosed by design).
    NotStated,
    /// Not known to the record's author.
    Unknown,
}

/// How much a sample lingers into the next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum CarryOver {
    /// As spirits do.
    Ordinary,
    /// Peated, very strong or sweet: served in a later block.
    Heavy,
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
pub(crate) mod tests {
    use super::*;
    use crate::reference_tasting::{PanelNote, Stage};
    use base::SourceText;

    /// A record with these panel notes and contradictions.
    pub(crate) fn record_of(
        notes: &[(&str, Stage, &str, u32)],
        contradicts: &[&str],
    ) -> SampleRecord {
        let mut tasting = ReferenceTasting::default();
        for (assessor, stage, descriptor, intensity) in notes {
            let known = tasting.assessors.iter().position(|a| a == assessor);
            let place = known.unwrap_or_else(|| {
                tasting.assessors.push((*assessor).to_owned());
                tasting.assessors.len() - 1
            });
            tasting.notes.push(PanelNote {
                assessor: place,
                stage: *stage,
                descriptor: (*descriptor).to_owned(),
                // Tests write 1 to 5.
                intensity: *intensity * 200,
                session: 0,
            });
        }
        SampleRecord {
            id: SampleId::parse("cane-copper-8").unwrap(),
            place: SourceText::new("samples/cane-copper-8.yaml", "").place(0..0),
            name: "Copper Bay Eight Years".to_owned(),
            producer: "Copper Bay Estate".to_owned(),
            category: NodeId::parse("rum").unwrap(),
            region: NodeId::parse("jamaica").unwrap(),
            accepted_regions: Vec::new(),
            age: Age::Stated(8),
            strength: 43.0,
            cask: None,
            lot: None,
            panel_lot: None,
            opened: None,
            bottle: 700,
            allergens: Vec::new(),
            carry_over: CarryOver::Ordinary,
            contradicts: contradicts.iter().map(|word| (*word).to_owned()).collect(),
            fault: None,
            colour: None,
            body: None,
            finish: None,
            source: "common practice".to_owned(),
            describe: "Invented.".to_owned(),
            tasting,
        }
    }
}
