//! Generalised linear mixed model of counts with site, year and site-by-year effects.
//!
//! Linear predictor eta = o + X b + G z: offset o, fixed effects b, and independent spherical effects z ~ N(0, 1)
//! scaled by a standard deviation for each term (site, year, site by year). Log link for Poisson and NB2 (variance
//! mu + mu^2/k; k is the dispersion, larger is closer to Poisson), logit link for binomial.
//!
//! The random effects are integrated out by Laplace's approximation,
//!   L(theta) = sum log f(y|eta) - z'z/2 - log|H|/2,   H = G'WG + I,
//! at the mode of z, with W the observed information. Restricted likelihood integrates the fixed effects out in the
//! same step (they join z with a flat prior, and p log(2 pi)/2 is added). The gradient of L is exact.
//!
//! Where other random terms are wanted, [`general`] fits them; this engine is the fast one for these three.
//!
//! Site-by-year effects are eliminated first (they are diagonal), then sites (diagonal too), which leaves a small
//! dense system of the years and, under restricted likelihood, the fixed effects.

mod covariance;
mod ending;
mod evaluate;
mod factor;
mod family;
mod fit;
pub mod general;
mod gradient;
mod guess;
mod kinds;
mod layout;
mod leverage;
mod mode;
mod outcome;
mod rising;
mod satterthwaite;
mod search;
mod searched;
mod settle;
mod solve;
mod start;
mod state;
mod tangent;

pub use family::Family;
pub use fit::{Fitter, K_RANGE, Likelihood, MISSING, Model, Terms};
pub use layout::{DataError, Design, Layout};
pub use outcome::{Fit, Outcome, Sds};
pub use satterthwaite::Conditional;
pub use start::Start;
