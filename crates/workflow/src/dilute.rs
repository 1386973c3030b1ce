//! Strength arithmetic on its own: reduce, make up, blend, read a measurement, change scales.

use alcoholometry::{
    Celsius, Density, Grams, Millilitres, Problem, SpiritPart, StandardDrink, StrengthScale,
    VolumePercent, density_of_strength, grams_of_ethanol, mass_fraction, pour_to_volume,
    pure_alcohol, standard_drinks, strength_from_density, strength_from_hydrometer,
    volume_at_twenty,
};
use serde::Serialize;

use crate::failure::Failure;

/// A strength as a person states it: a figure on a scale.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StatedStrength {
    /// The figure.
    pub figure: f64,
    /// The scale.
    pub scale: StrengthScale,
}

/// An amount of liquid as a person states it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    /// By measure, in ml at the temperature of the room.
    Millilitres(f64),
    /// By balance, in g.
    Grams(f64),
}

/// What is to be worked out.
#[derive(Debug, Clone, PartialEq)]
pub enum DiluteRequest {
    /// How much water brings this spirit to a strength?
    Reduce {
        /// How much spirit there is.
        spirit: Amount,
        /// How strong it is.
        from: StatedStrength,
        /// How strong it is to become.
        to: StatedStrength,
        /// Temperature of spirit and water, °C.
        temperature: f64,
    },
    /// How much spirit and water make so much of a strength?
    Make {
        /// How much is wanted in each glass (or batch).
        wanted: f64,
        /// How many of them.
        times: u32,
        /// How strong the spirit is.
        from: StatedStrength,
        /// How strong the result is to be.
        to: StatedStrength,
        /// Temperature of spirit and water, °C.
        temperature: f64,
    },
    /// What do these give together?
    Blend {
        /// The parts; water has the strength 0.
        parts: Vec<(Amount, StatedStrength)>,
        /// Their temperature, °C.
        temperature: f64,
    },
    /// What strength has a spirit of this density?
    FromDensity {
        /// kg/m³.
        density: f64,
        /// °C.
        temperature: f64,
    },
    /// What strength has a spirit in which a glass alcoholometer shows this?
    FromReading {
        /// % vol on the stem.
        reading: f64,
        /// °C.
        temperature: f64,
    },
    /// What is this strength on the other scales, and what is in a pour of it?
    Scales {
        /// The strength.
        strength: StatedStrength,
        /// The pour, ml at 20 °C.
        volume: f64,
    },
}

/// What was worked out. Nothing in it is rounded; `decimals` says what is worth printing.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DiluteReport {
    /// What was asked, in a sentence.
    pub question: String,
    /// The answer, the figure that is wanted first.
    pub figures: Vec<Figure>,
    /// What should be known about it.
    pub remarks: Vec<String>,
    /// Where the arithmetic comes from.
    pub source: &'static str,
    /// To be read before anything is poured.
    pub cautions: Vec<String>,
}

/// One figure.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Figure {
    /// A name for programs.
    pub name: &'static str,
    /// What it is, for people.
    pub what: String,
    /// The figure.
    pub value: f64,
    /// Its unit.
    pub unit: &'static str,
    /// Decimal places worth printing.
    pub decimals: usize,
}

const SOURCE: &str = "International alcoholometric formula, OIML R 22:1975 (coefficients as in Directive 76/766/EEC); \
     by mass, contraction included";

/// Works out what is asked.
///
/// # Errors
/// A refusal that names the figure with which nothing can be worked out.
pub fn dilute(request: &DiluteRequest) -> Result<DiluteReport, Failure> {
    let made = match request {
        DiluteRequest::Reduce {
            spirit,
            from,
            to,
            temperature,
        } => reduce(*spirit, *from, *to, *temperature),
        DiluteRequest::Make {
            wanted,
            times,
            from,
            to,
            temperature,
        } => make(*wanted, *times, *from, *to, *temperature),
        DiluteRequest::Blend { parts, temperature } => blend(parts, *temperature),
        DiluteRequest::FromDensity {
            density,
            temperature,
        } => from_density(*density, *temperature),
        DiluteRequest::FromReading {
            reading,
            temperature,
        } => from_reading(*reading, *temperature),
        DiluteRequest::Scales { strength, volume } => scales(*strength, *volume),
    };
    made.map_err(|problem| Failure::Refused {
        what: problem.to_string(),
        hint: hint(problem).to_owned(),
    })
}

