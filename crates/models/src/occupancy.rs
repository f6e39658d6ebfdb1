//! Site occupancy under imperfect detection, by maximum likelihood, and its closed forms for planning.
//!
//! A row is a site in a season, with n visits of which d found the species. A site is occupied with probability psi, and
//! an occupied one is found occupied at each visit with probability p, so that the row's likelihood, without the
//! constant number of orders of the visits, is
//!   psi p^d (1-p)^(n-d) + (1-psi) 1[d = 0]
//! (MacKenzie, Nichols, Lachman, Droege, Royle & Langtimm 2002, Ecology 83:2248-2255). It is the same one whether every
//! site has as many visits (standard design), visits stop with the first detection (removal design: d is 0, or 1 at the
//! last visit), or only sites with a detection at the first visit are visited again (conditional design), because when
//! visits stop hangs on earlier detections alone. Linear predictors: logit psi = X b, logit p = Z g.
//!
//! Where sites differ in p, p^d (1-p)^(n-d) gives way to its mean over a beta distribution with mean p and intra-class
//! correlation rho: B(a+d, c+n-d)/B(a, c), a = p (1-rho)/rho, c = (1-p) (1-rho)/rho (Royle 2006, Biometrics 62:97-102).
//!
//! For planning: [`precision`] of the occupancy estimate, the power of a [`difference`] between two periods or groups
//! and how to [`split`] the effort for it, and the variance of a [`trend`] over seasons.

mod design;
pub mod difference;
mod fit;
pub mod information;
mod kernel;
mod likelihood;
mod outcome;
pub mod precision;
mod search;
pub mod split;
pub mod trend;

pub use design::{DetectionKernel, OccupancyDesign, OccupancyError, OccupancyStart};
pub use fit::OccupancyFitter;
pub use outcome::{OccupancyFit, OccupancyOutcome};
