//! Answers of candidates beside each other, as the page shows them.

use renderer::content::examiner::AlikeSection;
use renderer::plot::PlotTable;
use results::analysis::Alikeness;
use statistics::Refusal;

/// The section; none where the comparison was refused, which stands among what is not given.
pub(super) fn section(made: &Alikeness) -> Option<AlikeSection> {
    if !made.refused.is_empty() {
        return None;
    }
    let sentences = std::iter::once(&made.sentence)
        .chain(
            made.pairs
                .iter()
                .filter(|pair| pair.named)
                .map(|pair| &pair.sentence),
        )
        .cloned()
        .collect();
    let head = [
        "pair",
        "same answers",
        "expected",
        "same and wrong",
        "binomial test",
        "omega",
        "wrong answers",
        "binomial, all pairs counted",
    ];
    let rows = made
        .pairs
        .iter()
        .map(|pair| {
            let [one, other] = &pair.candidates;
            let shared = pair.shared_wrong.iter().flatten().next();
            vec![
                format!("{one} and {other}"),
                format!("{} of {}", pair.same, pair.questions),
                format!("{:.1}", pair.expected),
                shared.map_or_else(nothing, |k| k.shared.to_string()),
                pair.binomial
                    .as_ref()
                    .map_or_else(|_| nothing(), |b| chance(b.p_value.probability)),
                least(
                    pair.omega
                        .iter()
                        .map(|o| o.as_ref().map(|o| o.p_value.probability)),
                ),
                least(
                    pair.shared_wrong
                        .iter()
                        .map(|k| k.as_ref().map(|k| k.p_value.probability)),
                ),
                chance(pair.adjusted),
            ]
        })
        .collect();
    Some(AlikeSection {
        sentences,
        caution: made.caution.to_owned(),
        table: PlotTable {
            head: head.map(str::to_owned).to_vec(),
            rows,
        },
    })
}

fn nothing() -> String {
    "\u{2013}".to_owned()
}

/// The smaller of two directions.
fn least<'a>(of: impl Iterator<Item = Result<f64, &'a Refusal>>) -> String {
    of.flatten()
        .min_by(f64::total_cmp)
        .map_or_else(nothing, chance)
}

/// A probability with as many digits as say something.
fn chance(probability: f64) -> String {
    match probability {
        p if p >= 0.01 => format!("{p:.2}"),
        p if p >= 0.0001 => format!("{p:.4}"),
        _ => "< .0001".to_owned(),
    }
}
