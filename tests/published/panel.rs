//! Descriptor weights and assessor performance against sensory/expected/panel.json.

use crate::record::{Record, reference_json};
use serde_json::Value;
use statistics::Confidence;
use statistics::panel::assessor_anova::assessor_anova;
use statistics::panel::descriptor_weight::descriptor_weight;

#[test]
fn every_kind_of_record_has_a_check() {
    let file = reference_json("sensory/expected/panel.json");
    let kinds: Vec<&String> = file["checks"].as_object().unwrap().keys().collect();
    assert_eq!(kinds, ["descriptor_selection", "panel_anova"]);
}

#[test]
fn descriptor_weights() {
    let file = reference_json("sensory/expected/panel.json");
    let records = file["checks"]["descriptor_selection"].as_array().unwrap();
    assert!(!records.is_empty());
    for value in records {
        let name = value["name"].as_str().unwrap();
        let record = Record::new(format!("panel.json {name}"), value);
        assert!(!record.text("name").is_empty());
        let whole = |key: &str| record.number(key) as usize;
        let made = descriptor_weight(
            whole("citations"),
            whole("assessors") * whole("products"),
            record.number("intensity_sum"),
            record.number("scale_max"),
            Confidence::P95,
        )
        .unwrap();
        let tolerance = record.number("tol");
        record.compare("F_percent", 100.0 * made.frequency, tolerance);
        record.compare("I_percent", 100.0 * made.intensity, tolerance);
        record.compare("M_percent", 100.0 * made.weight, tolerance);
        record.finish();
    }
}

#[test]
fn assessors_by_analysis_of_variance() {
    let file = reference_json("sensory/expected/panel.json");
    let records = file["checks"]["panel_anova"].as_array().unwrap();
    assert!(!records.is_empty());
    for record in records {
        let data: Vec<Vec<Vec<f64>>> = serde_json::from_value(record["data"].clone()).unwrap();
        let tolerance = record["tol"].as_f64().unwrap();
        let made = assessor_anova(&data).unwrap();
        let near = |name: &str, expected: &Value, computed: f64, tolerance: f64| {
            let expected = expected.as_f64().unwrap();
            assert!(
                (expected - computed).abs() <= tolerance,
                "{name}: expected {expected}, computed {computed}"
            );
        };
        assert_eq!(
            made.assessors.len(),
            record["assessor_F"].as_array().unwrap().len()
        );
        for (place, assessor) in made.assessors.iter().enumerate() {
            let ratio = assessor.discrimination.unwrap();
            near("F", &record["assessor_F"][place], ratio.ratio, tolerance);
            // Seven significant digits are printed.
            let p = ratio.p_value.probability;
            near("p", &record["assessor_p"][place], p, 1e-6 * p);
            let repeat = assessor.repeatability;
            near(
                "repeatability",
                &record["repeatability_sd"][place],
                repeat,
                1e-6,
            );
            let agreement = assessor.agreement.unwrap();
            near(
                "r",
                &record["agreement_r_with_others"][place],
                agreement,
                1e-6,
            );
        }
        let squares = &record["MS"];
        near("product", &squares["product"], made.product, tolerance);
        near("assessor", &squares["assessor"], made.assessor, tolerance);
        near(
            "interaction",
            &squares["interaction"],
            made.interaction,
            tolerance,
        );
        near("residual", &squares["residual"], made.residual, tolerance);
        assert_eq!(squares.as_object().unwrap().len(), 4);
        let ratio = made.products_differ.unwrap().ratio;
        near("products", &record["F_product_vs_interaction"], ratio, 1e-6);
    }
}
