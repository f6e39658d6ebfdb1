//! Number of samples to find a scarce or clumped species, what finding none says, and density from presence alone.
//!
//! McArdle (1990), Oikos 57:276-277; Green & Young (1993), Ecological Applications 3:351-356: when a sample is empty
//! with chance e, n samples hold at least one animal with chance 1 - e^n, so that n = ln(1 - C) / ln e.

use super::CountLaw;
use numerics::maths::{exp_m1, ln_1p};

/// Number of samples (not rounded) of which at least one is occupied with the confidence wanted (0 to 1). One unit a
/// sample with chance p is [`CountLaw::Binomial`] with 1 unit. Infinite when samples are always empty; NaN out of
/// bounds.
pub fn samples_to_detect(law: CountLaw, confidence: f64) -> f64 {
    if !law.is_valid() || !(0.0..=1.0).contains(&confidence) {
        return f64::NAN;
    }
    let ln_none = law.ln_none();
    // Also where no sample is ever empty, and with it any confidence, 1 among them.
    if confidence == 0.0 || ln_none == f64::NEG_INFINITY {
        return 0.0;
    }
    ln_1p(-confidence) / ln_none
}

/// Chance that at least one of n samples is occupied. NaN out of bounds.
pub fn chance_to_detect(law: CountLaw, samples: f64) -> f64 {
    if !law.is_valid() || samples.is_nan() || samples < 0.0 {
        return f64::NAN;
    }
    if samples == 0.0 {
        return 0.0;
    }
    -exp_m1(samples * law.ln_none())
}

/// What is bounded after n empty samples.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Bounded {
    /// The proportion of samples that are occupied; for 95 % roughly 3/n, the "rule of three" (Hanley & Lippman-Hand
    /// 1983, JAMA 249:1743-1745), here in its exact form 1 - (1 - C)^(1/n).
    Proportion,
    /// The mean per sample of Poisson counts.
    PoissonMean,
    /// The mean per sample of negative binomial counts.
    NegativeBinomialMean {
        /// Dispersion, above 0.
        k: f64,
    },
}

/// Upper confidence bound after n (above 0) samples without a single animal: the largest value at which that had a
/// chance of 1 - C. NaN out of bounds.
pub fn upper_bound_after_none(bounded: Bounded, samples: f64, confidence: f64) -> f64 {
    if !(samples > 0.0 && confidence > 0.0 && confidence < 1.0) {
        return f64::NAN;
    }
    let per_sample = -ln_1p(-confidence) / samples;
    match bounded {
        Bounded::Proportion => -exp_m1(-per_sample),
        Bounded::PoissonMean => per_sample,
        Bounded::NegativeBinomialMean { k } => mean_when(per_sample, Some(k)),
    }
}

/// Mean per sample when a proportion of samples (0 to 1) is occupied: -ln(1 - p) for Poisson counts (`k` none), and
/// k ((1 - p)^(-1/k) - 1) for negative binomial counts. Infinite at 1; NaN out of bounds.
pub fn mean_from_presence(proportion: f64, k: Option<f64>) -> f64 {
    if !(0.0..=1.0).contains(&proportion) {
        return f64::NAN;
    }
    mean_when(-ln_1p(-proportion), k)
}

/// Standard error over the mean of [`mean_from_presence`] after n samples, by the delta method:
/// sqrt(p (1 - p)/n) (1 - p)^(-1/k - 1) / m. Infinite at proportions 0 and 1; NaN out of bounds.
pub fn relative_error_from_presence(proportion: f64, k: Option<f64>, samples: f64) -> f64 {
    (relative_variance(proportion, k) / samples).sqrt()
}

/// Number of samples (not rounded) for a standard error that is `ratio` (above 0) of the mean from presence alone.
pub fn samples_from_presence(proportion: f64, k: Option<f64>, ratio: f64) -> f64 {
    if ratio.is_nan() || ratio <= 0.0 {
        return f64::NAN;
    }
    relative_variance(proportion, k) / ratio / ratio
}

