//! Benchmarks only; see main.rs.
