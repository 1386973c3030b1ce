//! Labels for glasses and for kit bottles, in the order in which they are peeled.

use assembler::WARM_UP_LABEL;
use exam_plan::{Paper, Service};
use renderer::content::candidate::{Label, LabelSheet};
use sheet_layout::{LabelGrid, shipped_label_grids};

use super::booklets::by_seat;
use super::head::millilitres;
use super::{Job, PrintRequest, SheetFile, Sides};
use crate::failure::Failure;
use crate::open_sitting::DrawnSitting;

/// Labels for the room and for the kits; none without a tasting part.
pub(super) fn jobs<'o>(
    open: &'o DrawnSitting,
    request: &PrintRequest,
) -> Result<Vec<Job<'o>>, Failure> {
    let Some(tasting) = &open.exam.plan.tasting else {
        return Ok(Vec::new());
    };
    let grid = grid(open, request)?;
    let volume = millilitres(tasting.pour.volume);
    // Pouring goes sample by sample, one bottle open at a time; within a sample along the seats. The
    // warm-up is poured first and has no code.
    let of = |service: Service, line: &str| -> Vec<Label> {
        let places: Vec<_> = by_seat(open)
            .into_iter()
            .filter(|p| p.service == service)
            .collect();
        let warm_ups = places
            .iter()
            .filter(|place| tasting.warm_up.is_some() && place.tastes())
            .map(|_| label(WARM_UP_LABEL, line));
        let flight = tasting.samples.iter().flat_map(|(sample, _)| {
            places
                .iter()
                .flat_map(move |place| {
                    place
                        .glasses
                        .iter()
                        .filter(move |glass| glass.sample == *sample)
                })
                .map(|glass| label(&glass.code, line))
        });
        warm_ups.chain(flight).collect()
    };
    let mut jobs = Vec::new();
    if request.label_test {
        let sheet = test_sheet(&grid);
        jobs.push(Job {
            file: SheetFile::new(
                4,
                &format!("label-test-{}", grid.name),
                "plain-paper",
                1,
                Sides::Single,
            ),
            document: "label-test".to_owned(),
            make: Box::new(move |renderer, look, stamp| renderer.labels(&sheet, look, stamp)),
        });
    }
    for (number, what, whom, labels) in [
        (5, "glass-labels", "pourer", of(Service::Room, "")),
        (6, "kit-bottle-labels", "packer", of(Service::Kit, &volume)),
        (10, "spare-glass-labels", "pourer", spares(open)),
    ] {
        if labels.is_empty() {
            continue;
        }
        let sheet = LabelSheet {
            title: what.replace('-', " "),
            grid: grid.clone(),
            first_place: request.labels_gone,
            frames: false,
            labels,
        };
        jobs.push(Job {
            file: SheetFile::new(
                number,
                &format!("{what}-{}", grid.name),
                whom,
                1,
                Sides::Single,
            ),
            document: what.to_owned(),
            make: Box::new(move |renderer, look, stamp| renderer.labels(&sheet, look, stamp)),
        });
    }
    Ok(jobs)
}

fn label(code: &str, line: &str) -> Label {
    Label {
        code: code.to_owned(),
        small_line: line.to_owned(),
    }
}

/// A label more for every code that stands in the room, in the order of pouring: a glass that is
/// poured again bears the code of the one before, and looks like any other.
fn spares(open: &DrawnSitting) -> Vec<Label> {
    let part = open.exam.plan.tasting.as_ref();
    let places: Vec<_> = by_seat(open)
        .into_iter()
        .filter(|place| place.service == Service::Room && place.tastes())
        .collect();
    let mut codes: Vec<&str> = Vec::new();
    if part.is_some_and(|part| part.warm_up.is_some()) && !places.is_empty() {
        codes.push(WARM_UP_LABEL);
    }
    for (sample, _) in part.iter().flat_map(|part| &part.samples) {
        let glasses = places.iter().flat_map(|place| &place.glasses);
        for glass in glasses.filter(|glass| glass.sample == *sample) {
            if !codes.contains(&glass.code.as_str()) {
                codes.push(&glass.code);
            }
        }
    }
    codes.into_iter().map(|code| label(code, "")).collect()
}

/// A sheet with the outline of every label: printed at 100 % on plain paper and held against the
/// labels, it shows whether both agree.
fn test_sheet(grid: &LabelGrid) -> LabelSheet {
    LabelSheet {
        title: "label test".to_owned(),
        grid: grid.clone(),
        first_place: 0,
        frames: true,
        labels: (1..=grid.labels_on_a_sheet())
            .map(|number| Label {
                code: format!("{number:03}"),
                small_line: String::new(),
            })
            .collect(),
    }
}

/// The label sheet asked for, or the first that fits the paper.
fn grid(open: &DrawnSitting, request: &PrintRequest) -> Result<LabelGrid, Failure> {
    let grids = shipped_label_grids();
    let paper = match open.exam.plan.paper {
        Paper::A4 => sheet_layout::Paper::A4,
        Paper::Letter => sheet_layout::Paper::Letter,
    };
    let known: Vec<String> = grids.iter().map(|g| g.name.clone()).collect();
    let found = match &request.labels {
        Some(measures) if measures.contains('@') => {
            let read = sheet_layout::label_geometry::read_geometry(measures);
            Some(read.map_err(|faults| Failure::Faults {
                faults,
                sources: crate::texts::Sources::new(),
            })?)
        }
        Some(name) => grids.into_iter().find(|g| g.name == *name),
        None => grids.into_iter().find(|g| g.paper == paper),
    };
    let asked = request.labels.clone().unwrap_or_default();
    let grid = found.ok_or_else(|| Failure::Refused {
        what: format!("there is no label sheet \"{asked}\""),
        hint: format!(
            "known label sheets: {}; or one of your own: {}",
            known.join(", "),
            sheet_layout::label_geometry::GEOMETRY
        ),
    })?;
    if usize::from(request.labels_gone) >= grid.labels_on_a_sheet() {
        return Err(Failure::Refused {
            what: format!(
                "a sheet \"{}\" has {} labels: not so many can be gone",
                grid.name,
                grid.labels_on_a_sheet()
            ),
            hint: "say how many labels of the first sheet are gone, or take a fresh one".to_owned(),
        });
    }
    Ok(grid)
}
