//! What befalls a register: kills, changed bytes, many writers, disks that are full, read-only or
//! gone. Prints how often it tried and what was lost or not detected; both must be nothing.
//!
//! `VALINCH_KILLS` sets how many kills are tried, for one long run by hand.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    missing_docs,
    unreachable_pub
)]

mod calls;
mod changes;
mod disks;
mod kills;
mod made;
mod power;
mod surroundings;
mod writers;
