//! Plan, bank, roster and seed make forms, flights, codes, serving orders, seats and the pour plan.

pub mod assemble;
pub mod bottle_sizes;
pub mod candidate_view;
pub mod cautions;
pub mod check_digit;
pub mod colouring;
pub mod cross_check;
pub mod examiner_view;
pub mod form_draw;
pub mod form_fits;
pub mod form_need;
mod form_pool;
pub mod glass_codes;
pub mod option_order;
pub mod order_balance;
pub mod pour_plan;
pub mod question_order;
mod seat_wishes;
pub mod seating;
pub mod serving_order;
pub mod sitting;
pub mod williams;

pub use assemble::assemble;
pub use candidate_view::{PrintedBody, PrintedQuestion, printed_questions};
pub use cautions::CAUTIONS;
pub use cross_check::{CrossCheck, cross_checks};
pub use examiner_view::{KeyLine, key_of};
pub use form_need::forms_lack;
pub use pour_plan::{PourPlan, pour_plan};
pub use sitting::{CandidatePlace, Form, FormQuestion, Glass, Sitting};
