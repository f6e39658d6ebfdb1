//! How many samples: the formulas of the insect-sampling handbook (Southwood & Henderson 2000, Ecological Methods,
//! 3rd edition, chapter 2; Karandinos 1976, Bulletin of the Entomological Society of America 22:417-421).
//!
//! A sample is one unit looked at (a trap-week, a plant, a sweep); its count is what it held. Densities are means per
//! sample. Numbers of samples come as the formula gives them, not rounded; [`whole`] rounds them up.

mod count_law;
pub mod detection;
pub mod exact_walk;
pub mod fixed_number;
pub mod probability_ratio;
mod saddle_point;
mod spread;
pub mod stop_lines;

pub use count_law::CountLaw;
pub use spread::Spread;

/// How near a whole number or a line counts as on it, relative to its size: the noise of rounding.
const SLACK: f64 = 1e-9;

/// Beyond this whole numbers have gaps.
const LARGEST: f64 = 9_007_199_254_740_992.0;

/// A number of samples rounded up, 1 at least; a number above a whole one by no more than rounding noise (1e-9 of it)
/// is that whole one. `None` where no number of samples is enough (infinite), beyond 2^53, or without meaning
/// (negative, NaN).
pub fn whole(samples: f64) -> Option<u64> {
    if !(0.0..LARGEST).contains(&samples) {
        return None;
    }
    Some((samples * (1.0 - SLACK)).ceil().max(1.0) as u64)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounding_up() {
        assert_eq!(whole(60.0 + 1e-12), Some(60));
        assert_eq!(whole(60.0), Some(60));
        assert_eq!(whole(60.001), Some(61));
        assert_eq!(whole(0.0), Some(1));
        assert_eq!(whole(1e-300), Some(1));
        assert_eq!(whole(f64::INFINITY), None);
        assert_eq!(whole(f64::NAN), None);
        assert_eq!(whole(-1.0), None);
    }
}
