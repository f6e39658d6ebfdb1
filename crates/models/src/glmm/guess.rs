//! Where the search for the mode begins: each site's and year's effect from its own total, shrunk as if it were alone.

use super::family::{Family, Law};
use super::layout::Layout;
use super::start::Start;
use super::state::{Scales, State};
use numerics::maths::{exp, ln};

impl State {
    /// Puts the effects of sites and years near their mode for counts that may be as `start` says. The fixed effects
    /// have been put.
    pub(super) fn guess(&mut self, layout: &Layout, family: Family, start: &Start, scales: Scales) {
        if family == Family::Binomial {
            return;
        }
        let k = if family == Family::Poisson {
            f64::INFINITY
        } else {
            start.k
        };
        self.scales = scales;
        self.beta.copy_from_slice(&start.beta);
        self.predict(layout, false);
        Law { family, k }.means(&self.eta, &mut self.mean);
        // An effect of SD s whose rows expect m and weigh w in all, of y counted: s w ln(y/m) / (1 + s^2 w).
        let shrunk =
            |s: f64, y: f64, m: f64, w: f64| s * w * ln((y + 0.5) / (m + 0.5)) / (1.0 + s * s * w);
        let mut years = vec![[0.0; 3]; self.years];
        for site in 0..layout.sites.len() {
            let rows = layout.rows_of(site);
            let (mut y, mut m, mut w) = (0.0, 0.0, 0.0);
            for (count, mean) in self.y[rows.clone()].iter().zip(&self.mean[rows.clone()]) {
                y += count;
                m += mean;
                w += mean / (1.0 + mean / k);
            }
            let z = shrunk(scales.site, y, m, w);
            self.z.site[site] = z;
            if self.years == 0 {
                continue;
            }
            let effect = exp(scales.site * z);
            for i in rows {
                let mean = effect * self.mean[i];
                let sums = &mut years[layout.kinds.year[layout.kinds.of[i]]];
                sums[0] += self.y[i];
                sums[1] += mean;
                sums[2] += mean / (1.0 + mean / k);
            }
        }
        for (z, [y, m, w]) in self.z.dense.iter_mut().zip(years) {
            *z = shrunk(scales.year, y, m, w);
        }
    }
}
