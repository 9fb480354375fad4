//! CPU-seconds and memory of this process.

use rustix::time::{ClockId, clock_gettime};
use std::fs;

/// CPU-seconds of all threads so far.
#[must_use]
pub fn cpu_seconds() -> f64 {
    let now = clock_gettime(ClockId::ProcessCPUTime);
    now.tv_sec as f64 + 1e-9 * now.tv_nsec as f64
}

/// The largest memory so far, in KiB; 0 where the system does not tell.
#[must_use]
pub fn peak_kib() -> u64 {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    status
        .lines()
        .find_map(|line| line.strip_prefix("VmHWM:"))
        .and_then(|rest| rest.trim().trim_end_matches(" kB").parse().ok())
        .unwrap_or(0)
}
