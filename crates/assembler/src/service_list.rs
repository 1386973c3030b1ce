//! What must stand at the places and in the pourer's room besides the bottles: counts.
//!
//! The allowances are this project's own advice, which no source fixes: the constants below.

use exam_plan::{Class, Service};
use serde::Serialize;

use crate::pour_plan::{PourPlan, SamplePour};
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
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
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
    #[serde(rename = "drinking_water_litres")]
    pub drinking_water: u32,
    /// Water for reducing, ml at 20 °C.
    pub reducing_water: f64,
    /// Neutral food, g, spares included.
    #[serde(rename = "neutral_food_grams")]
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
            .filter(|place| place.service == service && place.tastes());
        u32::try_from(places.count()).unwrap_or(u32::MAX)
    };
    let (places, kits) = (tasting(Service::Room), tasting(Service::Kit));
    ServiceList::of(places, kits, pours)
}

/// Counts what a class needs.
#[must_use]
pub fn class_service_list(class: &Class, pours: &PourPlan) -> ServiceList {
    ServiceList::of(class.people(), 0, pours)
}

impl ServiceList {
    fn of(places: u32, kits: u32, pours: &PourPlan) -> Self {
        let with_spares = places.saturating_add(places.div_ceil(PLACES_TO_A_SPARE));
        let sum = |of: fn(&SamplePour) -> u32| pours.all().map(of).fold(0, u32::saturating_add);
        let glasses = if places == 0 {
            0
        } else {
            sum(|s| s.glasses_in_room.saturating_add(s.spare_pours))
        };
        let volume = pours.all().next().map_or(0.0, |s| s.volume.value());
        Self {
            places,
            glasses,
            covers: glasses,
            spit_cups: with_spares,
            water_glasses: with_spares,
            drinking_water: places.saturating_mul(DRINKING_WATER).div_ceil(1000),
            reducing_water: pours.all().map(|s| s.in_all.water.value()).sum(),
            neutral_food: with_spares.saturating_mul(NEUTRAL_FOOD),
            kits,
            kit_bottles: sum(|s| s.glasses_in_kits),
            kit_bottle_size: (volume / FILL).ceil(),
        }
    }

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
