//! Colours for the points of a graph so that neighbours differ and colours are used as often as
//! wanted: forms and serving orders over seats.
//!
//! Small rooms exactly: points with fewest colours left first (DSATUR, Brélaz 1979), with going
//! back, within [`STEPS`] steps: first with the wanted numbers, then with one and two more of a
//! colour, then without a limit. Where that does not end or there is no such colouring, the wanted
//! numbers are dealt by lot and exchanged as long as neighbours that agree get no more.

use base::Stream;

/// Steps of one search with going back.
pub const STEPS: usize = 50_000;
/// More points than these are never searched with going back.
pub const MOST_POINTS_EXACT: usize = 500;
/// Exchanges for each point where no colouring was found.
pub const EXCHANGES_FOR_A_POINT: usize = 400;

/// A colour for each point.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Colouring {
    /// The colours, in the order of the points.
    pub colours: Vec<usize>,
    /// Neighbours that have the same colour, in the order given.
    pub conflicts: Vec<(usize, usize)>,
    /// Whether it was shown by trying everything that neighbours cannot all differ.
    pub shown_impossible: bool,
}

/// How a search with going back ended.
enum Outcome {
    Found(Vec<usize>),
    /// Everything was tried.
    None,
    /// The steps ran out.
    Unknown,
}

/// Colours so many points. `wanted[colour]` is how often each colour should be used; together they
/// make up the points. No colours: every point gets colour 0.
#[must_use]
pub fn colour(
    points: usize,
    edges: &[(usize, usize)],
    wanted: &[usize],
    stream: &mut Stream,
) -> Colouring {
    let mut neighbours = vec![Vec::new(); points];
    for &(one, other) in edges {
        if one < points && other < points && one != other {
            neighbours[one].push(other);
            neighbours[other].push(one);
        }
    }
    let mut order: Vec<usize> = (0..points).collect();
    stream.shuffle(&mut order);
    let mut shown_impossible = false;
    let mut found = None;
    if wanted.len() > 1 && points <= MOST_POINTS_EXACT {
        let mut search = |slack: Option<usize>| {
            let limits: Vec<usize> = wanted
                .iter()
                .map(|n| slack.map_or(points, |slack| n + slack))
                .collect();
            backtrack(&neighbours, &order, wanted, limits, stream)
        };
        found = match search(Some(0)) {
            Outcome::Found(colours) => Some(colours),
            Outcome::None | Outcome::Unknown => match search(None) {
                Outcome::None => {
                    shown_impossible = true;
                    None
                }
                Outcome::Unknown => None,
                Outcome::Found(uneven) => {
                    let nearly = [1, 2]
                        .into_iter()
                        .find_map(|slack| match search(Some(slack)) {
                            Outcome::Found(colours) => Some(colours),
                            Outcome::None | Outcome::Unknown => None,
                        });
                    Some(nearly.unwrap_or(uneven))
                }
            },
        };
    }
    let colours = found.unwrap_or_else(|| exchange(&neighbours, &order, wanted, stream));
    let same = |(one, other): &&(usize, usize)| {
        one != other && *one < points && *other < points && colours[*one] == colours[*other]
    };
    let conflicts = edges.iter().filter(same).copied().collect();
    Colouring {
        colours,
        conflicts,
        shown_impossible,
    }
}

/// Tries everything within the steps.
fn backtrack(
    neighbours: &[Vec<usize>],
    order: &[usize],
    wanted: &[usize],
    limits: Vec<usize>,
    stream: &mut Stream,
) -> Outcome {
    let points = neighbours.len();
    // Which of the colours goes first where several are equally rare, by lot and for each point.
    let preference: Vec<Vec<usize>> = (0..points)
        .map(|_| {
            let mut colours: Vec<usize> = (0..limits.len()).collect();
            stream.shuffle(&mut colours);
            colours
        })
        .collect();
    let mut search = Search {
        neighbours,
        order,
        wanted,
        preference,
        limits,
        colour_of: vec![None; points],
        used: vec![0; wanted.len()],
        steps: 0,
    };
    match search.go_on() {
        Some(true) => Outcome::Found(
            search
                .colour_of
                .iter()
                .map(|colour| colour.unwrap_or(0))
                .collect(),
        ),
        Some(false) => Outcome::None,
        None => Outcome::Unknown,
    }
}

struct Search<'s> {
    neighbours: &'s [Vec<usize>],
    order: &'s [usize],
    wanted: &'s [usize],
    preference: Vec<Vec<usize>>,
    limits: Vec<usize>,
    colour_of: Vec<Option<usize>>,
    used: Vec<usize>,
    steps: usize,
}

