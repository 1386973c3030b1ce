//! One file per sitting: the store, and the only room that opens it.
//!
//! The file is an SQLite database in write-ahead mode with full synchronisation: an acknowledged
//! act survives a power cut. It holds the texts from which the sitting was made, with their
//! digests, so that a paper can be marked and defended from this one file when the bank has long
//! moved on. Nothing in it depends on the clock or on the machine: the same inputs and seed give
//! the same file.

mod acts;
mod answers;
mod create;
mod error;
mod inputs;
mod marks;
mod open;
mod schema;
mod sitting;

pub use answers::AnswerEntry;
pub use error::RegisterError;
pub use inputs::{StoredText, digest_of};
pub use open::Register;
