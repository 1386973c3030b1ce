//! Labels lie where the geometry says: positions measured in the PDF, in millimetres.

use std::process::Command;

use tests::Room;

/// So far may a printed edge lie from its place.
const WITHIN: f64 = 0.2;

/// A grey page of a PDF at 600 dots an inch: width, height, darkness.
fn page(path: &std::path::Path) -> (usize, usize, Vec<u8>) {
    let made = Command::new("pdftoppm")
        .args(["-gray", "-r", "600", "-f", "1", "-l", "1"])
        .arg(path)
        .output()
        .unwrap();
    assert!(made.status.success());
    // P5, width, height, 255, one white space, then the bytes.
    let mut numbers = Vec::new();
    let mut at = 2;
    while numbers.len() < 3 {
        while made.stdout[at].is_ascii_whitespace() {
            at += 1;
        }
        let begin = at;
        while made.stdout[at].is_ascii_digit() {
            at += 1;
        }
        let text = std::str::from_utf8(&made.stdout[begin..at]).unwrap();
        numbers.push(text.parse::<usize>().unwrap());
    }
    (numbers[0], numbers[1], made.stdout[at + 1..].to_vec())
}

const DOT: f64 = 25.4 / 600.0;

#[test]
fn outlines_and_codes_of_a_sheet_of_ones_own_are_within_a_fifth_of_a_millimetre() {
    let room = Room::with_example("evening-class");
    room.run(&[
        "assemble",
        "examples/evening-class",
        "--seed",
        &"5d".repeat(32),
    ])
    .exits(0);
    room.run(&[
        "print",
        "examples/evening-class",
        "--labels",
        "a4-3x7-60.4x36.2@9.3,14.7+64.5,38.6",
        "--label-test",
    ])
    .exits(0);
    let papers = room.files("examples/evening-class/papers");
    let named = |part: &str| {
        let found = papers.keys().find(|name| name.contains(part));
        room.path("examples/evening-class/papers")
            .join(found.unwrap_or_else(|| panic!("{part} in {:?}", papers.keys())))
    };
    let (width, height, dots) = page(&named("label-test"));
    assert!((width as f64 * DOT - 210.0).abs() < 0.1);
    let dark = |x: usize, y: usize| dots.get(y * width + x).is_some_and(|d| *d < 160);
    // A line is where a stretch of 20 mm along it is dark for the most part.
    let stretch = (20.0 / DOT) as usize;
    let upright = |x: usize, from: usize| {
        (from..from + stretch).filter(|y| dark(x, *y)).count() * 10 > stretch * 9
    };
    let level = |y: usize, from: usize| {
        (from..from + stretch).filter(|x| dark(*x, y)).count() * 10 > stretch * 9
    };
    let runs = |lines: Vec<usize>| -> Vec<f64> {
        let mut middles: Vec<(usize, usize)> = Vec::new();
        for line in lines {
            match middles.last_mut() {
                Some((_, last)) if line <= *last + 1 => *last = line,
                _ => middles.push((line, line)),
            }
        }
        middles
            .into_iter()
            .map(|(a, b)| (a + b + 1) as f64 / 2.0 * DOT)
            .collect()
    };
    // Just within the first label, beside its code.
    let upright_lines = runs(
        (0..width)
            .filter(|x| upright(*x, (17.0 / DOT) as usize))
            .collect(),
    );
    let level_lines = runs(
        (0..height)
            .filter(|y| level(*y, (10.0 / DOT) as usize))
            .collect(),
    );
    let wanted_x: Vec<f64> = (0..3)
        .flat_map(|c| {
            let left = 9.3 + 64.5 * f64::from(c);
            [left, left + 60.4]
        })
        .collect();
    let wanted_y: Vec<f64> = (0..7)
        .flat_map(|r| {
            let top = 14.7 + 38.6 * f64::from(r);
            [top, top + 36.2]
        })
        .collect();
    for (found, wanted) in [(upright_lines, wanted_x), (level_lines, wanted_y)] {
        assert_eq!(found.len(), wanted.len(), "{found:?} for {wanted:?}");
        for (f, w) in found.iter().zip(&wanted) {
            assert!((f - w).abs() <= WITHIN, "{f} mm, wanted {w}");
        }
    }
    codes_are_centred(&named("glass-labels"));
}

