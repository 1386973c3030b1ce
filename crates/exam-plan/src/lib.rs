//! What one exam consists of: plan, room and roster, read and checked.

pub mod exam;
pub mod flight_rules;
pub mod people;
pub mod personal_data;
pub mod plan;
pub mod read;
pub mod room;
pub mod roster;

pub use exam::Exam;
pub use people::{People, Person};
pub use personal_data::{IdentityKept, PersonalData};
pub use plan::{Asked, Paper, Plan};
pub use room::Room;
pub use roster::{Candidate, Roster, Service};
