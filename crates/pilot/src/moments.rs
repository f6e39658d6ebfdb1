//! Rate and dispersion without a model: for groups too rare or too odd to fit.

use super::estimate::Estimate;
use super::samples::Counts;

/// Fewest animals for a fitted model of a by-catch group.
pub(crate) const FEWEST_ANIMALS: f64 = 5.0;

/// Animals per trap-week, mean over all samples.
///
/// With none in E trap-weeks up to 3/E are still possible (95 %). Below [`FEWEST_ANIMALS`] the standard error is that
/// of a Poisson count, otherwise that of a ratio estimate, n sum (y - r e)^2 / ((n - 1) E^2).
pub(crate) fn rate(counts: &Counts) -> Estimate {
    let (total, effort) = (counts.total(), counts.effort());
    let rate = total / effort;
    if total == 0.0 {
        return Estimate {
            low: Some(0.0),
            high: Some(3.0 / effort),
            ..Estimate::bare(0.0)
        };
    }
    let n = counts.rows.len() as f64;
    let relative = if total < FEWEST_ANIMALS || n < 2.0 {
        1.0 / total.sqrt()
    } else {
        (n / (n - 1.0) * spread(counts, rate)).sqrt() / effort / rate
    };
    Estimate::log_scale(rate, relative)
}

/// Dispersion k by moments, r^2 sum e^2 / (sum (y - r e)^2 - sum r e); none when the variance is not above the mean.
pub(crate) fn dispersion(counts: &Counts) -> Option<f64> {
    let rate = counts.total() / counts.effort();
    let squares: f64 = counts.rows.iter().map(|r| r.effort * r.effort).sum();
    let excess = spread(counts, rate) - counts.total();
    (excess > 0.0).then(|| rate * rate * squares / excess)
}

fn spread(counts: &Counts, rate: f64) -> f64 {
    let off = counts.rows.iter().map(|r| r.count - rate * r.effort);
    off.map(|d| d * d).sum()
}

/// A single count above half of all, when there are enough counts for that to be odd.
pub(crate) fn dominant(counts: &Counts) -> Option<f64> {
    let largest = counts.rows.iter().map(|r| r.count).fold(0.0, f64::max);
    (counts.rows.len() > 3 && counts.total() >= 10.0 && largest > 0.5 * counts.total())
        .then_some(largest)
}

#[cfg(test)]
mod tests {
    use super::super::samples::Observation;
    use super::*;

    fn counts(of: &[f64]) -> Counts {
        let row = |&count: &f64| Observation {
            site: 0,
            year: 0,
            week: None,
            effort: 0.5,
            count,
        };
        Counts {
            name: "x".into(),
            rows: of.iter().map(row).collect(),
            zeros_added: 0,
        }
    }

    #[test]
    fn rates() {
        let none = rate(&counts(&[0.0; 60]));
        assert_eq!((none.value, none.high), (0.0, Some(0.1)));
        let few = rate(&counts(&[0.0, 1.0, 0.0, 3.0]));
        assert!((few.value - 2.0).abs() < 1e-12 && (few.se.unwrap() - 1.0).abs() < 1e-12);
        // Mean 2.5 a sample with variance 5/3: SE of the mean (5/3/4)^.5, doubled for half a trap-week.
        let more = rate(&counts(&[1.0, 2.0, 3.0, 4.0]));
        assert!((more.se.unwrap() - 2.0 * (5.0_f64 / 12.0).sqrt()).abs() < 1e-12);
    }

    #[test]
    fn dispersions() {
        assert_eq!(dispersion(&counts(&[1.0, 2.0, 3.0, 4.0])), None);
        // Mean 4, sum of squares 64, excess 64 - 16 = 48: k = 4^2 * 4 / 48.
        let k = dispersion(&counts(&[0.0, 0.0, 8.0, 8.0])).unwrap();
        assert!((k - 64.0 / 48.0).abs() < 1e-12);
        assert_eq!(dominant(&counts(&[0.0, 1.0, 1.0, 20.0])), Some(20.0));
    }
}
