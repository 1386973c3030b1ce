//! Plots as SVG: each with a title, a sentence that says what to see, and the table behind it.
//!
//! Drawn in two inks that the page sets (`currentColor` and `--accent`), so that light, dark and
//! print need no second picture; lines differ by dashes and by names at their ends, never by colour
//! alone.

mod bars;
mod canvas;
mod curves;
mod limits;
mod pairs;
mod person_item_map;
mod share_map;

use serde::Serialize;

/// A plot.
#[derive(Debug, Clone, PartialEq)]
pub struct Plot {
    /// Its name on the page, unique there: letters, digits and hyphens.
    pub name: String,
    /// Title.
    pub title: String,
    /// What to see.
    pub sentence: String,
    /// What is drawn.
    pub drawn: Drawn,
    /// The table behind it.
    pub table: PlotTable,
}

/// The numbers behind a plot, as they are shown.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct PlotTable {
    /// Heads of the columns.
    pub head: Vec<String>,
    /// The rows.
    pub rows: Vec<Vec<String>>,
}

/// What is drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Drawn {
    /// Bars over a scale.
    Bars {
        /// The bars, side by side.
        bars: Vec<PlotBar>,
        /// What the scale is.
        axis: String,
        /// A line across, as the cut, with its band.
        line: Option<PlotLine>,
    },
    /// Lines over a scale, from 0 to `top`.
    Curves {
        /// The lines.
        lines: Vec<PlotCurve>,
        /// What the scale is.
        axis: String,
        /// What is drawn upwards.
        up: String,
        /// The height of the picture, in its unit.
        top: f64,
        /// Names of the places on the scale; numbers are written where there are none.
        places: Vec<String>,
        /// A line across.
        line: Option<PlotLine>,
    },
    /// Candidates on the left and questions on the right of one scale.
    PersonItemMap {
        /// The candidates.
        persons: Vec<f64>,
        /// The questions.
        items: Vec<(String, f64)>,
        /// A line across.
        line: Option<PlotLine>,
    },
    /// Values with their limits, one below the other.
    Limits {
        /// The rows.
        rows: Vec<LimitsRow>,
        /// What the scale is.
        axis: String,
        /// A line down, as 0.
        middle: Option<f64>,
    },
    /// Two values a row, one below the other.
    Pairs {
        /// The rows.
        rows: Vec<PairRow>,
        /// What the scale is.
        axis: String,
        /// Where the scale begins and ends.
        scale: (f64, f64),
        /// What the filled dot is, and what the ring is.
        names: (String, String),
    },
    /// Shares as shaded cells with their numbers.
    ShareMap {
        /// Heads of the columns.
        columns: Vec<String>,
        /// Rows with a share, or none, for each column.
        rows: Vec<(String, Vec<Option<f64>>)>,
    },
}

/// One bar.
#[derive(Debug, Clone, PartialEq)]
pub struct PlotBar {
    /// From here on the scale.
    pub from: f64,
    /// To here.
    pub to: f64,
    /// How high.
    pub count: f64,
}

/// A line across a plot, with a band around it.
#[derive(Debug, Clone, PartialEq)]
pub struct PlotLine {
    /// Where.
    pub at: f64,
    /// What it is.
    pub label: String,
    /// The band: as far to each side.
    pub reach: Option<f64>,
}

/// One curve.
#[derive(Debug, Clone, PartialEq)]
pub struct PlotCurve {
    /// Its name, written at its end.
    pub name: String,
    /// Its points from left to right.
    pub points: Vec<(f64, f64)>,
    /// Whether it is the one to look at, as the key.
    pub strong: bool,
    /// Whether its points are marked.
    pub dots: bool,
}

/// A value with its limits.
#[derive(Debug, Clone, PartialEq)]
pub struct LimitsRow {
    /// Its name.
    pub name: String,
    /// The value.
    pub value: f64,
    /// Lower and upper limit; none where there are none.
    pub limits: Option<(f64, f64)>,
}

/// Two values beside each other.
#[derive(Debug, Clone, PartialEq)]
pub struct PairRow {
    /// Its name.
    pub name: String,
    /// The filled dot.
    pub first: Option<f64>,
    /// The ring.
    pub second: Option<f64>,
}