const fn hint(problem: Problem) -> &'static str {
    match problem {
        Problem::NoStrength(_) => "give the strength in % vol, such as 46, or on a scale by name",
        Problem::NoMassFraction(_) => "a share by mass lies between 0 and 100 %",
        Problem::NoTemperature(_) | Problem::OutsideFormulaRange { .. } => {
            "give the temperature of the liquid in °C, from -20 to 40"
        }
        Problem::NoDensity(_) | Problem::NoMixtureOfThisDensity { .. } => {
            "densities are in kg/m³ (0.9481 g/ml is 948.1); sugar or extract hides the strength"
        }
        Problem::NoVolume(_) => "volumes are in ml and not below 0",
        Problem::NoMass(_) => "masses are in g and not below 0",
        Problem::NoProof { .. } => "is it the right scale?",
        Problem::TargetAboveSource { .. } => {
            "water makes nothing stronger: blend with a stronger spirit, or ask for less"
        }
        Problem::TargetIsWater { .. } => "ask for a strength above 0",
        Problem::NoYearlyLoss(_) => "a yearly loss lies between 0 and 100 %",
        Problem::NoYears(_) => "years are not below 0",
        Problem::NoBottle(_) => "a bottle holds more than 0 ml",
        Problem::LastBottle(_) => "change the volume a little",
        Problem::NoDrink(_) => "a standard drink holds more than 0 g of ethanol",
        Problem::OutsideObscurationRule { .. } => "measure the strength by distillation",
        Problem::NotGiven(_) => "give every number that the computation needs",
        Problem::NothingToBlend => "give at least one part an amount above 0",
    }
}

/// One liquid: its mass and strength, and what it measures at the temperature of the room.
#[derive(Clone, Copy)]
struct Liquid {
    mass: Grams,
    strength: VolumePercent,
}

impl Liquid {
    fn new(amount: Amount, strength: VolumePercent, at: Celsius) -> Result<Self, Problem> {
        let mass = match amount {
            Amount::Grams(grams) => Grams::new(grams)?,
            Amount::Millilitres(volume) => {
                Millilitres::new(volume)?.mass(density_of_strength(strength, at)?)?
            }
        };
        Ok(Self { mass, strength })
    }
    fn volume(self, at: Celsius) -> Result<Millilitres, Problem> {
        self.mass.volume(density_of_strength(self.strength, at)?)
    }
}

fn read(stated: StatedStrength) -> Result<VolumePercent, Problem> {
    stated.scale.strength(stated.figure)
}

fn stated(strength: StatedStrength) -> String {
    format!("{} {}", strength.figure, strength.scale.name())
}

fn amount(given: Amount) -> String {
    match given {
        Amount::Millilitres(ml) => format!("{ml} ml"),
        Amount::Grams(g) => format!("{g} g"),
    }
}

fn figure(
    name: &'static str,
    what: impl Into<String>,
    value: f64,
    unit: &'static str,
    decimals: usize,
) -> Figure {
    Figure {
        name,
        what: what.into(),
        value,
        unit,
        decimals,
    }
}

fn report(question: String, figures: Vec<Figure>, remarks: Vec<String>) -> DiluteReport {
    DiluteReport {
        question,
        figures,
        remarks,
        source: SOURCE,
        cautions: assembler::CAUTIONS
            .iter()
            .map(|c| (*c).to_owned())
            .collect(),
    }
}

/// What is said where volumes were measured at another temperature than 20 °C.
fn temperature_remark(temperature: f64) -> Option<String> {
    (temperature != Celsius::TWENTY.value()).then(|| {
        format!(
            "Volumes are those measured at {temperature} °C; strengths are % vol at 20 °C, as on a label."
        )
    })
}

