//! An estimate with its uncertainty and where it comes from.

use super::problem::Problem;
use numerics::maths::exp;
use serde::{Deserialize, Serialize};
use survey::scenario::{Premise, Source, common_practice, fields};

/// The normal quantile of a two-sided 95 % interval.
const Z: f64 = 1.959_963_984_540_054;

/// A premise as the pilot gives it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Estimate {
    /// Best value.
    pub value: f64,
    /// Standard error, where the fit gives one.
    pub se: Option<f64>,
    /// Low end of the 95 % interval, or of the range usual in the trade.
    pub low: Option<f64>,
    /// High end.
    pub high: Option<f64>,
    /// `pilot` when the file tells it, `common_practice` when it does not.
    pub source: Source,
}

impl Estimate {
    /// A value alone.
    pub(crate) fn bare(value: f64) -> Self {
        Self {
            value,
            se: None,
            low: None,
            high: None,
            source: Source::Pilot,
        }
    }

    /// The same quantity in another unit.
    pub(crate) fn times(self, factor: f64) -> Self {
        let scale = |v: f64| v * factor;
        Self {
            value: scale(self.value),
            se: self.se.map(scale),
            low: self.low.map(scale),
            high: self.high.map(scale),
            ..self
        }
    }

    /// A positive quantity whose logarithm has this standard error: interval value exp(-+1.96 se).
    pub(crate) fn log_scale(value: f64, ln_se: f64) -> Self {
        let mut out = Self::bare(value);
        let (low, high) = (value * exp(-Z * ln_se), value * exp(Z * ln_se));
        if value > 0.0 && ln_se >= 0.0 && high.is_finite() {
            out.se = Some(value * ln_se);
            (out.low, out.high) = (Some(low), Some(high));
        }
        out
    }

    /// A standard deviation: log-scale interval; none at 0, where the information says nothing.
    pub(crate) fn sd(value: f64, se: f64) -> Self {
        if value > 0.0 && se.is_finite() {
            Self::log_scale(value, se / value)
        } else {
            Self::bare(value)
        }
    }

    /// A quantity of any sign: interval value -+1.96 se.
    pub(crate) fn plain(value: f64, se: f64) -> Self {
        let mut out = Self::bare(value);
        if se.is_finite() {
            out.se = Some(se);
            (out.low, out.high) = (Some(value - Z * se), Some(value + Z * se));
        }
        out
    }

    /// What is usual in the trade.
    pub(crate) fn common(key: &str) -> Result<Self, Problem> {
        let premise = common_practice(key).ok_or_else(|| Problem::NoDefault {
            key: key.to_owned(),
        })?;
        Ok(Self {
            value: premise.value,
            se: None,
            low: premise.low,
            high: premise.high,
            source: premise.source,
        })
    }

    /// Moves value and ends into the bounds of the scenario's field and says so.
    pub(crate) fn within(
        mut self,
        key: &str,
        target: bool,
        who: &str,
        notes: &mut Vec<String>,
    ) -> Self {
        let Some((low, high)) = bounds(key, target) else {
            return self;
        };
        let words = key.replace('_', " ");
        if self.value < low || self.value > high {
            let value = self.value.clamp(low, high);
            notes.push(format!(
                "{who}: the {words} of {:.4} lies outside what a scenario takes ({low} to {high}); {value} is given.",
                self.value
            ));
            self.value = value;
            self.se = None;
        }
        for (name, end) in [("low", &mut self.low), ("high", &mut self.high)] {
            if let Some(v) = end
                && (*v < low || *v > high)
            {
                let cut = v.clamp(low, high);
                notes.push(format!(
                    "{who}: the {name} end of the {words}, {v:.4}, is cut to what a scenario takes, {cut}."
                ));
                *v = cut;
            }
        }
        self.low = self.low.map(|v| v.min(self.value));
        self.high = self.high.map(|v| v.max(self.value));
        self
    }

    /// As a scenario's premise.
    pub(crate) fn premise(&self) -> Premise {
        Premise {
            value: self.value,
            low: self.low,
            high: self.high,
            source: self.source,
            citation: None,
        }
    }
}

/// Bounds of a premise of the target, or of a by-catch group.
pub(crate) fn bounds(key: &str, target: bool) -> Option<(f64, f64)> {
    if target {
        fields::find(&format!("premises.target.{key}")).map(|f| (f.low, f.high))
    } else {
        let field = fields::BYCATCH.iter().find(|f| f.path == key);
        field.map(|f| (f.low, f.high))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn intervals() {
        let e = Estimate::log_scale(2.0, 0.1);
        assert!((e.low.unwrap() * e.high.unwrap() - 4.0).abs() < 1e-12);
        assert!((e.se.unwrap() - 0.2).abs() < 1e-15);
        assert_eq!(Estimate::sd(0.0, f64::NAN), Estimate::bare(0.0));
        assert_eq!(Estimate::log_scale(2.0, 1e6).high, None);
    }

    #[test]
    fn defaults_exist_and_bounds_are_kept() {
        for key in [
            "dispersion_k",
            "site_sd",
            "year_sd",
            "site_year_sd",
            "trap_sd",
            "season_width_weeks",
        ] {
            assert!(Estimate::common(key).is_ok(), "{key}");
            assert!(bounds(key, true).is_some(), "{key}");
        }
        let mut notes = Vec::new();
        let e = Estimate::log_scale(4.0, 0.1).within("site_sd", true, "x", &mut notes);
        assert_eq!((e.value, e.low, e.high), (3.0, Some(3.0), Some(3.0)));
        assert_eq!(notes.len(), 3);
    }
}
