//! Rows of boxes flow down columns and over pages; rows that belong together stay together.

use crate::area::Area;
use crate::field::{Field, PlacedText};
use crate::millimetres::Millimetres;

/// One row; positions count from the row's own upper left corner.
#[derive(Debug, Clone, Default)]
pub(crate) struct Row {
    /// Height of the row.
    pub(crate) height: Millimetres,
    /// Fields in the row.
    pub(crate) fields: Vec<Field>,
    /// Words in the row.
    pub(crate) texts: Vec<PlacedText>,
}

impl Row {
    /// One row made of this one and another below it.
    pub(crate) fn above(mut self, below: Self) -> Self {
        let down = self.height;
        self.fields
            .extend(below.fields.into_iter().map(|mut field| {
                field.area = field.area.moved(Millimetres::ZERO, down);
                field
            }));
        self.texts.extend(below.texts.into_iter().map(|mut text| {
            text.area = text.area.moved(Millimetres::ZERO, down);
            text
        }));
        self.height = down + below.height;
        self
    }
}

/// Rows that stay in one column where they fit in one.
#[derive(Debug, Clone, Default)]
pub(crate) struct Block {
    /// The rows, from top to bottom.
    pub(crate) rows: Vec<Row>,
    /// White after the block.
    pub(crate) gap_after: Millimetres,
}

/// What stands on one page, in positions of the page.
#[derive(Debug, Clone, Default)]
pub(crate) struct FilledPage {
    /// Fields on the page.
    pub(crate) fields: Vec<Field>,
    /// Words on the page.
    pub(crate) texts: Vec<PlacedText>,
}

/// The columns into which rows flow.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Columns {
    /// The room on each page.
    pub(crate) room: Area,
    /// How many columns, at least one.
    pub(crate) count: i32,
    /// White between two columns.
    pub(crate) gutter: Millimetres,
}

impl Columns {
    /// Width of one column.
    pub(crate) fn width(&self) -> Millimetres {
        (self.room.width - self.gutter.times(self.count - 1)).part_of(self.count)
    }
    fn left(&self, column: i32) -> Millimetres {
        self.room.left + (self.width() + self.gutter).times(column)
    }
}

/// Fills pages with the blocks in their order; no blocks give no page.
///
/// A row higher than a whole column cannot occur: no caller makes one above 100 mm.
pub(crate) fn flow(blocks: &[Block], columns: &Columns) -> Vec<FilledPage> {
    let mut pages: Vec<FilledPage> = Vec::new();
    let mut page = FilledPage::default();
    let (mut column, mut down) = (0, Millimetres::ZERO);
    for block in blocks {
        let whole = block
            .rows
            .iter()
            .fold(Millimetres::ZERO, |sum, row| sum + row.height);
        let fits_in_a_column = whole <= columns.room.height;
        if fits_in_a_column && down + whole > columns.room.height {
            (column, down) = next_column(column, columns, &mut pages, &mut page);
        }
        for row in &block.rows {
            if down + row.height > columns.room.height {
                (column, down) = next_column(column, columns, &mut pages, &mut page);
            }
            let (right_by, down_by) = (columns.left(column), columns.room.top + down);
            page.fields
                .extend(row.fields.iter().cloned().map(|mut field| {
                    field.area = field.area.moved(right_by, down_by);
                    field
                }));
            page.texts.extend(row.texts.iter().cloned().map(|mut text| {
                text.area = text.area.moved(right_by, down_by);
                text
            }));
            down = down + row.height;
        }
        down = down + block.gap_after;
    }
    if !page.fields.is_empty() || !page.texts.is_empty() {
        pages.push(page);
    }
    pages
}

/// The top of the next column, on a new page after the last.
fn next_column(
    column: i32,
    columns: &Columns,
    pages: &mut Vec<FilledPage>,
    page: &mut FilledPage,
) -> (i32, Millimetres) {
    if column + 1 < columns.count {
        (column + 1, Millimetres::ZERO)
    } else {
        pages.push(std::mem::take(page));
        (0, Millimetres::ZERO)
    }
}
