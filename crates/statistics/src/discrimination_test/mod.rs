//! Can tasters tell two samples apart, and how far apart are they?

pub mod a_not_a;
pub mod critical_number;
pub mod d_prime;
pub mod method;
pub mod power;
pub mod replicated;
pub mod similarity;
