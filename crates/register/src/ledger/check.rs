//! Checks a ledger from its texts alone: every entry, every link, and a head that somebody kept.

use crate::hex::Digest32;
use crate::ledger::entry::NOTHING_BEFORE;
use crate::ledger::{Act, Entry, Head, States};
use crate::merkle::Growing;
use crate::role::Moment;

/// Something that is not as it was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LedgerFault {
    /// Which entry, from 0; none where the whole ledger is meant.
    pub entry: Option<u64>,
    /// What is wrong, in a sentence without its full stop.
    pub what: String,
}

/// What a check of a ledger found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LedgerCheck {
    /// The head of what is there.
    pub head: Head,
    /// Everything that is wrong.
    pub faults: Vec<LedgerFault>,
    /// The digest of each table after the last entry that changed it.
    pub states: States,
    /// Entries at which the clock showed less than before.
    pub clock_set_back: Vec<u64>,
}

/// Checks the texts of a ledger in their order, and that it goes on from `kept` where a head is
/// known.
#[must_use]
pub fn check<T: AsRef<str>>(texts: impl Iterator<Item = T>, kept: Option<&Head>) -> LedgerCheck {
    let mut tree = Growing::default();
    let mut faults = Vec::new();
    let mut states = States::new();
    let mut clock_set_back = Vec::new();
    let mut previous = NOTHING_BEFORE;
    let mut last_time: Option<Moment> = None;
    let mut released: Option<u64> = None;
    let mut reached: Option<Digest32> = kept.filter(|head| head.size == 0).map(|_| tree.root());
    for text in texts {
        let text = text.as_ref();
        let number = tree.size();
        let mut wrong = |what: String| {
            faults.push(LedgerFault {
                entry: Some(number),
                what,
            });
        };
        match Entry::read(text) {
            Err(why) => wrong(format!("this is no entry: {why}")),
            Ok(entry) => {
                if entry.number != number {
                    wrong(format!("an entry numbered {} stands here", entry.number));
                }
                if entry.previous != previous {
                    wrong("it does not follow from the entry before: one was changed, dropped, swapped or put in".to_owned());
                }
                for (table, digest) in &entry.before {
                    if states.get(table).is_some_and(|known| known != digest) {
                        wrong(format!(
                            "the table {table} was changed before this act without an entry"
                        ));
                    }
                }
                if let Some(at) = released.filter(|_| entry.act == Act::Marked) {
                    wrong(format!(
                        "it marks, and results were released in entry {at}: behind that marks change by corrections alone"
                    ));
                }
                if entry.act == Act::Released {
                    released = released.or(Some(number));
                }
                let back =
                    matches!((&entry.by.time, &last_time), (Some(now), Some(last)) if now < last);
                if back != entry.clock_set_back {
                    wrong("what it says of the clock does not fit the times".to_owned());
                }
                if back {
                    clock_set_back.push(number);
                }
                if entry.by.time.is_some() {
                    last_time = entry.by.time;
                }
                states.extend(entry.after);
            }
        }
        previous = Entry::leaf(text);
        tree.push(previous);
        if kept.is_some_and(|head| head.size == tree.size()) {
            reached = Some(tree.root());
        }
    }
    if let Some(kept) = kept {
        let what = match reached {
            None => Some(format!(
                "the head that was kept speaks of {} entries, and there are {}: the end was cut off",
                kept.size,
                tree.size()
            )),
            Some(root) if root != kept.root => Some(format!(
                "the first {} entries are not those of the head that was kept",
                kept.size
            )),
            Some(_) => None,
        };
        faults.extend(what.map(|what| LedgerFault { entry: None, what }));
    }
    LedgerCheck {
        head: Head {
            size: tree.size(),
            root: tree.root(),
        },
        faults,
        states,
        clock_set_back,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::ledger::entry::tests::entry;

    fn ledger(n: u64) -> Vec<String> {
        let mut previous = NOTHING_BEFORE;
        let mut texts = Vec::new();
        for number in 0..n {
            let mut next = entry(number, previous);
            next.before = States::new();
            let text = next.text();
            previous = Entry::leaf(&text);
            texts.push(text);
        }
        texts
    }

    fn sound(texts: &[String], kept: Option<&Head>) -> bool {
        check(texts.iter(), kept).faults.is_empty()
    }

    #[test]
    fn dropped_swapped_inserted_and_cut_are_found() {
        let texts = ledger(6);
        let head = check(texts.iter(), None).head;
        assert!(sound(&texts, None) && sound(&texts, Some(&head)));
        for place in 0..5 {
            let mut dropped = texts.clone();
            dropped.remove(place);
            assert!(!sound(&dropped, None), "{place}");
            let mut swapped = texts.clone();
            swapped.swap(place, place + 1);
            assert!(!sound(&swapped, None), "{place}");
            let mut inserted = texts.clone();
            inserted.insert(place, texts[place].clone());
            assert!(!sound(&inserted, None), "{place}");
        }
        // A cut tail is a sound ledger, until a later head is known.
        assert!(sound(&texts[..5], None));
        assert!(!sound(&texts[..5], Some(&head)));
        // A rewritten end is one, too: only a head that was kept shows it.
        let mut rewritten = texts.clone();
        rewritten[5] = texts[5].replace("\"12\"", "\"13\"");
        assert!(sound(&rewritten, None));
        assert!(!sound(&rewritten, Some(&head)));
        // An older head goes with every later ledger.
        let older = check(texts[..3].iter(), None).head;
        assert!(sound(&texts, Some(&older)));
        let empty = check(std::iter::empty::<&str>(), None).head;
        assert!(sound(&texts, Some(&empty)));
    }

    #[test]
    fn a_table_changed_between_acts_is_found() {
        let first = entry(0, NOTHING_BEFORE);
        let mut second = entry(1, Entry::leaf(&first.text()));
        second.before = first.after.clone();
        assert!(sound(&[first.text(), second.text()], None));
        second.before.insert("mark".to_owned(), [7; 32]);
        assert!(!sound(&[first.text(), second.text()], None));
    }

    #[test]
    fn a_marking_behind_the_release_is_found() {
        let chained = |acts: &[Act]| {
            let mut previous = NOTHING_BEFORE;
            let mut texts = Vec::new();
            for (number, act) in (0..).zip(acts) {
                let mut next = entry(number, previous);
                next.act = *act;
                next.before = States::new();
                previous = Entry::leaf(&next.text());
                texts.push(next.text());
            }
            check(texts.iter(), None).faults
        };
        let (marked, released, corrected) = (Act::Marked, Act::Released, Act::Corrected);
        assert!(chained(&[marked, marked, released, corrected]).is_empty());
        let found = chained(&[marked, released, corrected, marked, released, marked]);
        let at: Vec<Option<u64>> = found.iter().map(|fault| fault.entry).collect();
        assert_eq!(at, [Some(3), Some(5)]);
        assert!(found.iter().all(|f| f.what.contains("released in entry 1")));
    }

    #[test]
    fn a_clock_set_back_is_noted_and_no_fault() {
        let first = entry(0, NOTHING_BEFORE);
        let mut second = entry(1, Entry::leaf(&first.text()));
        second.before = States::new();
        second.by.time = Moment::parse("2027-06-12T08:30:00Z");
        assert!(!sound(&[first.text(), second.text()], None));
        second.clock_set_back = true;
        let found = check([first.text(), second.text()].iter(), None);
        assert_eq!((found.faults.len(), found.clock_set_back), (0, vec![1]));
    }
}