/// The boxes of words as pdftotext tells them, in points.
fn codes_are_centred(path: &std::path::Path) {
    let told = Command::new("pdftotext")
        .args(["-bbox", "-f", "1", "-l", "1"])
        .arg(path)
        .arg("-")
        .output()
        .unwrap();
    let text = String::from_utf8(told.stdout).unwrap();
    let number = |line: &str, name: &str| -> f64 {
        let from = line.find(&format!("{name}=\"")).unwrap() + name.len() + 2;
        line[from..].split('"').next().unwrap().parse().unwrap()
    };
    let mut codes = 0;
    let mut middles = Vec::new();
    for line in text.lines().filter(|line| line.contains("<word")) {
        let (left, right) = (number(line, "xMin"), number(line, "xMax"));
        let (top, bottom) = (number(line, "yMin"), number(line, "yMax"));
        let middle = (left + right) / 2.0 * 25.4 / 72.0;
        let column = ((middle - 9.3) / 64.5).floor();
        let wanted = 9.3 + 64.5 * column + 30.2;
        assert!(
            (middle - wanted).abs() <= WITHIN,
            "{middle} mm, wanted {wanted}: {line}"
        );
        middles.push((top + bottom) / 2.0 * 25.4 / 72.0);
        codes += 1;
    }
    assert!(codes >= 12, "{text}");
    // Within its label a code stands where it stands in every other: once, or once for each side
    // from which it is read.
    let mut offsets: Vec<f64> = middles
        .iter()
        .map(|m| (m - 14.7).rem_euclid(38.6))
        .collect();
    offsets.sort_by(f64::total_cmp);
    offsets.dedup_by(|next, kept| *next - *kept <= WITHIN);
    assert!(offsets.len() <= 2, "{offsets:?} mm");
}

#[test]
fn strips_that_close_kits_lie_where_the_sheet_says() {
    let path = super::paper("09-");
    let (width, height, dots) = page(&path);
    let dark = |x: usize, y: usize| dots.get(y * width + x).is_some_and(|d| *d < 160);
    let stretch = (20.0 / DOT) as usize;
    // Edges, met along a row and a column that cross the first strip in its empty margin.
    let middles = |lines: Vec<usize>| -> Vec<f64> {
        let mut runs: Vec<(usize, usize)> = Vec::new();
        for line in lines {
            match runs.last_mut() {
                Some((_, last)) if line <= *last + 1 => *last = line,
                _ => runs.push((line, line)),
            }
        }
        let middle = |(a, b): (usize, usize)| (a + b + 1) as f64 / 2.0 * DOT;
        runs.into_iter().map(middle).collect()
    };
    let from = (23.0 / DOT) as usize;
    let upright =
        |x: usize| (from..from + stretch).filter(|y| dark(x, *y)).count() * 10 > stretch * 9;
    let level =
        |y: usize| (from..from + stretch).filter(|x| dark(*x, y)).count() * 10 > stretch * 9;
    let across = middles((0..width).filter(|x| upright(*x)).collect());
    assert_eq!(across.len(), 2, "{across:?}");
    let down = middles((0..height).filter(|y| level(*y)).collect());
    // Four kits of the full example: four strips.
    let wanted: Vec<f64> = (0..4)
        .flat_map(|row| [20.0 + 32.0 * f64::from(row), 46.0 + 32.0 * f64::from(row)])
        .collect();
    assert_eq!(down.len(), wanted.len(), "{down:?}");
    for (found, wanted) in across
        .iter()
        .zip([20.0, 190.0])
        .chain(down.iter().zip(wanted))
    {
        assert!(
            (found - wanted).abs() <= WITHIN,
            "{found} mm, wanted {wanted}"
        );
    }
}

#[test]
fn the_corners_of_an_answer_sheet_lie_where_a_scanner_looks_for_them() {
    let (width, height, dots) = page(&super::paper("03-answer"));
    // Squares of 5 mm, 8 mm from the edges of the paper: their middles, found as the middle of what
    // is dark around. One is hollow; its middle is that of its outline.
    for (x, y) in [(10.5, 10.5), (199.5, 10.5), (10.5, 286.5), (199.5, 286.5)] {
        let around = |at: f64, most: usize| {
            let from = ((at - 4.0) / DOT).max(0.0) as usize;
            from..((at + 4.0) / DOT).min(most as f64) as usize
        };
        let mut edges = (usize::MAX, 0, usize::MAX, 0);
        for row in around(y, height) {
            for column in around(x, width) {
                if dots[row * width + column] < 128 {
                    edges.0 = edges.0.min(column);
                    edges.1 = edges.1.max(column);
                    edges.2 = edges.2.min(row);
                    edges.3 = edges.3.max(row);
                }
            }
        }
        let middle = |from: usize, to: usize| (from + to + 1) as f64 / 2.0 * DOT;
        let found = (middle(edges.0, edges.1), middle(edges.2, edges.3));
        assert!(
            (found.0 - x).abs() <= WITHIN && (found.1 - y).abs() <= WITHIN,
            "{found:?} mm, wanted {x}, {y}"
        );
        // The outline is drawn half outside: the side is 5 mm and one width of it, 0.42 mm.
        let side = (edges.1 + 1 - edges.0) as f64 * DOT;
        assert!((side - 5.42).abs() <= WITHIN, "a side of {side} mm");
    }
}
