//! Labels for glasses and bottles on a label sheet; the code is at least 7 mm high.

use serde::Serialize;
use sheet_layout::code_on_label::LEAST_CODE_HEIGHT;
use sheet_layout::{Area, CodeOnLabel, LabelGrid, place_code};

use crate::content::candidate::{Label, LabelSheet};
use crate::look::Look;
use crate::pdf_stamp::PdfStamp;
use crate::printed::Printed;
use crate::render_fault::RenderFault;
use crate::renderer::Renderer;
use crate::sheets::Sheet;

/// What the template draws: each label at its place.
#[derive(Serialize)]
struct PlacedLabels<'a> {
    title: &'a str,
    grid: &'a LabelGrid,
    code: CodeOnLabel,
    frames: bool,
    pages: Vec<Vec<PlacedLabel<'a>>>,
}

#[derive(Serialize)]
struct PlacedLabel<'a> {
    area: Area,
    label: &'a Label,
}

impl Renderer {
    /// Labels on a label sheet. The paper is the label sheet's own, whatever the look says.
    pub fn labels(
        &self,
        content: &LabelSheet,
        look: &Look,
        stamp: &PdfStamp,
    ) -> Result<Printed, RenderFault> {
        let faults = content.grid.check();
        if !faults.is_empty() {
            return Err(RenderFault::LabelSheet { faults });
        }
        let Some(longest) = content
            .labels
            .iter()
            .map(|label| &label.code)
            .max_by_key(|code| code.chars().count())
        else {
            return Err(RenderFault::Nothing {
                sheet: Sheet::Labels.name(),
                what: "there is no label",
            });
        };
        let small_line = content
            .labels
            .iter()
            .any(|label| !label.small_line.is_empty());
        let code =
            place_code(&content.grid, longest.chars().count(), small_line).ok_or_else(|| {
                RenderFault::CodeDoesNotFit {
                    grid: content.grid.name.clone(),
                    code: longest.clone(),
                    least: LEAST_CODE_HEIGHT,
                }
            })?;
        let areas = content.grid.areas();
        let gone = usize::from(content.first_place) % areas.len().max(1);
        let places = areas.iter().cycle().skip(gone);
        let mut pages: Vec<Vec<PlacedLabel<'_>>> = vec![Vec::new()];
        for (index, (area, label)) in places.zip(&content.labels).enumerate() {
            if index > 0 && (index + gone).is_multiple_of(areas.len()) {
                pages.push(Vec::new());
            }
            if let Some(page) = pages.last_mut() {
                page.push(PlacedLabel { area: *area, label });
            }
        }
        let placed = PlacedLabels {
            title: &content.title,
            grid: &content.grid,
            code,
            frames: content.frames,
            pages,
        };
        let look = Look {
            paper: content.grid.paper,
            ..look.clone()
        };
        self.render(Sheet::Labels, &content.title, &placed, &look, stamp)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use std::collections::BTreeMap;

    use sheet_layout::shipped_label_grids;

    use super::*;
    use crate::samples;

    #[test]
    fn three_digits_print_on_every_shipped_sheet_and_what_does_not_fit_is_refused() {
        let renderer = Renderer::new(&BTreeMap::new()).unwrap();
        let print =
            |content: &LabelSheet| renderer.labels(content, &Look::default(), &PdfStamp::new("t"));
        for grid in shipped_label_grids() {
            let content = LabelSheet {
                grid,
                ..samples::labels()
            };
            assert!(print(&content).is_ok(), "{}", content.grid.name);
        }
        let mut content = samples::labels();
        content.grid = shipped_label_grids()
            .into_iter()
            .find(|grid| grid.name == "a4-7x27-25.4x10")
            .unwrap();
        content.labels[0].code = "123456".to_owned();
        assert!(matches!(
            print(&content),
            Err(RenderFault::CodeDoesNotFit { .. })
        ));
        content.grid.rows = 99;
        assert!(matches!(
            print(&content),
            Err(RenderFault::LabelSheet { .. })
        ));
        content.labels.clear();
        content.grid.rows = 1;
        assert!(matches!(print(&content), Err(RenderFault::Nothing { .. })));
    }
}
