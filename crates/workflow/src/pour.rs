//! The pour plan: bottles, volumes, water, grams of ethanol, times, counts, cautions.

pub(crate) mod day;

use std::path::Path;

use alcoholometry::{Celsius, Millilitres, Problem, VolumePercent, density_of_strength};
use assembler::bottle_sizes::sold_in;
use assembler::pour_plan::{PourPlan, SamplePour, pour_plan};
use assembler::service_list::service_list;
use serde::Serialize;

pub use assembler::order_imbalance::Imbalance;
pub use assembler::service_list::ServiceList;
pub use day::{DayStep, OrderLine};
use day::{order_lines, pour_day};

use crate::failure::Failure;
use crate::open_sitting::{DrawnSitting, OpenSitting};
use crate::roles::{Doing, Stated, acting};
use crate::surroundings::Surroundings;

/// The pour plan in plain numbers. It names what is in the bottles: for the pourer alone.
#[derive(Debug, Clone, Serialize)]
pub struct PourReport {
    /// One entry for each sample, the warm-up first.
    pub samples: Vec<PourLine>,
    /// Ethanol of all glasses of one candidate if nothing were spat, g.
    pub ethanol_grams: f64,
    /// The same in local units: name, number, what the unit is.
    pub drinks: Vec<(String, f64, String)>,
    /// What must be there besides the bottles, in words.
    pub bring: Vec<String>,
    /// The same as numbers.
    pub service: ServiceList,
    /// What is done when.
    pub times: Vec<DayStep>,
    /// How far serving orders are from balance, block by block.
    pub orders: Vec<OrderLine>,
    /// The temperature of the room in which spirit and water are measured, °C.
    pub temperature: f64,
    /// To be read before anything is poured.
    pub cautions: Vec<String>,
}

/// One sample. Volumes in ml at 20 °C, strengths in % vol at 20 °C, masses in g.
#[derive(Debug, Clone, Serialize)]
pub struct PourLine {
    /// The sample record.
    pub sample: String,
    /// Whether it is the first glass of everybody, which is known and not marked.
    pub warm_up: bool,
    /// The name on the bottle.
    pub bottle: String,
    /// Glasses in the room.
    pub glasses_in_room: u32,
    /// Small bottles in kits.
    pub bottles_in_kits: u32,
    /// Spare pours.
    pub spare_pours: u32,
    /// In each glass, at serving strength.
    pub volume: f64,
    /// As bottled.
    pub strength_bottled: f64,
    /// As served.
    pub strength_served: f64,
    /// Spirit for everything, spare and loss included.
    pub spirit: f64,
    /// Water for everything.
    pub water: f64,
    /// The same water on a balance.
    pub water_grams: f64,
    /// Contents of a bottle.
    pub bottle_size: f64,
    /// Where bottles of this size are sold, from memory.
    pub sold_in: String,
    /// Spirit as it is measured at the temperature of the room.
    pub spirit_measured: f64,
    /// Water as it is measured at the temperature of the room.
    pub water_measured: f64,
    /// What disappears when both are mixed, at 20 °C.
    pub contraction: f64,
    /// Bottles to open.
    pub bottles_to_open: u32,
    /// Bottles to have ready, one spare included.
    pub bottles_to_bring: u32,
    /// Ethanol in one glass.
    pub ethanol_grams: f64,
    /// Whether the plan asks for more than the bottle has.
    pub weaker_than_asked: bool,
    /// Allergens to be declared.
    pub allergens: Vec<String>,
}

