//! Strength, density, dilution and alcohol load against sensory/expected/alcohol.json, the
//! coefficients of oiml_r22.json and the units of units.csv.

use crate::record::{Record, reference_json, reference_text};
use alcoholometry::{
    Celsius, Density, Evidence, MassFraction, Millilitres, ProofScale, SpiritPart, StandardDrink,
    VolumePercent, blend, contraction_per_volume, density, density_of_strength, dilute,
    grams_of_ethanol, mass_fraction, pour_to_volume, pure_alcohol, standard_drinks,
    strength_from_density, strength_from_hydrometer, strength_to_proof,
};
use std::collections::BTreeMap;

fn strength(percent: f64) -> VolumePercent {
    VolumePercent::new(percent).unwrap()
}

fn millilitres(volume: f64) -> Millilitres {
    Millilitres::new(volume).unwrap()
}

#[test]
fn every_record_is_compared_by_its_kind() {
    let file = reference_json("sensory/expected/alcohol.json");
    let records = file["checks"].as_array().unwrap();
    let mut compared: BTreeMap<String, usize> = BTreeMap::new();
    for (place, value) in records.iter().enumerate() {
        let kind = value["kind"].as_str().unwrap();
        let record = Record::new(format!("alcohol.json record {place} ({kind})"), value);
        let check = check_of(record.text("kind"))
            .unwrap_or_else(|| panic!("record {place}: no check for kind {kind}"));
        check(&record);
        record.finish();
        *compared.entry(kind.to_owned()).or_default() += 1;
    }
    assert_eq!(compared.values().sum::<usize>(), records.len());
    for kind in KINDS {
        assert!(compared.contains_key(kind), "no record of kind {kind}");
    }
}

const KINDS: [&str; 8] = [
    "density20",
    "density",
    "water_per_100",
    "hydrometer",
    "contraction",
    "units",
    "nosing_pour",
    "mix",
];

fn check_of(kind: &str) -> Option<fn(&Record)> {
    match kind {
        "density20" => Some(density_at_twenty),
        "density" => Some(density_at_temperature),
        "water_per_100" => Some(water_per_hundred),
        "hydrometer" => Some(hydrometer),
        "contraction" => Some(contraction),
        "units" => Some(units),
        "nosing_pour" => Some(nosing_pour),
        "mix" => Some(mix),
        _ => None,
    }
}

fn density_at_twenty(record: &Record) {
    let spirit = strength(record.number("vol_percent"));
    let computed = density_of_strength(spirit, Celsius::TWENTY).unwrap();
    record.compare("kg_m3", computed.value(), record.number("tol_kg"));
    let percent = mass_fraction(spirit).percent();
    record.compare("mass_percent", percent, record.number("tol_mass"));
    // The way back, from the printed density: as good as the density is printed.
    let printed = Density::new(record.number("kg_m3")).unwrap();
    if let Ok(back) = strength_from_density(printed, Celsius::TWENTY) {
        assert!((back.value() - spirit.value()).abs() < 0.002, "{back:?}");
    } else {
        // The printed digits of pure ethanol may round to less than its density.
        assert_eq!(spirit, VolumePercent::ETHANOL);
    }
}

fn density_at_temperature(record: &Record) {
    let mixture = MassFraction::new(record.number("mass_percent") / 100.0).unwrap();
    let temperature = Celsius::new(record.number("t")).unwrap();
    let kilograms_per_litre = density(mixture, temperature).unwrap().value() / 1000.0;
    record.compare("kg_l", kilograms_per_litre, record.number("tol"));
    // Five decimals are printed: half a unit of the last one.
    record.compare("computed", kilograms_per_litre, 0.000_005_1);
}

fn water_per_hundred(record: &Record) {
    let made = dilute(
        millilitres(100.0),
        strength(record.number("from_vol")),
        strength(record.number("to_vol")),
    )
    .unwrap();
    let water = made.water.value();
    record.compare("published", water, record.number("tol_published"));
    record.compare("computed_oiml20", water, record.number("tol_computed"));
    record.compare("pearson", made.rule_of_three_water.value(), 0.000_51);
}

