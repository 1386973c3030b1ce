//! The ledger: what was done to a sitting, one entry an act, chained by hashes. Pure: the store
//! keeps the texts of the entries, what stands here makes and checks them.

mod act;
mod check;
mod entry;
mod head;
mod proof;

pub use act::Act;
pub use check::{LedgerCheck, LedgerFault, check};
pub(crate) use entry::NOTHING_BEFORE;
pub use entry::{Details, Entry, States};
pub use head::Head;
pub use proof::{ConsistencyProof, InclusionProof};
pub(crate) use proof::{digest_of, format_of, hexes, number_of, path_of, text_of};
