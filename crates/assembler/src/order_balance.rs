//! How often each sample stands in each place, and how often right before each other.

/// The counts over a set of serving orders.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OrderBalance {
    /// By sample and place: how often.
    pub in_place: Vec<Vec<usize>>,
    /// By sample and the next sample: how often.
    pub right_before: Vec<Vec<usize>>,
}

/// Counts; numbers of samples outside `0 … samples - 1` are left out.
#[must_use]
pub fn order_balance<R: AsRef<[usize]>>(samples: usize, orders: &[R]) -> OrderBalance {
    let mut balance = OrderBalance {
        in_place: vec![vec![0; samples]; samples],
        right_before: vec![vec![0; samples]; samples],
    };
    for order in orders {
        balance.each(order.as_ref(), |cell| *cell += 1);
    }
    balance
}

impl OrderBalance {
    /// Takes out one of the orders that were counted.
    pub(crate) fn take_out(&mut self, order: &[usize]) {
        self.each(order, |cell| *cell = cell.saturating_sub(1));
    }

    /// Goes to each count that an order touches.
    fn each(&mut self, order: &[usize], change: impl Fn(&mut usize)) {
        let at = |table: &mut Vec<Vec<usize>>, row: usize, column: usize| {
            if let Some(cell) = table.get_mut(row).and_then(|row| row.get_mut(column)) {
                change(cell);
            }
        };
        for (place, &sample) in order.iter().enumerate() {
            at(&mut self.in_place, sample, place);
        }
        for pair in order.windows(2) {
            if let [before, after] = pair {
                at(&mut self.right_before, *before, *after);
            }
        }
    }

    /// Whether every sample stands equally often in every place.
    #[must_use]
    pub fn places_are_balanced(&self) -> bool {
        all_equal(self.in_place.iter().flatten().copied())
    }

    /// Whether every sample stands equally often right before every other.
    #[must_use]
    pub fn carry_over_is_balanced(&self) -> bool {
        all_equal(self.before_another())
    }

    /// The sum of squared differences of the counts of "right before" from their mean.
    #[must_use]
    pub fn carry_over_sum_of_squares(&self) -> f64 {
        let counts: Vec<f64> = self.before_another().map(|n| n as f64).collect();
        let mean = counts.iter().sum::<f64>() / (counts.len().max(1) as f64);
        counts.iter().map(|n| (n - mean) * (n - mean)).sum()
    }

    /// The counts of "right before", without those of a sample with itself.
    pub(crate) fn before_another(&self) -> impl Iterator<Item = usize> {
        self.right_before
            .iter()
            .enumerate()
            .flat_map(|(before, row)| {
                let others = row.iter().enumerate();
                others
                    .filter(move |(after, _)| *after != before)
                    .map(|(_, &times)| times)
            })
    }
}

fn all_equal(mut counts: impl Iterator<Item = usize>) -> bool {
    match counts.next() {
        Some(first) => counts.all(|count| count == first),
        None => true,
    }
}