fn hydrometer(record: &Record) {
    let computed = strength_from_hydrometer(
        strength(record.number("reading_vol")),
        Celsius::new(record.number("t")).unwrap(),
    )
    .unwrap();
    record.compare("true_vol20", computed.value(), record.number("tol"));
}

fn contraction(record: &Record) {
    let parts = contraction_per_volume(strength(record.number("vol_percent"))).unwrap();
    let tolerance = record.number("tol");
    record.compare("ethanol", parts.ethanol, tolerance);
    record.compare("water", parts.water, tolerance);
    record.compare("contraction", parts.contraction, tolerance);
}

fn units(record: &Record) {
    let volume = millilitres(record.number("ml"));
    let spirit = strength(record.number("vol_percent"));
    let tolerance = record.number("tol");
    let grams = grams_of_ethanol(volume, spirit).unwrap();
    record.compare("grams", grams.value(), tolerance);
    let drinks = |unit| standard_drinks(volume, spirit, unit).unwrap();
    record.compare("uk_units", drinks(StandardDrink::UnitedKingdom), tolerance);
    record.compare("us_drinks", drinks(StandardDrink::UnitedStates), tolerance);
    record.compare("audit10g", drinks(StandardDrink::WhoAudit), tolerance);
    assert_eq!(
        drinks(StandardDrink::Australia),
        drinks(StandardDrink::WhoAudit)
    );
    let pure = pure_alcohol(volume, spirit).unwrap();
    assert!((pure.value() - 10.0 * drinks(StandardDrink::UnitedKingdom)).abs() < 1e-9);
}

fn nosing_pour(record: &Record) {
    let pour = pour_to_volume(
        millilitres(record.number("final_ml")),
        strength(record.number("from_vol")),
        strength(record.number("to_vol")),
    )
    .unwrap();
    let tolerance = record.number("tol");
    record.compare("spirit_ml", pour.spirit.value(), tolerance);
    record.compare("water_ml", pour.water.value(), tolerance);
}

fn mix(record: &Record) {
    let blended = blend(part(record.text("first")), part(record.text("second"))).unwrap();
    let tolerance = record.number("tol");
    record.compare("volume_l", blended.volume.litres(), tolerance);
    record.compare("vol_percent", blended.strength.value(), tolerance);
}

/// Reads "1 l at 80 %" or "1 l water".
fn part(words: &str) -> SpiritPart {
    let pieces: Vec<&str> = words.split_whitespace().collect();
    let (volume, percent) = match pieces.as_slice() {
        [volume, "l", "water"] => (*volume, "0"),
        [volume, "l", "at", percent, "%"] => (*volume, *percent),
        _ => panic!("{words:?}: expected \"1 l at 80 %\" or \"1 l water\""),
    };
    SpiritPart {
        volume: millilitres(1000.0 * volume.parse::<f64>().unwrap()),
        strength: strength(percent.parse().unwrap()),
    }
}

#[test]
fn the_formula_is_that_of_the_coefficient_file() {
    let file = reference_json("sensory/oiml_r22.json");
    let numbers = |value: &serde_json::Value| -> Vec<f64> {
        let list = value.as_array().unwrap();
        list.iter().map(|number| number.as_f64().unwrap()).collect()
    };
    let a = numbers(&file["A"]);
    let b = numbers(&file["B"]);
    let c: Vec<Vec<f64>> = file["C"].as_array().unwrap().iter().map(numbers).collect();
    assert_eq!((a.len(), b.len(), c.len()), (12, 6, 5));
    for celsius in (-20..=40).step_by(3) {
        for percent in 0..=100 {
            let (p, t) = (f64::from(percent) / 100.0, f64::from(celsius) - 20.0);
            let mut expected = 0.0;
            for (power, coefficient) in a.iter().enumerate() {
                expected += coefficient * p.powf(power as f64);
            }
            for (power, coefficient) in b.iter().enumerate() {
                expected += coefficient * t.powf(power as f64 + 1.0);
            }
            for (i, row) in c.iter().enumerate() {
                for (k, coefficient) in row.iter().enumerate() {
                    expected += coefficient * p.powf(k as f64 + 1.0) * t.powf(i as f64 + 1.0);
                }
            }
            let temperature = Celsius::new(f64::from(celsius)).unwrap();
            let computed = density(MassFraction::new(p).unwrap(), temperature).unwrap();
            assert!(
                (computed.value() - expected).abs() < 1e-7,
                "{percent} % by mass at {celsius} °C: {computed:?}, by the file {expected}"
            );
        }
    }
}

