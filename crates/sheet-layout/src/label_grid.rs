//! Sheets of labels as data: how many, how large, how far apart, checked to lie on the page.

use base::Fault;
use serde::Serialize;

use crate::area::Area;
use crate::millimetres::Millimetres;
use crate::paper::Paper;

/// A sheet of equal labels, described by its geometry alone.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LabelGrid {
    /// The geometry as a name: `a4-3x8-70x37` is A4, 3 columns, 8 rows, labels 70 by 37 mm.
    pub name: String,
    /// The paper of the sheet.
    pub paper: Paper,
    /// Labels side by side.
    pub columns: u16,
    /// Labels one below the other.
    pub rows: u16,
    /// Width of one label.
    pub label_width: Millimetres,
    /// Height of one label.
    pub label_height: Millimetres,
    /// From the left edge of the page to the first label.
    pub left_margin: Millimetres,
    /// From the upper edge of the page to the first label.
    pub top_margin: Millimetres,
    /// From the left side of one label to the left side of the next.
    pub column_pitch: Millimetres,
    /// From the upper side of one label to the upper side of the next.
    pub row_pitch: Millimetres,
}

/// The most columns or rows a sheet may have; a bound against slips of the pen in data.
const MOST_IN_A_ROW: u16 = 60;

impl LabelGrid {
    /// Every fault of the geometry: nothing on the sheet, labels that overlap or leave the page.
    #[must_use]
    pub fn check(&self) -> Vec<Fault> {
        let mut faults = Vec::new();
        let nothing = Millimetres::ZERO;
        for (count, word) in [(self.columns, "columns"), (self.rows, "rows")] {
            if count == 0 || count > MOST_IN_A_ROW {
                faults.push(
                    Fault::new(
                        "label-grid-count",
                        None,
                        format!("label sheet \"{}\" has {count} {word}", self.name),
                    )
                    .allowed(format!("1 to {MOST_IN_A_ROW}")),
                );
            }
        }
        for (length, word) in [
            (self.label_width, "label width"),
            (self.label_height, "label height"),
        ] {
            if length <= nothing {
                faults.push(
                    Fault::new(
                        "label-grid-size",
                        None,
                        format!("label sheet \"{}\": {word} is {length}", self.name),
                    )
                    .allowed("a length above 0 mm"),
                );
            }
        }
        if self.left_margin < nothing || self.top_margin < nothing {
            faults.push(
                Fault::new(
                    "label-grid-margin",
                    None,
                    format!("label sheet \"{}\": a margin is below 0 mm", self.name),
                )
                .allowed("0 mm or more"),
            );
        }
        for (count, pitch, size, word) in [
            (
                self.columns,
                self.column_pitch,
                self.label_width,
                "column pitch",
            ),
            (self.rows, self.row_pitch, self.label_height, "row pitch"),
        ] {
            if count > 1 && pitch < size {
                faults.push(
                    Fault::new(
                        "label-grid-overlap",
                        None,
                        format!(
                            "label sheet \"{}\": {word} {pitch} is less than the label ({size})",
                            self.name
                        ),
                    )
                    .hint("measure from the edge of one label to the same edge of the next"),
                );
            }
        }
        let last = self.area_at(self.columns.saturating_sub(1), self.rows.saturating_sub(1));
        if !last.lies_in(&self.paper.area()) {
            faults.push(
                Fault::new(
                    "label-grid-off-page",
                    None,
                    format!(
                        "label sheet \"{}\": the last label ends at {} from the left and {} from the top",
                        self.name,
                        last.right(),
                        last.bottom()
                    ),
                )
                .allowed(format!("{} wide, {} high ({})", self.paper.width(), self.paper.height(), self.paper)),
            );
        }
        faults
    }

    /// How many labels are on a sheet.
    #[must_use]
    pub fn labels_on_a_sheet(&self) -> usize {
        usize::from(self.columns) * usize::from(self.rows)
    }

    /// Where each label lies, row by row.
    #[must_use]
    pub fn areas(&self) -> Vec<Area> {
        (0..self.rows)
            .flat_map(|row| (0..self.columns).map(move |column| self.area_at(column, row)))
            .collect()
    }

    fn area_at(&self, column: u16, row: u16) -> Area {
        Area {
            left: self.left_margin + self.column_pitch.times(i32::from(column)),
            top: self.top_margin + self.row_pitch.times(i32::from(row)),
            width: self.label_width,
            height: self.label_height,
        }
    }
}

/// One row of the table of shipped sheets; lengths in thousandths of a millimetre.
struct Geometry {
    name: &'static str,
    paper: Paper,
    columns: u16,
    rows: u16,
    label: [i32; 2],
    margin: [i32; 2],
    pitch: [i32; 2],
}

