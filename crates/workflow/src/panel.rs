//! What a reference panel says: its keys, which samples are twins, and discrimination tests.

pub mod agreement;
pub mod counts;
pub mod discrimination;
pub mod flight_pairs;
pub mod key_study;
pub mod ranking;
pub mod records;
