//! The same mixed model of counts with any random terms: beside sites, years and site-years also random slopes,
//! visits, groups nested in others, weeks within years shared by all sites, traps within sites, and terms whose levels
//! are correlated in a given way (years along time, sites in space). Any of them, on totals or on samples, balanced or
//! not.
//!
//! Linear predictor eta_i = o_i + x_i'b + sum_g s_g a_ig u_g[l_g(i)]: standard deviation s_g, weight a_ig (1, or a
//! covariate for a random slope), and effects u_g ~ N(0, R_g) with R_g = 1 or a given correlation L L'. Laws,
//! Laplace's approximation (Breslow & Clayton 1993, J. Am. Stat. Assoc. 88:9; its exact gradient as in Skaug & Fournier
//! 2006, Comput. Stat. Data Anal. 51:699), restricted likelihood and outcomes are those of [`super`], and so is the answer
//! where both engines can give it.
//!
//! Each row has one level in each grouping, so that with the effects u (not spherical ones) H = G'WG + R^-1 links only
//! levels that meet in a row, or whose correlation's inverse links them (for an autoregression of order 1: neighbours).
//! H is factored by sparse L D L' in an order of minimum degree worked out once for each layout, the fixed effects last
//! ([`numerics::linalg::sparse`]); the leverages want H^-1 only where H has entries. The correlations of all terms
//! together add log|R| to log|H|, a constant.

mod curvature;
mod design;
mod fit;
mod gradient;
mod incidence;
mod loadings;
mod mode;
mod prior;
mod searched;
mod state;
#[cfg(test)]
mod tests;

pub use design::{GeneralDesign, GeneralStart, Grouping};
pub use fit::{GeneralFit, GeneralFitter};
pub use loadings::{ar1_loadings, exponential_loadings};
