//! A ranking test: Friedman's test, the least significant difference, Page's test for an expected order.

use std::path::Path;

use base::Fault;
use base::table::Table;
use serde::Serialize;
use statistics::ScoreTable;
use statistics::panel::friedman::{Friedman, friedman};
use statistics::panel::page_trend::{PageTrend, page_trend};
use statistics::panel::rank_sum_difference::rank_sum_difference;

use super::discrimination::refused;
use crate::failure::Failure;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};

/// A ranking test.
#[derive(Debug, Clone, Serialize)]
pub struct RankingReport {
    /// The samples, in the order of the columns.
    pub samples: Vec<String>,
    /// Whether any differ.
    pub friedman: Friedman,
    /// The least significant difference of two rank sums.
    pub least_difference: f64,
    /// Pairs of samples whose rank sums lie further apart than that.
    pub differ: Vec<(String, String)>,
    /// Page's test for the order of the columns, where it was asked for.
    pub trend: Option<PageTrend>,
    /// Risk.
    pub risk: f64,
}

/// Reads a table (column `assessor`, then one column for each sample with its ranks or scores) and
/// works out the test. `expected_order`: whether the columns stand in an expected order.
///
/// # Errors
/// When the table cannot be read, or is too small.
pub fn ranking(
    around: &dyn Surroundings,
    path: &Path,
    risk: f64,
    expected_order: bool,
) -> Result<RankingReport, Failure> {
    let (samples, rows) = read(around, path)?;
    let scores = ScoreTable::new(&rows).map_err(refused)?;
    let found = friedman(&scores).map_err(refused)?;
    let least_difference =
        rank_sum_difference(found.assessors, found.samples, risk).map_err(refused)?;
    let mut differ = Vec::new();
    // A comparison of pairs follows only where the whole test finds a difference.
    if found.p_value.probability <= risk {
        let sums: Vec<(&String, &f64)> = samples.iter().zip(&found.rank_sums).collect();
        for (place, (one, a)) in sums.iter().enumerate() {
            for (other, b) in sums.iter().skip(place + 1) {
                if (**a - **b).abs() >= least_difference {
                    differ.push(((*one).clone(), (*other).clone()));
                }
            }
        }
    }
    let trend = if expected_order {
        Some(page_trend(&scores).map_err(refused)?)
    } else {
        None
    };
    Ok(RankingReport {
        samples,
        friedman: found,
        least_difference,
        differ,
        trend,
        risk,
    })
}

fn read(around: &dyn Surroundings, path: &Path) -> Result<(Vec<String>, Vec<Vec<f64>>), Failure> {
    let mut faults = Vec::new();
    let Some(source) = read_text(around, path, &mut faults)? else {
        return Err(Failure::Faults {
            faults,
            sources: Sources::new(),
        });
    };
    let sources = Sources::from([(source.name.clone(), source.text.clone())]);
    let table = match Table::read(&source) {
        Ok(table) => table,
        Err(fault) => {
            return Err(Failure::Faults {
                faults: vec![*fault],
                sources,
            });
        }
    };
    let columns: Vec<(usize, String)> = table
        .header()
        .iter()
        .enumerate()
        .filter(|(_, head)| !head.text.eq_ignore_ascii_case("assessor") && !head.text.is_empty())
        .map(|(place, head)| (place, head.text.clone()))
        .collect();
    let mut rows = Vec::new();
    for row in table.rows() {
        let mut own = Vec::new();
        for (place, name) in &columns {
            let cell = row.cells().get(*place).cloned().unwrap_or_default();
            match cell.text.replace(',', ".").parse::<f64>() {
                Ok(rank) if rank.is_finite() => own.push(rank),
                Ok(_) | Err(_) => faults.push(
                    Fault::new(
                        "no-rank",
                        table.place(if cell.text.is_empty() {
                            row.bytes()
                        } else {
                            &cell.bytes
                        }),
                        format!("\"{}\" is no rank for {name}", cell.text),
                    )
                    .allowed("a number; every assessor ranks every sample"),
                ),
            }
        }
        rows.push(own);
    }
    if faults.is_empty() {
        Ok((columns.into_iter().map(|(_, name)| name).collect(), rows))
    } else {
        Err(Failure::Faults { faults, sources })
    }
}
