//! What one exam consists of: plan, room and roster, and the class before it; read and checked.

pub mod asked;
pub mod class_plan;
pub mod confidence;
pub mod exam;
pub mod flight_rules;
pub mod part;
pub mod people;
pub mod personal_data;
pub mod plan;
pub mod read;
pub mod result_rules;
pub mod room;
pub mod roster;

pub use class_plan::{Class, ClassPlan};
pub use exam::Exam;
pub use part::Part;
pub use people::{People, Person};
pub use personal_data::{IdentityKept, PersonalData};
pub use plan::{Asked, Paper, Plan};
pub use result_rules::ResultRules;
pub use room::Room;
pub use roster::{BroughtPart, Candidate, Roster, Service, TastingWay};
