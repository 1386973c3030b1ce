//! What the benchmarks share: the memory of this process, as the system tells it.

/// A figure of this process in megabytes; 0 where the system does not tell.
fn figure(name: &str) -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status
        .lines()
        .find(|line| line.starts_with(name))
        .unwrap_or("");
    let kilobytes = line
        .split_whitespace()
        .nth(1)
        .and_then(|n| n.parse::<f64>().ok());
    kilobytes.unwrap_or(0.0) / 1024.0
}

/// What is in memory now, in megabytes.
#[must_use]
pub fn resident() -> f64 {
    figure("VmRSS:")
}

/// The most that was in memory since [`forget_peak`], in megabytes.
#[must_use]
pub fn peak() -> f64 {
    figure("VmHWM:")
}

/// Makes the system count the peak anew, where it lets us.
pub fn forget_peak() {
    let _ = std::fs::write("/proc/self/clear_refs", "5");
}