/// Works out the pour plan of the sitting in an exam folder, as it is measured in a room of this
/// temperature, °C.
///
/// # Errors
/// When the role may not, the exam is not assembled, has no tasting part, or a strength cannot be reached.
pub fn pour(
    around: &dyn Surroundings,
    folder: &Path,
    temperature: f64,
    stated: Stated,
) -> Result<PourReport, Failure> {
    let mut open = OpenSitting::open(around, folder)?;
    acting(around, Some(&mut open.register), Doing::Pour, stated)?;
    if open.drawn.exam.plan.tasting.is_none() {
        return Err(Failure::Refused {
            what: "this exam has no tasting part: nothing is poured".to_owned(),
            hint: "add \"tasting:\" to the plan of a new exam".to_owned(),
        });
    }
    let mut report = report(&open.drawn, &plan_of(&open.drawn)?);
    for line in &mut report.samples {
        line.measured_at(temperature)
            .map_err(|problem| Failure::Refused {
                what: problem.to_string(),
                hint: "give the temperature of the room in °C".to_owned(),
            })?;
    }
    report.temperature = temperature;
    open.register.close()?;
    Ok(report)
}

/// The pour plan of an open sitting.
pub(crate) fn plan_of(open: &DrawnSitting) -> Result<PourPlan, Failure> {
    pour_plan(&open.exam, &open.sitting).map_err(|faults| Failure::Faults {
        faults,
        sources: open.texts.sources(),
    })
}

/// The plan in plain numbers.
pub(crate) fn report(open: &DrawnSitting, plan: &PourPlan) -> PourReport {
    let service = service_list(&open.sitting, plan);
    PourReport {
        bring: service.in_words(),
        service,
        times: pour_day(open, plan),
        orders: order_lines(&open.exam, &open.sitting),
        samples: lines(plan),
        ethanol_grams: plan.load.ethanol.value(),
        drinks: plan
            .load
            .drinks
            .iter()
            .map(|d| {
                (
                    d.unit.name().to_owned(),
                    d.number,
                    d.unit.source().to_owned(),
                )
            })
            .collect(),
        temperature: Celsius::TWENTY.value(),
        cautions: plan.cautions.iter().map(|c| (*c).to_owned()).collect(),
    }
}

/// Everything that is poured in plain numbers, the warm-up first.
pub(crate) fn lines(plan: &PourPlan) -> Vec<PourLine> {
    let warm_up = plan.warm_up.iter().map(|pour| line(pour, true));
    warm_up
        .chain(plan.samples.iter().map(|pour| line(pour, false)))
        .collect()
}

fn line(pour: &SamplePour, warm_up: bool) -> PourLine {
    PourLine {
        warm_up,
        sample: pour.sample.to_string(),
        bottle: pour.name.clone(),
        glasses_in_room: pour.glasses_in_room,
        bottles_in_kits: pour.glasses_in_kits,
        spare_pours: pour.spare_pours,
        volume: pour.volume.value(),
        strength_bottled: pour.bottled.value(),
        strength_served: pour.served.value(),
        spirit: pour.in_all.spirit.value(),
        water: pour.in_all.water.value(),
        water_grams: pour.in_all.water_mass.value(),
        bottle_size: pour.bottle.value(),
        sold_in: sold_in(pour.bottle.value() as u32),
        spirit_measured: pour.in_all.spirit.value(),
        water_measured: pour.in_all.water.value(),
        contraction: pour.in_all.spirit.value() + pour.in_all.water.value()
            - pour.in_all.result.value(),
        bottles_to_open: pour.bottles_to_open,
        bottles_to_bring: pour.bottles_to_bring,
        ethanol_grams: pour.ethanol_in_a_glass.value(),
        weaker_than_asked: pour.weaker_than_asked,
        allergens: pour.allergens.clone(),
    }
}

impl PourLine {
    /// Works out what spirit and water measure at the temperature of the room: masses do not change.
    fn measured_at(&mut self, celsius: f64) -> Result<(), Problem> {
        let at = Celsius::new(celsius)?;
        let measured = |volume: f64, strength: f64| -> Result<f64, Problem> {
            let strength = VolumePercent::new(strength)?;
            let mass =
                Millilitres::new(volume)?.mass(density_of_strength(strength, Celsius::TWENTY)?)?;
            Ok(mass.volume(density_of_strength(strength, at)?)?.value())
        };
        self.spirit_measured = measured(self.spirit, self.strength_bottled)?;
        self.water_measured = measured(self.water, 0.0)?;
        Ok(())
    }
}
