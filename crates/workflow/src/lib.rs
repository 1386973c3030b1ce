//! The use cases, each one function: load, check, assemble, print, pour, mark, results, practise,
//! rehearse. The only room besides the register that reads and writes files, and it does so
//! through [`Surroundings`], so that tests can stand in for the world.

pub mod answers;
pub mod appeal;
pub mod assemble;
pub mod bank_exchange;
pub mod check;
pub mod decisions;
pub mod disk;
pub mod failure;
pub mod give_results;
pub mod load;
pub mod mark;
pub mod open_sitting;
pub mod pour;
pub mod practise;
pub mod print;
pub mod regrade;
pub mod rehearse;
pub mod schemas;
pub mod surroundings;
pub mod texts;
pub mod verify;

pub use appeal::{AppealReport, AppealRequest, appeal};
pub use assemble::{AssembleReport, AssembleRequest, assemble};
pub use check::{CheckReport, check};
pub use disk::Disk;
pub use failure::Failure;
pub use give_results::{ResultsReport, ResultsRequest, give_results};
pub use mark::{MarkReport, MarkRequest, mark};
pub use open_sitting::OpenSitting;
pub use pour::{PourReport, pour};
pub use practise::{Practice, PractiseRequest, TastingPractice};
pub use print::{PrintReport, PrintRequest, print};
pub use register::{Head, Moment, RegisterError, Role};
pub use regrade::{RegradeReport, RegradeRequest, regrade};
pub use rehearse::{RehearseReport, RehearseRequest, rehearse};
pub use schemas::put_schemas;
pub use surroundings::Surroundings;
pub use verify::{Export, VerifyReport, VerifyRequest, verify};

// What a caller meets in requests and reports, so that it needs no other room than this one.
pub use assembler::candidate_view::PrintedBody;
pub use base::{ExamSeed, Fault, Marks};
pub use results::rehearsal::Population;
pub use serde::Serialize;
