//! What simulated candidates draw from a stream: normal numbers, chances, choices by weight.

use base::Stream;

use super::population::{Abilities, Population};

/// The logistic function, 1 / (1 + e^−x).
#[must_use]
pub fn logistic(x: f64) -> f64 {
    1.0 / (1.0 + libm::exp(-x))
}

/// A standard normal number from two uniform ones (Box and Muller 1958, the cosine half).
pub fn normal(stream: &mut Stream) -> f64 {
    // 1 - u lies in (0, 1], so that the logarithm is finite.
    let radius = (-2.0 * libm::log(1.0 - stream.unit())).sqrt();
    radius * libm::cos(std::f64::consts::TAU * stream.unit())
}

/// True with this probability.
pub fn happens(stream: &mut Stream, probability: f64) -> bool {
    stream.unit() < probability
}

/// One of several things, each as likely as any other; none from nothing.
pub fn any_of<'a, T>(stream: &mut Stream, things: &'a [T]) -> Option<&'a T> {
    things.get(stream.index(things.len()))
}

/// A place by weight: `cumulative` holds the running sums of whole weights.
pub fn by_weight(stream: &mut Stream, cumulative: &[u64]) -> usize {
    let total = cumulative.last().copied().unwrap_or(0);
    let drawn = stream.below(total);
    cumulative.partition_point(|sum| *sum <= drawn)
}

/// The abilities of one candidate: two normal numbers with the population's correlation.
pub fn abilities(stream: &mut Stream, population: &Population) -> Abilities {
    let (first, second) = (normal(stream), normal(stream));
    let r = population.correlation.clamp(-1.0, 1.0);
    let tasting = r * first + (1.0 - r * r).sqrt() * second;
    Abilities {
        theory: population.theory_mean + population.theory_deviation * first,
        tasting: population.tasting_mean + population.tasting_deviation * tasting,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use base::{ExamSeed, Purpose};

    fn stream() -> Stream {
        Stream::new(
            &ExamSeed::from_bytes([5; 32]),
            Purpose::RehearsalCandidate,
            0,
        )
    }

    #[test]
    fn abilities_have_the_stated_moments() {
        let population = Population {
            theory_mean: 1.0,
            theory_deviation: 2.0,
            tasting_mean: -1.0,
            ..Population::default()
        };
        let mut stream = stream();
        let n = 40_000;
        let drawn: Vec<_> = (0..n)
            .map(|_| abilities(&mut stream, &population))
            .collect();
        let theory: Vec<f64> = drawn.iter().map(|a| a.theory).collect();
        let tasting: Vec<f64> = drawn.iter().map(|a| a.tasting).collect();
        let mean = |v: &[f64]| v.iter().sum::<f64>() / n as f64;
        // Four standard errors each: 2/sqrt n, 1/sqrt n, (1 - r²)/sqrt n.
        let error = 4.0 / f64::from(n).sqrt();
        assert!((mean(&theory) - 1.0).abs() < 2.0 * error);
        assert!((mean(&tasting) + 1.0).abs() < error);
        let r = statistics::sums::correlation(&theory, &tasting).unwrap_or(0.0);
        assert!((r - 0.5).abs() < 0.75 * error, "{r}");
    }

    #[test]
    fn weights_are_kept() {
        let mut stream = stream();
        let mut counts = [0_u32; 3];
        for _ in 0..9_000 {
            if let Some(count) = counts.get_mut(by_weight(&mut stream, &[1, 1, 3])) {
                *count += 1;
            }
        }
        assert_eq!(counts.get(1), Some(&0));
        let first = f64::from(counts.first().copied().unwrap_or(0));
        assert!((first - 3_000.0).abs() < 4.0 * (9_000.0_f64 * 2.0 / 9.0).sqrt());
    }
}