#[test]
fn printed_dilutions_that_the_formula_contradicts() {
    // Two entries of the dilution table are off; the formula's own figures are met.
    let file = reference_json("sensory/oiml_r22.json");
    let outliers = file["dilution_table_outliers"].as_array().unwrap();
    assert!(!outliers.is_empty());
    for outlier in outliers {
        let words = outlier.as_str().unwrap();
        let (path, figures) = words.split_once(" printed ").unwrap();
        let (from, to) = path.split_once("->").unwrap();
        let (printed, formula) = figures.split_once(", formula ").unwrap();
        let made = dilute(
            millilitres(100.0),
            strength(from.parse().unwrap()),
            strength(to.parse().unwrap()),
        )
        .unwrap();
        let formula: f64 = formula.parse().unwrap();
        let printed: f64 = printed.parse().unwrap();
        assert!((made.water.value() - formula).abs() < 0.0051, "{words}");
        assert!((made.water.value() - printed).abs() > 0.16, "{words}");
    }
}

#[test]
fn units_are_those_of_the_table_with_their_evidence() {
    let text = reference_text("sensory/units.csv");
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let mut rows = BTreeMap::new();
    for row in reader.records() {
        let row = row.unwrap();
        rows.insert(row[0].to_owned(), row);
    }
    let ethanol = density(MassFraction::ETHANOL, Celsius::TWENTY).unwrap();
    for unit in StandardDrink::ALL {
        let row = rows
            .remove(unit.name())
            .unwrap_or_else(|| panic!("{unit:?}"));
        let printed: f64 = row[1].parse().unwrap();
        let per_millilitre =
            standard_drinks(millilitres(1.0), VolumePercent::ETHANOL, unit).unwrap();
        assert!((1.0 / per_millilitre - printed).abs() < 0.051, "{unit:?}");
        assert_eq!(unit.evidence(), Evidence::SecondaryPageRead);
        assert!(row[4].starts_with("secondary page read"), "{unit:?}");
    }
    let american = rows.remove("US proof").unwrap();
    assert!(american[4].contains("40 % = 80 proof, read"));
    assert_eq!(ProofScale::UnitedStates.evidence(), Evidence::SourceRead);
    let eighty = strength_to_proof(strength(40.0), ProofScale::UnitedStates);
    assert_eq!(eighty, 80.0);
    let british = rows.remove("UK proof (historic)").unwrap();
    assert_eq!(&british[4], "memory");
    assert_eq!(
        ProofScale::UnitedKingdomHistoric.evidence(),
        Evidence::FromMemory
    );
    let printed: f64 = british[1]
        .split_whitespace()
        .next()
        .unwrap()
        .parse()
        .unwrap();
    let hundred = strength_to_proof(strength(printed), ProofScale::UnitedKingdomHistoric);
    assert!((hundred - 100.0).abs() < 1e-12);
    let row = rows.remove("Ethanol density").unwrap();
    let printed: f64 = row[1].parse().unwrap();
    assert!((ethanol.value() - printed).abs() < 0.005);
    assert!(rows.is_empty(), "rows that no check reads: {rows:?}");
}
