//! What somebody of a given ability would have on average over many sittings.
//!
//! The expected share of a part is simulated at 33 abilities from −4 to 4, over all places in turn
//! (forms and serving orders), made rising by pooling neighbours (Ayer et al. 1955), and read off
//! by straight lines between; beyond the ends the end holds. Each of the points carries Monte-Carlo
//! error, so that true standings close to the cut are approximate.

use base::ExamSeed;
use rayon::prelude::*;

use super::day::Day;
use super::marking::Marking;
use super::population::{Abilities, Population};
use super::prepared::Prepared;
use super::script_run::{Around, Parts, run};
use super::simulate::{CANDIDATES, Writer, stream_at};
use crate::decide::Part;

const LOWEST: f64 = -4.0;
const STEP: f64 = 0.25;
const POINTS: u64 = 33;

/// The expected share of a part's maximum, by ability.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct ExpectedShare {
    points: Vec<f64>,
}

impl ExpectedShare {
    /// Simulates the points with so many scripts each.
    pub(super) fn simulated(
        part: Part,
        scripts: u64,
        prepared: &Prepared<'_>,
        marking: &dyn Marking,
        seed: &ExamSeed,
        population: &Population,
    ) -> Self {
        let part_number = match part {
            Part::Theory => 0,
            Part::Tasting => 1,
        };
        let day = Day::usual(population);
        let first = (1 << 63) | (1 << 62) | (part_number << 48);
        let points: Vec<f64> = (0..POINTS)
            .into_par_iter()
            .map(|point| {
                let ability = LOWEST + STEP * point as f64;
                let can = Abilities {
                    theory: ability,
                    tasting: ability,
                };
                let writer = Writer::Able(can, &population.taster);
                let (mut sum, mut n) = (0.0, 0.0);
                for (number, place) in (0..scripts).zip(prepared.places.iter().cycle()) {
                    let index = first + point * CANDIDATES + number;
                    let mut stream = stream_at(seed, index);
                    let mut around = Around::unharmed(&day, seed, index, number as usize);
                    let parts = Parts::Only(part);
                    let score = run(
                        &mut stream,
                        prepared,
                        marking,
                        place,
                        writer,
                        parts,
                        &mut around,
                    );
                    if let Some(marks) = score.marks.part(part) {
                        sum += marks.marks.fraction_of(marks.of);
                        n += 1.0;
                    }
                }
                if n > 0.0 { sum / n } else { 0.0 }
            })
            .collect();
        Self {
            points: rising(&points),
        }
    }

    /// The expected share at an ability.
    pub(super) fn at(&self, ability: f64) -> f64 {
        let position = ((ability - LOWEST) / STEP).clamp(0.0, (POINTS - 1) as f64);
        let below = position.floor();
        // Whole and within the list, by the clamp.
        let place = below as usize;
        let here = self.points.get(place).copied().unwrap_or(0.0);
        let next = self.points.get(place + 1).copied().unwrap_or(here);
        here + (next - here) * (position - below)
    }
}

/// The rising sequence nearest to these points in least squares: neighbours that fall are pooled.
fn rising(points: &[f64]) -> Vec<f64> {
    let mut blocks: Vec<(f64, usize)> = Vec::new();
    for point in points {
        let mut block = (*point, 1);
        while let Some((mean, size)) = blocks.last().copied() {
            if mean <= block.0 {
                break;
            }
            blocks.pop();
            let together = size + block.1;
            let sum = mean * size as f64 + block.0 * block.1 as f64;
            block = (sum / together as f64, together);
        }
        blocks.push(block);
    }
    blocks
        .into_iter()
        .flat_map(|(mean, size)| std::iter::repeat_n(mean, size))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn falling_neighbours_are_pooled() {
        assert_eq!(rising(&[1.0, 3.0, 2.0, 4.0]), [1.0, 2.5, 2.5, 4.0]);
        assert_eq!(rising(&[3.0, 2.0, 1.0]), [2.0, 2.0, 2.0]);
    }

    #[test]
    fn between_points_lies_a_straight_line_and_beyond_the_end() {
        let line = ExpectedShare {
            points: (0..POINTS).map(|p| p as f64 / 32.0).collect(),
        };
        assert!((line.at(0.0) - 0.5).abs() < 1e-12);
        assert!((line.at(0.1) - 0.5125).abs() < 1e-12);
        assert_eq!((line.at(-9.0), line.at(9.0)), (0.0, 1.0));
    }
}
