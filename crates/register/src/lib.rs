//! One file per sitting: the store, and the only room that opens it.
//!
//! The file is an SQLite database in write-ahead mode with full synchronisation: an acknowledged
//! act survives a power cut. It holds the texts from which the sitting was made, with their
//! digests, so that a paper can be marked and defended from this one file when the bank has long
//! moved on. Each act leaves one entry in the ledger, chained by hashes; the clock is told to it,
//! so that the same inputs, seed and moments give the same file, but for what is locked or salted
//! with a secret that is kept nowhere. Nobody's name stands in a table beside answers and marks. The
//! format is written down in `FORMAT.md` beside this crate.

mod answers;
mod beside;
pub mod canonical;
pub mod commitment;
mod create;
mod error;
pub mod hex;
mod holder;
mod identity;
mod inputs;
pub mod ledger;
mod ledger_store;
mod marks;
pub mod merkle;
mod open;
mod personal;
pub mod public_value;
mod release;
mod role;
mod schema;
pub mod seal;
mod sealed;
mod sitting;
mod state;
mod templates;
mod verify;

pub use answers::AnswerEntry;
pub use beside::Beside;
pub use error::RegisterError;
pub use holder::Holder;
pub use identity::{Commitment, Identity, unlock};
pub use inputs::{Digests, StoredText, digest_of, digests};
pub use ledger::{Act, Details, Entry, Head};
pub use open::Register;
pub use personal::ROSTER;
pub use role::{By, Moment, NoRole, Role};
pub use sealed::Sealed;
pub use verify::Verification;
