//! The annual-index regression on a simulated survey: the plain check on the mixed model.

use crate::generator::Drawn;
use models::annual_index::{IndexTrend, annual_index};
use numerics::maths::slices;

/// Slope of the yearly index of a simulated survey; lost site-years are left out.
pub fn index_trend(drawn: &Drawn, years: usize) -> Option<IndexTrend> {
    let mut offset: Vec<f64> = drawn
        .effort
        .iter()
        .map(|&e| if e > 0.0 { e } else { 1.0 })
        .collect();
    slices::ln(&mut offset);
    let counts: Vec<f64> = drawn
        .counts
        .iter()
        .zip(&drawn.effort)
        .map(|(&c, &e)| if e > 0.0 { c } else { f64::NAN })
        .collect();
    annual_index(&counts, &offset, years)
}
