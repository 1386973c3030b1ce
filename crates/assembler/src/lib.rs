//! Plan, bank, roster and seed make forms, flights, codes, serving orders, seats and the pour plan.

pub mod sitting;

pub use sitting::{CandidatePlace, Form, FormQuestion, Glass, Sitting};
