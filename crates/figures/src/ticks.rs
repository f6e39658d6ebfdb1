//! Where an axis has its ticks: steps of 1, 2 or 5 times a power of ten.

/// Evenly spaced ticks.
#[derive(Debug, Clone, PartialEq)]
pub struct Ticks {
    /// Tick positions, increasing.
    pub values: Vec<f64>,
    /// Distance between neighbours.
    pub step: f64,
    /// Decimal places needed to write every tick exactly.
    pub decimals: usize,
}

/// Beyond this the difference of two values could overflow; nothing in a picture is so large.
const LARGEST: f64 = 1e300;
/// A guard against a caller who asks for more ticks than a picture can hold.
const MOST: usize = 200;

/// `mantissa * 10^exponent`, kept apart so that 3 steps of 0.1 give 0.3 and not 0.30000000000000004.
#[derive(Clone, Copy)]
struct Step {
    mantissa: f64,
    exponent: i32,
}

impl Step {
    /// The smallest step of the form 1, 2 or 5 times a power of ten that is at least `raw`.
    fn at_least(raw: f64) -> Self {
        let mut exponent = 0;
        while power_of_ten(exponent + 1) <= raw {
            exponent += 1;
        }
        while power_of_ten(exponent) > raw && exponent > -300 {
            exponent -= 1;
        }
        for mantissa in [1.0, 2.0, 5.0] {
            let step = Self { mantissa, exponent };
            // A hair of tolerance, so that a range of exactly five steps is not given ten.
            if step.times(1.0) >= raw * (1.0 - 1e-9) {
                return step;
            }
        }
        Self {
            mantissa: 1.0,
            exponent: exponent + 1,
        }
    }

    fn times(self, count: f64) -> f64 {
        if self.exponent >= 0 {
            count * self.mantissa * power_of_ten(self.exponent)
        } else {
            count * self.mantissa / power_of_ten(-self.exponent)
        }
    }

    fn decimals(self) -> usize {
        usize::try_from(-self.exponent).unwrap_or(0)
    }
}

fn power_of_ten(exponent: i32) -> f64 {
    let mut power = 1.0;
    for _ in 0..exponent.unsigned_abs() {
        power *= 10.0;
    }
    if exponent < 0 { 1.0 / power } else { power }
}

/// A range with two distinct finite ends, whatever was given.
fn tidy_range(low: f64, high: f64) -> (f64, f64) {
    if !low.is_finite() || !high.is_finite() {
        return (0.0, 1.0);
    }
    let (low, high) = if low <= high {
        (low, high)
    } else {
        (high, low)
    };
    let (low, high) = (low.clamp(-LARGEST, LARGEST), high.clamp(-LARGEST, LARGEST));
    // Narrower than this and neighbouring ticks would be the same number.
    let least = low.abs().max(high.abs()) * 1e-9;
    if high - low > least {
        return (low, high);
    }
    let half = if least > 0.0 { least.max(0.5) } else { 0.5 };
    (low - half, high + half)
}

fn between(step: Step, first: f64, last: f64) -> Ticks {
    let mut values = Vec::new();
    let mut count = first;
    while count <= last && values.len() < MOST {
        values.push(step.times(count) + 0.0);
        count += 1.0;
    }
    Ticks {
        values,
        step: step.times(1.0),
        decimals: step.decimals(),
    }
}

/// About `wanted` ticks that cover the range: the first is at or below `low`, the last at or above `high`.
pub fn covering(low: f64, high: f64, wanted: usize) -> Ticks {
    let (low, high) = tidy_range(low, high);
    let step = Step::at_least((high - low) / wanted.clamp(1, MOST / 2) as f64);
    let unit = step.times(1.0);
    let (first, last) = ((low / unit).floor(), (high / unit).ceil());
    // Dividing can round across a whole number; one more step keeps the promise.
    let first = if step.times(first) > low {
        first - 1.0
    } else {
        first
    };
    let last = if step.times(last) < high {
        last + 1.0
    } else {
        last
    };
    between(step, first, last)
}

/// At most about `wanted` ticks, all inside the range. Steps are at least `least_step` (0 for no limit),
/// so that an axis of counts has no tick at 2.5.
pub fn within(low: f64, high: f64, wanted: usize, least_step: f64) -> Ticks {
    let (low, high) = tidy_range(low, high);
    let raw = (high - low) / wanted.clamp(1, MOST / 2) as f64;
    let step = Step::at_least(raw.max(least_step));
    let unit = step.times(1.0);
    let (first, last) = ((low / unit - 1e-9).ceil(), (high / unit + 1e-9).floor());
    between(step, first, last)
}

#[cfg(test)]
mod tests {
    use super::{covering, within};

    #[test]
    fn steps_are_one_two_or_five() {
        assert_eq!(
            covering(0.0, 10.0, 5).values,
            [0.0, 2.0, 4.0, 6.0, 8.0, 10.0]
        );
        assert_eq!(covering(0.0, 0.3, 3).values, [0.0, 0.1, 0.2, 0.3]);
        assert_eq!(
            covering(0.0, 1234.0, 4).values,
            [0.0, 500.0, 1000.0, 1500.0]
        );
        assert_eq!(covering(0.0, 0.3, 3).decimals, 1);
    }

    #[test]
    fn covers_the_range_at_every_size() {
        for scale in [1e-12, 1e-3, 0.7, 1.0, 33.0, 9.99e5, 1e18, 1e299] {
            for (low, high) in [
                (0.0, 1.0),
                (-1.3, 4.7),
                (0.101, 0.102),
                (-5.0, -2.0),
                (3.0, 3.0),
            ] {
                let (low, high) = (low * scale, high * scale);
                let ticks = covering(low, high, 5);
                let values = &ticks.values;
                assert!(
                    values.len() >= 2 && values.len() < 12,
                    "{low} {high} {values:?}"
                );
                assert!(
                    values[0] <= low && values[values.len() - 1] >= high,
                    "{low} {high} {values:?}"
                );
                assert!(values.windows(2).all(|pair| pair[0] < pair[1]));
            }
        }
    }

    #[test]
    fn within_stays_inside_and_respects_whole_numbers() {
        assert_eq!(within(3.0, 6.0, 8, 1.0).values, [3.0, 4.0, 5.0, 6.0]);
        assert_eq!(within(0.1, 0.95, 5, 0.0).values, [0.2, 0.4, 0.6, 0.8]);
    }

    #[test]
    fn bad_ranges_still_give_finite_ticks() {
        for (low, high) in [
            (f64::NAN, 1.0),
            (0.0, f64::INFINITY),
            (5.0, 1.0),
            (f64::MIN, f64::MAX),
            (1e16, 1e16 + 2.0),
            (0.0, 5e-324),
        ] {
            let ticks = covering(low, high, 5);
            assert!(
                ticks.values.len() >= 2 && ticks.values.len() < 20,
                "{low} {high} {ticks:?}"
            );
            assert!(ticks.values.iter().all(|value| value.is_finite()));
        }
    }
}
