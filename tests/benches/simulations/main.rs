//! Bias and coverage with known truth: `cargo bench --workspace --bench simulations`. The seed
//! is fixed, so that the tables come out alike each time; `tests/benches/simulations.md` keeps them.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout
)]

mod agreement;
mod cuts;
mod equating;
mod false_alarms;
mod items;
mod reliability;
mod scale;
mod tally;

fn main() {
    // `cargo bench … -- WORD` runs the parts whose name has this word.
    let wanted: Vec<String> = std::env::args()
        .skip(1)
        .filter(|word| !word.starts_with("--"))
        .collect();
    let runs =
        |name: &str| wanted.is_empty() || wanted.iter().any(|word| name.contains(word.as_str()));
    println!("Seed: 32 bytes of {}.\n", tally::SEED);
    println!("| figure | n | runs | refused | bias | root mean square error | coverage of 95 % |");
    println!("|---|---|---|---|---|---|---|");
    let parts: [(&str, fn()); 7] = [
        ("items", items::run),
        ("reliability", reliability::run),
        ("agreement", agreement::run),
        ("scale", scale::run),
        ("equating", equating::run),
        ("cuts", cuts::run),
        ("sizes", false_alarms::sizes),
    ];
    for (name, run) in parts {
        if runs(name) {
            run();
        }
    }
    if runs("alarms") {
        println!("\n| test | n | runs | refused | rejects | aim |");
        println!("|---|---|---|---|---|---|");
        false_alarms::run();
    }
}