/// The mean at which a sample is empty with chance e^-x.
fn mean_when(x: f64, k: Option<f64>) -> f64 {
    match k {
        None => x,
        Some(k) if k == f64::INFINITY => x,
        Some(k) if k > 0.0 => {
            let over = exp_m1(x / k);
            // Not 0 times infinity.
            if over == f64::INFINITY {
                over
            } else {
                k * over
            }
        }
        Some(_) => f64::NAN,
    }
}

/// n times the squared relative error: p/(1 - p) / x^2 for Poisson counts, x = -ln(1 - p), and with
/// k (1 - e^(-x/k)) in place of x for negative binomial ones.
fn relative_variance(p: f64, k: Option<f64>) -> f64 {
    if !(0.0..=1.0).contains(&p) {
        return f64::NAN;
    }
    if p == 0.0 || p == 1.0 {
        return f64::INFINITY;
    }
    let x = -ln_1p(-p);
    let width = match k {
        None => x,
        Some(k) if k == f64::INFINITY => x,
        Some(k) if k > 0.0 => -k * exp_m1(-x / k),
        Some(_) => return f64::NAN,
    };
    p / (1.0 - p) / width / width
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sampling::whole;
    use numerics::maths::pow;

    fn unit(p: f64) -> CountLaw {
        CountLaw::Binomial { units: 1, p }
    }

    fn close(got: f64, want: f64) {
        assert!((got / want - 1.0).abs() < 1e-9, "{got} {want}");
    }

    /// McArdle (1990), n = ln(1 - C)/ln(1 - p) rounded up; from the formula.
    #[test]
    fn whole_numbers_of_samples() {
        for (confidence, row) in [
            (0.90, [4, 11, 22, 45, 230]),
            (0.95, [5, 14, 29, 59, 299]),
            (0.99, [7, 21, 44, 90, 459]),
        ] {
            for (p, want) in [0.5, 0.2, 0.1, 0.05, 0.01].into_iter().zip(row) {
                let n = samples_to_detect(unit(p), confidence);
                assert_eq!(whole(n), Some(want), "{confidence} {p}: {n}");
                assert!(chance_to_detect(unit(p), want as f64) >= confidence);
                assert!(chance_to_detect(unit(p), want as f64 - 1.0) < confidence);
            }
        }
    }

    /// Green & Young (1993), Poisson and negative binomial means at 95 %; from the formulas by scipy 1.17.
    #[test]
    fn by_mean_density() {
        for (mean, want) in [
            (0.1, 29.957_322_736),
            (0.05, 59.914_645_471),
            (0.02, 149.786_613_678),
        ] {
            close(samples_to_detect(CountLaw::Poisson { mean }, 0.95), want);
        }
        for (mean, k, want) in [(0.1, 0.5, 32.862_074_307), (0.02, 0.2, 157.156_994_127)] {
            let law = CountLaw::NegativeBinomial { mean, k };
            close(samples_to_detect(law, 0.95), want);
        }
    }

    /// The exact rule of three, 1 - .05^(1/n).
    #[test]
    fn rule_of_three() {
        for (n, want) in [
            (10.0, 0.258_865_550_9),
            (30.0, 0.095_033_852_9),
            (100.0, 0.029_513_049_6),
            (300.0, 0.009_936_081_9),
        ] {
            let got = upper_bound_after_none(Bounded::Proportion, n, 0.95);
            assert!((got - want).abs() < 1e-10f64, "{n}: {got}");
        }
    }

    /// At the bound, n samples would have found one with the stated confidence.
    #[test]
    fn bounds_undo_detection() {
        for n in [1.0, 12.0, 1e9] {
            for confidence in [1e-6, 0.5, 0.95, 0.999_9] {
                let bound = |b| upper_bound_after_none(b, n, confidence);
                for law in [
                    unit(bound(Bounded::Proportion)),
                    CountLaw::Poisson {
                        mean: bound(Bounded::PoissonMean),
                    },
                    CountLaw::NegativeBinomial {
                        mean: bound(Bounded::NegativeBinomialMean { k: 0.1 }),
                        k: 0.1,
                    },
                ] {
                    close(chance_to_detect(law, n), confidence);
                    close(samples_to_detect(law, confidence), n);
                }
            }
        }
    }

    /// p = .4, k = .8: means .510826 (Poisson) and .714959, relative error .305843 of 50 samples, and 74.832135 samples
    /// for .25; from the delta method's formula (Southwood & Henderson 2000) by scipy 1.17.
    #[test]
    fn mean_from_the_share_of_occupied_samples() {
        for (got, want) in [
            (mean_from_presence(0.4, None), 0.510_826),
            (mean_from_presence(0.4, Some(0.8)), 0.714_959),
            (
                relative_error_from_presence(0.4, Some(0.8), 50.0),
                0.305_843,
            ),
            (samples_from_presence(0.4, Some(0.8), 0.25), 74.832_135),
        ] {
            assert!((got / want - 1.0f64).abs() < 2e-6, "{got} {want}");
        }
    }

    /// The stable form is the delta method's, and the mean undoes the chance of an empty sample.
    #[test]
    fn presence_forms() {
        for p in [0.01f64, 0.4, 0.9] {
            for k in [0.3, 2.0, 50.0] {
                let m = mean_from_presence(p, Some(k));
                let want = (p * (1.0 - p) / 30.0).sqrt() * pow(1.0 - p, -1.0 / k - 1.0) / m;
                close(relative_error_from_presence(p, Some(k), 30.0), want);
                let law = CountLaw::NegativeBinomial { mean: m, k };
                close(chance_to_detect(law, 1.0), p);
            }
            let m = mean_from_presence(p, None);
            close(mean_from_presence(p, Some(f64::INFINITY)), m);
            close(chance_to_detect(CountLaw::Poisson { mean: m }, 1.0), p);
            let d = relative_error_from_presence(p, None, 30.0);
            close(samples_from_presence(p, None, d), 30.0);
        }
    }

    #[test]
    fn extremes() {
        assert_eq!(samples_to_detect(unit(0.0), 0.95), f64::INFINITY);
        assert_eq!(samples_to_detect(unit(0.0), 0.0), 0.0);
        assert_eq!(samples_to_detect(unit(1.0), 0.95), 0.0);
        assert_eq!(samples_to_detect(unit(1.0), 1.0), 0.0);
        assert_eq!(samples_to_detect(unit(0.5), 1.0), f64::INFINITY);
        assert_eq!(chance_to_detect(unit(1.0), 0.0), 0.0);
        assert_eq!(chance_to_detect(unit(1.0), 1.0), 1.0);
        close(
            samples_to_detect(unit(1e-300), 0.95),
            2.995_732_273_553_991e300,
        );
        let sparse = CountLaw::NegativeBinomial {
            mean: 1e-200,
            k: 1e-3,
        };
        close(
            samples_to_detect(sparse, 0.5),
            std::f64::consts::LN_2 * 1e200,
        );
        assert_eq!(mean_from_presence(0.0, None), 0.0);
        assert_eq!(mean_from_presence(1.0, Some(2.0)), f64::INFINITY);
        assert!(mean_from_presence(0.5, Some(1e-5)).is_infinite());
        // The mean is beyond any number, its relative error is not.
        assert!(relative_error_from_presence(0.5, Some(1e-5), 50.0).is_finite());
        assert_eq!(relative_error_from_presence(1.0, None, 10.0), f64::INFINITY);
        assert!(samples_to_detect(unit(-0.1), 0.95).is_nan());
        assert!(samples_to_detect(unit(0.1), 1.5).is_nan());
        assert!(mean_from_presence(0.5, Some(0.0)).is_nan());
        assert!(samples_from_presence(0.5, None, 0.0).is_nan());
        assert!(upper_bound_after_none(Bounded::Proportion, 0.0, 0.95).is_nan());
    }
}
