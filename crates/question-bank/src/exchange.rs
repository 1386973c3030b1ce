//! Questions in and out: as a table for spreadsheets, and as a paper for reviewers.

mod cell;
mod columns;
mod plain_yaml;
mod review_in;
mod review_out;
mod table_in;
mod table_out;

pub use review_in::{Verdict, apply_review, read_review};
pub use review_out::to_review;
pub use table_in::{TableIn, from_table};
pub use table_out::{LeftOut, TableOut, to_table};
