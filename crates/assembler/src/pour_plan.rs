//! What is poured: glasses, volumes, water to serving strength, bottles, and how much alcohol it is.
//!
//! Volumes are at 20 °C. Spirit and water are worked out by mass with the international
//! alcoholometric formula (OIML R 22, crate alcoholometry), contraction included. Bottles follow
//! this project's own planning advice, which no standard fixes: one spare pour for each flight, then
//! 5 % for spillage and dead volume, and one spare bottle of each sample.

use alcoholometry::{
    Grams, Millilitres, Problem, StandardDrink, VolumePercent, grams_of_ethanol, pour_to_volume,
    standard_drinks,
};
use base::{Fault, Place, SampleId};
use exam_plan::plan::{Pour, ServingStrength};
use exam_plan::{Class, Exam, Service};
use question_bank::SampleRecord;

use crate::cautions::CAUTIONS;
use crate::sitting::{CandidatePlace, Sitting};

/// Spare pours of each sample (own advice).
pub const SPARE_POURS: u32 = 1;
/// Share added for spillage and dead volume (own advice).
pub const LOSS: f64 = 0.05;
/// Spare bottles of each sample (own advice).
pub const SPARE_BOTTLES: u32 = 1;

/// What is poured at one sitting. Holds what is in the glasses and therefore has no `Serialize`.
#[derive(Debug, Clone, PartialEq)]
pub struct PourPlan {
    /// The first glass, known to everybody and not marked, where the plan has one.
    pub warm_up: Option<SamplePour>,
    /// One entry for each sample, in the order of the plan; none without a tasting part.
    pub samples: Vec<SamplePour>,
    /// What one candidate would take in by swallowing all glasses, the first one included.
    pub load: AlcoholLoad,
    /// To be printed and shown with it.
    pub cautions: &'static [&'static str],
}

impl PourPlan {
    /// Everything that is poured, in the order of pouring: the warm-up before the flight.
    pub fn all(&self) -> impl Iterator<Item = &SamplePour> {
        self.warm_up.iter().chain(&self.samples)
    }
}

/// How one sample is poured.
#[derive(Debug, Clone, PartialEq)]
pub struct SamplePour {
    /// Which.
    pub sample: SampleId,
    /// The name on the bottle.
    pub name: String,
    /// The lot.
    pub lot: Option<String>,
    /// Glasses in the room.
    pub glasses_in_room: u32,
    /// Small bottles in kits.
    pub glasses_in_kits: u32,
    /// Spare pours.
    pub spare_pours: u32,
    /// Volume in each glass at serving strength.
    pub volume: Millilitres,
    /// Strength as bottled.
    pub bottled: VolumePercent,
    /// Strength in the glass.
    pub served: VolumePercent,
    /// The plan asks for a higher strength than the bottle has; it is served as it is.
    pub weaker_than_asked: bool,
    /// Spirit and water for one glass.
    pub one_glass: Mixture,
    /// Spirit and water for all glasses and spare pours, loss included.
    pub in_all: Mixture,
    /// Contents of one bottle.
    pub bottle: Millilitres,
    /// Bottles to open.
    pub bottles_to_open: u32,
    /// Bottles to have ready, the spare bottle included.
    pub bottles_to_bring: u32,
    /// What one glass would bring if swallowed.
    pub ethanol_in_a_glass: Grams,
    /// Allergens to be declared.
    pub allergens: Vec<String>,
}

/// Spirit as bottled and the water that goes with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mixture {
    /// Spirit as bottled.
    pub spirit: Millilitres,
    /// Water to add, by volume.
    pub water: Millilitres,
    /// Water to add, by mass: the figure for a balance.
    pub water_mass: Grams,
    /// What there is in the end.
    pub result: Millilitres,
}

/// Alcohol of all glasses of one candidate, if nothing were spat.
#[derive(Debug, Clone, PartialEq)]
pub struct AlcoholLoad {
    /// Ethanol.
    pub ethanol: Grams,
    /// The same in local units, each in the order of [`StandardDrink::ALL`].
    pub drinks: Vec<DrinkCount>,
}

/// So many standard drinks of one territory.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DrinkCount {
    /// Which unit.
    pub unit: StandardDrink,
    /// How many.
    pub number: f64,
}

/// Works out the pour plan of a sitting.
///
/// # Errors
/// Samples without a record, and strengths or volumes with which nothing can be poured.
pub fn pour_plan(exam: &Exam, sitting: &Sitting) -> Result<PourPlan, Vec<Fault>> {
    let Some(tasting) = &exam.plan.tasting else {
        return Pouring::new()?.finish();
    };
    let mut pouring = Pouring::new()?;
    let unknown = |id: &SampleId, place: &Place| {
        let what = format!("\"{id}\" is no sample of the exam folder or the bank");
        Fault::new("unknown-sample", place.clone(), what)
    };
    if let Some((id, place)) = &tasting.warm_up {
        match exam.sample(id) {
            Some(record) => {
                // Everybody who tastes has one.
                let glasses = Glasses::counted(sitting, |place| usize::from(place.tastes()));
                pouring.plan.warm_up = pouring.pour(record, &tasting.pour, glasses);
            }
            None => pouring.faults.push(unknown(id, place)),
        }
    }
    for (id, place) in &tasting.samples {
        let Some(record) = exam.sample(id) else {
            pouring.faults.push(unknown(id, place));
            continue;
        };
        let glasses = Glasses::counted(sitting, |place| {
            let glasses = place.glasses.iter();
            glasses.filter(|glass| glass.sample == *id).count()
        });
        let poured = pouring.pour(record, &tasting.pour, glasses);
        pouring.plan.samples.extend(poured);
    }
    pouring.finish()
}

