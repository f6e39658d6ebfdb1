//! Random draws of the count model, exact (no normal approximations) and on our own maths.
//!
//! The usual library of distributions is not used here because its elementary functions come from the platform as
//! soon as any other crate of the build asks for the standard library, and then native and browser results part.

mod binomial;
mod gamma;
mod gamma_table;
mod poisson;

pub use binomial::{binomial, multinomial};
pub use gamma::gamma;
pub use gamma_table::GammaTable;
pub use poisson::poisson;
