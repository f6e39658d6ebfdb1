//! Reproductive animals among those killed.

use crate::number::{count, percent};
use survey::summary::Toll;

/// Reproductives of the toll in a sentence; `None` where no share of them is given.
pub fn reproductives(target: &str, toll: &Toll) -> Option<String> {
    let told = toll.reproductives.as_ref()?;
    let of_target = told.target.map(|n| {
        let share = if toll.target.mean > 0.0 {
            n / toll.target.mean
        } else {
            0.0
        };
        format!("{} of the {target} ({})", count(n), percent(share))
    });
    let others = told
        .others
        .iter()
        .map(|o| format!("{} of the {}", count(o.mean), o.group));
    let parts: Vec<String> = of_target.into_iter().chain(others).collect();
    Some(format!(
        "Reproductive among those killed, expected: {}.",
        parts.join(", ")
    ))
}
