//! The best one-to-one pairing of answers with key words (assignment problem).
//!
//! Source: Kuhn 1955 (the "Hungarian" method), in the form with potentials and shortest augmenting
//! paths (after Jonker and Volgenant 1987, from memory), O(rows² × columns). Values are whole
//! numbers (millionths), so the total is exact and the same on every machine.
//!
//! Ties: rows are placed in their order, and among columns that serve equally well the one that
//! stands first is taken while a path is searched. The total never depends on it; who is named in
//! a reason may, and is then the same every time.

/// A pairing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Assignment {
    /// For each row its column; none for a row left alone.
    pub column_of: Vec<Option<usize>>,
    /// The sum of the values of all pairs.
    pub total: i64,
}

/// The largest value that a pair may have, so that sums of a million pairs stay exact.
pub const LARGEST_VALUE: i64 = 1_000_000_000_000;

/// Pairs rows with columns, each at most once, with the largest total. `value(row, column)` is
/// held between 0 and [`LARGEST_VALUE`]; pairs worth nothing are not made.
#[must_use]
pub fn best_assignment(
    rows: usize,
    columns: usize,
    value: impl Fn(usize, usize) -> i64,
) -> Assignment {
    // Costs are negated values. `rows` extra columns worth nothing let every row stay alone, so
    // that there are never fewer columns than rows.
    let wide = columns + rows;
    let cost = |row: usize, column: usize| -> i64 {
        if column < columns {
            -value(row, column).clamp(0, LARGEST_VALUE)
        } else {
            0
        }
    };
    const UNREACHED: i64 = i64::MAX / 4;
    let mut row_potential = vec![0_i64; rows];
    let mut column_potential = vec![0_i64; wide];
    let mut row_in: Vec<Option<usize>> = vec![None; wide];
    for start in 0..rows {
        let mut distance = vec![UNREACHED; wide];
        let mut before: Vec<Option<usize>> = vec![None; wide];
        let mut done = vec![false; wide];
        let mut row = start;
        let mut column_now: Option<usize> = None;
        let end = loop {
            let mut nearest: Option<(i64, usize)> = None;
            let so_far = column_now.map_or(0, |column| at(&distance, column));
            for column in (0..wide).filter(|&column| !flag(&done, column)) {
                let reduced = so_far + cost(row, column)
                    - at(&row_potential, row)
                    - at(&column_potential, column);
                if reduced < at(&distance, column) {
                    set(&mut distance, column, reduced);
                    set(&mut before, column, column_now);
                }
                let reached = at(&distance, column);
                if nearest.is_none_or(|(least, _)| reached < least) {
                    nearest = Some((reached, column));
                }
            }
            // There are more columns than rows: one is always left.
            let Some((_, column)) = nearest else {
                break None;
            };
            set(&mut done, column, true);
            column_now = Some(column);
            match row_in.get(column).copied().flatten() {
                Some(next) => row = next,
                None => break Some(column),
            }
        };
        let Some(end) = end else { continue };
        let length = at(&distance, end);
        // Potentials of everything reached more cheaply than the end.
        add(&mut row_potential, start, length);
        for column in (0..wide).filter(|&column| flag(&done, column) && column != end) {
            let slack = length - at(&distance, column);
            add(&mut column_potential, column, -slack);
            if let Some(row) = row_in.get(column).copied().flatten() {
                add(&mut row_potential, row, slack);
            }
        }
        // Shift the rows along the path.
        let mut column = end;
        loop {
            match before.get(column).copied().flatten() {
                Some(previous) => {
                    let moved = row_in.get(previous).copied().flatten();
                    set(&mut row_in, column, moved);
                    column = previous;
                }
                None => {
                    set(&mut row_in, column, Some(start));
                    break;
                }
            }
        }
    }
    let mut column_of = vec![None; rows];
    let mut total = 0;
    for (column, row) in row_in.iter().enumerate().take(columns) {
        if let Some(row) = *row {
            let worth = -cost(row, column);
            if worth > 0 {
                set(&mut column_of, row, Some(column));
                total += worth;
            }
        }
    }
    Assignment { column_of, total }
}

