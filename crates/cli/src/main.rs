//! The program `valinch`.
fn main() {}
