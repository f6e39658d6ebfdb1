//! The shares of the final information at which one looks.

use thiserror::Error;

/// Most looks, the last one included.
pub const MOST_LOOKS: usize = 20;

/// Two looks must differ by at least this share of the final information, so that the integration's grid resolves what
/// lies between them.
const LEAST_STEP: f64 = 1e-3;

/// Shares of the final information, rising, the last one 1.
#[derive(Clone, Debug, PartialEq)]
pub struct Fractions(Vec<f64>);

/// Why shares of information make no looks.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum BadFractions {
    /// None, or too many.
    #[error("{0} looks: give 1 to {MOST_LOOKS}")]
    Number(usize),
    /// The last is not 1.
    #[error("the last look has the share {0} of the information: it must have all")]
    Last(f64),
    /// They do not rise.
    #[error(
        "look {look} adds {step} of the final information to the look before: give each look at least {LEAST_STEP} more"
    )]
    Step {
        /// The look, from 1.
        look: usize,
        /// What it adds.
        step: f64,
    },
}

impl Fractions {
    /// These shares.
    ///
    /// # Errors
    /// Without any, with more than [`MOST_LOOKS`], when the last is not 1, or when a look adds less than a thousandth.
    pub fn new(fractions: Vec<f64>) -> Result<Self, BadFractions> {
        if !(1..=MOST_LOOKS).contains(&fractions.len()) {
            return Err(BadFractions::Number(fractions.len()));
        }
        let mut before = 0.0;
        for (i, &t) in fractions.iter().enumerate() {
            let step = t - before;
            // Not a number is no step either.
            if step.is_nan() || step < LEAST_STEP {
                return Err(BadFractions::Step { look: i + 1, step });
            }
            before = t;
        }
        if (before - 1.0).abs() > 1e-12 {
            return Err(BadFractions::Last(before));
        }
        Ok(Self(fractions))
    }

    /// `looks` of them (1 to [`MOST_LOOKS`], else the nearest of these) at even shares.
    pub fn even(looks: usize) -> Self {
        let looks = looks.clamp(1, MOST_LOOKS);
        let of = |k: usize| k as f64 / looks as f64;
        Self((1..=looks).map(of).collect())
    }

    /// The shares.
    pub fn all(&self) -> &[f64] {
        &self.0
    }

    /// Number of looks.
    pub fn looks(&self) -> usize {
        self.0.len()
    }

    /// Means of the statistics when the effect is `drift` of its final standard errors.
    pub fn means(&self, drift: f64) -> Vec<f64> {
        self.0.iter().map(|t| drift * t.sqrt()).collect()
    }
}