fn reduce(
    spirit: Amount,
    from: StatedStrength,
    to: StatedStrength,
    temperature: f64,
) -> Result<DiluteReport, Problem> {
    let at = Celsius::new(temperature)?;
    let (source, target) = (read(from)?, read(to)?);
    let before = Liquid::new(spirit, source, at)?;
    let at_twenty = before.volume(Celsius::TWENTY)?;
    let made = alcoholometry::dilute(at_twenty, source, target)?;
    let (before_volume, water, after) = (
        before.volume(at)?,
        Liquid {
            mass: made.water_mass,
            strength: VolumePercent::WATER,
        }
        .volume(at)?,
        Liquid {
            mass: Grams::new(before.mass.value() + made.water_mass.value())?,
            strength: target,
        }
        .volume(at)?,
    );
    let lost = before_volume.value() + water.value() - after.value();
    let mut remarks: Vec<String> = temperature_remark(temperature).into_iter().collect();
    remarks.push(format!(
        "The rule of three would say {:.2} ml of water: it forgets that the mixture shrinks.",
        before_volume.value() * (source.value() / target.value() - 1.0)
    ));
    Ok(report(
        format!(
            "How much water brings {} of {} to {}?",
            amount(spirit),
            stated(from),
            stated(to)
        ),
        vec![
            figure("water_ml", "water to add", water.value(), "ml", 2),
            figure(
                "water_g",
                "the same on a balance",
                made.water_mass.value(),
                "g",
                2,
            ),
            figure("spirit_ml", "spirit", before_volume.value(), "ml", 2),
            figure(
                "spirit_g",
                "the same on a balance",
                before.mass.value(),
                "g",
                2,
            ),
            figure("result_ml", "gives", after.value(), "ml", 2),
            figure(
                "result_percent",
                "of the strength",
                target.value(),
                "% vol",
                2,
            ),
            figure("contraction_ml", "lost by contraction", lost, "ml", 2),
            figure(
                "ethanol_g",
                "ethanol in it",
                grams_of_ethanol(at_twenty, source)?.value(),
                "g",
                1,
            ),
        ],
        remarks,
    ))
}

fn make(
    wanted: f64,
    times: u32,
    from: StatedStrength,
    to: StatedStrength,
    temperature: f64,
) -> Result<DiluteReport, Problem> {
    let at = Celsius::new(temperature)?;
    let (source, target) = (read(from)?, read(to)?);
    let one = volume_at_twenty(Millilitres::new(wanted)?, target, at)?;
    let all = Millilitres::new(one.value() * f64::from(times))?;
    let made = pour_to_volume(all, source, target)?;
    let spirit = Liquid {
        mass: made
            .spirit
            .mass(density_of_strength(source, Celsius::TWENTY)?)?,
        strength: source,
    };
    let water = Liquid {
        mass: made.water_mass,
        strength: VolumePercent::WATER,
    };
    let mut figures = vec![
        figure("spirit_ml", "spirit", spirit.volume(at)?.value(), "ml", 2),
        figure(
            "spirit_g",
            "the same on a balance",
            spirit.mass.value(),
            "g",
            2,
        ),
        figure("water_ml", "water", water.volume(at)?.value(), "ml", 2),
        figure(
            "water_g",
            "the same on a balance",
            water.mass.value(),
            "g",
            2,
        ),
        figure("result_ml", "gives", wanted * f64::from(times), "ml", 2),
        figure(
            "result_percent",
            "of the strength",
            target.value(),
            "% vol",
            2,
        ),
        figure(
            "ethanol_g",
            "ethanol in each",
            grams_of_ethanol(one, target)?.value(),
            "g",
            1,
        ),
    ];
    figures.extend(drinks(one, target)?);
    Ok(report(
        format!(
            "What makes {times} × {wanted} ml of {} out of {}?",
            stated(to),
            stated(from)
        ),
        figures,
        temperature_remark(temperature).into_iter().collect(),
    ))
}

fn blend(parts: &[(Amount, StatedStrength)], temperature: f64) -> Result<DiluteReport, Problem> {
    let at = Celsius::new(temperature)?;
    let mut mixture = SpiritPart {
        volume: Millilitres::new(0.0)?,
        strength: VolumePercent::WATER,
    };
    let mut apart = 0.0;
    for (given, strength) in parts {
        let part = Liquid::new(*given, read(*strength)?, at)?;
        apart += part.volume(at)?.value();
        let part = SpiritPart {
            volume: part.volume(Celsius::TWENTY)?,
            strength: part.strength,
        };
        if mixture.volume.value() == 0.0 {
            mixture = part;
        } else {
            let made = alcoholometry::blend(mixture, part)?;
            mixture = SpiritPart {
                volume: made.volume,
                strength: made.strength,
            };
        }
    }
    if mixture.volume.value() == 0.0 {
        return Err(Problem::NothingToBlend);
    }
    let mass = mixture
        .volume
        .mass(density_of_strength(mixture.strength, Celsius::TWENTY)?)?;
    let whole = Liquid {
        mass,
        strength: mixture.strength,
    };
    let volume = whole.volume(at)?.value();
    let words: Vec<String> = parts
        .iter()
        .map(|(given, strength)| format!("{} of {}", amount(*given), stated(*strength)))
        .collect();
    Ok(report(
        format!("What do {} give together?", words.join(" and ")),
        vec![
            figure(
                "result_percent",
                "strength",
                mixture.strength.value(),
                "% vol",
                2,
            ),
            figure("result_ml", "volume", volume, "ml", 2),
            figure("result_g", "mass", mass.value(), "g", 2),
            figure(
                "contraction_ml",
                "lost by contraction",
                apart - volume,
                "ml",
                2,
            ),
            figure(
                "pure_ml",
                "pure alcohol in it, at 20 °C",
                pure_alcohol(mixture.volume, mixture.strength)?.value(),
                "ml",
                2,
            ),
        ],
        temperature_remark(temperature).into_iter().collect(),
    ))
}

