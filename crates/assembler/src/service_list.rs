//! What must stand at the places and in the pourer's room besides the bottles: counts.
//!
//! The allowances are this project's own advice, which no source fixes: the constants below.

use exam_plan::Service;

use crate::pour_plan::PourPlan;
use crate::sitting::Sitting;

/// One spare of whatever stands at a place for so many places.
pub const PLACES_TO_A_SPARE: u32 = 10;
/// Drinking water for each place, ml.
pub const DRINKING_WATER: u32 = 300;
/// Neutral food for each place (plain white bread or unsalted crackers), g.
pub const NEUTRAL_FOOD: u32 = 30;
/// A bottle of a kit is filled to at most this share: the rest is air that a warm parcel needs.
pub const FILL: f64 = 0.9;

/// What to bring and set out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ServiceList {
    /// Places in the room at which somebody tastes.
    pub places: u32,
    /// Tasting glasses of one kind, spare pours included.
    pub glasses: u32,
    /// Covers for them.
    pub covers: u32,
    /// Spit cups, spares included.
    pub spit_cups: u32,
    /// Glasses for water, spares included.
    pub water_glasses: u32,
    /// Drinking water, whole litres.
    pub drinking_water: u32,
    /// Water for reducing, ml at 20 °C.
    pub reducing_water: f64,
    /// Neutral food, g, spares included.
    pub neutral_food: u32,
    /// Kits to be packed.
    pub kits: u32,
    /// Small bottles for them.
    pub kit_bottles: u32,
    /// What each must hold at least, ml.
    pub kit_bottle_size: f64,
}

/// Counts what a sitting needs.
#[must_use]
pub fn service_list(sitting: &Sitting, pours: &PourPlan) -> ServiceList {
    let tasting = |service: Service| {
        let places = sitting
            .places
            .iter()
            .filter(|place| place.service == service && !place.glasses.is_empty());
        u32::try_from(places.count()).unwrap_or(u32::MAX)
    };
    let places = tasting(Service::Room);
    let with_spares = places.saturating_add(places.div_ceil(PLACES_TO_A_SPARE));
    let sum = |of: fn(&crate::pour_plan::SamplePour) -> u32| {
        pours
            .samples
            .iter()
            .map(of)
            .fold(0_u32, u32::saturating_add)
    };
    let glasses = if places == 0 {
        0
    } else {
        sum(|s| s.glasses_in_room.saturating_add(s.spare_pours))
    };
    let volume = pours.samples.first().map_or(0.0, |s| s.volume.value());
    ServiceList {
        places,
        glasses,
        covers: glasses,
        spit_cups: with_spares,
        water_glasses: with_spares,
        drinking_water: places.saturating_mul(DRINKING_WATER).div_ceil(1000),
        reducing_water: pours.samples.iter().map(|s| s.in_all.water.value()).sum(),
        neutral_food: with_spares.saturating_mul(NEUTRAL_FOOD),
        kits: tasting(Service::Kit),
        kit_bottles: sum(|s| s.glasses_in_kits),
        kit_bottle_size: (volume / FILL).ceil(),
    }
}

impl ServiceList {
    /// The list in words, to tick off; what is not needed is left out.
    #[must_use]
    pub fn in_words(&self) -> Vec<String> {
        let mut lines = Vec::new();
        if self.places > 0 {
            lines.extend([
                format!(
                    "{} tasting glasses of one kind, clean and free of smell, with {} covers",
                    self.glasses, self.covers
                ),
                format!(
                    "{} spit cups, one at every place and spares",
                    self.spit_cups
                ),
                format!(
                    "{} glasses for water and {} l of drinking water, without taste",
                    self.water_glasses, self.drinking_water
                ),
                format!(
                    "{} g of neutral food: plain white bread or unsalted crackers",
                    self.neutral_food
                ),
            ]);
        }
        if self.reducing_water > 0.0 {
            lines.push(format!(
                "{:.0} ml of bland water at room temperature for reducing",
                self.reducing_water.ceil()
            ));
        }
        if self.kits > 0 {
            lines.push(format!(
                "{} of {} ml or more, tight, for {}",
                if self.kit_bottles == 1 {
                    "1 small bottle".to_owned()
                } else {
                    format!("{} small bottles", self.kit_bottles)
                },
                self.kit_bottle_size,
                if self.kits == 1 {
                    "1 kit".to_owned()
                } else {
                    format!("{} kits", self.kits)
                }
            ));
        }
        lines
    }
}
