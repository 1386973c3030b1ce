//! What every room shares: ids, fixed-point marks, faults with their place, text trees with
//! places, and the named streams from which everything random is drawn.

pub mod checked;
pub mod fault;
pub mod id;
pub mod marks;
pub mod near;
pub mod place;
pub mod seed;
pub mod shape;
pub mod stream;
pub mod table;
pub mod table_out;
pub mod text;
pub mod tree;
pub mod walk;

pub use checked::Checked;
pub use fault::{Fault, Severity};
pub use id::{
    BadId, CandidateNumber, CellId, FormName, NodeId, QuestionId, SampleId, SeatName, SetId,
};
pub use marks::Marks;
pub use place::{Place, SourceName, SourceText};
pub use seed::{BadSeed, ExamSeed};
pub use stream::{Purpose, Stream};
pub use text::Text;
