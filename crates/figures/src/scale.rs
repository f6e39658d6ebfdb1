//! A linear scale: data to pixels and back.

/// Maps a data interval onto a pixel interval, linearly.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Linear {
    domain: (f64, f64),
    range: (f64, f64),
}

impl Linear {
    /// A scale from `domain` (data) to `range` (pixels; may run downwards, as the y of a picture does).
    ///
    /// A domain that is empty or not finite is replaced by one of width 1, so that one single value
    /// lands in the middle of the range instead of dividing by zero.
    pub fn new(domain: (f64, f64), range: (f64, f64)) -> Self {
        let (low, high) = domain;
        let domain = if !low.is_finite() || !high.is_finite() || !(high - low).is_finite() {
            (0.0, 1.0)
        } else if high - low == 0.0 {
            let half = 0.5_f64.max(low.abs() * 1e-6);
            (low - half, low + half)
        } else {
            (low, high)
        };
        Self { domain, range }
    }

    /// Pixel position of a data value.
    pub fn at(&self, value: f64) -> f64 {
        let share = (value - self.domain.0) / (self.domain.1 - self.domain.0);
        self.range.0 + share * (self.range.1 - self.range.0)
    }

    /// Data value at a pixel position; the start of the domain if the range has no width.
    pub fn value_at(&self, pixel: f64) -> f64 {
        let width = self.range.1 - self.range.0;
        if width == 0.0 {
            return self.domain.0;
        }
        self.domain.0 + (pixel - self.range.0) / width * (self.domain.1 - self.domain.0)
    }

    /// The data interval in use.
    pub fn domain(&self) -> (f64, f64) {
        self.domain
    }

    /// The pixel interval in use.
    pub fn range(&self) -> (f64, f64) {
        self.range
    }
}

#[cfg(test)]
mod tests {
    use super::Linear;

    #[test]
    fn keeps_order_and_ends() {
        let up = Linear::new((-3.0, 9.0), (20.0, 220.0));
        let down = Linear::new((-3.0, 9.0), (220.0, 20.0));
        assert_eq!((up.at(-3.0), up.at(9.0)), (20.0, 220.0));
        for step in 0..100 {
            let (a, b) = (-3.0 + 0.1 * f64::from(step), -2.9 + 0.1 * f64::from(step));
            assert!(up.at(a) < up.at(b));
            assert!(down.at(a) > down.at(b));
        }
    }

    #[test]
    fn there_and_back() {
        let scale = Linear::new((0.0, 7.0), (300.0, 12.0));
        for value in [0.0, 0.3, 6.9, 7.0] {
            assert!((scale.value_at(scale.at(value)) - value).abs() < 1e-12);
        }
        assert_eq!(Linear::new((2.0, 3.0), (5.0, 5.0)).value_at(8.0), 2.0);
    }

    #[test]
    fn a_single_value_lands_in_the_middle() {
        assert_eq!(Linear::new((4.0, 4.0), (0.0, 100.0)).at(4.0), 50.0);
        assert_eq!(Linear::new((1e12, 1e12), (0.0, 100.0)).at(1e12), 50.0);
    }

    #[test]
    fn a_domain_that_is_not_finite_is_replaced() {
        for domain in [(f64::NAN, 1.0), (0.0, f64::INFINITY), (-1.7e308, 1.7e308)] {
            assert!(Linear::new(domain, (0.0, 10.0)).at(0.5).is_finite());
        }
    }
}