/// Sheets found in most stationers' shops. Common practice, written from memory without a
/// source: print one sheet on plain paper and hold it against the labels before use. The first of
/// each paper is taken where none is named; it has margins that every printer can keep.
const SHIPPED: [Geometry; 12] = {
    use Paper::{A4, Letter};
    [
        Geometry {
            name: "a4-3x7-63.5x38.1",
            paper: A4,
            columns: 3,
            rows: 7,
            label: [63_500, 38_100],
            margin: [7_250, 15_150],
            pitch: [66_000, 38_100],
        },
        Geometry {
            name: "a4-3x8-70x37",
            paper: A4,
            columns: 3,
            rows: 8,
            label: [70_000, 37_000],
            margin: [0, 500],
            pitch: [70_000, 37_000],
        },
        Geometry {
            name: "a4-3x6-63.5x46.6",
            paper: A4,
            columns: 3,
            rows: 6,
            label: [63_500, 46_600],
            margin: [7_250, 8_700],
            pitch: [66_000, 46_600],
        },
        Geometry {
            name: "a4-2x7-99.1x38.1",
            paper: A4,
            columns: 2,
            rows: 7,
            label: [99_100, 38_100],
            margin: [4_650, 15_150],
            pitch: [101_600, 38_100],
        },
        Geometry {
            name: "a4-4x10-48.5x25.4",
            paper: A4,
            columns: 4,
            rows: 10,
            label: [48_500, 25_400],
            margin: [8_000, 21_500],
            pitch: [48_500, 25_400],
        },
        Geometry {
            name: "a4-4x12-45.7x21.2",
            paper: A4,
            columns: 4,
            rows: 12,
            label: [45_700, 21_200],
            margin: [9_850, 21_300],
            pitch: [48_200, 21_200],
        },
        Geometry {
            name: "a4-5x13-38.1x21.2",
            paper: A4,
            columns: 5,
            rows: 13,
            label: [38_100, 21_200],
            margin: [4_750, 10_700],
            pitch: [40_600, 21_200],
        },
        Geometry {
            name: "a4-7x27-25.4x10",
            paper: A4,
            columns: 7,
            rows: 27,
            label: [25_400, 10_000],
            margin: [8_600, 13_500],
            pitch: [27_900, 10_000],
        },
        Geometry {
            name: "letter-3x10-66.7x25.4",
            paper: Letter,
            columns: 3,
            rows: 10,
            label: [66_675, 25_400],
            margin: [4_762, 12_700],
            pitch: [69_850, 25_400],
        },
        Geometry {
            name: "letter-2x7-101.6x33.9",
            paper: Letter,
            columns: 2,
            rows: 7,
            label: [101_600, 33_866],
            margin: [3_969, 21_166],
            pitch: [106_362, 33_866],
        },
        Geometry {
            name: "letter-2x5-101.6x50.8",
            paper: Letter,
            columns: 2,
            rows: 5,
            label: [101_600, 50_800],
            margin: [3_969, 12_700],
            pitch: [106_362, 50_800],
        },
        Geometry {
            name: "letter-4x20-44.5x12.7",
            paper: Letter,
            columns: 4,
            rows: 20,
            label: [44_450, 12_700],
            margin: [7_144, 12_700],
            pitch: [52_387, 12_700],
        },
    ]
};

/// The label sheets that come with the program.
#[must_use]
pub fn shipped_label_grids() -> Vec<LabelGrid> {
    SHIPPED
        .iter()
        .map(|geometry| {
            let [label_width, label_height] = geometry.label.map(Millimetres::thousandths);
            let [left_margin, top_margin] = geometry.margin.map(Millimetres::thousandths);
            let [column_pitch, row_pitch] = geometry.pitch.map(Millimetres::thousandths);
            LabelGrid {
                name: geometry.name.to_owned(),
                paper: geometry.paper,
                columns: geometry.columns,
                rows: geometry.rows,
                label_width,
                label_height,
                left_margin,
                top_margin,
                column_pitch,
                row_pitch,
            }
        })
        .collect()
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;

    #[test]
    fn shipped_sheets_lie_on_their_page_and_do_not_overlap() {
        for grid in shipped_label_grids() {
            assert_eq!(grid.check(), Vec::new(), "{}", grid.name);
            let areas = grid.areas();
            assert_eq!(areas.len(), grid.labels_on_a_sheet());
            for (index, one) in areas.iter().enumerate() {
                assert!(one.lies_in(&grid.paper.area()), "{}", grid.name);
                assert!(
                    areas
                        .iter()
                        .skip(index + 1)
                        .all(|other| !one.overlaps(other)),
                    "{}",
                    grid.name
                );
            }
        }
    }

    #[test]
    fn names_say_the_geometry_and_are_distinct() {
        let grids = shipped_label_grids();
        for grid in &grids {
            let expected = format!("{}-{}x{}-", grid.paper.name(), grid.columns, grid.rows);
            assert!(grid.name.starts_with(&expected), "{}", grid.name);
            assert_eq!(
                grids.iter().filter(|other| other.name == grid.name).count(),
                1
            );
        }
    }

    #[test]
    fn every_fault_of_a_bad_sheet_is_told_at_once() {
        let mut grid = shipped_label_grids().remove(0);
        grid.columns = 4;
        grid.row_pitch = Millimetres::whole(30);
        grid.top_margin = Millimetres::whole(-1);
        let rules: Vec<_> = grid.check().into_iter().map(|fault| fault.rule).collect();
        assert_eq!(
            rules,
            [
                "label-grid-margin",
                "label-grid-overlap",
                "label-grid-off-page"
            ]
        );
    }
}
