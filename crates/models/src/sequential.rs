//! Group-sequential tests: a question looked at several times while its information grows.
//!
//! At look k the information is the share t_k of the final one, and the standardised statistics Z_1 .. Z_K are jointly
//! normal with variance 1, mean drift sqrt(t_k) and Cov(Z_j, Z_k) = sqrt(t_j / t_k) for j <= k, where the drift is the
//! effect over its final standard error (Jennison & Turnbull 2000, Group Sequential Methods with Applications to
//! Clinical Trials, equation 3.1). The law of where such a walk leaves its boundaries is worked out look by look, by
//! numerical integration over the statistics of the look before (Armitage, McPherson & Rowe 1969, J. R. Stat. Soc. A
//! 132:235-244; Jennison & Turnbull 2000, chapter 19).
//!
//! Words: *upper line*, what the statistic (its side in mind) must exceed at a look to stop with the change found;
//! *futility line*, below which it is stopped without; *fraction*, the share of the final information.

mod design;
mod fraction;
mod futility;
mod grid;
mod lines;
mod outcome;
mod region;
mod spending;
#[cfg(test)]
mod tests;
mod upper;
mod walk;

pub use design::{Boundary, Design, Futility, FutilityRule, Sides};
pub use fraction::{BadFractions, Fractions, MOST_LOOKS};
pub use futility::conditional_power;
pub use lines::{Lines, on_t_scale};
pub use outcome::Outcome;
pub use spending::Spending;