/// Works out what is poured in a class: each sample once for everybody, and the spare pour.
///
/// # Errors
/// Strengths or volumes with which nothing can be poured.
pub fn class_pour(class: &Class) -> Result<PourPlan, Vec<Fault>> {
    let mut pouring = Pouring::new()?;
    for record in class.flight() {
        let glasses = Glasses {
            in_room: class.people(),
            in_kits: 0,
        };
        let poured = pouring.pour(record, &class.plan.pour, glasses);
        pouring.plan.samples.extend(poured);
    }
    pouring.finish()
}

/// A pour plan under way.
struct Pouring {
    plan: PourPlan,
    faults: Vec<Fault>,
}

/// Glasses of one sample, by service.
#[derive(Clone, Copy)]
struct Glasses {
    in_room: u32,
    in_kits: u32,
}

impl Glasses {
    fn counted(sitting: &Sitting, of: impl Fn(&CandidatePlace) -> usize) -> Self {
        let number = |service: Service| {
            let places = sitting.places.iter().filter(|p| p.service == service);
            u32::try_from(places.map(&of).sum::<usize>()).unwrap_or(u32::MAX)
        };
        Self {
            in_room: number(Service::Room),
            in_kits: number(Service::Kit),
        }
    }
}

impl Pouring {
    fn new() -> Result<Self, Vec<Fault>> {
        let nothing = Grams::new(0.0).map_err(|problem| vec![refused(None, problem)])?;
        Ok(Self {
            plan: PourPlan {
                warm_up: None,
                samples: Vec::new(),
                load: AlcoholLoad {
                    ethanol: nothing,
                    drinks: StandardDrink::ALL
                        .into_iter()
                        .map(|unit| DrinkCount { unit, number: 0.0 })
                        .collect(),
                },
                cautions: &CAUTIONS,
            },
            faults: Vec::new(),
        })
    }

    /// One sample; none where it cannot be poured, with its fault.
    fn pour(&mut self, record: &SampleRecord, pour: &Pour, glasses: Glasses) -> Option<SamplePour> {
        let load = &mut self.plan.load;
        let poured = pour_of(record, pour, glasses)
            .and_then(|poured| add_load(load, &poured).map(|()| poured));
        poured
            .map_err(|problem| self.faults.push(refused(Some(record), problem)))
            .ok()
    }

    fn finish(self) -> Result<PourPlan, Vec<Fault>> {
        if self.faults.is_empty() {
            Ok(self.plan)
        } else {
            Err(self.faults)
        }
    }
}

fn refused(record: Option<&SampleRecord>, problem: Problem) -> Fault {
    let what = match record {
        Some(record) => format!("\"{}\" cannot be poured as planned: {problem}", record.id),
        None => problem.to_string(),
    };
    Fault::new("cannot-pour", record.map(|r| r.place.clone()), what)
}

fn pour_of(record: &SampleRecord, pour: &Pour, glasses: Glasses) -> Result<SamplePour, Problem> {
    let bottled = VolumePercent::new(record.strength)?;
    let (served, weaker_than_asked) = match pour.strength {
        ServingStrength::AsBottled => (bottled, false),
        ServingStrength::Reduced(asked) => {
            let asked = VolumePercent::new(asked)?;
            if asked < bottled {
                (asked, false)
            } else {
                (bottled, asked > bottled)
            }
        }
    };
    let volume = Millilitres::new(pour.volume)?;
    let (glasses_in_room, glasses_in_kits) = (glasses.in_room, glasses.in_kits);
    let pours = f64::from(glasses_in_room) + f64::from(glasses_in_kits) + f64::from(SPARE_POURS);
    let all = Millilitres::new(volume.value() * pours * (1.0 + LOSS))?;
    let in_all = mixture(all, bottled, served)?;
    let bottle = Millilitres::new(f64::from(record.bottle))?;
    let bottles_to_open = bottles(in_all.spirit, bottle);
    Ok(SamplePour {
        sample: record.id.clone(),
        name: record.name.clone(),
        lot: record.lot.clone(),
        glasses_in_room,
        glasses_in_kits,
        spare_pours: SPARE_POURS,
        volume,
        bottled,
        served,
        weaker_than_asked,
        one_glass: mixture(volume, bottled, served)?,
        in_all,
        bottle,
        bottles_to_open,
        bottles_to_bring: bottles_to_open.saturating_add(SPARE_BOTTLES),
        ethanol_in_a_glass: grams_of_ethanol(volume, served)?,
        allergens: record.allergens.clone(),
    })
}

fn mixture(
    result: Millilitres,
    bottled: VolumePercent,
    served: VolumePercent,
) -> Result<Mixture, Problem> {
    if served == bottled {
        return Ok(Mixture {
            spirit: result,
            water: Millilitres::new(0.0)?,
            water_mass: Grams::new(0.0)?,
            result,
        });
    }
    let pour = pour_to_volume(result, bottled, served)?;
    Ok(Mixture {
        spirit: pour.spirit,
        water: pour.water,
        water_mass: pour.water_mass,
        result,
    })
}

/// Bottles that hold this much spirit; none where the record's bottle is empty.
fn bottles(spirit: Millilitres, bottle: Millilitres) -> u32 {
    if bottle.value() <= 0.0 {
        return 0;
    }
    // A last billionth is rounding and no reason to open a bottle.
    let exact = spirit.value() / bottle.value() - 1e-9;
    // Saturates far above any cellar.
    exact.ceil().max(0.0) as u32
}

fn add_load(load: &mut AlcoholLoad, poured: &SamplePour) -> Result<(), Problem> {
    load.ethanol = Grams::new(load.ethanol.value() + poured.ethanol_in_a_glass.value())?;
    for count in &mut load.drinks {
        count.number += standard_drinks(poured.volume, poured.served, count.unit)?;
    }
    Ok(())
}