impl Search<'_> {
    /// Colours the points that are left: whether it can be done; none where the steps ran out.
    fn go_on(&mut self) -> Option<bool> {
        self.steps += 1;
        if self.steps > STEPS {
            return None;
        }
        let Some(point) = self.next_point() else {
            return Some(true);
        };
        let mut colours: Vec<usize> = self.preference[point]
            .iter()
            .copied()
            .filter(|&colour| self.used[colour] < self.limits[colour])
            .filter(|&colour| {
                let neighbours = &self.neighbours[point];
                neighbours
                    .iter()
                    .all(|&n| self.colour_of[n] != Some(colour))
            })
            .collect();
        // The colour that lacks most goes first.
        colours.sort_by_key(|&colour| self.used[colour] as i64 - self.wanted[colour] as i64);
        // Points without neighbours are alike: where one colour leads nowhere, so do all.
        if self.neighbours[point].is_empty() {
            colours.truncate(1);
        }
        for colour in colours {
            self.colour_of[point] = Some(colour);
            self.used[colour] += 1;
            if self.go_on()? {
                return Some(true);
            }
            self.used[colour] -= 1;
            self.colour_of[point] = None;
        }
        Some(false)
    }

    /// The point whose neighbours have most colours; then the one with most neighbours; then the
    /// first in the drawn order.
    fn next_point(&self) -> Option<usize> {
        let mut best: Option<((usize, usize), usize)> = None;
        for &point in self.order {
            if self.colour_of[point].is_some() {
                continue;
            }
            let mut seen: Vec<usize> = Vec::with_capacity(self.neighbours[point].len());
            for &neighbour in &self.neighbours[point] {
                if let Some(colour) = self.colour_of[neighbour]
                    && !seen.contains(&colour)
                {
                    seen.push(colour);
                }
            }
            let key = (seen.len(), self.neighbours[point].len());
            if best.is_none_or(|(best_key, _)| key > best_key) {
                best = Some((key, point));
            }
        }
        best.map(|(_, point)| point)
    }
}

/// Deals the wanted numbers by lot, then exchanges.
fn exchange(
    neighbours: &[Vec<usize>],
    order: &[usize],
    wanted: &[usize],
    stream: &mut Stream,
) -> Vec<usize> {
    let points = neighbours.len();
    let mut dealt = wanted
        .iter()
        .enumerate()
        .flat_map(|(colour, &times)| std::iter::repeat_n(colour, times));
    let mut colours = vec![0; points];
    for &point in order {
        colours[point] = dealt.next().unwrap_or(0);
    }
    if wanted.len() < 2 || points < 2 {
        return colours;
    }
    let agree = |colours: &[usize], point: usize| {
        let neighbours = &neighbours[point];
        neighbours
            .iter()
            .filter(|&&n| colours[n] == colours[point])
            .count()
    };
    for _ in 0..EXCHANGES_FOR_A_POINT * points {
        let (one, other) = (stream.index(points), stream.index(points));
        if colours[one] == colours[other] {
            continue;
        }
        let before = agree(&colours, one) + agree(&colours, other);
        colours.swap(one, other);
        if agree(&colours, one) + agree(&colours, other) > before {
            colours.swap(one, other);
        }
    }
    colours
}

/// So many things over so many colours, as evenly as can be; the first colours get one more.
#[must_use]
pub fn evenly(things: usize, colours: usize) -> Vec<usize> {
    if colours == 0 {
        return Vec::new();
    }
    (0..colours)
        .map(|colour| things / colours + usize::from(colour < things % colours))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use base::{ExamSeed, Purpose};

    fn stream() -> Stream {
        Stream::new(&ExamSeed::from_bytes([3; 32]), Purpose::Seats, 0)
    }

    #[test]
    fn a_row_takes_two_colours_evenly() {
        let edges: Vec<_> = (1..6).map(|seat| (seat - 1, seat)).collect();
        let found = colour(6, &edges, &[3, 3], &mut stream());
        assert!(found.conflicts.is_empty());
        assert_eq!(found.colours.iter().filter(|&&c| c == 0).count(), 3);
    }

    #[test]
    fn a_star_is_coloured_unevenly_rather_than_wrongly() {
        let edges: Vec<_> = (1..6).map(|leaf| (0, leaf)).collect();
        let found = colour(6, &edges, &[3, 3], &mut stream());
        assert!(found.conflicts.is_empty());
    }

    #[test]
    fn a_triangle_with_two_colours_is_shown_impossible() {
        let found = colour(3, &[(0, 1), (0, 2), (1, 2)], &[2, 1], &mut stream());
        assert!(found.shown_impossible);
        assert_eq!(found.conflicts.len(), 1);
    }

    #[test]
    fn one_colour_leaves_every_pair() {
        let found = colour(3, &[(0, 1), (1, 2)], &[3], &mut stream());
        assert_eq!(found.conflicts, [(0, 1), (1, 2)]);
        assert_eq!(evenly(7, 3), [3, 2, 2]);
        assert!(evenly(7, 0).is_empty());
    }
}
