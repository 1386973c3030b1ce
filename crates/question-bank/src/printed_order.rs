//! In which order the lettered things of a question stand on one form.

/// A permutation: the thing printed at place `p` (letter A is place 0) is the one written at
/// `order[p]` in the bank. Valid by construction.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PrintedOrder(Vec<usize>);

impl PrintedOrder {
    /// As written.
    #[must_use]
    pub fn as_written(length: usize) -> Self {
        Self((0..length).collect())
    }
    /// From places; none unless each of 0 … n-1 stands exactly once.
    #[must_use]
    pub fn from_places(places: Vec<usize>) -> Option<Self> {
        let mut seen = vec![false; places.len()];
        for &place in &places {
            match seen.get_mut(place) {
                Some(flag) if !*flag => *flag = true,
                Some(_) | None => return None,
            }
        }
        Some(Self(places))
    }
    /// How many things are lettered.
    #[must_use]
    pub fn len(&self) -> usize {
        self.0.len()
    }
    /// Whether nothing is lettered.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
    /// The places in the bank, in printed order.
    #[must_use]
    pub fn places(&self) -> &[usize] {
        &self.0
    }
    /// Which thing of the bank a printed letter names.
    #[must_use]
    pub fn written_at(&self, printed: usize) -> Option<usize> {
        self.0.get(printed).copied()
    }
    /// At which printed place a thing of the bank stands.
    #[must_use]
    pub fn printed_at(&self, written: usize) -> Option<usize> {
        self.0.iter().position(|&place| place == written)
    }
}

/// The letter of a printed place: A, B, … Z; `?` beyond, which no checked question reaches.
#[must_use]
pub fn letter(place: usize) -> char {
    u8::try_from(place)
        .ok()
        .filter(|p| *p < 26)
        .map_or('?', |p| char::from(b'A' + p))
}

/// The printed place of a letter, capital or small.
#[must_use]
pub fn place_of(letter: char) -> Option<usize> {
    let capital = letter.to_ascii_uppercase();
    capital
        .is_ascii_uppercase()
        .then(|| usize::from(capital as u8 - b'A'))
}
