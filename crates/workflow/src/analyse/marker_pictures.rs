//! The picture of the markers of a sitting beside each other, with its sentences and table.

use renderer::plot::{Drawn, LimitsRow, Plot, PlotTable};
use results::moderation::{MarkerFigures, Moderation};

/// The markers; none where no marker shares enough scripts with another.
pub(super) fn beside_each_other(part: &str, made: &Moderation) -> Option<Plot> {
    let percent = |share: f64| share * 100.0;
    let rows: Vec<LimitsRow> = made
        .markers
        .iter()
        .filter_map(|marker| {
            Some(LimitsRow {
                name: marker.marker.clone(),
                value: percent(marker.severity?),
                limits: marker
                    .limits
                    .map(|[low, high]| (percent(low), percent(high))),
            })
        })
        .collect();
    if rows.is_empty() {
        return None;
    }
    Some(Plot {
        name: format!("{part}-shared-scripts"),
        title: "Markers beside each other, on scripts that both marked".to_owned(),
        sentence: sentences(made).collect::<Vec<_>>().join(" "),
        drawn: Drawn::Limits {
            rows,
            axis: "per cent of the full marks; milder to the right".to_owned(),
            middle: Some(0.0),
        },
        table: PlotTable {
            head: [
                "marker",
                "shared scripts",
                "difference, %",
                "95 % from",
                "to",
                "spread",
                "look at",
            ]
            .map(str::to_owned)
            .to_vec(),
            rows: made.markers.iter().map(row).collect(),
        },
    })
}

/// All sentences of a moderation, the markers first.
pub(super) fn sentences(made: &Moderation) -> impl Iterator<Item = &str> {
    let markers = made.markers.iter().flat_map(|marker| {
        let further = marker.further.iter().map(String::as_str);
        std::iter::once(marker.sentence.as_str()).chain(further)
    });
    let agreement = made.agreement.iter().map(String::as_str);
    let advice = made.advice.talk_to.iter().map(String::as_str);
    markers.chain(agreement).chain(advice)
}

fn row(marker: &MarkerFigures) -> Vec<String> {
    let number = |share: Option<f64>| {
        share.map_or_else(
            || "refused".to_owned(),
            |share| format!("{:+.1}", share * 100.0),
        )
    };
    vec![
        marker.marker.clone(),
        marker.scripts.to_string(),
        number(marker.severity),
        number(marker.limits.map(|[low, _]| low)),
        number(marker.limits.map(|[_, high]| high)),
        marker.spread.map_or_else(
            || "refused".to_owned(),
            |share| format!("{:.1}", share * 100.0),
        ),
        marker.look_at.join(", "),
    ]
}