impl Plot {
    /// The picture as an SVG element, with title and description for whoever does not see it.
    #[must_use]
    pub fn svg(&self) -> String {
        let canvas = match &self.drawn {
            Drawn::Bars { bars, axis, line } => bars::draw(bars, axis, line.as_ref()),
            Drawn::Curves {
                lines,
                axis,
                up,
                top,
                places,
                line,
            } => curves::draw(lines, axis, up, *top, places, line.as_ref()),
            Drawn::PersonItemMap {
                persons,
                items,
                line,
            } => person_item_map::draw(persons, items, line.as_ref()),
            Drawn::Limits { rows, axis, middle } => limits::draw(rows, axis, *middle),
            Drawn::Pairs {
                rows,
                axis,
                scale,
                names,
            } => pairs::draw(rows, axis, *scale, (&names.0, &names.1)),
            Drawn::ShareMap { columns, rows } => share_map::draw(columns, rows),
        };
        canvas.finish(&self.name, &self.title, &self.sentence)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plots() -> Vec<Plot> {
        let line = Some(PlotLine {
            at: 2.0,
            label: "pass <mark>".to_owned(),
            reach: Some(0.5),
        });
        let bar = |from: f64, count: f64| PlotBar {
            from,
            to: from + 1.0,
            count,
        };
        let drawn = [
            Drawn::Bars {
                bars: vec![bar(0.0, 3.0), bar(1.0, 0.0), bar(2.0, 7.0)],
                axis: "marks & more".to_owned(),
                line: line.clone(),
            },
            Drawn::Curves {
                lines: vec![PlotCurve {
                    name: "A".to_owned(),
                    points: vec![(0.0, 0.2), (1.0, 0.5), (2.0, 0.9)],
                    strong: true,
                    dots: true,
                }],
                axis: "group".to_owned(),
                up: "share".to_owned(),
                top: 1.0,
                places: vec!["weak".to_owned(), "middle".to_owned(), "strong".to_owned()],
                line: line.clone(),
            },
            Drawn::PersonItemMap {
                persons: vec![-1.0, 0.0, 0.1, 2.0],
                items: vec![("q1".to_owned(), -0.5), ("q2".to_owned(), 1.5)],
                line,
            },
            Drawn::Limits {
                rows: vec![LimitsRow {
                    name: "marker \"B\"".to_owned(),
                    value: 0.2,
                    limits: Some((-0.1, 0.5)),
                }],
                axis: "logits".to_owned(),
                middle: Some(0.0),
            },
            Drawn::Pairs {
                rows: vec![
                    PairRow {
                        name: "smoke & ash".to_owned(),
                        first: Some(0.9),
                        second: Some(0.4),
                    },
                    PairRow {
                        name: "apple".to_owned(),
                        first: None,
                        second: Some(f64::NAN),
                    },
                ],
                axis: "share".to_owned(),
                scale: (0.0, 1.0),
                names: ("panel".to_owned(), "class".to_owned()),
            },
            Drawn::ShareMap {
                columns: vec!["smoke".to_owned(), "apple".to_owned()],
                rows: vec![("s1".to_owned(), vec![Some(0.5), None])],
            },
        ];
        drawn
            .into_iter()
            .enumerate()
            .map(|(place, drawn)| Plot {
                name: format!("p{place}"),
                title: "A <title>".to_owned(),
                sentence: "What & why".to_owned(),
                drawn,
                table: PlotTable::default(),
            })
            .collect()
    }

    #[test]
    fn every_picture_has_words_for_whoever_does_not_see_it_and_no_number_that_is_none() {
        for plot in plots() {
            let svg = plot.svg();
            assert!(svg.starts_with("<svg") && svg.trim_end().ends_with("</svg>"));
            assert!(svg.contains("role=\"img\"") && svg.contains("A &lt;title&gt;"));
            assert!(svg.contains("What &amp; why") && !svg.contains("<title>A <title>"));
            assert!(!svg.contains("NaN") && !svg.contains("inf"), "{svg}");
        }
    }

    #[test]
    fn nothing_to_draw_is_an_empty_picture_and_no_panic() {
        let empty = [
            Drawn::Bars {
                bars: Vec::new(),
                axis: String::new(),
                line: None,
            },
            Drawn::Curves {
                lines: Vec::new(),
                axis: String::new(),
                up: String::new(),
                top: 0.0,
                places: Vec::new(),
                line: None,
            },
            Drawn::PersonItemMap {
                persons: Vec::new(),
                items: Vec::new(),
                line: None,
            },
            Drawn::Limits {
                rows: Vec::new(),
                axis: String::new(),
                middle: None,
            },
            Drawn::Pairs {
                rows: Vec::new(),
                axis: String::new(),
                scale: (0.0, 0.0),
                names: (String::new(), String::new()),
            },
            Drawn::ShareMap {
                columns: Vec::new(),
                rows: Vec::new(),
            },
        ];
        for drawn in empty {
            let plot = Plot {
                name: "e".to_owned(),
                title: String::new(),
                sentence: String::new(),
                drawn,
                table: PlotTable::default(),
            };
            assert!(!plot.svg().contains("NaN"));
        }
    }
}