/// The total of pairing the best pair first, then the best of what is left: less than
/// [`best_assignment`] finds wherever a good pair stands in the way of two. No mark is given by it;
/// it shows what the exact pairing is worth to a candidate.
#[must_use]
pub fn greedy_total(rows: usize, columns: usize, value: impl Fn(usize, usize) -> i64) -> i64 {
    let mut pairs: Vec<(i64, usize, usize)> = (0..rows)
        .flat_map(|row| (0..columns).map(move |column| (row, column)))
        .map(|(row, column)| (value(row, column).clamp(0, LARGEST_VALUE), row, column))
        .collect();
    pairs.sort_by(|a, b| b.0.cmp(&a.0).then((a.1, a.2).cmp(&(b.1, b.2))));
    let (mut row_taken, mut column_taken) = (vec![false; rows], vec![false; columns]);
    let mut total = 0;
    for (worth, row, column) in pairs {
        if !flag(&row_taken, row) && !flag(&column_taken, column) {
            set(&mut row_taken, row, true);
            set(&mut column_taken, column, true);
            total += worth;
        }
    }
    total
}

fn at(values: &[i64], place: usize) -> i64 {
    values.get(place).copied().unwrap_or(0)
}
fn flag(flags: &[bool], place: usize) -> bool {
    flags.get(place).copied().unwrap_or(true)
}
fn set<T>(values: &mut [T], place: usize, value: T) {
    if let Some(slot) = values.get_mut(place) {
        *slot = value;
    }
}
fn add(values: &mut [i64], place: usize, more: i64) {
    if let Some(slot) = values.get_mut(place) {
        *slot += more;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The best total by trying everything: this row alone, or with each free column.
    fn by_trying(values: &[Vec<i64>], row: usize, taken: u32) -> i64 {
        let Some(line) = values.get(row) else {
            return 0;
        };
        let alone = by_trying(values, row + 1, taken);
        line.iter()
            .enumerate()
            .filter(|(column, _)| taken & (1 << column) == 0)
            .map(|(column, value)| value + by_trying(values, row + 1, taken | (1 << column)))
            .fold(alone, i64::max)
    }

    fn solve(values: &[Vec<i64>]) -> Assignment {
        let columns = values.first().map_or(0, Vec::len);
        best_assignment(values.len(), columns, |row, column| values[row][column])
    }

    fn is_sound(values: &[Vec<i64>], found: &Assignment) -> bool {
        let mut columns: Vec<usize> = found.column_of.iter().flatten().copied().collect();
        let pairs = columns.len();
        columns.sort_unstable();
        columns.dedup();
        let sum: i64 = found
            .column_of
            .iter()
            .enumerate()
            .filter_map(|(row, column)| column.map(|column| values[row][column]))
            .sum();
        columns.len() == pairs && sum == found.total
    }

    #[test]
    fn every_small_case_agrees_with_trying_everything() {
        // All matrices up to 3 × 3 with values 0, 1, 2.
        for rows in 1..=3_usize {
            for columns in 1..=3_usize {
                let cells = u32::try_from(rows * columns).unwrap_or(0);
                for code in 0..3_usize.pow(cells) {
                    let mut rest = code;
                    let values: Vec<Vec<i64>> = (0..rows)
                        .map(|_| {
                            (0..columns)
                                .map(|_| {
                                    let digit = rest % 3;
                                    rest /= 3;
                                    i64::try_from(digit).unwrap_or(0)
                                })
                                .collect()
                        })
                        .collect();
                    let found = solve(&values);
                    assert_eq!(found.total, by_trying(&values, 0, 0), "{values:?}");
                    assert!(is_sound(&values, &found), "{values:?}");
                }
            }
        }
    }

    #[test]
    fn the_greedy_trap_is_avoided() {
        assert_eq!(solve(&[vec![900, 800], vec![800, 100]]).total, 1600);
    }

    #[test]
    fn nothing_pairs_with_nothing() {
        assert_eq!(best_assignment(0, 3, |_, _| 1).total, 0);
        let alone = best_assignment(2, 0, |_, _| 1);
        assert_eq!((alone.total, alone.column_of), (0, vec![None, None]));
    }

    proptest! {
        #[test]
        fn larger_cases_agree_with_trying_everything(
            values in (1_usize..7, 1_usize..7).prop_flat_map(|(rows, columns)| {
                prop::collection::vec(prop::collection::vec(0_i64..1_000_000, columns), rows)
            })
        ) {
            let found = solve(&values);
            prop_assert_eq!(found.total, by_trying(&values, 0, 0));
            prop_assert!(is_sound(&values, &found));
            // Each greedy pair stands in the way of at most two better ones.
            let greedy = greedy_total(values.len(), values[0].len(), |row, column| values[row][column]);
            prop_assert!(greedy <= found.total && 2 * greedy >= found.total);
        }

        #[test]
        fn a_further_row_never_lowers_the_total(
            values in prop::collection::vec(prop::collection::vec(0_i64..1000, 8), 1..12)
        ) {
            let fewer = solve(&values[..values.len() - 1]).total;
            prop_assert!(solve(&values).total >= fewer);
        }
    }
}