fn from_density(density: f64, temperature: f64) -> Result<DiluteReport, Problem> {
    let strength = strength_from_density(Density::new(density)?, Celsius::new(temperature)?)?;
    Ok(report(
        format!("What strength has a spirit of {density} kg/m³ at {temperature} °C?"),
        measured(strength),
        vec![
            "Sugar or extract makes a spirit denser than its strength: it is to be distilled before \
             it is measured."
                .to_owned(),
        ],
    ))
}

fn from_reading(reading: f64, temperature: f64) -> Result<DiluteReport, Problem> {
    let strength =
        strength_from_hydrometer(VolumePercent::new(reading)?, Celsius::new(temperature)?)?;
    Ok(report(
        format!("What strength has a spirit in which the alcoholometer shows {reading} at {temperature} °C?"),
        measured(strength),
        vec![
            "For a soda-lime glass alcoholometer made for 20 °C; sugar or extract makes it show too \
             little."
                .to_owned(),
        ],
    ))
}

fn measured(strength: VolumePercent) -> Vec<Figure> {
    vec![
        figure(
            "result_percent",
            "strength at 20 °C",
            strength.value(),
            "% vol",
            2,
        ),
        figure(
            "mass_percent",
            "by mass",
            mass_fraction(strength).percent(),
            "% mass",
            2,
        ),
    ]
}

fn scales(strength: StatedStrength, volume: f64) -> Result<DiluteReport, Problem> {
    let percent = read(strength)?;
    let pour = Millilitres::new(volume)?;
    let mut remarks = Vec::new();
    let mut figures = Vec::new();
    for scale in StrengthScale::ALL {
        if let Some(value) = scale.of(percent) {
            let decimals = match scale {
                StrengthScale::VolumePercent
                | StrengthScale::MassPercent
                | StrengthScale::GayLussac
                | StrengthScale::Tralles => 2,
                StrengthScale::ProofUnitedStates
                | StrengthScale::ProofUnitedKingdom
                | StrengthScale::Cartier => 1,
            };
            figures.push(figure(scale.word(), scale.name(), value, "", decimals));
        }
        remarks.push(format!("{}: {}.", scale.name(), scale.source()));
    }
    figures.push(figure(
        "density",
        "density at 20 °C",
        density_of_strength(percent, Celsius::TWENTY)?.value(),
        "kg/m³",
        2,
    ));
    figures.push(figure(
        "ethanol_g",
        format!("ethanol in {volume} ml"),
        grams_of_ethanol(pour, percent)?.value(),
        "g",
        1,
    ));
    figures.extend(drinks(pour, percent)?);
    Ok(report(
        format!("What is {} on other scales?", stated(strength)),
        figures,
        remarks,
    ))
}

/// The local units of a pour.
fn drinks(pour: Millilitres, strength: VolumePercent) -> Result<Vec<Figure>, Problem> {
    StandardDrink::ALL
        .into_iter()
        .map(|unit| {
            let name = match unit {
                StandardDrink::UnitedKingdom => "uk_units",
                StandardDrink::UnitedStates => "us_drinks",
                StandardDrink::WhoAudit => "who_drinks",
                StandardDrink::Australia => "australian_drinks",
            };
            Ok(figure(
                name,
                format!("{} ({})", unit.name(), unit.source()),
                standard_drinks(pour, strength, unit)?,
                "",
                2,
            ))
        })
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used)]
mod tests;
